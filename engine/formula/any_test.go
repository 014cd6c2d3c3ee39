package formula

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/syntax"
)

// Formulas put together without a thought for kinds, units or axes: the compiler
// says what is wrong or the program runs, and no infinity ever stands in a cell.
func TestAnyFormula(t *testing.T) {
	functions := kernels()
	calls := append(Lowered(), "nothing_of_that_name")
	for name := range functions {
		calls = append(calls, name)
	}
	good := 0
	rapid.Check(t, func(t *rapid.T) {
		pick := func(words ...string) string { return rapid.SampledFrom(words).Draw(t, "word") }
		var formula func(depth int) string
		leaf := func() string {
			return pick("house.floor", "house.night", "house.cover", "planting.house", "planting.sown", "planting.density", "planting.after", "crew.house", "picks.weight",
				"price", "weekly", "yes_please", "drawn", "start", "y0", "y1", "y2", "base", "house", "week", "planting", "crew", "0", "1", "2.5", "100000000000",
				`"long"`, `"2027-W02"`, `"cheap"`, `"glass"`, `measure("15 degC")`, `measure("3 d")`, `measure("2027-01-20")`, `measure("5 K")`)
		}
		formula = func(depth int) string {
			if depth == 0 {
				return leaf()
			}
			switch rapid.IntRange(0, 12).Draw(t, "form") {
			case 10, 11, 12: // what has a better chance
				x := formula(depth - 1)
				return pick("earlier("+pick("y0", "y1", "y2", "weekly", "drawn")+", "+x+")", "via(planting.house, "+x+")", "via(planting.house, house.floor)", "grouped("+x+", planting.house)",
					"grouped(planting.density, planting.house)", "only(house.night, \"short\")", "total("+x+", week)", "total("+x+")", "mean_over("+x+")", "per_floor(house, "+x+")", "rank(house, house.floor)",
					"grown(planting, "+x+")", "sum_by_week(picks.weight)", "backwards("+x+")", "first_of(drawn * "+x+")", "odds("+x+" > 0)", "low_edge("+x+")", "under(\"cheap\", "+x+")",
					"at("+x+", \"2027-W02\")", "is(planting.house, \"long\")", "clamp("+x+", 0, "+x+")", "weeks_before("+x+", 2)", "share_of("+x+")", "(drawn * "+x+")", "("+x+" / "+x+")")
			case 0, 1:
				return leaf()
			case 2, 3, 4:
				return "(" + formula(depth-1) + " " + pick("+", "-", "*", "/", "^", "<", ">=", "==", "!=", "and", "or") + " " + formula(depth-1) + ")"
			case 5:
				return pick("(-", "(not ") + formula(depth-1) + ")"
			case 6:
				return "(" + formula(depth-1) + " ? " + formula(depth-1) + " : " + formula(depth-1) + ")"
			}
			args := make([]string, rapid.IntRange(1, 3).Draw(t, "arguments"))
			for i := range args {
				args[i] = formula(depth - 1)
			}
			return pick(calls...) + "(" + strings.Join(args, ", ") + ")"
		}
		src := sourceOf(t, anyBook)
		src.Functions = functions
		tree := func(i int) *syntax.Formula {
			for {
				text := formula(3)
				at := syntax.Place{Line: 100 + i, Col: 1, Len: len(text)}
				if e, err := syntax.ParseFormula(text, at, nil); err == nil {
					return &syntax.Formula{Text: text, Place: at, Tree: e}
				}
			}
		}
		var all []string
		for i := range 3 {
			l := Line{Name: fmt.Sprint("y", i), Place: syntax.Place{Line: 100 + i, Col: 1, Len: 2}, Formula: tree(i)}
			if u := pick("", "", "1", "kg", "degF", "USD", "%"); u != "" {
				l.Unit, _ = src.Units.Parse(u)
			}
			all = append(all, l.Formula.Text)
			src.Lines = append(src.Lines, l)
		}
		over := rapid.IntRange(0, len(src.Lines)-1).Draw(t, "overridden")
		o := Override{Layer: ByScenario, Scenario: "cheap", Line: over, Formula: tree(9), Place: syntax.Place{Line: 109, Col: 1, Len: 1}}
		if rapid.Bool().Draw(t, "in one house") {
			o.Where = []Cell{{0, 1}}
		}
		src.Overrides = append(src.Overrides, o)
		src.Chosen = pick("", "", "cheap")
		p := Compile(src)
		p.Plain()
		var lines []int
		for i := range src.Lines {
			if p.OK(i) {
				lines = append(lines, i)
				finite(t, all, p.Cells(i))
				good++
			} else if p.Errors[i] == nil || p.Errors[i].Message == "" {
				t.Fatalf("%q: line %d has no error and is not OK", all, i)
			}
		}
		d, err := p.Draw(context.Background(), lines, Options{Draws: 3})
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range lines {
			finite(t, all, p.Cells(i))
			for _, row := range d.Line(i) {
				finite(t, all, row)
			}
		}
	})
	if good == 0 {
		t.Error("nothing ran")
	}
}

const anyBook = lists + `
~~~records picks
date       | planting | weight lb
2027-01-04 | early    | 2
2027-01-12 | late     |
~~~
~~~scenario cheap
price : 1 USD/lb
~~~
~~~lines
price : 2 USD/lb
weekly over week : 1, 2, 3, 0, 5, 6 kg
yes_please over house : yes
drawn over each week : 3 kg (1..5)
start : 2027-01-04
~~~
`

func finite(t *rapid.T, formulas []string, cells []float64) {
	for _, x := range cells {
		if math.IsInf(x, 0) {
			t.Fatalf("%q gives infinity", formulas)
		}
	}
}
