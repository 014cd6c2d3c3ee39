package formula

import (
	"context"
	"testing"

	"wintertruss/engine/array"
)

// kernels is a small library that uses everything a card can ask for.
func kernels() map[string]*Function {
	one := 1.0
	twoEnds := &Kernel{Name: "ends", Results: []Result{{Unit: "like x"}, {Unit: "like x"}}, Run: func(c *Call) {
		x := c.In[0]
		c.Out[0][0], c.Out[1][0] = x[0], x[len(x)-1]
	}}
	weekly := []Param{{Name: "x", Whole: []string{"week"}}}
	list := []Function{
		{Name: "first_of", Params: weekly, Kernel: twoEnds},
		{Name: "last_of", Params: weekly, Kernel: twoEnds, Output: 1},
		{Name: "backwards", Params: weekly, Kernel: &Kernel{Name: "backwards", Results: []Result{{Unit: "like x", Whole: []string{"week"}}}, Run: func(c *Call) {
			for i, x := range c.In[0] {
				c.Out[0][len(c.In[0])-1-i] = x
			}
		}}},
		{Name: "per_floor", Params: []Param{{Name: "where", Takes: ListName}, {Name: "paid", Unit: "money"}, {Name: "times", Optional: true, Default: 2}},
			Kernel: &Kernel{Name: "per_floor", Columns: []Column{{Name: "floor", Unit: "m2"}, {Name: "height", Unit: "m", Default: &one}, {Name: "cover", Takes: Words}},
				Results: []Result{{Unit: "money/m2"}}, Run: func(c *Call) {
					if c.Word(c.Columns[2][0]) == "glass" {
						c.Refuse("glass is not for sale")
						return
					}
					if c.In[1][0] > 1e6 {
						panic("too rich")
					}
					c.Out[0][0] = c.In[1][0] * c.In[2][0] / c.Columns[0][0] / c.Columns[1][0]
				}}},
		{Name: "rank", Params: []Param{{Name: "where", Takes: ListName}, {Name: "x", Whole: []string{"list"}}},
			Kernel: &Kernel{Name: "rank", Results: []Result{{Unit: "1", Whole: []string{"list"}}}, Run: func(c *Call) {
				for i, x := range c.In[1] {
					for _, y := range c.In[1] {
						if y < x {
							c.Out[0][i]++
						}
					}
					if c.Out[0][i] != c.Out[0][i] {
						c.Out[0][i] = 0
					}
				}
				s := c.Scratch(c.Members)
				for i := range s {
					s[i] = c.Out[0][i] + 1
				}
				copy(c.Out[0], s)
			}}},
		{Name: "sum_by_week", Params: []Param{{Name: "x", Whole: []string{"records"}}},
			Kernel: &Kernel{Name: "sum_by_week", Results: []Result{{Unit: "like x", Whole: []string{"refers", "week"}}}, Run: func(c *Call) {
				clear(c.Out[0])
				weeks := c.Season.Len()
				for i, d := range c.Rows.Day {
					w, ok := c.Season.Index(d.Week())
					cell := 0
					for k, refs := range c.Rows.Refers {
						if refs[i] < 0 {
							ok = false
						}
						cell = cell*c.Rows.Size[k] + refs[i]
					}
					if ok && c.In[0][i] == c.In[0][i] {
						c.Out[0][cell*weeks+w] += c.In[0][i]
					}
				}
			}}},
		{Name: "ask", Params: []Param{{Name: "what", Takes: QuotedWords}, {Name: "x", Takes: Truths}},
			Kernel: &Kernel{Name: "ask", Results: []Result{{Takes: Truths}}, Run: func(c *Call) {
				c.Out[0][0] = array.Truth(c.Text[0] == "tomato" && c.In[1][0] != 0)
			}}},
		{Name: "grown", Params: []Param{{Name: "where", Takes: ListName}, {Name: "x", Whole: []string{"via house"}}},
			Kernel: &Kernel{Name: "grown", Columns: []Column{{Name: "house", Takes: Words}}, Results: []Result{{Unit: "like x"}}, Run: func(c *Call) {
				if m := c.Columns[0][0]; m == m {
					c.Out[0][0] = c.In[1][int(m)]
				}
			}}},
		{Name: "card_only"},
	}
	all := map[string]*Function{}
	for i := range list {
		all[list[i].Name] = &list[i]
	}
	return all
}

const kernelBook = lists + `
~~~records picks
date       | planting | weight lb
2027-01-04 | early    | 2
2027-01-05 | early    | 3
2027-01-12 | late     | 4
2026-12-01 | late     | 5
2027-01-13 |          | 6
2027-01-13 | late     |
~~~
~~~lines
x over week : 1, 2, 3, 4, 5, 6 kg
y over house : 1, 2, 4
xy = x * y
drawn over each week : 5 kg (0..10)
first = first_of(xy)
last = last_of(xy)
gap = last_of(x) - first_of(x)
turned = backwards(x)
turned_drawn = backwards(drawn) * y
bill : 44 USD
cost = per_floor(house, bill)
weekly_cost = per_floor(house, bill * over_weeks, 4)
over_weeks over week : 1
rich = per_floor(house, bill * 100000)
ranks = rank(house, y)
ranks_weekly = rank(house, xy)
ranks_drawn = rank(house, drawn * y)
flat = rank(house, bill)
picked = sum_by_week(picks.weight)
heavy = sum_by_week(picks.weight * 2) -> oz
asked = ask("tomato", y > 1)
other = ask("pepper", yes_please)
yes_please : yes
grows = grown(planting, y * x)
faulty = backwards(x / (x - only_three))
only_three : 3 kg
~~~
`

func TestKernels(t *testing.T) {
	src := sourceOf(t, kernelBook)
	src.Functions = kernels()
	p := Compile(src)
	for _, e := range p.Errors {
		t.Errorf("%v: %v", e.Place, e)
	}
	p.Plain()
	// 2880 ft2 is 267.56 m2.
	check(t, p, `
		first: 1, 2, 4 kg over house | last: 6, 12, 24 kg over house | gap: 5 kg |
		turned: 6, 5, 4, 3, 2, 1 kg over week |
		cost: 0.328897263, per_floor: glass is not for sale, per_floor: glass is not for sale USD/m2 over house |
		weekly_cost: 0.657794525, 0.657794525, 0.657794525, 0.657794525, 0.657794525, 0.657794525, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale, per_floor: glass is not for sale USD/m2 over house, week |
		rich: per_floor: the model failed: too rich, per_floor: glass is not for sale, per_floor: glass is not for sale USD/m2 over house |
		ranks: 1, 1, 1 over house | flat: 1, 1, 1 over house |
		picked: 5, 0, 0, 0, 0, 0, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0 lb over planting, week |
		heavy: 160, 0, 0, 0, 0, 0, 0, 128, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0 oz over planting, week |
		asked: 0, 1, 1 over house | other: 0 |
		grows: 1, 2, 3, 4, 5, 6, 2, 4, 6, 8, 10, 12, 2, 4, 6, 8, 10, 12, blank, blank, blank, blank, blank, blank kg over planting, week |
		faulty: divided by zero, divided by zero, divided by zero, divided by zero, divided by zero, divided by zero over week`)
	calls := 0
	for _, v := range p.vals {
		if v.op == vCall && p.calls[v.aux].fn.Kernel.Name == "ends" {
			calls++
		}
	}
	if calls != 2 {
		t.Errorf("%d runs of one kernel, want one for xy and one for x", calls)
	}
	lines := []int{p.named(t, "turned_drawn"), p.named(t, "drawn"), p.named(t, "ranks_drawn")}
	d, err := p.Draw(context.Background(), lines, Options{Draws: 50, Block: 8, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for house, y := range []float64{1, 2, 4} {
		for w := range 6 {
			for i := range 50 {
				if got, want := d.Line(lines[0])[house*6+w][i], d.Line(lines[1])[5-w][i]*y; got != want {
					t.Fatalf("house %d week %d draw %d: %v, want %v", house, w, i, got, want)
				}
			}
		}
	}
}
