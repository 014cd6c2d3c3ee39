package syntax

import (
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"
)

func FuzzRead(f *testing.F) {
	f.Add(book)
	f.Add(strings.ReplaceAll(book, "\n", "\r\n"))
	for _, x := range examples {
		text, _ := x.run()
		f.Add(text)
	}
	for _, s := range hostile(300) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d := Read("book.md", []byte(text))
		checkDocument(t, text, d)
		body := strings.TrimPrefix(text, byteOrderMark)
		for _, p := range d.Parts {
			checkPlaces(t, body, p.Item)
		}
	})
}

// checkPlaces checks that words stand where their places say.
func checkPlaces(t *testing.T, text string, item any) {
	lines := strings.Split(text, "\n")
	check := func(what string, p Place) {
		if what == "" {
			return
		}
		line := []rune(lines[p.Line-1])
		if p.Col < 1 || p.Col-1+p.Len > len(line) || string(line[p.Col-1:p.Col-1+p.Len]) != what {
			t.Errorf("%q is not at %v of %q", what, p, lines[p.Line-1])
		}
	}
	formula := func(f *Formula) {
		if f != nil {
			check(f.Text, f.Place)
			checkSpans(t, f.Text, f.Tree)
		}
	}
	values := func(v *Values) {
		if v == nil {
			return
		}
		if (len(v.Each) == 0) == (len(v.Pieces) == 0) {
			t.Errorf("%+v", v)
		}
		for _, l := range v.Each {
			check(l.Text, l.Place)
			check(l.Unit.Text, l.Unit.Place)
		}
		for _, p := range v.Pieces {
			check(p.Literal.Text, p.Literal.Place)
			check(p.Literal.Unit.Text, p.Literal.Unit.Place)
			check(p.From.Text, p.From.Place)
			if l := p.Literal; l.HasRange && l.Low.Cmp(l.High) >= 0 {
				t.Errorf("%+v", l)
			}
		}
	}
	condition := func(c Condition) {
		check(c.Text, c.Place)
		formula(c.Left)
		formula(c.Right)
		if c.Left == nil || (c.Op == "") != (c.Right == nil && c.Literal == nil) || c.Right != nil && c.Literal != nil {
			t.Errorf("%+v", c)
		}
		if c.Literal != nil {
			check(c.Literal.Text, c.Literal.Place)
		}
	}
	switch item := item.(type) {
	case *Setting:
		check(item.Key.Text, item.Key.Place)
		check(item.Value.Text, item.Value.Place)
	case *Header:
		for _, c := range item.Columns {
			check(c.Name.Text, c.Name.Place)
			check(c.Unit.Text, c.Unit.Place)
		}
	case *Row:
		check(item.Member.Text, item.Member.Place)
		for _, c := range item.Cells {
			check(c.Text, c.Place)
			values(c.Values)
		}
	case *Line:
		check(item.Name.Text, item.Name.Place)
		check(item.Unit.Text, item.Unit.Place)
		for _, a := range item.Over {
			check(a.Name.Text, a.Name.Place)
		}
		values(item.Values)
		formula(item.Formula)
	case *Override:
		check(item.Address.Name.Text, item.Address.Name.Place)
		for _, w := range item.Address.Where {
			check(w.Text, w.Place)
		}
		values(item.Values)
		formula(item.Formula)
		if (item.Values == nil) == (item.Formula == nil) {
			t.Errorf("%+v", item)
		}
	case *Bind:
		check(item.Line.Text, item.Line.Place)
		formula(item.Formula)
	case *Caution:
		condition(item.Condition)
	case *Answer:
		check(item.Key.Text, item.Key.Place)
		for _, c := range item.Entries {
			condition(c)
		}
	case *Link:
		check(item.A.Text, item.A.Place)
		check(item.B.Text, item.B.Place)
	}
}

func FuzzFormula(f *testing.F) {
	for _, x := range examples {
		if x.in == "formula" {
			f.Add(x.text)
		}
	}
	for _, s := range []string{"a + b*2", "f(a, 0) ? 1 : -b^2", `under("left_cold", a.b) - 3.5e2`, "not (a >= b) and c != d or e", "let x=1;x", "a?.b[1:2]", "map(x, {# + 1})", "1..3 | sum()", "a not in b ?? c", "::f(x)", `b"a"`, "a?.5:1", "x ? y ? 1 : 2 : 3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		tree, e := ParseFormula(text, Place{1, 1, 1}, nil)
		length := utf8.RuneCountInString(text)
		if e != nil {
			if e.Code == unreadable.code {
				t.Errorf("%q passes the scan and not the parser", text)
			}
			if tree != nil || e.Col < 1 || e.Col-1 > length || e.Len < 1 || e.Col-1+e.Len > length+1 || e.Message == "" || e.Hint == "" {
				t.Errorf("%q: %+v", text, e)
			}
			return
		}
		if len(text) > longestFormula {
			t.Errorf("%d bytes are accepted", len(text))
		}
		checkSpans(t, text, tree)
	})
}

func FuzzValues(f *testing.F) {
	for _, x := range examples {
		if x.in == "values" {
			f.Add(x.text)
		}
	}
	for _, s := range []string{"80 % (68..88) open", "80 +- 4 %", "62; 64 from 2027-W09", "33, 36 degF", "even(1..3) d", "likely(1,2,4)", "chance(4 %)", "2026-10-12", `"a;b"`, "arch", "0.75 1/h"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, e := ParseValues(text, Place{1, 1, 1})
		length := utf8.RuneCountInString(text)
		if e != nil {
			if v != nil || e.Col < 1 || e.Col-1 > length || e.Len < 1 || e.Col-1+e.Len > length+1 || e.Message == "" || e.Hint == "" {
				t.Errorf("%q: %+v", text, e)
			}
			return
		}
		for _, l := range v.Each {
			if l.Kind != PlainNumber {
				t.Errorf("%q: %+v", text, l)
			}
		}
		for _, p := range v.Pieces {
			// A literal's text alone is the literal again, but for the unit it has from the first.
			again, e := ParseLiteral(p.Literal.Text, p.Literal.Place)
			if e != nil {
				t.Errorf("%q: %v", p.Literal.Text, e)
				continue
			}
			if again.Unit.Text == "" {
				again.Unit = p.Literal.Unit
			}
			if !reflect.DeepEqual(*again, p.Literal) {
				t.Errorf("%q: %+v, alone %+v", text, p.Literal, *again)
			}
		}
	})
}
