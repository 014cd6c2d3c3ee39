package book

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/syntax"
)

// valueEdit draws an edit that puts other values into a row, or nearly so.
func valueEdit(t *rapid.T, doc *syntax.Document) Edit {
	var rows []*syntax.Part
	kind := rapid.SampledFrom([]string{"", "lines", "list", "records", "pins", "scenario"}).Draw(t, "kind")
	for _, p := range doc.Parts {
		if p.Kind == syntax.Item && (kind == "" || p.Block.Kind == kind) {
			rows = append(rows, p)
		}
	}
	if len(rows) == 0 {
		return anyEdit(t, doc)
	}
	p := rapid.SampledFrom(rows).Draw(t, "row")
	text := strings.TrimRight(p.Text, "\r\n")
	now := []byte(text)
	for range rapid.IntRange(1, 2).Draw(t, "changes") { // a sign for another of its sort
		at := rapid.IntRange(0, max(0, len(now)-1)).Draw(t, "at")
		for i := range now {
			if c := now[(at+i)%len(now)]; c >= '0' && c <= '9' {
				now[(at+i)%len(now)] = rapid.SampledFrom([]byte("0123456789123456789.")).Draw(t, "digit")
				break
			}
		}
	}
	row := string(now)
	switch rapid.IntRange(0, 7).Draw(t, "also") {
	case 0:
		row += "0"
	case 1:
		row, _, _ = strings.Cut(row, "//")
	case 2:
		row = strings.ReplaceAll(row, "(", "") // its range, and what not
	case 3:
		row += " // another label [elsewhere]"
	}
	return Edit{Kind: Replace, In: label(p.Block), Line: p.Line, Was: Verbatim(p.Text), Text: Verbatim(row + ending(p.Text))}
}

// bare takes out of a book what two that are alike need not share: the table of
// units, which fills as units are asked for.
func bare(b *Book) *Book {
	out := *b
	out.Units = nil
	return &out
}

// TestWithIsAssembled: after an edit of a row's values the book is what the document
// gives when it is assembled, to the last pointer; and the book before stays as it was.
func TestWithIsAssembled(t *testing.T) {
	books := lawBooks(t)
	for _, name := range []string{"../../sheets/first_house.md", "../../sheets/tern_hollow.md"} {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		books = append(books, string(text), string(text)+"\n```pins\nfuel_price @ 2027-W16 : 2 USD/gal\n```\n```links\noutside_shift, fuel_price : -0.3\n```\n", string(text)+"\n```lines\nwrong : 1 lbb\n```\n")
	}
	books = append(books, books[len(books)-6:]...) // the whole ones more often
	rapid.Check(t, func(rt *rapid.T) {
		doc := syntax.Read("book.md", []byte(rapid.SampledFrom(books).Draw(rt, "book")))
		b := Assemble(doc, today)
		for range 6 {
			e := valueEdit(rt, doc)
			if rapid.IntRange(0, 9).Draw(rt, "any") == 0 {
				e = anyEdit(rt, doc)
			}
			next, _, fault := e.Apply(doc)
			if fault != nil {
				continue
			}
			after, _, ok := b.With(next)
			if !ok {
				doc, b = next, Assemble(next, today)
				continue
			}
			if want := Assemble(next, today); !reflect.DeepEqual(bare(after), bare(want)) {
				rt.Fatalf("after %+v the book is not the one that is assembled: %s", e, firstDifference(after, want))
			}
			if again := Assemble(doc, today); !reflect.DeepEqual(bare(b), bare(again)) {
				rt.Fatalf("%+v changed the book before it: %s", e, firstDifference(b, again))
			}
			doc, b = next, after
		}
	})
}

// TestWithReadsRowsAgain: an edit of a value is read by itself in each kind of block,
// and is what the whole gives. Named edits: what random ones meet is left to chance.
func TestWithReadsRowsAgain(t *testing.T) {
	text, err := os.ReadFile("../../sheets/tern_hollow.md")
	if err != nil {
		t.Fatal(err)
	}
	whole := string(text) + "\n```pins\nfuel_terms : 21 d\n```\n"
	for _, c := range []struct{ kind, was, now string }{
		{"lines", "fuel_terms : 14 d ", "fuel_terms : 15 d "},
		{"list", "| 7       | 0\n", "| 8       | 0\n"},
		{"records", "2027-03-08 | long  | whitefly | 3\n", "2027-03-08 | long  | whitefly | 4\n"},
		{"pins", "fuel_terms : 21 d\n", "fuel_terms : 28 d\n"},
		{"scenario", "house.night @ long : 56 degF\n```\n\n```scenario cool_winter", "house.night @ long : 57 degF\n```\n\n```scenario cool_winter"},
	} {
		if strings.Count(whole, c.was) != 1 {
			t.Fatalf("%s: %q stands %d times in the book", c.kind, c.was, strings.Count(whole, c.was))
		}
		doc := syntax.Read("book.md", []byte(whole))
		next, fault := editedTo(doc, strings.Replace(whole, c.was, c.now, 1))
		if fault != nil {
			t.Fatalf("%s: %v", c.kind, fault)
		}
		after, renewed, ok := Assemble(doc, today).With(next)
		if !ok {
			t.Errorf("%s: the whole book had to be read for %q", c.kind, c.now)
			continue
		}
		if n := len(renewed.Lines) + len(renewed.Lists) + len(renewed.Records) + len(renewed.Rows); n != 1 {
			t.Errorf("%s: %d things were read again for one row: %+v", c.kind, n, renewed)
		}
		if want := Assemble(next, today); !reflect.DeepEqual(bare(after), bare(want)) {
			t.Errorf("%s: the book is not the one that is assembled: %s", c.kind, firstDifference(after, want))
		}
	}
}

// editedTo makes the one edit that turns a document into another text: of the only
// line that differs.
func editedTo(doc *syntax.Document, text string) (*syntax.Document, *syntax.Error) {
	lines := strings.SplitAfter(text, "\n")
	for _, p := range doc.Parts {
		if now := lines[p.Line-1]; p.Kind == syntax.Item && p.Text != now {
			next, _, fault := Edit{Kind: Replace, In: label(p.Block), Line: p.Line, Was: Verbatim(p.Text), Text: Verbatim(now)}.Apply(doc)
			return next, fault
		}
	}
	return doc, nil
}

// firstDifference names the first field in which two books differ.
func firstDifference(a, b *Book) string {
	x, y := reflect.ValueOf(bare(a)).Elem(), reflect.ValueOf(bare(b)).Elem()
	for i := range x.NumField() {
		one := reflect.New(x.Type()).Elem()
		two := reflect.New(x.Type()).Elem()
		if x.Type().Field(i).IsExported() {
			one.Field(i).Set(x.Field(i))
			two.Field(i).Set(y.Field(i))
			if !reflect.DeepEqual(one.Interface(), two.Interface()) {
				return fmt.Sprintf("%s: %+v\nwant %+v", x.Type().Field(i).Name, x.Field(i), y.Field(i))
			}
		}
	}
	return "in what is not exported"
}
