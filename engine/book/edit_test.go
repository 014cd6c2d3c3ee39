package book

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/syntax"
)

// edited is the book that the cases below change.
const edited = `# Quail Run

` + "```" + `settings
season    : 2026-W33 .. 2027-W32   // a year
currency  : USD
` + "```" + `

` + "```" + `list house
       | label       | floor ft2 | night over week degF
long   | Long house  | 2880      | 62; 64 from 2027-W09 // measured
short  | Short house | 2160      | 64

` + "```" + `

# Lines

Words about lines.

` + "```" + `lines
price over week : 3.50 USD/lb   // Market [own counts]
plants = house.floor * 2        // Standing
broken = 3 + +
` + "```" + `
` + "```" + `records picks
date       | house | weight lb | seconds lb
2027-03-08 | long  | 34.5      | 2.0
2027-03-09 | long  | 30        |
` + "```" + `

# Last

` + "```" + `scenario later "Later"
price @ 2027-W14 : 3 USD/lb   // when all sell
house.floor      = base * 2
` + "```" + `
The end.
`

// said is what stands in the place of what: the lines that differ.
func said(before, after string) (gone, come string) {
	a, b := strings.SplitAfter(before, "\n"), strings.SplitAfter(after, "\n")
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return strings.Join(a, ""), strings.Join(b, "")
}

func read(text string) *syntax.Document { return syntax.Read("book.md", []byte(text)) }

// changed applies an edit and checks what holds of every edit.
func changed(t testing.TB, doc *syntax.Document, e Edit) *syntax.Document {
	t.Helper()
	before := string(doc.Text())
	after, inverse, err := e.Apply(doc)
	if err != nil {
		t.Fatalf("%+v is refused: %v", e, err)
	}
	lawful(t, doc, e, after, inverse)
	if string(doc.Text()) != before {
		t.Fatalf("%+v changed the document it was given", e)
	}
	return after
}

// lawful checks the laws of an edit that was applied.
func lawful(t rapid.TB, doc *syntax.Document, e Edit, after *syntax.Document, inverse Edit) {
	t.Helper()
	text := string(after.Text())
	if want := read(text); !reflect.DeepEqual(want.Parts, after.Parts) || !slices.EqualFunc(want.Errors, after.Errors, func(a, b *syntax.Error) bool { return *a == *b }) {
		t.Fatalf("%+v gives another document than reading\n%s", e, text)
	}
	back, redo, err := inverse.Apply(after)
	if err != nil {
		t.Fatalf("%+v cannot be taken back by %+v: %v, in\n%s", e, inverse, err, text)
	}
	if string(back.Text()) != string(doc.Text()) {
		t.Fatalf("%+v, taken back by %+v, gives\n%q, not\n%q", e, inverse, back.Text(), doc.Text())
	}
	if again, _, err := redo.Apply(back); err != nil || string(again.Text()) != text {
		t.Fatalf("%+v cannot be made again by %+v: %v", e, redo, err)
	}
	for _, e := range []Edit{e, inverse, redo} {
		sent, err := json.Marshal(e)
		var got Edit
		if err == nil {
			err = json.Unmarshal(sent, &got)
		}
		if len(e.Cells) == 0 { // JSON does not tell no cells from none
			e.Cells, got.Cells = nil, nil
		}
		if err != nil || !reflect.DeepEqual(e, got) {
			t.Fatalf("%+v is %+v after JSON (%v)", e, got, err)
		}
	}
}

func TestEdits(t *testing.T) {
	shown := map[string]bool{}
	pinned := strings.Replace(edited, "# Lines\n", "```pins\nplants @ short : 20 // few\n```\n# Lines\n", 1)
	for _, c := range []struct {
		why        string
		edit       Edit
		gone, come string
	}{
		{"an input", Edit{Kind: SetLine, Name: "price", Text: "price over week : 4 USD/lb // Market"},
			"price over week : 3.50 USD/lb   // Market [own counts]\n", "price over week : 4 USD/lb // Market\n"},
		{"a formula that does not read is kept as typed", Edit{Kind: SetLine, Name: "plants", Text: "plants = house.floor *"},
			"plants = house.floor * 2        // Standing\n", "plants = house.floor *\n"},
		{"a line in error is mended", Edit{Kind: SetLine, Name: "broken", Was: "broken = 3 + +", Text: "broken = 3 + 4"},
			"broken = 3 + +\n", "broken = 3 + 4\n"},
		{"a row that is known by its text alone", Edit{Kind: SetLine, Was: "broken = 3 + +", Text: "whole = 7"},
			"broken = 3 + +\n", "whole = 7\n"},
		{"a line below another", Edit{Kind: AddLine, After: "price", Text: "fee : 2 USD"}, "", "fee : 2 USD\n"},
		{"a line at the end of a block", Edit{Kind: AddLine, Block: 1, Text: "fee : 2 USD"}, "", "fee : 2 USD\n"},
		{"a line goes", Edit{Kind: RemoveLine, Name: "plants"}, "plants = house.floor * 2        // Standing\n", ""},

		{"prose", Edit{Kind: WriteProse, Part: 3, Was: "# Last\n\n", Text: "In between.\n\n# The last\n\n"},
			"# Last\n", "In between.\n\n# The last\n"},
		{"prose without its last line ending gets it", Edit{Kind: WriteProse, Was: "The end.\n", Text: "It ends."}, "The end.\n", "It ends.\n"},
		{"prose goes", Edit{Kind: WriteProse, Was: "The end.\n"}, "The end.\n", ""},
		{"new prose", Edit{Kind: WriteProse, Text: "More.\n"}, "", "\nMore.\n"},
		{"prose may hold a whole block", Edit{Kind: WriteProse, Was: "The end.\n", Text: "```lines\nfee : 2\n```\n"}, "The end.\n", "```lines\nfee : 2\n```\n"},

		{"a cell keeps its breadth", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "floor", Text: "960"},
			"long   | Long house  | 2880      | 62; 64 from 2027-W09 // measured\n", "long   | Long house  | 960       | 62; 64 from 2027-W09 // measured\n"},
		{"a cell that is longer", Edit{Kind: SetCell, Name: "house", Member: "short", Column: "label", Text: "The short house"},
			"short  | Short house | 2160      | 64\n", "short  | The short house | 2160      | 64\n"},
		{"the last cell, before a comment", Edit{Kind: SetCell, Name: "house", Member: "long", Column: "night", Text: "61"},
			"long   | Long house  | 2880      | 62; 64 from 2027-W09 // measured\n", "long   | Long house  | 2880      | 61                   // measured\n"},
		{"the last cell goes blank", Edit{Kind: SetCell, Name: "house", Member: "short", Column: "night"},
			"short  | Short house | 2160      | 64\n", "short  | Short house | 2160      |\n"},
		{"a cell that does not read is kept as typed", Edit{Kind: SetCell, Name: "house", Member: "short", Column: "floor", Text: "many"},
			"short  | Short house | 2160      | 64\n", "short  | Short house | many      | 64\n"},
		{"a member", Edit{Kind: AddMember, Name: "house", Member: "lean_to", Cells: map[string]string{"label": "Lean-to", "night": "60"}},
			"", "lean_to | Lean-to     |           | 60\n"},
		{"a member goes", Edit{Kind: RemoveMember, Name: "house", Member: "short"}, "short  | Short house | 2160      | 64\n", ""},

		{"a record stands as its neighbours do", Edit{Kind: AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-10", "house": "short", "weight": "7", "seconds": "0"}},
			"", "2027-03-10 | short | 7         | 0\n"},
		{"a record is corrected", Edit{Kind: CorrectRecord, Name: "picks", Record: 2, Cells: map[string]string{"weight": "31.5", "seconds": "1"}},
			"2027-03-09 | long  | 30        |\n", "2027-03-09 | long  | 31.5      | 1\n"},
		{"a record goes", Edit{Kind: RemoveRecord, Name: "picks", Record: 1}, "2027-03-08 | long  | 34.5      | 2.0\n", ""},

		{"the first pin makes its block on the page of its line", Edit{Kind: Pin, Address: "plants @ long", Text: "140 // by hand"},
			"", "```pins\nplants @ long : 140 // by hand\n```\n\n"},
		{"a pin of a list's column", Edit{Kind: Pin, Address: "house.floor @ long", Text: "2000 ft2"},
			"", "```pins\nhouse.floor @ long : 2000 ft2\n```\n\n"},
		{"a pin of a name that is not there", Edit{Kind: Pin, Address: "nothing", Text: "3"}, "", "\n```pins\nnothing : 3\n```\n"},

		{"a pin goes", Edit{Kind: Unpin, Address: "plants @ short"}, "plants @ short : 20 // few\n", ""},
		{"a pin again", Edit{Kind: Pin, Address: "plants @ short", Text: "30"}, "plants @ short : 20 // few\n", "plants @ short : 30\n"},

		{"an override", Edit{Kind: SetOverride, Name: "later", Address: "plants", Text: "= base * 3"}, "", "plants           = base * 3\n"},
		{"an override again", Edit{Kind: SetOverride, Name: "later", Address: "house.floor", Text: "3 ft2"}, "house.floor      = base * 2\n", "house.floor      : 3 ft2\n"},
		{"an override goes", Edit{Kind: RemoveOverride, Name: "later", Address: "price@2027-W14"}, "price @ 2027-W14 : 3 USD/lb   // when all sell\n", ""},

		{"a setting keeps its comment", Edit{Kind: SetSetting, Name: "season", Text: "2026-W40 .. 2027-W39"},
			"season    : 2026-W33 .. 2027-W32   // a year\n", "season    : 2026-W40 .. 2027-W39   // a year\n"},
		{"a new setting", Edit{Kind: SetSetting, Name: "closed", Text: "2027-W10"}, "", "closed    : 2027-W10\n"},
		{"a setting goes", Edit{Kind: SetSetting, Name: "currency"}, "currency  : USD\n", ""},

		{"a replacement in a block", Edit{Kind: Replace, In: "lines", Line: 21, Was: "broken = 3 + +\n", Text: "a = 1\nb = 2\n"}, "broken = 3 + +\n", "a = 1\nb = 2\n"},
		{"rows put back below one", Edit{Kind: Replace, In: "lines", After: "broken = 3 + +\n", Text: "a = 1\n"}, "", "a = 1\n"},
		{"rows put back where the one above is gone", Edit{Kind: Replace, In: "lines", After: "gone = 3\n", Text: "a = 1\n"}, "", "a = 1\n"},
		{"what changes nothing", Edit{Kind: SetLine, Name: "broken", Text: "broken = 3 + +"}, "", ""},
	} {
		shown[c.edit.Kind] = true
		book := edited
		if strings.HasPrefix(c.gone, "plants @ short") {
			book = pinned
		}
		for _, end := range []string{"\n", "\r\n"} {
			as := func(s string) string { return strings.ReplaceAll(s, "\n", end) }
			e := c.edit
			if e.Kind == Replace { // made by the program, from the book's own bytes
				e.Was, e.Text, e.After = Verbatim(as(string(e.Was))), Verbatim(as(string(e.Text))), Verbatim(as(string(e.After)))
			}
			after := changed(t, read(as(book)), e)
			gone, come := said(as(book), string(after.Text()))
			if gone != as(c.gone) || come != as(c.come) {
				t.Errorf("%s: instead of\n%qstands\n%q, want\n%qto become\n%q", c.why, gone, come, as(c.gone), as(c.come))
			}
		}
	}
	for _, kind := range Kinds {
		if !shown[kind] {
			t.Errorf("%s has no example", kind)
		}
	}
}

// A phone and a desk at the same time: each takes back its own change only.
func TestEditsOfTwo(t *testing.T) {
	apply := func(doc *syntax.Document, e Edit) (*syntax.Document, Edit) {
		t.Helper()
		after, inverse, err := e.Apply(doc)
		if err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		return after, inverse
	}
	start := read(edited)

	// Ann pins first and so makes the block, Ben pins below, Ann takes hers back.
	ann, annBack := apply(start, Edit{Kind: Pin, Address: "plants", Text: "140"})
	ben, benBack := apply(ann, Edit{Kind: Pin, Address: "price @ 2027-W14", Text: "4 USD/lb"})
	left, _ := apply(ben, annBack)
	if gone, come := said(edited, string(left.Text())); gone != "" || come != "```pins\nprice @ 2027-W14 : 4 USD/lb\n```\n\n" {
		t.Errorf("Ben's pin should be left, not %q for %q", come, gone)
	}
	left, _ = apply(ben, benBack)
	if string(left.Text()) != string(ann.Text()) {
		t.Errorf("Ann's pin should be left, not\n%s", left.Text())
	}

	// Ann changes a line, Ben adds rows above and prose above that, Ann takes hers back.
	ann, annBack = apply(start, Edit{Kind: SetLine, Name: "broken", Text: "broken = 3"})
	ben, _ = apply(ann, Edit{Kind: AddLine, After: "price", Text: "fee : 2 USD"})
	ben, _ = apply(ben, Edit{Kind: WriteProse, Was: "# Lines\n\nWords about lines.\n\n", Text: "# Lines\n\nMany\nwords.\n\n"})
	left, _ = apply(ben, annBack)
	if !strings.Contains(string(left.Text()), "fee : 2 USD\nplants = house.floor * 2        // Standing\nbroken = 3 + +\n```") {
		t.Errorf("only Ann's change should be gone:\n%s", left.Text())
	}

	// Ann changes a line, Ben changes it after her: hers cannot be taken back.
	ben, _ = apply(ann, Edit{Kind: SetLine, Name: "broken", Text: "broken = 4"})
	if _, _, err := annBack.Apply(ben); err == nil || err.Code != changedSince.code {
		t.Errorf("Ben's change should stand, and Ann be told so: %v", err)
	}

	// Ann takes a line out, Ben changes the one above: hers comes back all the same.
	ann, annBack = apply(start, Edit{Kind: RemoveLine, Name: "plants"})
	ben, _ = apply(ann, Edit{Kind: SetLine, Name: "price", Text: "price : 3 USD/lb"})
	left, _ = apply(ben, annBack)
	if !strings.Contains(string(left.Text()), "broken = 3 + +\nplants = house.floor * 2        // Standing\n```") {
		t.Errorf("the line should be back:\n%s", left.Text())
	}
}

// Pins after the first: onto the page of the line, else where pins are, in line with the others.
func TestLaterPins(t *testing.T) {
	doc := read("# A\n```lines\na : 1\n```\n# B\n```lines\nb : 2\n```\n```pins\nb      : 3\n\n```\n")
	doc = changed(t, doc, Edit{Kind: Pin, Address: "a", Text: "4"})
	doc = changed(t, doc, Edit{Kind: Pin, Address: "b", Text: "5"})
	same(t, "pins", string(doc.Text()), "# A\n```lines\na : 1\n```\n# B\n```lines\nb : 2\n```\n```pins\nb      : 5\na      : 4\n\n```\n")
	doc = changed(t, doc, Edit{Kind: Unpin, Address: " b "})
	doc = changed(t, doc, Edit{Kind: Unpin, Address: "a"})
	same(t, "pins", string(doc.Text()), "# A\n```lines\na : 1\n```\n# B\n```lines\nb : 2\n```\n```pins\n\n```\n")

	two := "# A\n```lines\na : 1\n```\n```pins\nx : 1\n```\n# B\n```pins\nb : 3\n```\n"
	doc = changed(t, read(two), Edit{Kind: Pin, Address: "a", Text: "4"})
	same(t, "pins on the page", string(doc.Text()), strings.Replace(two, "x : 1\n", "x : 1\na : 4\n", 1))

	// The same cells, named in another order; and a pin that does not read.
	doc = read("```pins\nb @ long, 2027-W14 : 3\na : 3 lb lb\n```\n")
	doc = changed(t, doc, Edit{Kind: Pin, Address: "b @ 2027-W14, long", Text: "4"})
	doc = changed(t, doc, Edit{Kind: Pin, Address: "a", Text: "5"})
	same(t, "pins", string(doc.Text()), "```pins\nb @ long, 2027-W14 : 4\na : 5\n```\n")
}

// Books that end in the middle of things, and books of nothing.
func TestEditsAtTheEdge(t *testing.T) {
	for _, c := range []struct {
		before string
		edit   Edit
		after  string
	}{
		{"", Edit{Kind: WriteProse, Text: "# New\r\n"}, "# New\n"},
		{"", Edit{Kind: AddLine, Text: "a : 1"}, "```lines\na : 1\n```\n"},
		{"", Edit{Kind: SetSetting, Name: "draws", Text: "64"}, "```settings\ndraws : 64\n```\n"},
		{"", Edit{Kind: Pin, Address: "a", Text: "1"}, "```pins\na : 1\n```\n"},
		{"Words", Edit{Kind: Pin, Address: "a", Text: "1"}, "Words\n\n```pins\na : 1\n```\n"},
		{"Words", Edit{Kind: WriteProse, Was: "Words", Text: "More words"}, "More words"},
		{"Words\r\n", Edit{Kind: WriteProse, Was: "Words\n", Text: "More\nwords"}, "More\r\nwords\r\n"},
		{"Words\n\n", Edit{Kind: Pin, Address: "a", Text: "1"}, "Words\n\n```pins\na : 1\n```\n"},
		{"Words\r\nand", Edit{Kind: Pin, Address: "a", Text: "1"}, "Words\r\nand\r\n\r\n```pins\r\na : 1\r\n```\r\n"},
		{"```lines\na : 1\n```", Edit{Kind: WriteProse, Text: "Words"}, "```lines\na : 1\n```\n\nWords"},
		{"```lines\na : 1", Edit{Kind: AddLine, Text: "b : 1"}, "```lines\na : 1\nb : 1"},
		{"```lines\r\na : 1", Edit{Kind: AddLine, After: "a", Text: "b : 1"}, "```lines\r\na : 1\r\nb : 1"},
		{"```lines\na : 1", Edit{Kind: SetLine, Name: "a", Text: "a : 2"}, "```lines\na : 2"},
		{"```lines\na : 1\nb : 1", Edit{Kind: RemoveLine, Name: "b"}, "```lines\na : 1\n"},
		{"```lines\na : 1\n", Edit{Kind: AddLine, Text: "b : 1"}, "```lines\na : 1\nb : 1\n"},
		{"~~~lines\na : 1\n~~~\n", Edit{Kind: SetLine, Name: "a", Text: "// a : 1"}, "~~~lines\n// a : 1\n~~~\n"},
		{"\uFEFF```lines\na : 1\n```\n", Edit{Kind: SetLine, Name: "a", Text: "a : 2"}, "\uFEFF```lines\na : 2\n```\n"},
		{"```list a\n|x\nb|1\nc|2\n```\n", Edit{Kind: SetCell, Name: "a", Member: "b", Column: "x", Text: "12"}, "```list a\n|x\nb|12\nc|2\n```\n"},
		{"```list a\n|x|y\nb||1\n```\n", Edit{Kind: AddMember, Name: "a", Member: "c", Cells: map[string]string{"x": "3", "y": "4"}}, "```list a\n|x|y\nb||1\nc|3|4\n```\n"},
		{"```list a\n  | x | y\n```\n", Edit{Kind: AddMember, Name: "a", Member: "c", Cells: map[string]string{"y": "\"a|b\""}}, "```list a\n  | x | y\nc |   | \"a|b\"\n```\n"},
		{"```list a\n  | x\nb | 1 | 2\n```\n", Edit{Kind: AddMember, Name: "a", Member: "c", Cells: map[string]string{"x": "3"}}, "```list a\n  | x\nb | 1 | 2\nc | 3\n```\n"},
		{"```settings\ndraws 64 // few\n```\n", Edit{Kind: SetSetting, Name: "draws", Text: "128"}, "```settings\ndraws : 128\n```\n"},
		{"```lines\na : 1\n```\n\xff\n", Edit{Kind: SetLine, Name: "a", Text: "a : 2"}, "```lines\na : 2\n```\n\xff\n"},
		{"```lines\ncaf\xe9 : 1\n```\n\xff\n", Edit{Kind: SetLine, Was: "caf\xe9 : 1", Text: "cafe : 1"}, "```lines\ncafe : 1\n```\n\xff\n"},
		{"```list a\n|x\nb|1\nc|2\n```\n", Edit{Kind: Replace, In: "list a", Was: "|x\n", Text: "|x|y\n"}, "```list a\n|x|y\nb|1\nc|2\n```\n"},
		{"```list a\n|x y z\nb|1\nc|2\n```\n", Edit{Kind: Replace, In: "list a", Was: "b|1\n", Text: "b|2\n"}, "```list a\n|x y z\nb|2\nc|2\n```\n"},
		{"```list a\n// one\n|x\nb|1\n```\n", Edit{Kind: Replace, In: "list a", Was: "// one\n", Text: "|y\n"}, "```list a\n|y\n|x\nb|1\n```\n"},
		{"```lines\nb : 1\nc : 1\nd : 1\nb : 1\ne : 1\n```\n", Edit{Kind: Replace, Line: 6, Was: "b : 1\n", Text: "x : 1\n"}, "```lines\nb : 1\nc : 1\nd : 1\nx : 1\ne : 1\n```\n"},
		{"```lines\na : 1\nb : 1 and\nb : 1\n```\n", Edit{Kind: Replace, Was: "b : 1\n", Text: "c : 1"}, "```lines\na : 1\nb : 1 and\nc : 1\n```\n"},
		{"```lines\ncaf\xe9 : 1\nb : 2\n```\n", Edit{Kind: Replace, In: "lines", Line: 2, Was: "caf\xe9 : 1\n", Text: "cafe : 1\n"}, "```lines\ncafe : 1\nb : 2\n```\n"},
		{"```lines\ncaf\xe9 : 1\nb : 2\n```\n", Edit{Kind: SetLine, Was: "caf\xe9 : 1", Text: "cafe : 1"}, "```lines\ncafe : 1\nb : 2\n```\n"},
	} {
		after := changed(t, read(c.before), c.edit)
		if string(after.Text()) != c.after {
			t.Errorf("%+v of %q gives\n%q, want\n%q", c.edit, c.before, after.Text(), c.after)
		}
	}
}

// One value in a large book is changed without reading the book again: what stands
// elsewhere is shared, not copied.
func TestOneRowIsReadAlone(t *testing.T) {
	doc := read(large(20_000))
	after := changed(t, doc, Edit{Kind: SetLine, Name: "input_4000", Text: "input_4000 over house : 81 %"})
	shared := 0
	for i, p := range after.Parts {
		if p == doc.Parts[i] {
			shared++
		}
	}
	same(t, "parts shared", shared, len(doc.Parts)-1)
}

func BenchmarkEdit(b *testing.B) {
	doc := read(large(100_000))
	for _, c := range []struct {
		name string
		edit Edit
	}{
		{"row", Edit{Kind: SetLine, Name: "input_50000", Text: "input_50000 over house : 81 %"}},
		{"new_row", Edit{Kind: AddLine, After: "input_50000", Text: "new : 81 %"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, _, err := c.edit.Apply(doc); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
