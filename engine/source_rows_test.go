package engine

import (
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// TestRenewIsMadeAnew: after edits of figures anywhere in a book, the source that was
// handed on is the one that the book gives when it is opened, and so is every plain cell.
func TestRenewIsMadeAnew(t *testing.T) {
	kept := map[string]int{}
	_, hollow, _ := sheets.Book("tern_hollow")
	r := rand.New(rand.NewPCG(1, 2))
	for n := range 24 {
		text := [][]byte{sheets.FirstHouse, hollow}[n%2]
		d, err := Open("book.md", text, Options{Today: week.Day(20500), Sets: []string{"fuel_price=2.5"}})
		if err != nil {
			t.Fatal(err)
		}
		anew := true
		var last book.Verbatim
		for range 6 {
			e, kind := otherFigure(r, d.Book.Doc)
			doc, _, fault := e.Apply(d.Book.Doc)
			if fault != nil {
				continue
			}
			var moved Moved
			if d, moved = d.Next(doc); !moved.Anew {
				kept[kind]++
			}
			anew, last = moved.Anew, e.Text
		}
		if anew {
			continue
		}
		fresh, err := Open("book.md", d.Book.Doc.Text(), d.opts)
		if err != nil {
			t.Fatal(err)
		}
		if what := sourceDiffers(d.made.src, fresh.made.src); what != "" {
			t.Fatalf("after %q the source differs from the one made anew: %s", last, what)
		}
		if !reflect.DeepEqual(d.errs, fresh.errs) || !reflect.DeepEqual(d.sets, fresh.sets) {
			t.Fatalf("after %q: %v %v, made anew %v %v", last, d.errs, d.sets, fresh.errs, fresh.sets)
		}
		for i := range fresh.made.src.Lines {
			if d.prog.OK(i) != fresh.prog.OK(i) || d.prog.OK(i) && !formula.SameBits(d.prog.Cells(i), fresh.prog.Cells(i)) {
				t.Fatalf("after %q, %s is not what a book opened anew holds", last, fresh.made.src.Lines[i].Name)
			}
		}
	}
	for _, kind := range []string{"lines", "list", "records", "pins", "scenario"} {
		if kept[kind] == 0 {
			t.Errorf("no edit of a row of %s kept its program: %v", kind, kept)
		}
	}
}

// otherFigure draws an edit that puts another digit into a row.
func otherFigure(r *rand.Rand, doc *syntax.Document) (e book.Edit, kind string) {
	kind = []string{"lines", "list", "records", "pins", "scenario"}[r.IntN(5)]
	var rows []*syntax.Part
	for _, p := range doc.Parts {
		if p.Kind == syntax.Item && p.Block.Kind == kind && strings.ContainsAny(p.Text, "0123456789") {
			if l, ok := p.Item.(*syntax.Line); !ok || l.Formula == nil {
				rows = append(rows, p)
			}
		}
	}
	p := rows[r.IntN(len(rows))]
	now := []byte(p.Text)
	at := r.IntN(len(now))
	for i := range now {
		if c := &now[(at+i)%len(now)]; *c >= '0' && *c <= '9' {
			*c = byte('1' + r.IntN(9))
			break
		}
	}
	return book.Edit{Kind: book.Replace, In: strings.TrimSpace(kind + " " + p.Block.Name), Line: p.Line, Was: book.Verbatim(p.Text), Text: book.Verbatim(now)}, kind
}

func sourceDiffers(a, b *formula.Source) string {
	if len(a.Lines) != len(b.Lines) || len(a.Overrides) != len(b.Overrides) {
		return "how many lines and overrides there are"
	}
	for i := range a.Lines {
		x, y := a.Lines[i], b.Lines[i]
		same := sameInput(x.Input, y.Input) && sameUnit(x.Unit, y.Unit)
		x.Input, y.Input, x.Unit, y.Unit = nil, nil, nil, nil
		if !same || !reflect.DeepEqual(x, y) {
			return x.Name
		}
	}
	for i := range a.Overrides {
		x, y := a.Overrides[i], b.Overrides[i]
		same := sameInput(x.Input, y.Input)
		x.Input, y.Input = nil, nil
		if !same || !reflect.DeepEqual(x, y) {
			return "an override of " + a.Lines[x.Line].Name
		}
	}
	switch {
	case !reflect.DeepEqual(a.Records, b.Records), !reflect.DeepEqual(a.Lists, b.Lists), !reflect.DeepEqual(a.Space, b.Space):
		return "its axes"
	case !reflect.DeepEqual(a.Words, b.Words), !reflect.DeepEqual(a.Scenarios, b.Scenarios):
		return "its words"
	}
	return ""
}

// sameInput compares all of two inputs; a blank is not equal to itself.
func sameInput(a, b *formula.Input) bool {
	if a == nil || b == nil {
		return a == b
	}
	if !formula.SameBits(a.Plain, b.Plain) || !sameUnit(a.Type.Unit, b.Type.Unit) || a.Type.Kind != b.Type.Kind ||
		a.Type.Axes != b.Type.Axes || a.Type.List != b.Type.List || (a.Sampler == nil) != (b.Sampler == nil) {
		return false
	}
	if a.Sampler == nil {
		return true
	}
	x, y := *a.Sampler.(*sampler), *b.Sampler.(*sampler)
	same := formula.SameBits(x.plain, y.plain)
	x.plain, y.plain = nil, nil
	return same && reflect.DeepEqual(x, y)
}

func sameUnit(a, b *unit.Unit) bool {
	return a == b || a != nil && b != nil && a.String() == b.String()
}
