package book

import (
	"strings"
	"testing"

	"wintertruss/engine/syntax"
)

// refused holds an example of each refusal. Nothing changes then.
var refused = []struct {
	code string
	book string // "" is edited
	edit Edit
	says string
	hint string
}{
	{"unknown-edit", "", Edit{Kind: "set_lien"}, "there is no change called set_lien", "did you mean set_line?"},
	{"unknown-edit", "", Edit{}, "", ""},
	{"changed-since", "", Edit{Kind: SetLine, Name: "price", Was: "price : 3", Text: "price : 4"}, "price has been changed since you saw it", ""},
	{"changed-since", "", Edit{Kind: SetLine, Was: "price : 3", Text: "price : 4"}, "this row has been changed since you saw it", ""},
	{"changed-since", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "floor", Was: "long | 3", Text: "4"}, "", ""},
	{"changed-since", "", Edit{Kind: WriteProse, Was: "The beginning.\n", Text: "a"}, "", ""},
	{"changed-since", "", Edit{Kind: Replace, In: "lines", Was: "gone\n", Text: "a"}, "", ""},
	{"changed-since", "", Edit{Kind: Replace, In: "links", After: "gone\n", Text: "a, b : 1\n"}, "", ""},
	{"changed-since", "", Edit{Kind: Replace, After: "gone\n", Text: "a\n"}, "", ""},
	{"changed-since", "", Edit{Kind: Replace, In: "pins", Was: "broken = 3 + +\n", Text: "a\n"}, "", ""}, // there, in another block
	{"changed-since", "Words\nWords and", Edit{Kind: Replace, Was: "Words", Text: "No"}, "", ""},         // there, in a longer line
	{"grown-too-large", "", Edit{Kind: SetLine, Name: "price", Text: Verbatim("price : 3 // " + strings.Repeat("a", syntax.MostBytes))}, "", ""},
	{"grown-too-large", "", Edit{Kind: WriteProse, Text: Verbatim(strings.Repeat("a\n", syntax.MostLines))}, "", ""},
	{"grown-too-large", "", Edit{Kind: WriteProse, Text: Verbatim(strings.Repeat("a", syntax.MostBytes))}, "", ""},

	{"two-rows", "", Edit{Kind: SetLine, Name: "price", Text: "price : 3\nfee : 4"}, "", ""},
	{"two-rows", "", Edit{Kind: AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-10", "weight": "3\r4"}}, "", ""},
	{"empty-row", "", Edit{Kind: SetLine, Name: "price", Text: " "}, "", ""},
	{"no-characters", "", Edit{Kind: SetLine, Name: "price", Text: "price : 3 // caf\xe9"}, "", ""},
	{"no-characters", "", Edit{Kind: WriteProse, Text: "a\x00b"}, "", ""},
	{"no-characters", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "label", Text: "\xff"}, "", ""},
	{"ends-block", "", Edit{Kind: SetLine, Name: "price", Text: "```"}, "a row that begins with ``` would end the block it stands in", ""},
	{"ends-block", "", Edit{Kind: AddLine, Text: " ~~~~"}, "", ""},
	{"opens-block", "", Edit{Kind: WriteProse, Was: "# Last\n\n", Text: "# Last\n```\n"}, "", ""},
	{"opens-block", "", Edit{Kind: WriteProse, Was: "The end.\n", Text: "```lines\na : 1\n"}, "", ""},
	{"opens-block", "", Edit{Kind: WriteProse, Was: "# Last\n\n", Text: "<!-- Last\n"}, "", ""},
	{"reaches-further", "", Edit{Kind: WriteProse, Was: "# Last\n\n", Text: "# Last\n<p>\n"}, "", "leave an empty line at its end, and close what it opens"},
	{"reaches-further", "", Edit{Kind: Replace, Was: "```list house\n", Text: "House\n"}, "", ""},
	{"reaches-further", "", Edit{Kind: Replace, In: "lines", Was: "broken = 3 + +\n", Text: "```\n"}, "", ""},
	{"reaches-further", "", Edit{Kind: Replace, In: "lines", Was: "broken = 3 + +\n", Text: "```\n```lines\n"}, "", ""},
	{"reaches-further", "a\n# b\n", Edit{Kind: WriteProse, Part: 1, Was: "# b\n", Text: "===\n"}, "*", ""},
	{"open-end", "```lines\na : 1\n", Edit{Kind: WriteProse, Text: "Words"}, "above the place for lines something was opened that is not closed", ""},
	{"open-end", "```lines\na : 1\n", Edit{Kind: Pin, Address: "a", Text: "1"}, "", ""},
	{"open-end", "```\nWords\n", Edit{Kind: Pin, Address: "a", Text: "1"}, "", ""},
	{"open-end", "```lines", Edit{Kind: AddLine, Text: "a : 1"}, "", ""},
	{"not-in-cell", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "label", Text: "a | b"}, "| has a meaning of its own in a row, so it cannot stand in a cell", ""},
	{"not-in-cell", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "label", Text: "a // b"}, "", ""},
	{"not-in-cell", "", Edit{Kind: SetSetting, Name: "title", Text: "a // b"}, "", ""},
	{"cell-quote", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "label", Text: `6" pipe`}, "", ""},

	{"no-such-line", "", Edit{Kind: SetLine, Name: "prize", Text: "prize : 4"}, "there is no line called prize", "did you mean price?"},
	{"no-such-line", "", Edit{Kind: SetLine, Text: "prize : 4"}, "", ""},
	{"no-such-line", "", Edit{Kind: AddLine, After: "orchard", Text: "a : 4"}, "", "look at the book as it is now"},
	{"no-such-block", "", Edit{Kind: AddLine, Block: 2, Text: "a : 4"}, "there is no block of lines number 2; there are 1", ""},
	{"no-such-block", "", Edit{Kind: AddLine, Block: -1, Text: "a : 4"}, "", ""},
	{"no-such-list", "", Edit{Kind: SetCell, Name: "hause", Member: "long", Column: "floor", Text: "3"}, "", "did you mean house?"},
	{"no-such-list", "", Edit{Kind: RemoveMember, Name: "picks", Member: "long"}, "", ""},
	{"no-such-records", "", Edit{Kind: AddRecord, Name: "pick", Cells: map[string]string{"date": "2027-03-10"}}, "", "did you mean picks?"},
	{"no-such-scenario", "", Edit{Kind: SetOverride, Name: "early", Address: "price", Text: "3"}, "", ""},
	{"no-such-member", "", Edit{Kind: SetCell, Name: "house", Member: "lomg", Column: "floor", Text: "3"}, "house has no member lomg", "did you mean long?"},
	{"no-such-column", "", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "flor", Text: "3"}, "house has no column flor", "did you mean floor?"},
	{"no-such-column", "", Edit{Kind: AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-10", "size": "3"}}, "", ""},
	{"no-such-record", "", Edit{Kind: CorrectRecord, Name: "picks", Record: 3, Cells: map[string]string{"weight": "3"}}, "picks have no row number 3; there are 2", ""},
	{"no-such-record", "", Edit{Kind: RemoveRecord, Name: "picks"}, "", ""},
	{"no-such-pin", "", Edit{Kind: Unpin, Address: "price"}, "price is not pinned", ""},
	{"no-such-override", "", Edit{Kind: RemoveOverride, Name: "later", Address: "price"}, "the scenario later leaves price as it is", ""},
	{"no-such-setting", "", Edit{Kind: SetSetting, Name: "draws"}, "", ""},
	{"setting-name", "", Edit{Kind: SetSetting, Name: "Draws : 3 // ", Text: "3"}, "", ""},
	{"member-taken", "", Edit{Kind: AddMember, Name: "house", Member: "long"}, "house has a member long already", ""},
	{"member-name", "", Edit{Kind: AddMember, Name: "house", Member: "Lean-to"}, "", ""},
	{"member-name", "", Edit{Kind: AddMember, Name: "house"}, "", ""},
	{"no-day", "", Edit{Kind: AddRecord, Name: "picks", Cells: map[string]string{"weight": "3"}}, "", ""},
	{"no-day", "", Edit{Kind: CorrectRecord, Name: "picks", Record: 1, Cells: map[string]string{"date": " "}}, "", ""},
	{"no-value", "", Edit{Kind: Pin, Address: "price"}, "", ""},
	{"no-value", "", Edit{Kind: SetOverride, Name: "later", Address: "price", Text: "="}, "", ""},
	{"unread-header", "```list a\n| x y z\nb | 1\n```\n", Edit{Kind: SetCell, Name: "a", Member: "b", Column: "x", Text: "3"}, "the first row of a does not read, so its columns are not known", ""},
	{"unread-header", "```list a\n```\n", Edit{Kind: AddMember, Name: "a", Member: "b"}, "", ""},
	{"unread-row", "```list a\n | x\nb | 1 | 2\n```\n", Edit{Kind: SetCell, Name: "a", Member: "b", Column: "x", Text: "3"}, "this row has 3 cells where its table has 2", ""},
	{"bad-name", "", Edit{Kind: Pin, Address: "Price", Text: "3"}, "", ""}, // an address says itself what is wrong with it
	{"bad-name", "", Edit{Kind: Unpin, Address: "Price"}, "", ""},
	{"bad-address", "", Edit{Kind: SetOverride, Name: "later", Address: "price @ ?", Text: "3"}, "", ""},
	{"bad-address", "", Edit{Kind: RemoveOverride, Name: "later", Address: "price @ ?"}, "", ""},
}

func TestRefusals(t *testing.T) {
	shown := map[string]bool{}
	for _, c := range refused {
		shown[c.code] = true
		text := c.book
		if text == "" {
			text = edited
		}
		after, _, err := c.edit.Apply(read(text))
		name := c.edit
		if len(name.Text) > 100 {
			name.Text = name.Text[:100]
		}
		switch {
		case err == nil:
			t.Errorf("%s: %+v is made:\n%.2000s", c.code, name, after.Text())
		case err.Code != c.code:
			t.Errorf("%+v is refused as %s (%v), not as %s", name, err.Code, err, c.code)
		case c.says != "" && c.says != "*" && err.Message != c.says || c.hint != "" && err.Hint != c.hint:
			t.Errorf("%s says %q (%q), want %q (%q)", c.code, err.Message, err.Hint, c.says, c.hint)
		case err.Message == "" || err.Hint == "" || err.Line < 1 || err.Col < 1 || err.Len < 1 || strings.Contains(err.Message+err.Hint, "{"):
			t.Errorf("%s is not whole: %+v", c.code, *err)
		case after != nil:
			t.Errorf("%s is refused and made", c.code)
		}
	}
	codes := map[string]bool{}
	for _, m := range append(editMessages, messages...) {
		if codes[m.code] {
			t.Errorf("two messages have the code %s", m.code)
		}
		codes[m.code] = true
	}
	for _, m := range editMessages {
		if !shown[m.code] {
			t.Errorf("the message %s has no example", m.code)
		}
	}
}
