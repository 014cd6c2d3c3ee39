package engine_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// numbers gives the rows of a book that are inputs of one plain number.
func numbers(doc *syntax.Document) []*syntax.Line {
	var out []*syntax.Line
	for _, p := range doc.Parts {
		if l, ok := p.Item.(*syntax.Line); ok && l.Values != nil && len(l.Values.Pieces) == 1 && l.Values.Pieces[0].Literal.Kind == syntax.PlainNumber && !l.Values.Pieces[0].Literal.HasRange {
			out = append(out, l)
		}
	}
	return out
}

// withNumber gives the edit that puts another number into an input.
func withNumber(l *syntax.Line, number string) book.Edit {
	lit := l.Values.Pieces[0].Literal
	return book.Edit{Kind: book.SetLine, Name: l.Name.Text, Text: book.Verbatim(fmt.Sprintf("%s : %s %s // %s [invented]", l.Name.Text, number, lit.Unit.Text, l.Label))}
}

func apply(t testing.TB, d *engine.Desk, e book.Edit) (*engine.Desk, engine.Moved) {
	t.Helper()
	doc, _, fault := e.Apply(d.Book.Doc)
	if fault != nil {
		t.Fatal(fault.Message)
	}
	return d.Next(doc)
}

// TestNext: after an edit of an input the desk holds what a book opened anew
// holds, bit by bit; what was computed again is no more than may depend on it; and
// lines that moved are named.
func TestNext(t *testing.T) {
	d := firstHouse(t, nil)
	r := rand.New(rand.NewPCG(1, 2))
	inputs := numbers(d.Book.Doc)
	if len(inputs) < 20 {
		t.Fatalf("only %d inputs to try", len(inputs))
	}
	kept := 0
	for range 25 {
		l := inputs[r.IntN(len(inputs))]
		now := l.Values.Pieces[0].Literal.Number.InexactFloat64() * (0.9 + 0.2*r.Float64())
		before := map[string]*engine.Value{}
		for _, name := range d.Names() {
			before[name] = d.Plain(name)
		}
		next, m := apply(t, d, withNumber(l, fmt.Sprintf("%.6g", now)))
		fresh, err := engine.Open("first_house.md", next.Book.Doc.Text(), engine.Options{Today: week.Day(20500)})
		if err != nil {
			t.Fatal(err)
		}
		for name := range moved(next, fresh) {
			t.Fatalf("after an edit of %s, %s is not what a book opened anew holds", l.Name.Text, name)
		}
		if m.Anew {
			d = next
			continue
		}
		kept++
		reach := reachOf(next, l.Name.Text)
		if m.Recomputed >= len(reach) { // the input itself is not computed
			t.Errorf("an edit of %s computed %d lines again, but only %d hang on it", l.Name.Text, m.Recomputed, len(reach)-1)
		}
		for _, name := range next.Names() {
			same := sameCells(before[name], next.Plain(name))
			if named := slices.Contains(m.Lines, name); named == same {
				t.Errorf("an edit of %s: %s moved is %v, named is %v", l.Name.Text, name, !same, named)
			}
		}
		d = next
	}
	if kept < 20 {
		t.Errorf("only %d of 25 edits kept the program", kept)
	}
}

func sameCells(a, b *engine.Value) bool {
	return a != nil && b != nil && a.Label == b.Label && fmt.Sprint(a.Cells) == fmt.Sprint(b.Cells)
}

// TestNextStops: an edit goes no further than what changed. A line that comes out
// the same to the bit is the last that is computed.
func TestNextStops(t *testing.T) {
	text := "```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\n```\n```lines\n" +
		"a : 1 kg\nb : 2 kg\ncapped = smaller_of(a, b) -> kg\ntwice = capped * 2 -> kg\nthrice = twice * 1.5 -> kg\nother = b * 7 -> kg\nboth = a + b -> kg\n```\n"
	d, err := engine.Open("book.md", []byte(text), engine.Options{Today: week.Day(20500)})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		line, text string
		recomputed int
		moved      string
	}{
		{"a", "a : 1.5 kg", 4, "a both capped thrice twice"},
		{"a", "a : 3 kg", 4, "a both capped thrice twice"}, // capped at 2
		{"a", "a : 5 kg", 2, "a both"},                     // capped stays 2: twice and thrice are left alone
		{"b", "b : 2 kg", 0, ""},                           // the same value
		{"b", "b : 4 kg", 5, "b both capped other thrice twice"},
	} {
		var m engine.Moved
		d, m = apply(t, d, book.Edit{Kind: book.SetLine, Name: c.line, Text: book.Verbatim(c.text)})
		if m.Anew || m.Recomputed != c.recomputed || strings.Join(m.Lines, " ") != c.moved {
			t.Errorf("%s: computed %d again, want %d; moved %v, want %s; anew %v", c.text, m.Recomputed, c.recomputed, m.Lines, c.moved, m.Anew)
		}
	}
}

// TestNextDraws: a change of the book's number of draws is followed, unless an
// option says how many.
func TestNextDraws(t *testing.T) {
	text := []byte("```settings\nseason : 2026-W45..2027-W26\ndraws : 64\n```\n\nwarm : 18 °C\n")
	for _, k := range []struct{ option, want int }{{0, 128}, {32, 32}} {
		d, err := engine.Open("t.md", text, engine.Options{Today: week.Day(20500), Draws: k.option})
		if err != nil {
			t.Fatal(err)
		}
		if next, _ := apply(t, d, book.Edit{Kind: book.SetSetting, Name: "draws", Text: "128"}); next.Draws() != k.want {
			t.Errorf("with %d asked for: %d draws after the edit, want %d", k.option, next.Draws(), k.want)
		}
	}
}
