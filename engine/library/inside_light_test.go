package library

import (
	"math"
	"testing"

	"wintertruss/engine/array"
)

// Typed measurements go first, then hours of sunshine, then the air (FAO 56,
// examples 10 and 15 for the two estimates).
func TestBestSunFunction(t *testing.T) {
	gap := array.Blank
	near(t, "measured", single(t, "best_sun", 40.6, 26.6, 14.8, 0.16, 0, 19), 19, 0)
	near(t, "measured, all else unknown", single(t, "best_sun", gap, gap, gap, gap, gap, 19), 19, 0)
	near(t, "example 10", single(t, "best_sun", 25.1, 26.6, 14.8, 0.16, 0, gap, 7.1, 10.9), 14.5, 0.06)
	near(t, "sunshine, the air unknown", single(t, "best_sun", 25.1, gap, gap, gap, gap, gap, 7.1, 10.9), 14.5, 0.06)
	near(t, "example 15", single(t, "best_sun", 40.6, 26.6, 14.8, 0.16, 0), 22.3, 0.05)
	near(t, "no length of day, so the air", single(t, "best_sun", 40.6, 26.6, 14.8, 0.16, 0, gap, 7.1), 22.3, 0.05)
	for want, in := range map[float64][]float64{1: {gap, gap, gap, gap, gap, 19}, 2: {25, gap, gap, gap, gap, gap, 7, 11}, 3: {25, 20, 10, 0.16, 0}} {
		near(t, "basis", single(t, "sun_basis", in...), want, 0)
	}
	for _, name := range []string{"best_sun", "sun_basis"} {
		if x := single(t, name, gap, 20, 10, 0.16, 0); !array.IsBlank(x) {
			t.Errorf("%s out of nothing: %v", name, x)
		}
	}
}

func TestInsideLightFunction(t *testing.T) {
	// Sanford: 80 % through double film, condensation takes 15 to 25 % of it.
	near(t, "dry", single(t, "inside_light", 10, 0.8, 0, 0), 10*2.07*0.8, 1e-9)
	near(t, "wet", single(t, "inside_light", 10, 0.8, 1, 0), 10*2.07*0.64, 1e-9)
	near(t, "a film that drips off", single(t, "inside_light", 10, 0.8, 1, 0, 0.15), 10*2.07*0.68, 1e-9)
	near(t, "no sun", single(t, "inside_light", 0, 0.8), 0, 0)
	season := testSeason(t, "2026-W40", "2026-W41")
	for _, in := range [][]float64{{10, 1.2}, {10, -0.1}, {10, 0.8, 2}, {10, 0.8, 0, -1}, {10, 0.8, 0, 0, 20}} {
		if _, refused := results(t, "inside_light", season, in, nil); refused == "" {
			t.Errorf("%v passes", in)
		}
	}
	fault := array.Fault(array.DividedByZero, 3)
	if x := single(t, "inside_light", fault, 0.8); math.Float64bits(x) != math.Float64bits(fault) {
		t.Errorf("a fault in makes %v", x)
	}
}
