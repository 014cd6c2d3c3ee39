package engine_test

import (
	"math"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// reachOf gives everything that may depend on a name, read off the formulas as
// text: this test does not ask the compiler what depends on what.
func reachOf(d *engine.Desk, seed string) map[string]bool {
	users := map[string][]string{}
	lists := map[string][]string{}
	for _, l := range d.Book.Lists {
		for _, c := range l.Columns {
			lists[l.Name] = append(lists[l.Name], c.Full())
		}
	}
	for _, l := range d.Book.Lines {
		if l.Formula == nil {
			continue
		}
		syntax.Walk(l.Formula.Tree, func(e syntax.Expr) {
			if n, ok := e.(*syntax.Name); ok {
				users[n.Full()] = append(users[n.Full()], l.Name)
				if n.Column == "" { // a list's name alone: a function may read any of its columns
					for _, c := range lists[n.Base] {
						users[c] = append(users[c], l.Name)
					}
				}
			}
		})
	}
	reach := map[string]bool{seed: true}
	for todo := []string{seed}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, u := range users[at] {
			if !reach[u] {
				reach[u] = true
				todo = append(todo, u)
			}
		}
	}
	return reach
}

func firstHouse(t testing.TB, edit func(string) string, sets ...string) *engine.Desk {
	t.Helper()
	text := string(sheets.FirstHouse)
	if edit != nil {
		text = edit(text)
	}
	d, err := engine.Open("first_house.md", []byte(text), engine.Options{Today: week.Day(20500), Sets: sets})
	if err != nil {
		t.Fatal(err)
	}
	if errs := d.Errors(); len(errs) > 0 {
		t.Fatalf("%v", errs[0])
	}
	return d
}

// moved names the lines of which a cell has other bits.
func moved(a, b *engine.Desk) map[string]bool {
	out := map[string]bool{}
	for _, name := range b.Names() {
		x, y := a.Plain(name), b.Plain(name)
		if x == nil || len(x.Cells) != len(y.Cells) {
			out[name] = true
			continue
		}
		for i := range x.Cells {
			if math.Float64bits(x.Cells[i]) != math.Float64bits(y.Cells[i]) {
				out[name] = true
			}
		}
	}
	return out
}

// TestMoves changes one thing in the first house and looks at what moves: nothing
// that does not hang on it, and what a grower would expect to.
func TestMoves(t *testing.T) {
	before := firstHouse(t, nil)
	for _, c := range []struct {
		what, seed string
		set        string
		edit       func(string) string
		must       []string // lines that move
		mustNot    []string // lines that stay, though they stand close by
	}{
		{"density", "planting.density", "planting.density@large=2.4", nil, []string{"plants", "stems", "harvest", "cash", "margin_over_cold"}, []string{"air", "propane", "opened_each", "sky"}},
		{"night temperature", "house.night", "house.night@long=60 degF", nil, []string{"air", "propane", "opened_each", "harvest", "margin_over_cold"}, []string{"plants", "sky", "inside_light"}},
		{"fuel price", "fuel_price", "fuel_price=3.5 USD/gal", nil, []string{"fuel_cost", "margin_over_cold", "cash"}, []string{"harvest", "propane", "air"}},
		{"price of an offer", "offer.price", "offer.price@stall=6 USD/lb", nil, []string{"advised_price", "margin_over_cash", "cash"}, []string{"harvest", "air", "propane"}},
		{"a truss count", "trusses.fruit", "", otherCount, []string{"set_counted", "fruit_per_truss", "harvest", "margin_over_cash"}, []string{"air", "opened_each", "plants", "propane"}},
	} {
		t.Run(c.what, func(t *testing.T) {
			var sets []string
			if c.set != "" {
				sets = []string{c.set}
			}
			after := firstHouse(t, c.edit, sets...)
			reach, m := reachOf(before, c.seed), moved(before, after)
			for name := range m {
				if !reach[name] {
					t.Errorf("%s moved, and does not hang on %s", name, c.seed)
				}
			}
			for _, name := range c.must {
				if !m[name] {
					t.Errorf("%s did not move", name)
				}
			}
			for _, name := range c.mustNot {
				if before.Plain(name) == nil {
					t.Errorf("the book has no line %s", name)
				}
				if m[name] {
					t.Errorf("%s moved", name)
				}
			}
			t.Logf("%d of %d lines moved, %d may", len(m), len(before.Names()), len(reach))
		})
	}
}

// otherCount corrects the last truss count of the book: one fruit.
func otherCount(text string) string {
	lines := strings.SplitAfter(text, "\n")
	last, in := 0, false
	for i, l := range lines {
		switch {
		case strings.HasPrefix(l, "```records trusses"):
			in = true
		case strings.HasPrefix(l, "```"):
			in = false
		case in && strings.HasPrefix(l, "2027-"):
			last = i
		}
	}
	cells := strings.Split(strings.TrimRight(lines[last], "\n"), "|")
	cells[len(cells)-1] = " 1"
	lines[last] = strings.Join(cells, "|") + "\n"
	return strings.Join(lines, "")
}
