package library

import (
	"math"
	"math/rand/v2"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// markedTruss is a recorded row; planting -1 is left blank.
type markedTruss struct {
	day                 int // from the season's beginning
	planting            int
	plant, truss, fruit float64
}

// tally runs the counts kernel on rows of two plantings, of which stems open one
// and half a truss a week.
func tally(t testing.TB, rows []markedTruss, change func(c *formula.Call)) (mean, unsure, number []float64) {
	t.Helper()
	s, standing := cropSeason(t)
	opened := append(steady(1), steady(0.5)...)
	in := [][]float64{make([]float64, len(rows)), make([]float64, len(rows)), make([]float64, len(rows)), opened}
	r := &formula.Rows{Day: make([]week.Day, len(rows)), Refers: [][]int{make([]int, len(rows))}, Size: []int{2}}
	for i, row := range rows {
		in[0][i], in[1][i], in[2][i] = row.plant, row.truss, row.fruit
		r.Day[i], r.Refers[0][i] = s.At(0).Monday()+week.Day(row.day), row.planting
	}
	out := [][]float64{make([]float64, 106), make([]float64, 106), make([]float64, 106)}
	c := formula.NewCall(s, standing, in, nil, out)
	c.Rows = r
	if change != nil {
		change(c)
	}
	countsKernel.Run(c)
	if c.Refused() != "" {
		t.Fatal(c.Refused())
	}
	return out[0], out[1], out[2]
}

func TestCountsByTruss(t *testing.T) {
	// Truss 6 opens in the sixth week (index 5) of the first planting, and where half
	// a truss opens a week in the eleventh (index 10, when 5.5 are open).
	mean, unsure, number := tally(t, []markedTruss{
		{100, 0, 7, 6, 3}, // counted again a week later, further down
		{107, 0, 8, 6, 5},
		{107, 0, 7, 6, 4},
		{107, 0, 7, 7, 2},
		{100, 0, 7, 7, 9}, // the earlier day, though written later
		{120, 1, 7, 6, 6},
		{120, -1, 7, 6, 99},          // whose is not known
		{120, 0, 9, array.Blank, 99}, // which truss is not known
		{120, 0, 8, 6, array.Blank},  // not counted: the count before it holds
		{130, 1, array.Blank, 6, 4},  // without a plant each stands for itself
		{131, 1, array.Blank, 6, 5},
		{-3, 0, 7, 1, 99},  // before the book
		{220, 0, 7, 8, 99}, // after the day the book stands at
	}, nil)
	for i, want := range map[int][3]float64{
		5:       {4.5, 0.5, 2}, // 4 and 5: deviation 0.707, over the root of 2
		6:       {2, array.Blank, 1},
		53 + 10: {5, math.Sqrt(1. / 3), 3}, // 6, 4, 5: deviation 1, over the root of 3
	} {
		closeTo(t, "mean", mean[i], want[0], 1e-12)
		closeTo(t, "number", number[i], want[2], 0)
		if array.IsBlank(want[1]) != array.IsBlank(unsure[i]) {
			t.Errorf("error of %v is %v", want, unsure[i])
		} else if !array.IsBlank(want[1]) {
			closeTo(t, "error", unsure[i], want[1], 1e-12)
		}
	}
	total := 0.0
	for i, n := range number {
		total += n
		if n == 0 && !(array.IsBlank(mean[i]) && array.IsBlank(unsure[i])) {
			t.Errorf("nothing counted, but mean %v and error %v", mean[i], unsure[i])
		}
	}
	closeTo(t, "counted in all", total, 6, 0)
}

func TestCountsBeforeTheForecast(t *testing.T) {
	// A crop quicker than its forecast: truss 20 is counted in the tenth week, where
	// only 10 were to be open. It opened by then.
	mean, _, _ := tally(t, []markedTruss{{65, 0, 1, 20, 5}}, nil)
	closeTo(t, "in the week of counting", mean[9], 5, 0)
	// Weeks before the crop are not known; trusses that never open by the forecast
	// count when they are counted.
	mean, _, number := tally(t, []markedTruss{{65, 0, 1, 1, 5}}, func(c *formula.Call) {
		for w := range 4 {
			c.In[3][w] = array.Blank
		}
	})
	closeTo(t, "opened once known", mean[4], 5, 0)
	closeTo(t, "counted once", number[4], 1, 0)
}

func TestCountsWithoutRows(t *testing.T) {
	mean, _, number := tally(t, nil, nil)
	for i := range mean {
		if !array.IsBlank(mean[i]) || number[i] != 0 {
			t.Fatalf("counted %v of nothing", mean[i])
		}
	}
}

// Against the plain way: sort out recounts by looking at every pair.
func TestCountsAgainstEveryPair(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	var rows []markedTruss
	for range 600 {
		rows = append(rows, markedTruss{day: r.IntN(200), planting: r.IntN(2), plant: float64(r.IntN(12)), truss: float64(1 + r.IntN(25)), fruit: float64(r.IntN(9))})
	}
	sums, counts := make([]float64, 106), make([]float64, 106)
	for i, a := range rows {
		last := true
		for j, b := range rows {
			if a.planting == b.planting && a.plant == b.plant && a.truss == b.truss && (b.day > a.day || b.day == a.day && j > i) {
				last = false
			}
		}
		if !last {
			continue
		}
		// The k-th truss is open halfway through its week, and no later than counted.
		w := min(int(a.truss)-1, a.day/7)
		if a.planting == 1 {
			w = min(2*int(a.truss)-2, a.day/7)
		}
		sums[53*a.planting+w] += a.fruit
		counts[53*a.planting+w]++
	}
	mean, _, number := tally(t, rows, nil)
	for i := range mean {
		closeTo(t, "number", number[i], counts[i], 0)
		if counts[i] > 0 {
			closeTo(t, "mean", mean[i], sums[i]/counts[i], 1e-12)
		}
	}
}

func TestPlantsToCount(t *testing.T) {
	// (1.96 CV/E)^2, by hand: 8.6 and 34.6; of 70 plants, 34.6/(1 + 34.6/70) = 23.1.
	for _, c := range []struct{ spread, within, standing, want float64 }{
		{0.15, 0.10, array.Blank, 9}, {0.45, 0.15, array.Blank, 35}, {0.45, 0.15, 70, 24},
	} {
		got, _ := cropCall(t, "plants_to_count", nil, one(c.spread), one(c.within), one(c.standing))
		closeTo(t, "plants", got[0], c.want, 0)
	}
	if _, why := cropCall(t, "plants_to_count", nil, one(0.45), one(0)); why == "" {
		t.Error("counts all plants to be quite sure")
	}
	if _, why := cropCall(t, "plants_to_count", nil, one(0.45), one(0.1), one(0)); why == "" {
		t.Error("marks plants where none stand")
	}
}

func BenchmarkCounts(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 5))
	var rows []markedTruss
	for range 500 {
		rows = append(rows, markedTruss{day: r.IntN(200), planting: r.IntN(2), plant: float64(r.IntN(20)), truss: float64(1 + r.IntN(25)), fruit: 4})
	}
	tally(b, rows, func(c *formula.Call) {
		for b.Loop() {
			countsKernel.Run(c)
		}
	})
}
