package library

import (
	"math"
	"testing"

	"wintertruss/engine/array"
)

// Western Regional Climate Center: high 65, low 31, base 50 degF make 2 degree
// days, so 14 a week; Miller and Nemali (Purdue Extension): 33.6 degF outside,
// 70 degF kept, 36.4 degF for each of 168 hours.
func TestDegreeFunctions(t *testing.T) {
	near(t, "degree days", single(t, "degree_days", celsius(50), celsius(65), celsius(31))*1.8, 14, 1e-9)
	near(t, "degree hours", single(t, "degree_hours", celsius(70), celsius(33.6), celsius(33.6))*1.8, 168*36.4, 1e-9)
}

// Base 65 to 60 degF takes 5 degree days off each day that stays below both
// (Western Regional Climate Center, Montrose, South Dakota, January: 1650 and
// 1495, a difference of 155 in 31 days).
func TestDegreeDaysOfTwoBases(t *testing.T) {
	warm := single(t, "degree_days", celsius(65), celsius(25), celsius(-2))
	cool := single(t, "degree_days", celsius(60), celsius(25), celsius(-2))
	near(t, "difference", (warm-cool)*1.8/7*31, 155, 1e-9)
}

// Western Regional Climate Center, Benson 6 SE, Arizona, April, base 60 degF: 81 in 30 days.
func TestDegreeDaysAround(t *testing.T) {
	got := single(t, "degree_days_around", celsius(60), celsius(61), 8/1.8) / 7 * 30 * 1.8
	near(t, "Benson in April", got, 81, 1)
	season := testSeason(t, "2026-W40", "2026-W41")
	if _, refused := results(t, "degree_days_around", season, []float64{20, 10, -1}, nil); refused == "" {
		t.Error("a spread below 0 is taken")
	}
	near(t, "half way down", single(t, "air_at_hour", 10, -2, 21), 4, 1e-9)
}

func TestDegreeGaps(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	r := prepare(t, "degree_hours", season, []float64{20, 10, 0}, nil)
	r.call.In[1][2] = array.Blank
	r.run()
	for i, x := range r.call.Out[0] {
		if array.IsBlank(x) != (i == 2) {
			t.Errorf("week %d: %v", i, x)
		}
	}
	if n := testing.AllocsPerRun(20, r.run); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
	if got := single(t, "degree_hours", 20, 0, 10); got != single(t, "degree_hours", 20, 10, 0) || math.IsNaN(got) {
		t.Errorf("high and low swapped: %v", got)
	}
}

func celsius(fahrenheit float64) float64 { return (fahrenheit - 32) / 1.8 }
