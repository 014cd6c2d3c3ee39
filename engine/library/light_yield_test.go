package library

import (
	"testing"

	"wintertruss/engine/array"
)

func TestLightYieldFunctions(t *testing.T) {
	// By hand: 7 x 16 x 0.030 = 3.36 kg a week.
	got, _ := cropCall(t, "light_yield", nil, steady(16))
	closeTo(t, "a week", got[20], 3.36, 1e-9)
	light := steady(16)
	light[20] = array.Blank
	got, _ = cropCall(t, "light_yield", nil, light)
	for w := range got {
		if blank := w >= 20 && w <= 23; array.IsBlank(got[w]) != blank {
			t.Errorf("light not known in week 20 makes week %d %v", w, got[w])
		}
	}
	// Topped, all that a plant makes goes to its fruit.
	topped := float64(cropDay(t, "2026-10-05")) // week 8
	got, _ = cropCall(t, "light_yield", nil, steady(16), one(30), one(topped))
	closeTo(t, "before", got[7], 3.36, 1e-9)
	closeTo(t, "long after", got[20], 3.36/0.74, 1e-9)
	// Four known weeks at 24 g/mol beside two at 30 make 26.
	picked := steady(array.Blank)
	copy(picked, []float64{0, 0, 0, 0, 0.5, 2.688, 2.688, 2.688, 2.688})
	use, _ := cropCall(t, "light_use", nil, picked, steady(16))
	closeTo(t, "use", use[0], 26, 1e-9)
	use, _ = cropCall(t, "light_use", nil, steady(array.Blank), steady(16))
	closeTo(t, "no picks yet", use[0], 30, 0)
	use, _ = cropCall(t, "light_use", nil, picked, steady(16), one(array.Blank))
	if !array.IsBlank(use[0]) {
		t.Errorf("usual use not known: %v", use[0])
	}
	// Light that is not known after the picks does not matter; under them it does.
	light = steady(16)
	light[30] = array.Blank
	use, _ = cropCall(t, "light_use", nil, picked, light)
	closeTo(t, "use", use[0], 26, 1e-9)
	light[7] = array.Blank
	if use, _ = cropCall(t, "light_use", nil, picked, light); !array.IsBlank(use[0]) {
		t.Errorf("light under the picks not known: %v", use[0])
	}
}
