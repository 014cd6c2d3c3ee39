package library

import (
	"testing"

	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

func sameRow(t *testing.T, what string, got, want []float64) {
	t.Helper()
	if !same(got, want) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func TestRecordedDays(t *testing.T) {
	season := seasonOf(t, "2027-W07", "2027-W10")
	standing := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	x, rows := rowsOf(t, []entry{
		{"2027-02-15", 0, 4}, {"2027-02-15", 0, 6}, {"2027-02-21", 0, 1}, // two days, one of them twice
		{"2027-02-16", 1, blank},                   // says nothing
		{"2027-02-24", -1, 8},                      // belongs nowhere
		{"2027-03-08", 1, 2}, {"2027-03-12", 1, 2}, // the second is not known yet
		{"2026-02-16", 0, 3}, {"2027-03-20", 0, 13}, // other seasons
	})
	out := make([]float64, 2*season.Len())
	c := formula.NewCall(season, standing, [][]float64{x}, nil, [][]float64{out})
	c.Rows = rows
	recordedDays.Kernel.Run(c)
	sameRow(t, "days", out, row(2, 0, 0, 0, 0, 0, 0, 1))
}

func TestDaysOr(t *testing.T) {
	for _, c := range []struct{ recorded, days, usual, want float64 }{
		{10, 7, 3, 10}, {10, 0, 3, 3}, {blank, 0, 3, 3}, {10, 3.5, 0, 5}, {10, 9, 3, 10},
		{10, 2, blank, 10}, {blank, 2, blank, blank}, {blank, blank, 4, 4},
	} {
		out := row(0)
		daysOr.Kernel.Run(formula.NewCall(week.Season{}, week.Standing{}, [][]float64{{c.recorded}, {c.days}, {c.usual}}, nil, [][]float64{out}))
		sameRow(t, "days or", out, row(c.want))
	}
}

// Allen and others 1998, FAO Irrigation and Drainage Paper 56: example 10 is 15 May
// (day 135) at 22 degrees 54 minutes south with 7.1 h of sunshine, 14.5 MJ/m2/d.
// The year of a record does not matter to its sky.
func TestSunByDay(t *testing.T) {
	season := seasonOf(t, "2027-W19", "2027-W20")
	standing := week.NewStanding(season, dayAt(t, "2027-05-20"), nil)
	_, rows := rowsOf(t, []entry{{"2026-05-15", 0, 0}, {"2027-05-15", 0, 0}, {"2027-05-15", 0, 0}, {"2027-05-15", 0, 0}})
	high, low := row(25, 25, 25, blank), row(15, 15, 15, 15)
	measured, sunshine := row(blank, 9, blank, blank), row(7.1, 7.1, blank, blank)
	out := make([]float64, 4)
	c := formula.NewCall(season, standing, [][]float64{{-22.9}, {0.16}, {0}, high, low, measured, sunshine}, nil, [][]float64{out})
	c.Rows = rows
	sunByDay.Kernel.Run(c)
	near(t, "by sunshine", out[0], 14.5, 0.06)
	near(t, "measured", out[1], 9, 0)
	near(t, "by the air: 0.16 x root of 10 x 25.1", out[2], 12.70, 0.03)
	sameRow(t, "nothing known", out[3:], row(blank))
	c.In[0] = row(95)
	sunByDay.Kernel.Run(c)
	if c.Refused() == "" {
		t.Error("a latitude of 95 degrees is taken")
	}
}

// Twenty days of a January before the season make its normal, whatever stands later.
func TestNormalsFromDays(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	standing := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	var entries []entry
	for day := range 20 {
		january := dayAt(t, "2026-01-01") + week.Day(day)
		entries = append(entries, entry{january.String(), 0, float64(day)}, entry{(january + 365).String(), 0, 99})
	}
	entries = append(entries, entry{"2026-02-03", 0, 50})
	x, rows := rowsOf(t, entries)
	typed, out := row(1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12), make([]float64, 12)
	c := formula.NewCall(season, standing, [][]float64{x, typed}, nil, [][]float64{out})
	c.Rows = rows
	normalsFromDays.Kernel.Run(c)
	sameRow(t, "normals", out, row(9.5, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12))
}

// The example of FAO 56 gives 10.9 h for 15 May at 22 degrees 54 minutes south: 25 degC
// by day and 15 by night are 15 + 10 x 10.9 / 24 on the mean. One reading alone says nothing.
func TestAirByDay(t *testing.T) {
	season := seasonOf(t, "2027-W19", "2027-W20")
	standing := week.NewStanding(season, dayAt(t, "2027-05-20"), nil)
	_, rows := rowsOf(t, []entry{{"2026-05-15", 0, 0}, {"2027-05-15", 0, 0}})
	out := make([]float64, 2)
	c := formula.NewCall(season, standing, [][]float64{{-22.9}, row(25, 25), row(15, blank)}, nil, [][]float64{out})
	c.Rows = rows
	airByDay.Kernel.Run(c)
	near(t, "mean", out[0], 19.54, 0.02)
	sameRow(t, "one reading alone", out[1:], row(blank))
	c.In[0] = row(-91)
	airByDay.Kernel.Run(c)
	if c.Refused() == "" {
		t.Error("a latitude of -91 degrees is taken")
	}
}
