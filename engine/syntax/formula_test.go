package syntax

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"
)

// bracketed writes a tree with a bracket around every node that has parts.
func bracketed(e Expr) string {
	switch n := e.(type) {
	case *Number:
		return n.Text
	case *Name:
		return n.Full()
	case *Text:
		return `"` + n.Value + `"`
	case *Unary:
		return "[" + n.Op + " " + bracketed(n.X) + "]"
	case *Binary:
		return "[" + bracketed(n.L) + " " + n.Op + " " + bracketed(n.R) + "]"
	case *Choice:
		return "[" + bracketed(n.Cond) + " ? " + bracketed(n.Then) + " : " + bracketed(n.Else) + "]"
	case *Call:
		args := make([]string, len(n.Args))
		for i, a := range n.Args {
			args[i] = bracketed(a)
		}
		return n.Name + "{" + strings.Join(args, ", ") + "}"
	}
	return "?"
}

func TestFormulaTrees(t *testing.T) {
	for text, want := range map[string]string{
		"a":                           "a",
		" 1.5e3 ":                     "1.5e3",
		".5 * a":                      "[.5 * a]",
		"house.floor":                 "house.floor",
		"a - b - c":                   "[[a - b] - c]",
		"a - (b - c)":                 "[a - [b - c]]",
		"a + b * c":                   "[a + [b * c]]",
		"a / b / c":                   "[[a / b] / c]",
		"a ^ b ^ c":                   "[a ^ [b ^ c]]",
		"-a ^ b":                      "[- [a ^ b]]",
		"a ^ -b":                      "[a ^ [- b]]",
		"-a * b":                      "[[- a] * b]",
		"a - -b":                      "[a - [- b]]",
		"+a":                          "a",
		"a + +b":                      "[a + b]",
		"a < b and c >= d or e":       "[[[a < b] and [c >= d]] or e]",
		"a or b and c":                "[a or [b and c]]",
		"not a and b":                 "[[not a] and b]",
		"not (a > b)":                 "[not [a > b]]",
		"not not a":                   "[not [not a]]",
		"(not a) == b":                "[[not a] == b]",
		"a + 1 < b * 2":               "[[a + 1] < [b * 2]]",
		"(a < b) == (c < d)":          "[[a < b] == [c < d]]",
		"a != b":                      "[a != b]",
		"a ? b : c":                   "[a ? b : c]",
		"a ? b : c ? d : e":           "[a ? b : [c ? d : e]]",
		"a ? b ? c : d : e":           "[a ? [b ? c : d] : e]",
		"a > b ? c + 1 : d or e":      "[[a > b] ? [c + 1] : [d or e]]",
		"f()":                         "f{}",
		"f (a)":                       "f{a}",
		"f(a, g(b), c + d)":           "f{a, g{b}, [c + d]}",
		`under("left_cold", a) - b`:   `[under{"left_cold", a} - b]`,
		`measure("15 degC")`:          `measure{"15 degC"}`,
		`f("// not a comment | 'x'")`: `f{"// not a comment | 'x'"}`,
		// Names the parser has functions of its own for are calls like any other.
		"sum(a) + map(a, b)": "[sum{a} + map{a, b}]",
		"len(a)":             "len{a}",
		"count(a)":           "count{a}",
		"filter(a)":          "filter{a}",
		"reduce(a, b, c)":    "reduce{a, b, c}",
		"this_week(a)":       "this_week{a}",
		"max(a)":             "max{a}",
		"b_1 + week_2":       "[b_1 + week_2]",
		"\ta\t+ b":           "[a + b]",
	} {
		tree, e := ParseFormula(text, Place{1, 1, 1}, nil)
		if e != nil {
			t.Errorf("%q: %s (%s) at %v", text, e.Message, e.Code, e.Place)
			continue
		}
		if got := bracketed(tree); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

func TestFormulaSpans(t *testing.T) {
	for text, want := range map[string][]string{
		"(a+b)*c":                 {"(a+b)*c", "a+b", "a", "b", "c"},
		"((a))":                   {"a"},
		"(a ? (b) : c)*2":         {"(a ? (b) : c)*2", "a ? (b) : c", "a", "b", "c", "2"},
		"a ? b : (c + d)  ":       {"a ? b : (c + d)", "a", "b", "c + d", "c", "d"},
		"f( (a), b )+1":           {"f( (a), b )+1", "f( (a), b )", "a", "b", "1"},
		"-(a.b)":                  {"-(a.b)", "a.b"},
		`f("größte 東屋", é_)`:      nil,
		`f("größte 東屋", a) - (b)`: {`f("größte 東屋", a) - (b)`, `f("größte 東屋", a)`, `"größte 東屋"`, "a", "b"},
	} {
		tree, e := ParseFormula(text, Place{1, 1, 1}, nil)
		if want == nil {
			if e == nil {
				t.Errorf("%q is accepted", text)
			}
			continue
		}
		if e != nil {
			t.Errorf("%q: %v", text, e)
			continue
		}
		runes := []rune(text)
		var got []string
		Walk(tree, func(n Expr) { got = append(got, string(runes[n.Span().From:n.Span().To])) })
		if strings.Join(got, " | ") != strings.Join(want, " | ") {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	tree, _ := ParseFormula("x + total ( a , week )", Place{1, 1, 1}, nil)
	if call := tree.(*Binary).R.(*Call); call.NameSpan != (Span{4, 9}) || call.Span() != (Span{4, 22}) {
		t.Errorf("%+v", call)
	}
}

func TestFormulaNumbers(t *testing.T) {
	for text, want := range map[string]float64{"0": 0, "12": 12, "0.25": 0.25, ".25": 0.25, "1.5e3": 1500, "2E-2": 0.02, "999999999999999": 999999999999999} {
		tree, e := ParseFormula(text, Place{1, 1, 1}, nil)
		if e != nil {
			t.Errorf("%q: %v", text, e)
			continue
		}
		if n := tree.(*Number); math.Float64bits(n.Value) != math.Float64bits(want) || n.Text != text {
			t.Errorf("%q: %v", text, n)
		}
	}
}

func TestNearestFunction(t *testing.T) {
	known := map[string]bool{"grouped": true, "total": true, "earlier": true, "removed": false}
	for text, want := range map[string]string{
		"1 + gruoped(a)": "did you mean grouped?",
		"erlier(a, b)":   "did you mean earlier?",
		"removed(a)":     "the function cards list them all",
	} {
		_, e := ParseFormula(text, Place{1, 1, 1}, known)
		if e == nil || e.Code != unknownFunction.code || e.Hint != want {
			t.Errorf("%q: %+v", text, e)
		}
	}
	if _, e := ParseFormula("total(earlier(a, b)) + removed", Place{1, 1, 1}, known); e != nil {
		t.Error(e)
	}
}

// node is a made-up tree and a way to write it, with brackets where they must be
// and sometimes where they need not.
type node struct{ text, tree string }

// How tightly each operator holds, by the table in GRAMMAR.md.
var tightness = map[string]int{"or": 1, "and": 2, "<": 3, "<=": 3, ">": 3, ">=": 3, "==": 3, "!=": 3, "+": 4, "-": 4, "*": 5, "/": 5, "^": 7}

func drawNode(t *rapid.T, depth int) (node, int) {
	kind := rapid.IntRange(0, 7).Draw(t, "kind")
	if depth == 0 {
		kind %= 2
	}
	blank := func() string { return rapid.SampledFrom([]string{"", " ", "  ", "\t"}).Draw(t, "blank") }
	part := func(atLeast int) node {
		n, tight := drawNode(t, depth-1)
		if tight < atLeast || rapid.IntRange(0, 5).Draw(t, "extra") == 0 {
			n.text = "(" + blank() + n.text + blank() + ")"
		}
		return n
	}
	switch kind {
	case 0:
		s := rapid.SampledFrom([]string{"0", "12", "0.5", "1.5e3"}).Draw(t, "number")
		return node{s, s}, 9
	case 1:
		s := rapid.SampledFrom([]string{"a", "price_2", "house.floor", "week"}).Draw(t, "name")
		return node{s, s}, 9
	case 2:
		x := part(7) // a sign takes what ^ makes
		return node{"-" + blank() + x.text, "[- " + x.tree + "]"}, 6
	case 3:
		x := part(9)
		return node{"not " + x.text, "[not " + x.tree + "]"}, 2
	case 4:
		a, b, c := part(1), part(0), part(0)
		return node{a.text + " ? " + b.text + " : " + c.text, "[" + a.tree + " ? " + b.tree + " : " + c.tree + "]"}, 0
	case 5:
		n := rapid.IntRange(0, 3).Draw(t, "arguments")
		texts, trees := make([]string, n), make([]string, n)
		for i := range n {
			if rapid.IntRange(0, 4).Draw(t, "quoted") == 0 {
				texts[i], trees[i] = `"2027-W12 é"`, `"2027-W12 é"`
				continue
			}
			a := part(0)
			texts[i], trees[i] = a.text, a.tree
		}
		name := rapid.SampledFrom([]string{"total", "sum", "filter", "len"}).Draw(t, "function")
		return node{name + blank() + "(" + strings.Join(texts, ","+blank()) + ")", name + "{" + strings.Join(trees, ", ") + "}"}, 9
	}
	op := rapid.SampledFrom([]string{"or", "and", "<", "<=", ">", ">=", "==", "!=", "+", "-", "*", "/", "^"}).Draw(t, "operator")
	tight := tightness[op]
	left, right := tight, tight+1
	switch {
	case op == "^":
		left, right = 8, 6 // to the right; a sign may follow it
	case tight == 3:
		left = 4 // one comparison at a time
	}
	l, r := part(left), part(right)
	return node{l.text + " " + op + " " + r.text, "[" + l.tree + " " + op + " " + r.tree + "]"}, tight
}

func TestFormulasAreReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, _ := drawNode(t, 4)
		if len(n.text) > longestFormula {
			t.Skip("too long")
		}
		tree, e := ParseFormula(n.text, Place{1, 1, 1}, nil)
		if e != nil {
			t.Fatalf("%q: %s at %v", n.text, e.Message, e.Place)
		}
		if got := bracketed(tree); got != n.tree {
			t.Fatalf("%q: %s, want %s", n.text, got, n.tree)
		}
		checkSpans(t, n.text, tree)
	})
}

// checkSpans checks that every node lies in its parent, in order, and that its
// words, read by themselves, are the node again.
func checkSpans(t interface{ Fatalf(string, ...any) }, text string, tree Expr) {
	runes := []rune(text)
	Walk(tree, func(n Expr) {
		s := n.Span()
		if s.From < 0 || s.From >= s.To || s.To > len(runes) {
			t.Fatalf("%q: span %v of %s", text, s, bracketed(n))
		}
		words := string(runes[s.From:s.To])
		if _, quoted := n.(*Text); quoted {
			if words != bracketed(n) {
				t.Fatalf("%q: %q is marked for %s", text, words, bracketed(n))
			}
			return
		}
		again, e := ParseFormula(words, Place{1, 1, 1}, nil)
		if e != nil || bracketed(again) != bracketed(n) {
			t.Fatalf("%q: %q is marked for %s (%v)", text, words, bracketed(n), e)
		}
	})
}

func TestFormulasAtTheSameTime(t *testing.T) {
	var wait sync.WaitGroup
	for i := range 8 {
		wait.Go(func() {
			r := rand.New(rand.NewPCG(1, uint64(i)))
			for range 200 {
				text := fmt.Sprintf("f_%d(a) + sum(b, %d)", r.IntN(9), r.IntN(9))
				if _, e := ParseFormula(text, Place{1, 1, 1}, nil); e != nil {
					t.Error(e)
				}
				Read("book.md", []byte("```lines\na = "+text+"\n```\n"))
			}
		})
	}
	wait.Wait()
}
