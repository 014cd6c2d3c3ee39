package library

import (
	"math"
	"strings"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
	"wintertruss/engine/week"
)

// wordsOf gives a call its words, and the numbers that stand for them.
func wordsOf(c *formula.Call, words ...string) {
	c.Word = func(x float64) string {
		if x != x {
			return ""
		}
		return words[int(x)]
	}
}

// count gives 0, 1, 2 and on, from first.
func count(first, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(first + i)
	}
	return out
}

// saltCall is a call of salts_for with the usual five salts and elements.
func saltCall(recipe, water []float64) *formula.Call {
	c := formula.NewCall(loanSeason(), week.Standing{}, [][]float64{nil, count(5, 5), recipe, water},
		[][]float64{count(0, 5), {0, 1, 2, 3, 4}}, [][]float64{make([]float64, 5)})
	wordsOf(c, "calcium_nitrate", "potassium_nitrate", "monopotassium_phosphate", "potassium_sulfate", "epsom",
		"calcium", "nitrogen", "phosphorus", "potassium", "magnesium")
	return c
}

// A feed holds its recipe to 0.1 % where the salts can make it: University of Arizona,
// with a well of its own minerals.
func TestSaltsFor(t *testing.T) {
	recipe, water := []float64{170, 189, 39, 341, 48}, []float64{40, 2, array.Blank, 1, 12}
	c := saltCall(recipe, water)
	runSaltsFor(c)
	if c.Refused() != "" {
		t.Fatal(c.Refused())
	}
	for e := range recipe {
		held := given(water[e], 0)
		element, _ := feed.ElementOf(c.Word(c.In[1][e]))
		for s, kind := range c.Columns[0] {
			salt, _ := feed.SaltOf(c.Word(kind))
			held += c.Out[0][s] * salt.Share(element)
		}
		near(t, c.Word(c.In[1][e]), held, recipe[e], 0.001*recipe[e])
	}
	if n := testing.AllocsPerRun(20, func() { runSaltsFor(c) }); n != 0 {
		t.Errorf("%v things made in a run", n)
	}
}

func TestSaltsForEdges(t *testing.T) {
	// An element without a recipe is not aimed at: its salt is used for nothing.
	c := saltCall([]float64{170, 189, 39, 341, array.Blank}, make([]float64, 5))
	runSaltsFor(c)
	if c.Refused() != "" || c.Out[0][4] != 0 || c.Out[0][0] <= 0 {
		t.Errorf("%v %s", c.Out[0], c.Refused())
	}
	for why, change := range map[string]func(*formula.Call){
		"does not hold":     func(c *formula.Call) { c.Columns[1][0] = 4 },
		"element's kind":    func(c *formula.Call) { c.In[1][2] = 0 },
		"salt's kind":       func(c *formula.Call) { c.Columns[0][2] = 7 },
		"is below 0":        func(c *formula.Call) { c.In[2][1] = -1 },
		"brings is below 0": func(c *formula.Call) { c.In[3][1] = -1 },
		"24 salts":          func(c *formula.Call) { c.Columns[0] = make([]float64, 25) },
	} {
		c := saltCall([]float64{170, 189, 39, 341, 48}, make([]float64, 5))
		change(c)
		runSaltsFor(c)
		if !strings.Contains(c.Refused(), why) {
			t.Errorf("refused %q, want %q", c.Refused(), why)
		}
	}
}

// Salts of calcium and sulfates in one tank are refused; in two they stand.
func TestStockStrength(t *testing.T) {
	make := func(tanks ...float64) *formula.Call {
		c := formula.NewCall(loanSeason(), week.Standing{}, [][]float64{nil, {900, 300, 200}, {100}}, [][]float64{{0, 1, 2}, tanks}, [][]float64{make([]float64, 3)})
		wordsOf(c, "calcium_nitrate", "epsom", "monopotassium_phosphate", "tank_a", "tank_b")
		runStockStrength(c)
		return c
	}
	if c := make(3, 4, 4); c.Refused() != "" || c.Out[0][0] != 90000 {
		t.Errorf("%s %v", c.Refused(), c.Out[0])
	}
	for _, c := range []*formula.Call{make(3, 3, 4), make(3, 4, 3), make(4, 3, 4)} {
		if !strings.Contains(c.Refused(), "shares a tank") {
			t.Errorf("not refused: %v", c.Columns[1])
		}
	}
	if c := make(3, array.Blank, array.Blank); c.Refused() != "" {
		t.Error("a salt without a tank is kept out of both")
	}
}

// taskCall is a call of task_hours: one task by plant through growing, one by weight.
func taskCall(t testing.TB, picked float64) *formula.Call {
	season := seasonOf(t, "2026-W33", "2027-W32")
	weekly := func(x float64) []float64 {
		out := make([]float64, season.Len())
		for i := range out {
			out[i] = x
		}
		return out
	}
	in := [][]float64{nil, {600}, {1}, weekly(array.Blank), weekly(0), weekly(picked)}
	for _, day := range []string{"2026-10-05", "2026-11-02", "2026-12-02", "2027-02-01", "2027-05-10", "2027-06-27"} {
		in = append(in, []float64{float64(dayAt(t, day))})
	}
	in = append(in, []float64{1}, []float64{1})
	none := []float64{0, array.Blank}
	c := formula.NewCall(season, week.Standing{}, in, [][]float64{{0, 1}, none, {0.5, 0}, none, none, none, {0, 1.2}, none},
		[][]float64{make([]float64, 2*season.Len())})
	wordsOf(c, "growing", "picking", "resting")
	return c
}

func TestTaskHours(t *testing.T) {
	c := taskCall(t, 100)
	runTaskHours(c)
	if c.Refused() != "" {
		t.Fatal(c.Refused())
	}
	sum := []float64{0, 0}
	for i, h := range c.Out[0] {
		sum[i/c.Season.Len()] += h
	}
	// 237 days from setting out to clearing: 600 x 0.5 minutes a week.
	near(t, "tending", sum[0], 600*0.5/60*237/7, 1e-9)
	// Picks from 1 February count whole in the weeks that picking touches: 21 of them.
	near(t, "picking", sum[1], 21*100*1.2/60, 1e-9)
	if n := testing.AllocsPerRun(20, func() { runTaskHours(c) }); n != 0 {
		t.Errorf("%v things made in a run", n)
	}
	never := taskCall(t, 0)
	never.In[9][0] = array.Blank // no first pick
	runTaskHours(never)
	for _, h := range never.Out[0][c.Season.Len():] {
		near(t, "nothing to pick", h, 0, 0)
	}
	wrong := taskCall(t, 0)
	wrong.Columns[0][1] = 2
	runTaskHours(wrong)
	if !strings.Contains(wrong.Refused(), "phase") {
		t.Errorf("refused %q", wrong.Refused())
	}
}

// sprays runs within_days and clear_on for one house.
func sprays(t testing.TB, days []float64, on ...string) (share []float64, clear float64) {
	season := seasonOf(t, "2027-W07", "2027-W12")
	c := formula.NewCall(season, week.NewStanding(season, dayAt(t, "2027-03-10"), nil), [][]float64{days}, nil,
		[][]float64{make([]float64, season.Len()), make([]float64, season.Len()), make([]float64, season.Len()), make([]float64, 1)})
	c.Rows = &formula.Rows{Refers: [][]int{make([]int, len(on))}, Size: []int{1}}
	for _, day := range on {
		c.Rows.Day = append(c.Rows.Day, dayAt(t, day))
	}
	runWithinDays(c)
	if n := testing.AllocsPerRun(20, func() { runWithinDays(c) }); n > 0 {
		t.Errorf("%v things made in a run", n)
	}
	return c.Out[withinShare], c.Out[withinClear][0]
}

func TestWithinDays(t *testing.T) {
	// Two sprays of three days, 2 and 3 March: four days of that week (Monday the 1st).
	share, clear := sprays(t, []float64{3, 3}, "2027-03-03", "2027-03-02")
	near(t, "that week", share[2], 4.0/7, 1e-12)
	near(t, "others", share[0]+share[1]+share[3]+share[4]+share[5], 0, 0)
	near(t, "clear", clear, float64(dayAt(t, "2027-03-06")), 0)
	// Over a week's end; hours are parts of a day; what is dated later does not count yet.
	share, clear = sprays(t, []float64{7, 0.5, 30}, "2027-02-25", "2027-03-08", "2027-03-11")
	near(t, "first week", share[1], 4.0/7, 1e-12)
	near(t, "second week", share[2], 3.0/7, 1e-12)
	near(t, "twelve hours", share[3], 0.5/7, 1e-12)
	near(t, "clear", clear, float64(dayAt(t, "2027-03-09")), 0)
	share, clear = sprays(t, []float64{array.Blank}, "2027-02-25")
	near(t, "no days", share[1], 0, 0)
	if !math.IsNaN(clear) {
		t.Error("clear of nothing")
	}
}

// Law: packs always hold what has been needed, and never a pack more.
func TestPacksToBuy(t *testing.T) {
	season := seasonOf(t, "2027-W07", "2027-W12")
	need := []float64{3, 0, array.Blank, 19.5, 2.5, 100}
	for _, hand := range []float64{0, 4, 1000} {
		c := formula.NewCall(season, week.Standing{}, [][]float64{need, {25}, {hand}, {1}}, nil, [][]float64{make([]float64, 6)})
		packsToBuy.Kernel.Run(c)
		sum, bought := 0.0, 0.0
		for w, x := range c.Out[0] {
			if need[w] == need[w] {
				sum += need[w]
			}
			bought += x
			if held := hand + 25*bought; held < sum-1e-9 || x != 0 && held >= sum+25 {
				t.Errorf("%v at hand, week %d: %v for %v", hand, w, held, sum)
			}
			if x < 0 || x != math.Trunc(x) {
				t.Errorf("%v packs", x)
			}
		}
	}
	// What does not keep: each week by itself.
	c := formula.NewCall(season, week.Standing{}, [][]float64{need, {25}, {1000}, {0}}, nil, [][]float64{make([]float64, 6)})
	packsToBuy.Kernel.Run(c)
	if want := row(1, 0, 0, 1, 1, 4); !same(c.Out[0], want) {
		t.Errorf("%v, want %v", c.Out[0], want)
	}
	// A conversion's hair makes no pack: 0.1 + 0.2 kg in bags of 0.3.
	near(t, "a hair", wholePacks((0.1+0.2)/0.3), 1, 0)
	near(t, "none", wholePacks(0), 0, 0)
}

// Law: as many packs are ordered as are needed; none later than its lead allows.
func TestOrderedBy(t *testing.T) {
	season := seasonOf(t, "2027-W07", "2027-W12")
	packs := []float64{1, 0, 2, array.Blank, 0, 4}
	for lead := 0.0; lead < 60; lead++ {
		c := formula.NewCall(season, week.Standing{}, [][]float64{packs, {lead}}, nil, [][]float64{make([]float64, 6)})
		orderedBy.Kernel.Run(c)
		sum := 0.0
		for _, x := range c.Out[0] {
			sum += x
		}
		near(t, "packs", sum, 7, 0)
		for w := range c.Out[0] {
			// By days: what is needed on a Monday less its lead falls into this week.
			want := 0.0
			for i, x := range packs {
				if day := float64(7*i) - lead; x == x && max(0, math.Floor(day/7)) == float64(w) {
					want += x
				}
			}
			near(t, "ordered", c.Out[0][w], want, 0)
		}
	}
}
