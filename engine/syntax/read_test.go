package syntax

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// book is a small whole book with each kind of block.
const book = `Notes before the first page.

# Plan for the winter

` + "```settings" + `
title  : Tern Hollow, "winter" // shown at the top
season : 2026-W33 .. 2027-W32
` + "```" + `
## Houses
` + "```list house" + `
       | label      | floor ft2 | night over week degF | home -> site | cover

// the short one leaks
long   | Long house | 2880      | 62; 64 from 2027-W09 | east         | double_poly
short  | "Short | house" | 2160 |                      | east         | glass
` + "```" + `
` + "```lines" + `
set_share over each planting, each week keeps 60 % : 80 % (68..88)  // Flowers that set [own counts [2026]]
high over month_of_year : 33, 36 degF
plants = planting.density * planting.floor -> plant level // Standing
worth = a > 1 ? b : c // a choice
total_held = x + y sum
` + "```" + `
Prices
======
` + "~~~~records picks" + `
date       | planting    | weight lb
2027-03-08 | long_tomato | 34.5
` + "~~~~" + `
` + "```observe\nharvest ~ week_sum(picks.weight) +- 6 % // the scale\n```" + `
` + "```pins\nharvest @ long_tomato, 2027-W16 : 140 lb // half a crew\n```" + `
` + "```scenario later \"Sow three weeks later\"\nplanting.sown = base + measure(\"21 d\")\nprice : 3 USD/lb; 2 from 2027-W10\n```" + `
` + "```cautions\na > 1 ? b : c > \"x\" : \"never read\"\ncrowding <= 100 % : \"Too : much\"\n```" + `
` + "```links\noutside_shift, fuel_price : -0.3\n```" + `
` + "```chart \"Harvest to sell\"\nkind : fan\n```" + `
` + "```answers\npays : margin > 0, f(a, b) >= 3 USD, other, not a and b > 2\n```" + `
` + "```text\nlines\n```" + `
The end.`

func TestEveryKindOfBlock(t *testing.T) {
	text := strings.Replace(book, "a > 1 ? b : c > \"x\" : \"never read\"\n", "", 1)
	d := Read("book.md", []byte(text))
	for _, e := range d.Errors {
		t.Errorf("%d:%d: %s (%s)", e.Line, e.Col, e.Message, e.Code)
	}
	if string(d.Text()) != text {
		t.Fatal("the parts are not the text")
	}
	items := make(map[string][]any)
	blocks := make(map[string]*Block)
	for _, p := range d.Parts {
		if p.Block != nil {
			blocks[p.Block.Kind] = p.Block
		}
		if p.Kind == Item {
			items[p.Block.Kind] = append(items[p.Block.Kind], p.Item)
		}
	}
	check := func(what string, got, want any) {
		t.Helper()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	s := items["settings"][0].(*Setting)
	check("setting", []string{s.Key.Text, s.Value.Text}, []string{"title", `Tern Hollow, "winter"`})

	h := items["list"][0].(*Header)
	var columns []string
	for _, c := range h.Columns {
		columns = append(columns, strings.Join([]string{c.Name.Text, c.Over, c.Unit.Text, c.Refers}, "/"))
	}
	check("columns", columns, []string{"label///", "floor//ft2/", "night/week/degF/", "home///site", "cover///"})
	row := items["list"][2].(*Row)
	check("member", row.Member.Text, "short")
	check("label", told(row.Cells[0].Values.Pieces[0].Literal), "text Short | house")
	check("blank cell", row.Cells[2].Values == nil && row.Cells[2].Text == "", true)
	check("cells", len(row.Cells), 5)
	check("label without quotes", told(items["list"][1].(*Row).Cells[0].Values.Pieces[0].Literal), "text Long house")
	check("schedule", len(items["list"][1].(*Row).Cells[2].Values.Pieces), 2)

	l := items["lines"][0].(*Line)
	check("axes", fmt.Sprintln(l.Over[0].Name.Text, l.Over[0].Each, l.Over[0].Keeps, l.Over[1].Name.Text, l.Over[1].Each, l.Over[1].Keeps), "planting true 0 week true 0.6\n")
	check("comment", []string{l.Label, l.Source}, []string{"Flowers that set", "own counts [2026]"})
	check("list", len(items["lines"][1].(*Line).Values.Each), 2)
	l = items["lines"][2].(*Line)
	check("computed", []string{l.Formula.Text, l.Unit.Text, l.Gather, l.Label}, []string{"planting.density * planting.floor", "plant", "level", "Standing"})
	check("choice", bracketed(items["lines"][3].(*Line).Formula.Tree), "[[a > 1] ? b : c]")
	l = items["lines"][4].(*Line)
	check("gathers without unit", []string{l.Formula.Text, l.Unit.Text, l.Gather}, []string{"x + y", "", "sum"})

	check("records header", items["records"][0].(*Header).Columns[0].Name.Text, "date")
	row = items["records"][1].(*Row)
	check("record", []string{row.Member.Text, told(row.Cells[0].Values.Pieces[0].Literal), row.Cells[2].Text}, []string{"", "day 2027-03-08", "34.5"})

	b := items["observe"][0].(*Bind)
	check("bind", fmt.Sprint(b.Line.Text, " ", bracketed(b.Formula.Tree), " ", b.Within, " ", b.Label), "harvest week_sum{picks.weight} 0.06 the scale")

	o := items["pins"][0].(*Override)
	check("pin", fmt.Sprint(o.Address.Name.Text, len(o.Address.Where), o.Address.Where[1].Text, told(o.Values.Pieces[0].Literal), o.Label), "harvest22027-W16140 in lbhalf a crew")
	o = items["scenario"][0].(*Override)
	check("scenario formula", fmt.Sprint(o.Address.Name.Text, bracketed(o.Formula.Tree), o.Values == nil), "planting.sown[base + measure{\"21 d\"}]true")
	check("scenario values", len(items["scenario"][1].(*Override).Values.Pieces), 2)
	check("scenario title", []string{blocks["scenario"].Name, blocks["scenario"].Title}, []string{"later", "Sow three weeks later"})

	c := items["cautions"][0].(*Caution)
	check("caution", fmt.Sprint(bracketed(c.Condition.Left.Tree), c.Condition.Op, told(*c.Condition.Literal), c.Message), "crowding<=100 in %Too : much")
	check("link", *items["links"][0].(*Link), Link{A: Word{"outside_shift", items["links"][0].(*Link).A.Place}, B: Word{"fuel_price", items["links"][0].(*Link).B.Place}, Share: -0.3})
	check("chart", []string{blocks["chart"].Title, items["chart"][0].(*ChartKey).Value.Text}, []string{"Harvest to sell", "fan"})

	a := items["answers"][0].(*Answer)
	var entries []string
	for _, x := range a.Entries {
		w := bracketed(x.Left.Tree) + x.Op
		if x.Literal != nil {
			w += told(*x.Literal)
		}
		if x.Right != nil {
			w += "name " + x.Right.Text
		}
		entries = append(entries, w)
	}
	check("answer", entries, []string{"margin>0", "f{a, b}>=3 in USD", "other", "[[not a] and [b > 2]]"})
	check("answer's place", a.Entries[1].Place.Col, 20)

	var pages []string
	for _, p := range d.Parts {
		if p.Title != "" {
			pages = append(pages, fmt.Sprint(p.Line, " ", p.Title))
		}
	}
	check("pages", pages, []string{"3 Plan for the winter", "24 Prices"})
	check("page of a block", []string{blocks["lines"].Page, blocks["records"].Page}, []string{"Plan for the winter", "Prices"})
	check("page before the first", d.Parts[0].Page, "")
}

// checkDocument checks what holds of every document.
func checkDocument(t interface{ Errorf(string, ...any) }, text string, d *Document) {
	if string(d.Text()) != text {
		t.Errorf("%q: the parts are not the text", text)
	}
	lines := strings.Count(text, "\n") + 1
	line := 1
	for _, p := range d.Parts {
		if p.Text == "" {
			t.Errorf("%q: an empty part", text)
		}
		if p.Line != line {
			t.Errorf("%q: a part stands in line %d, not %d", text, line, p.Line)
		}
		line += strings.Count(p.Text, "\n")
		if (p.Block != nil) != (p.Kind != Prose) || p.Item != nil && p.Kind != Item {
			t.Errorf("%q: %+v", text, p)
		}
		if p.Kind != Prose && strings.Count(strings.TrimSuffix(p.Text, "\n"), "\n") != 0 {
			t.Errorf("%q: %q is more than a row", text, p.Text)
		}
	}
	var open *Block
	for _, p := range d.Parts {
		if p.Kind != Fence {
			continue
		}
		if open == p.Block {
			if mark := strings.TrimSpace(p.Text); len(mark) < 3 || strings.Trim(mark, mark[:1]) != "" || mark[0] != '`' && mark[0] != '~' {
				t.Errorf("%q: a block is closed by %q", text, p.Text)
			}
		} else if !strings.Contains(p.Text, p.Block.Kind) {
			t.Errorf("%q: a block is opened by %q", text, p.Text)
		}
		open = p.Block
	}
	for _, e := range d.Errors {
		if e.Line < 1 || e.Line > lines || e.Col < 1 || e.Len < 1 || e.Code == "" || e.Message == "" || e.Hint == "" {
			t.Errorf("%q: %+v", text, e)
		}
	}
}

func TestByteForByte(t *testing.T) {
	texts := []string{
		"", "\n", "a", "\r\n", "\uFEFF", "\uFEFF\n", "\uFEFF# Page\nprose", "\uFEFF```lines\na : 1\n```\n", "\uFEFF```lines", "\uFEFF\uFEFF\n",
		book, strings.ReplaceAll(book, "\n", "\r\n"), strings.ReplaceAll(book, "\n", "\r"), strings.ReplaceAll(book, " ", "\t"), strings.TrimSuffix(book, "."),
		strings.ReplaceAll(book, "\n", "\n\n"), strings.ReplaceAll(book, "```", "   ```"), "> " + strings.ReplaceAll(book, "\n", "\n> "),
		"- " + strings.ReplaceAll(book, "\n", "\n  "), "    " + strings.ReplaceAll(book, "\n", "\n    "),
		"```lines\na : 1", "```lines\n", "```lines", "```lines\r\na : 1\r\n```", "```lines\n\n\n", "```lines\na : \xff\n\x00\n```\n\xfe", "\x00\x01\xff\xfe```lines\n",
		"```lines\n\ta : 1\t\n\t// x\n```", "````lines\n```\na : 1\n````\n", "```lines\n~~~\n``` x\n```", "a\n```lines\na : 1\n``` \t\nb",
		"# \n#\n# a #\n#b\n", "<div>\n```lines\na : 1\n```\n</div>\n", "<!--\n\n```lines\n-->\n",
	}
	for _, text := range texts {
		d := Read("book.md", []byte(text))
		checkDocument(t, text, d)
	}
}

// kinds tells a document in short: P prose, a title in brackets, F fence, I item, i
// item in error, T trivial.
func kinds(text string) string {
	var b strings.Builder
	for _, p := range Read("book.md", []byte(text)).Parts {
		switch {
		case p.Kind == Prose && p.Title != "":
			b.WriteString("P[" + p.Title + "]")
		case p.Kind == Prose:
			b.WriteString("P")
		case p.Kind == Fence:
			b.WriteString("F")
		case p.Kind == Trivial:
			b.WriteString("T")
		case p.Item == nil:
			b.WriteString("i")
		default:
			b.WriteString("I")
		}
	}
	return b.String()
}

// What is a heading, a fence or plain text is as in the CommonMark specification
// 0.31.2 (MacFarlane 2024), whose examples are named; its texts have our words in place of its own.
func TestCommonMark(t *testing.T) {
	for _, x := range []struct{ example, text, want string }{
		{"62", "# foo\n## foo\n# bar", "P[foo]P[bar]"},
		{"63", "####### foo", "P"},
		{"64", "#5 bolt\n\n#hashtag", "P"},
		{"65", "\\## foo", "P"},
		{"66", "# foo *bar* \\*baz\\*", "P[foo *bar* \\*baz\\*]"},
		{"67", "#                  foo                     ", "P[foo]"},
		{"68", " ### foo\n  ## foo\n   # foo", "PP[foo]"},
		{"69", "    # foo", "P"},
		{"70", "foo\n    # bar", "P"},
		{"71", "# foo ##\n  ###   bar    ###", "P[foo]"},
		{"75", "# foo#", "P[foo#]"},
		{"77", "****\n# foo\n****", "PP[foo]"},
		{"79", "## \n#\n### ###", "P"},
		{"80", "Foo *bar*\n=========\n\nFoo *bar*\n---------", "P[Foo *bar*]"},
		{"81", "Foo *bar\nbaz*\n====", "P[Foo *bar baz*]"},
		{"83", "Foo\n-------------------------\n\nFoo\n=", "PP[Foo]"},
		{"87", "Foo\n    =", "P"},
		{"88", "Foo\n= =\n\nFoo\n--- -", "P"},
		{"92", "> Foo\n---", "P"},
		{"93", "> foo\nbar\n===", "P"},
		{"94", "- Foo\n---", "P"},
		{"97", "\n====", "P"},
		{"119", "```lines\na : 1\n```", "FIF"},
		{"120", "~~~lines\na : 1\n~~~", "FIF"},
		{"121", "``lines\na : 1\n``", "P"},
		{"122", "```lines\n~~~\n```", "FiF"},
		{"124", "````lines\n```\n``````", "FiF"},
		{"127", "```lines\n\na : 1", "FTI"},
		{"128", "> ```lines\n> a : 1\n\nb : 2", "P"},
		{"129", "```lines\n\n  \n```", "FTTF"},
		{"130", "```lines\n```", "FF"},
		{"131", " ```lines\n a : 1\nb : 2\n```", "FIIF"},
		{"134", "    ```lines\n    a : 1\n    ```", "P"},
		{"135", "```lines\na : 1\n  ```", "FIF"},
		{"137", "```lines\na : 1\n    ```", "FIi"},
		{"138", "``` ```\nlines", "P"},
		{"140", "foo\n```lines\na : 1\n```\nbaz", "PFIFP"},
		{"141", "foo\n---\n~~~lines\na : 1\n~~~\n# baz", "PFIFP[baz]"},
		{"142", "```lines\n// a\n```", "FTF"},
		{"143", "~~~~    lines\na : 1\n~~~~~~~", "FIF"},
		{"145", "``` lines ```\na : 1", "P"},
		{"147", "```lines\n``` aaa\n```", "FiF"},
		{"150", "<div>\n```lines\na : 1\n```\n</div>", "P"},
		{"179", "<!-- Foo\n\n```lines\n-->\n```lines\na : 1", "PFI"},
		{"216", "[foo]: /url\n===\n[foo]", "P"},
		{"215", "[foo]: /url\nbar\n===\n[foo]", "PP[bar]"},
		{"254", "1.  A paragraph\n\n    ```lines\n    a : 1\n    ```\n", "P"},
		{"none: a tab is four columns", "\t```lines\n\ta : 1\n", "P"},
		{"none: a list ends", "- a\n\n```lines\na : 1\n```\n", "PFIF"},
		{"none: a fence in a list item", "- ```lines\n  a : 1\n  ```\n", "P"},
	} {
		if got := kinds(x.text); got != x.want {
			t.Errorf("example %s: %q is %s, want %s", x.example, x.text, got, x.want)
		}
	}
}

// A row in error leaves everything else as it was.
func TestOneBrokenRow(t *testing.T) {
	rows := strings.Split(book, "\n")
	whole := Read("book.md", []byte(book))
	before := len(whole.Errors)
	for i, row := range rows {
		p := partAt(whole, i+1)
		if p.Kind != Item || p.Item == nil {
			continue
		}
		if _, header := p.Item.(*Header); header {
			continue
		}
		broken := append([]string(nil), rows...)
		broken[i] = "é ] " + row
		d := Read("book.md", []byte(strings.Join(broken, "\n")))
		if len(d.Parts) != len(whole.Parts) || len(d.Errors) <= before {
			t.Errorf("%q: %d parts, %d errors", broken[i], len(d.Parts), len(d.Errors))
			continue
		}
		for j, q := range d.Parts {
			if q.Line != i+1 && (q.Text != whole.Parts[j].Text || (q.Item == nil) != (whole.Parts[j].Item == nil)) {
				t.Errorf("%q changes line %d", broken[i], q.Line)
			}
		}
		for _, e := range d.Errors {
			if e.Line != i+1 && partAt(d, e.Line).Item != nil {
				t.Errorf("%q: an error in line %d", broken[i], e.Line)
			}
		}
	}
}

func partAt(d *Document, line int) *Part {
	for _, p := range d.Parts {
		if n := strings.Count(p.Text, "\n"); p.Line <= line && line < p.Line+max(1, n) {
			return p
		}
	}
	return &Part{}
}

// What can be known of a row in error is kept.
func TestWhatABrokenRowKeeps(t *testing.T) {
	d := Read("book.md", []byte("```lines\na = b + * c -> USD // Label [src]\nb : 3 +\nc over : 3\n```\n```list house\n| label | floor ft2 | wall ft\nlong | Long | 2,880 | 4\n```\n"))
	var names []string
	for _, e := range d.Errors {
		names = append(names, e.Name)
	}
	if want := []string{"a", "b", "c", "house.floor"}; !reflect.DeepEqual(names, want) {
		t.Errorf("errors of %q, want %q", names, want)
	}
	line := d.Parts[1].Item.(*Line)
	if line.Name.Text != "a" || line.Formula != nil || line.Values != nil || line.Unit.Text != "USD" || line.Label != "Label" || line.Source != "src" {
		t.Errorf("%+v", line)
	}
	row := d.Parts[7].Item.(*Row)
	if c := row.Cells; row.Member.Text != "long" || c[1].Values != nil || c[1].Text != "2,880" || c[2].Values == nil {
		t.Errorf("%+v", row)
	}
	if got := d.Errors[3].Error(); got != "house.floor: "+cellList.says {
		t.Error(got)
	}
}

func TestOpenQuote(t *testing.T) {
	d := Read("book.md", []byte("```lines\nnote : \"a // b\nb : 1\n```\n```list house\n| label | floor\nlong | 6\" pots | 3\n```\n"))
	if len(d.Errors) != 2 || d.Errors[0].Code != openQuote.code || d.Errors[0].Name != "note" || d.Errors[0].Place != (Place{2, 8, 7}) || d.Errors[1].Place != (Place{7, 9, 10}) {
		t.Errorf("%+v", d.Errors)
	}
	if l := d.Parts[1].Item.(*Line); l.Name.Text != "note" || l.Values != nil {
		t.Errorf("%+v", l)
	}
}

// A byte order mark hides nothing in the first line, and takes no column.
func TestByteOrderMark(t *testing.T) {
	for text, want := range map[string]string{"\uFEFF# Page\n```lines\na : 1\n```": "P[Page]FIF", "\uFEFF```lines\na : 1\n```": "FIF"} {
		if got := kinds(text); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]Place{"\uFEFF```lnies\n```": {1, 4, 5}, "\uFEFFé\xff": {1, 2, 1}} {
		if d := Read("book.md", []byte(text)); len(d.Errors) != 1 || d.Errors[0].Place != want {
			t.Errorf("%q: %+v", text, d.Errors)
		}
	}
}

// A message carries nothing that would steer a terminal.
func TestMessagesPrint(t *testing.T) {
	_, e := ParseValues("a\x1b[31m\r\u202ebad", Place{1, 1, 1})
	if want := "a\uFFFD[31m\uFFFD\uFFFDbad does not read as a value"; e == nil || e.Message != want {
		t.Errorf("%+v", e)
	}
}

// Of a row with errors without end the first few are told.
func TestErrorsOfOneRowAreFew(t *testing.T) {
	d := Read("book.md", []byte("```list house\n"+strings.Repeat("| A ", 1000)+"\n```\n"))
	if len(d.Errors) != mostErrors {
		t.Errorf("%d errors", len(d.Errors))
	}
}

func TestReadRow(t *testing.T) {
	for _, p := range Read("book.md", []byte(book)).Parts {
		if p.Kind == Prose || p.Kind == Fence {
			continue
		}
		var header *Header
		if p.Block.Kind == "list" || p.Block.Kind == "records" {
			for _, q := range Read("book.md", []byte(book)).Parts {
				if h, ok := q.Item.(*Header); ok && q.Block.Name == p.Block.Name && q.Line != p.Line {
					header = h
				}
			}
		}
		again, _ := ReadRow(p.Block, header, p.Text, p.Line)
		if !reflect.DeepEqual(again, p) {
			t.Errorf("%q alone is %+v, in the book %+v", p.Text, again, p)
		}
	}
	block := &Block{Kind: "lines"}
	_, errors := ReadRow(block, nil, "a = b c", 7)
	if len(errors) != 1 || errors[0].Place != (Place{7, 7, 1}) || errors[0].Name != "a" {
		t.Errorf("%+v", errors)
	}
}
