package book

import (
	"encoding/json"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/syntax"
)

// lawBooks are books to change: whole ones, one in which everything is wrong, and
// ends in the middle of things.
func lawBooks(t testing.TB) []string {
	text, err := os.ReadFile("testdata/quail_run.md")
	if err != nil {
		t.Fatal(err)
	}
	var wrong strings.Builder
	wrong.WriteString(edited)
	for _, c := range broken {
		wrong.WriteString(c.text + "\n")
	}
	for _, c := range faults {
		text, _ := marked(strings.TrimPrefix(c.text, "only:"))
		if len(text) < 300 {
			wrong.WriteString(text + "\n")
		}
	}
	books := []string{string(text), edited, wrong.String(), "", "Words", "```lines\na : 1", "# A\n<div>\n```lines\na : 1\n```\n",
		"```lines\na : 1\na : 2\n   \n// b\n```\n\xff\n~~~pins\na:1//b\n\n~~~\n```python\n"}
	for _, b := range books {
		books = append(books, strings.ReplaceAll(b, "\n", "\r\n"))
	}
	return books
}

// words gives what an edit may say of a document: what stands there, and what does not.
func words(doc *syntax.Document) (names, rows []string) {
	names = []string{"", "price", "house", "nothing", "date", "a", "Lean-to", "not"}
	rows = []string{"", " ", "a : 1", "a = b *", "// a", "```", "~~~~", "a | b", "| |", `6" pipe`, `"a | b"`, "é : 3 // ü [x]", "a\nb : 1", "a\r\n", "# Page", "---", "===",
		"```lines\nnew : 1\n```\n", "```lines\nnew : 1\n", "<!-- a", "<div>", "> quote\n> ```lines\n", "- a\n\n      ```\n", "$", "a\x00", "x : 1 from", "= base * 2", ": 3", "a @ long, 2027-W14"}
	for _, p := range doc.Parts {
		rows = append(rows, p.Text, strings.TrimRight(p.Text, "\r\n"))
		if p.Block != nil {
			names = append(names, p.Block.Name, firstWord(p.Text))
			at, _, _ := unquotedAt(p.Text, ":=|")
			if len(at) > 0 {
				names = append(names, strings.TrimSpace(p.Text[:at[0]]))
			}
		}
		if h, ok := p.Item.(*syntax.Header); ok {
			for _, c := range h.Columns {
				names = append(names, c.Name.Text)
			}
		}
	}
	return names, rows
}

// anyEdit draws an edit that has something to do with the document.
func anyEdit(t *rapid.T, doc *syntax.Document) Edit {
	names, rows := words(doc)
	name, row := rapid.SampledFrom(names), rapid.SampledFrom(rows)
	e := Edit{Kind: rapid.SampledFrom(Kinds).Draw(t, "kind"), Name: name.Draw(t, "name"), Text: Verbatim(row.Draw(t, "text"))}
	if rapid.Bool().Draw(t, "plain") {
		e.Text = Verbatim(rapid.SampledFrom([]string{"a : 1", "b = a * (", "3", "3 lb // of [x]", "é"}).Draw(t, "text"))
	}
	switch e.Kind {
	case SetLine, RemoveLine, AddLine:
		if lines := newDraft(doc).lineNames(); len(lines) > 0 && rapid.IntRange(0, 3).Draw(t, "sense") > 0 {
			e.Name = rapid.SampledFrom(lines).Draw(t, "line")
		} else if rapid.Bool().Draw(t, "seen") {
			e.Was = Verbatim(row.Draw(t, "was"))
		}
		e.After, e.Block = Verbatim(name.Draw(t, "after")), rapid.IntRange(-1, 3).Draw(t, "block")
	case WriteProse:
		for _, p := range doc.Parts {
			if p.Kind == syntax.Prose && rapid.Bool().Draw(t, "this") {
				e.Was = Verbatim(p.Text)
				return e
			}
		}
		e.Was, e.Part = Verbatim(row.Draw(t, "was")), rapid.IntRange(0, 9).Draw(t, "part")
	case Replace:
		lines := strings.SplitAfter(string(doc.Text()), "\n")
		e.Line = rapid.IntRange(0, len(lines)+1).Draw(t, "line")
		e.After, e.Was = Verbatim(row.Draw(t, "after")), Verbatim(row.Draw(t, "was"))
		if from := rapid.IntRange(0, len(lines)).Draw(t, "from"); rapid.Bool().Draw(t, "stretch") {
			e.Was = Verbatim(strings.Join(lines[from:min(len(lines), from+rapid.IntRange(0, 9).Draw(t, "length"))], ""))
		}
		e.In = rapid.SampledFrom([]string{"", "lines", "list house", "records picks", "scenario later", "pins"}).Draw(t, "in")
	default:
		e.Member, e.Column = name.Draw(t, "member"), name.Draw(t, "column")
		e.Record = rapid.IntRange(0, 4).Draw(t, "record")
		e.Address = name.Draw(t, "address")
		e.Cells = rapid.MapOfN(name, row, 0, 3).Draw(t, "cells")
		if rapid.IntRange(0, 9).Draw(t, "sense") > 0 {
			meant(t, doc, &e, row)
		}
	}
	return e
}

// meant makes of an edit one that a person could mean: of a block that is there, and
// most often with cells that fit.
func meant(t *rapid.T, doc *syntax.Document, e *Edit, row *rapid.Generator[string]) {
	kind := map[string]string{SetCell: "list", AddMember: "list", RemoveMember: "list", AddRecord: "records", CorrectRecord: "records",
		RemoveRecord: "records", Unpin: "pins", Pin: "pins", SetOverride: "scenario", RemoveOverride: "scenario", SetSetting: "settings"}[e.Kind]
	d := newDraft(doc)
	blocks := d.of(kind)
	if len(blocks) == 0 {
		return
	}
	s := rapid.SampledFrom(blocks).Draw(t, "of")
	e.Name = s.block.Name
	if rows := d.rows(s); len(rows) > 0 {
		first := d.body(rapid.SampledFrom(rows).Draw(t, "near"))
		if at, _, _ := unquotedAt(first, ":=|"); len(at) > 0 {
			first = strings.TrimSpace(first[:at[0]])
		}
		switch kind {
		case "list":
			e.Member = first
			if e.Kind == AddMember {
				e.Member += "_b"
			}
		case "settings":
			e.Name = first
		default:
			e.Address = first
		}
		if h, ok := doc.Parts[rows[0]].Item.(*syntax.Header); ok && len(h.Columns) > 0 {
			text := rapid.OneOf(row, rapid.SampledFrom([]string{"", "3", "80 % (70..85)", "long tomato", `"a | // b"`, "é", "2027-03-10"}))
			e.Column = rapid.SampledFrom(h.Columns).Draw(t, "column").Name.Text
			e.Text = Verbatim(text.Draw(t, "cell"))
			clear(e.Cells)
			for _, c := range h.Columns {
				if rapid.Bool().Draw(t, "given") {
					e.Cells[c.Name.Text] = text.Draw(t, "cell")
				}
			}
		}
	}
}

// inOneLine says that an edit's kind changes one row at most, but where it makes a block.
func inOneLine(kind string) bool { return kind != Replace && kind != WriteProse }

func TestEditLaws(t *testing.T) {
	books := lawBooks(t)
	tried, made := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		doc := read(rapid.SampledFrom(books).Draw(t, "book"))
		first := string(doc.Text())
		var undo []Edit
		for range rapid.IntRange(1, 5).Draw(t, "edits") {
			e := anyEdit(t, doc)
			before := string(doc.Text())
			after, inverse, err := e.Apply(doc)
			if string(doc.Text()) != before {
				t.Fatalf("%+v changed the document it was given", e)
			}
			if tried++; err != nil {
				if after != nil || err.Message == "" || err.Hint == "" || err.Line < 1 {
					t.Fatalf("%+v: the refusal is not whole: %+v", e, err)
				}
				continue
			}
			made++
			lawful(t, doc, e, after, inverse)
			text := string(after.Text())
			gone, come := said(before, text)
			if lines := strings.Count(gone+come, "\n"); inOneLine(e.Kind) && lines > 2 && !strings.Contains(come, "```") {
				t.Fatalf("%+v changes\n%sto\n%s", e, gone, come)
			}
			if e.Kind != Replace && strings.HasSuffix(first, "\r\n") && strings.Count(text, "\n") != strings.Count(text, "\r\n") {
				t.Fatalf("%+v brings another line ending:\n%q", e, text)
			}
			doc, undo = after, append(undo, inverse)
		}
		for _, e := range slices.Backward(undo) {
			var err *syntax.Error
			if doc, _, err = e.Apply(doc); err != nil {
				t.Fatalf("%+v is refused: %v", e, err)
			}
		}
		if string(doc.Text()) != first {
			t.Fatalf("all taken back gives\n%q, not\n%q", doc.Text(), first)
		}
	})
	if made*10 < tried {
		t.Errorf("of %d edits %d were made: the laws were hardly tried", tried, made)
	}
}

// Two people change a book in turns; one takes back what can be taken back. What
// the other one wrote stays, whatever it is.
func TestUndoLeavesOthersAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		doc := read(edited)
		var undo []Edit
		for i := range rapid.IntRange(1, 8).Draw(t, "edits") {
			name := rapid.SampledFrom([]string{"price", "plants", "broken"}).Draw(t, "name")
			who := rapid.SampledFrom([]string{"ann", "ben"}).Draw(t, "who")
			text := Verbatim(name + " : " + itoa(i) + " // " + who)
			e := rapid.SampledFrom([]Edit{
				{Kind: SetLine, Name: name, Text: text},
				{Kind: AddLine, After: Verbatim(name), Text: Verbatim(who + "_" + itoa(i) + " : 1 // " + who)},
				{Kind: Pin, Address: name, Text: Verbatim(itoa(i) + " // " + who)},
				{Kind: AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-1" + itoa(i), "house": who}},
				{Kind: AddMember, Name: "house", Member: who + itoa(i), Cells: map[string]string{"label": who}},
			}).Draw(t, "edit")
			after, inverse, err := e.Apply(doc)
			if err != nil {
				t.Fatalf("%+v: %v", e, err)
			}
			if doc = after; who == "ann" {
				undo = append(undo, inverse)
			}
		}
		bens := func() (rows []string) {
			for row := range strings.Lines(string(doc.Text())) {
				if strings.Contains(row, "ben") {
					rows = append(rows, row)
				}
			}
			slices.Sort(rows)
			return rows
		}
		before := bens()
		for _, e := range slices.Backward(undo) {
			after, _, err := e.Apply(doc)
			if err != nil {
				if err.Code != changedSince.code {
					t.Fatalf("%+v: %+v", e, err)
				}
				continue
			}
			doc = after
			for _, row := range before {
				if !slices.Contains(bens(), row) {
					t.Fatalf("%+v took away %q", e, row)
				}
			}
		}
	})
}

func FuzzEdit(f *testing.F) {
	books := lawBooks(f)
	for i, c := range refused {
		if sent, err := json.Marshal(c.edit); err == nil && len(sent) < 1000 {
			f.Add(edited, string(sent))
			f.Add(books[i%len(books)], string(sent))
		}
	}
	f.Add(edited, `{"kind":"replace","line":3,"was":"season    : 2026-W33 .. 2027-W32   // a year\n","text":{"base64":"YTr/Cg=="},"in":"settings","or":{"kind":"pin"}}`)
	f.Fuzz(func(t *testing.T, book, sent string) {
		var e Edit
		if json.Unmarshal([]byte(sent), &e) != nil {
			return
		}
		doc := read(book)
		after, inverse, err := e.Apply(doc)
		if string(doc.Text()) != book {
			t.Fatalf("%+v changed the document it was given", e)
		}
		if err != nil {
			if err.Message == "" || err.Hint == "" {
				t.Fatalf("the refusal is not whole: %+v", err)
			}
			return
		}
		lawful(t, doc, e, after, inverse)
	})
}

// Bytes that are no characters come through JSON as they are.
func TestVerbatim(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Verbatim(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes"))
		sent, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var got Verbatim
		if err := json.Unmarshal(sent, &got); err != nil || !reflect.DeepEqual(v, got) {
			t.Fatalf("%q is %q after %s (%v)", v, got, sent, err)
		}
	})
	for _, bad := range []string{`3`, `{"base64": 3}`, `[]`, `{"base64":"?"}`} {
		var v Verbatim
		if json.Unmarshal([]byte(bad), &v) == nil {
			t.Errorf("%s is taken for text: %q", bad, v)
		}
	}
}
