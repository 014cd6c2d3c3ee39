package library

import (
	"testing"

	"wintertruss/engine/array"
)

func TestStageBetweenFunction(t *testing.T) {
	flowered := float64(cropDay(t, "2026-12-01"))
	// 65 days at 18 degC (Adams et al. 2001).
	got, _ := cropCall(t, "stage_between", nil, one(flowered), one(flowered+65), steady(18))
	closeTo(t, "ripe", got[0], 1, 1e-12)
	// Against ripe_on, which goes the other way: to a day's rounding.
	for _, air := range []float64{15, 17.5, 21, 24} {
		on, _ := cropCall(t, "ripe_on", nil, one(flowered), steady(air), one(1.2))
		got, _ = cropCall(t, "stage_between", nil, one(flowered), one(on[0]), steady(air))
		closeTo(t, "there and back", got[0], 1.2, 0.012)
	}
	s, _ := cropSeason(t)
	gap := steady(18)
	gap[at(s, "2027-W10", t)] = array.Blank
	got, _ = cropCall(t, "stage_between", nil, one(flowered), one(flowered+65), gap)
	closeTo(t, "air not known after the pick", got[0], 1, 1e-12)
	if got, _ = cropCall(t, "stage_between", nil, one(flowered), one(flowered+120), gap); !array.IsBlank(got[0]) {
		t.Errorf("air not known between: %v", got[0])
	}
	gap = steady(18)
	gap[0], gap[52] = array.Blank, array.Blank
	for _, days := range [][2]float64{{-400, -300}, {300, 900}} {
		if got, _ = cropCall(t, "stage_between", nil, one(flowered+days[0]), one(flowered+days[1]), gap); !array.IsBlank(got[0]) {
			t.Errorf("outside the book, where its end is not known: %v", got[0])
		}
	}
	if got, _ = cropCall(t, "stage_between", nil, one(array.Blank), one(flowered), steady(18)); !array.IsBlank(got[0]) {
		t.Errorf("not seen in flower: %v", got[0])
	}
}

func TestPickedOfForecastFunction(t *testing.T) {
	picked := steady(array.Blank)
	got, _ := cropCall(t, "picked_of_forecast", nil, picked, steady(100))
	closeTo(t, "no picks", got[0], 1, 0)
	for w := range 20 {
		picked[w] = 0
	}
	picked[10] = 30
	for w := 11; w < 20; w++ {
		picked[w] = 127
	}
	// By hand: (5 x 127 + 4 x 100) / 900; bare, 1.27.
	got, _ = cropCall(t, "picked_of_forecast", nil, picked, steady(100))
	closeTo(t, "held", got[0], 1.15, 1e-12)
	got, _ = cropCall(t, "picked_of_forecast", nil, picked, steady(100), one(0))
	closeTo(t, "bare", got[0], 1.27, 1e-12)
	// The book stands on a Wednesday of W10: what is picked so far in that week, and
	// whatever stands later, is not yet fact.
	s, _ := cropSeason(t)
	for w := 20; w < 53; w++ {
		picked[w] = 127
		if w >= at(s, "2027-W10", t) {
			picked[w] = 5
		}
	}
	got, _ = cropCall(t, "picked_of_forecast", nil, picked, steady(100))
	closeTo(t, "the open week", got[0], 1.15, 1e-12)
	if _, why := cropCall(t, "picked_of_forecast", nil, picked, steady(100), one(-1)); why == "" {
		t.Error("less than no weeks")
	}
	if got, _ = cropCall(t, "picked_of_forecast", nil, picked, steady(array.Blank)); !array.IsBlank(got[0]) {
		t.Errorf("no forecast known: %v", got[0])
	}
}
