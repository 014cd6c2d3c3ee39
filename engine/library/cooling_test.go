package library

import (
	"strings"
	"testing"

	"wintertruss/engine/array"
)

// By hand, for the half circle of 30 x 96 ft at 0.70 and one change, 4,272 BTU/h/degF:
// its air holds 33,929 x 0.018 = 610.7 BTU/degF, so at 62 degF and 0 degF outside it
// freezes after 610.7 / 4272 x ln(62/32) h = 5.67 minutes; a screen that saves 30 % of
// the cover's 3,661.5 makes it 7.64.
func TestHoursToFreezing(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W41")
	hours := func(changes map[string]any, arguments ...float64) float64 {
		t.Helper()
		cells, refused := results(t, "hours_to_freezing", season, arguments, longHouse(changes))
		if refused != "" {
			t.Fatal(refused)
		}
		return cells[0]
	}
	near(t, "air alone", 60*hours(nil, celsius(62), celsius(0), 0), 5.67, 0.01)
	near(t, "under a screen", 60*hours(map[string]any{"screen_saves": 0.3}, celsius(62), celsius(0), 0), 7.64, 0.01)
	if wet := hours(nil, celsius(62), celsius(0), 1800); !(wet > 0.6 && wet < 0.8) {
		t.Errorf("with wet bags %v h", wet)
	}
	if x := hours(nil, 15, 2, 0); !array.IsBlank(x) {
		t.Errorf("in a mild night %v h", x)
	}
	near(t, "frozen already", hours(nil, -1, -5, 0), 0, 0)
	if x := hours(nil, array.Blank, -5, 0); !array.IsBlank(x) {
		t.Errorf("of an unknown house %v h", x)
	}
	if _, refused := results(t, "hours_to_freezing", season, []float64{15, -5, -1}, longHouse(nil)); !strings.Contains(refused, "water") {
		t.Errorf("water below 0: refused %q", refused)
	}
}

// Twice the snow takes twice the heat, half the share as well; what cannot be is refused.
func TestSnowHeatOfAHouse(t *testing.T) {
	base := single(t, "snow_heat", 1000, 0.5)
	near(t, "a tonne, half passing out", base, 667.2, 0.1)
	near(t, "twice the snow", single(t, "snow_heat", 2000, 0.5), 2*base, 1e-9)
	near(t, "half the share", single(t, "snow_heat", 1000, 0.25), 2*base, 1e-9)
	near(t, "no snow", single(t, "snow_heat", 0, 0.5), 0, 0)
	season := testSeason(t, "2026-W40", "2026-W41")
	for _, wrong := range [][]float64{{-1, 0.5}, {1, 0}, {1, 1.5}} {
		if _, refused := results(t, "snow_heat", season, wrong, nil); refused == "" {
			t.Errorf("snow and share %v are taken", wrong)
		}
	}
}
