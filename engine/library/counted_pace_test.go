package library

import (
	"math/rand/v2"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
	"wintertruss/engine/week"
)

// paceOf runs counted_pace on rows of two plantings.
func paceOf(t testing.TB, rows []markedTruss) []float64 {
	t.Helper()
	s, standing := cropSeason(t)
	in := [][]float64{make([]float64, len(rows)), make([]float64, len(rows))}
	r := &formula.Rows{Day: make([]week.Day, len(rows)), Refers: [][]int{make([]int, len(rows))}, Size: []int{2}}
	for i, row := range rows {
		in[0][i], in[1][i] = row.plant, row.truss
		r.Day[i], r.Refers[0][i] = s.At(0).Monday()+week.Day(row.day), row.planting
	}
	out := [][]float64{make([]float64, 106)}
	c := formula.NewCall(s, standing, in, nil, out)
	c.Rows = r
	runCountedPace(c)
	return out[0]
}

func TestCountedPace(t *testing.T) {
	// Worked by hand: plants 7 and 8 at trusses 6 and 5 on day 70, at 8 and 7 on day 84,
	// at 8 and 8 on day 87: 2/14 a day, then 0.5/3.
	pace := paceOf(t, []markedTruss{
		{84, 0, 7, 7, 0}, {84, 0, 7, 8, 0}, {84, 0, 8, 7, 0}, // not in the order of their days
		{70, 0, 7, 6, 0}, {70, 0, 8, 5, 0},
		{87, 0, 8, 8, 0},
		{87, 0, 7, 3, 0},  // seen again, lower down
		{87, -1, 7, 9, 0}, // whose is not known
		{87, 0, array.Blank, 9, 0}, {87, 0, 7, array.Blank, 0},
		{-1, 0, 7, 1, 0}, {211, 0, 7, 20, 0}, // before the book, and in the open week
		{70, 1, 7, 1, 0}, // one day of counting says nothing
	})
	for w, want := range map[int]float64{10: 2. / 14, 11: 2. / 14, 12: (2./14 + 3*0.5/3) / 4} {
		closeTo(t, "pace", pace[w], want, 1e-12)
	}
	for _, w := range []int{0, 9, 13, 29, 53 + 10, 53 + 11} {
		if !array.IsBlank(pace[w]) {
			t.Errorf("week %d: %v", w, pace[w])
		}
	}
	for _, x := range paceOf(t, nil) {
		if !array.IsBlank(x) {
			t.Fatal("a pace without counts")
		}
	}
}

// Counts of a crop that opens trusses steadily give that pace back, whatever the days
// of counting and the plants.
func TestCountedPaceOfASteadyCrop(t *testing.T) {
	r := rand.New(rand.NewPCG(41, 41))
	for range 50 {
		var rows []markedTruss
		for day, top := 10, 1; day < 200; day, top = day+7*3, top+3 {
			for plant := range 12 {
				for k := range 3 {
					rows = append(rows, markedTruss{day, 1, float64(100 * plant), float64(top - k + plant%2), 0})
				}
			}
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		for w, x := range paceOf(t, rows)[53:] {
			if x == x {
				closeTo(t, "pace", x, 1./crop.WeekDays, 1e-12)
			} else if w > 1 && w < 28 {
				t.Fatalf("week %d has none", w)
			}
		}
	}
}
