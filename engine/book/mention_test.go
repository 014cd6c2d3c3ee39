package book

import (
	"strings"
	"testing"

	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// TestMentions: what live numbers may say without a fault, and that a name which is
// in error where it stands is not said to be wrong again where it is only shown.
func TestMentions(t *testing.T) {
	text := base + "# Money {price @ this_week}\n\n{price @ 2027-W01} {plants} {plants @ long} {house.floor @ short} {house.night @ long, this_week} {week_days} {shift}\n"
	if b := Assemble(syntax.Read("book.md", []byte(text)), week.Day(20500)); len(b.Errors) > 0 {
		t.Errorf("%v", b.Errors[0])
	}
	text = strings.Replace(text, "price over week : 3.50 USD/lb", "price over week : 3.50 USD/lbb", 1)
	b := Assemble(syntax.Read("book.md", []byte(text)), week.Day(20500))
	if len(b.Errors) != 1 || b.Errors[0].Code != "unknown-unit" {
		t.Errorf("%v, want one fault of a unit", b.Errors)
	}
	if got := b.Doc.Parts[len(b.Doc.Parts)-1].Page; got != "Money" {
		t.Errorf("the page is called %q", got)
	}
}
