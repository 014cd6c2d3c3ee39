package library

import (
	"strings"
	"testing"

	"wintertruss/engine/array"
)

func TestNodeFunctions(t *testing.T) {
	words := []string{"cucumber", "pepper", "large"}
	// Cucumber, Hemming et al. 2019: 24, 18 and 14 days at 20, 22 and 24 degC.
	for air, want := range map[float64]float64{20: 24, 22: 18, 24: 14} {
		got, _ := cropCall(t, "fruit_days", words, one(air), one(0))
		closeTo(t, "days", got[0], want, 1)
	}
	// Heuvelink & Marcelis: 78, 56, 28 and 6 % with 0, 1, 2 and 4 fruits on.
	for load, want := range map[float64]float64{-1: 0.78, 0: 0.78, 1: 0.56, 2: 0.28, 4: 0.06, 9: 0} {
		got, _ := cropCall(t, "set_by_load", nil, one(load))
		closeTo(t, "set", got[0], want, 0.001)
	}
	// An own pace at 20 degC is what it is there, for either crop; pepper needs one.
	for crop := range 2 {
		got, _ := cropCall(t, "node_pace", words, one(20), one(float64(crop)), one(0.4))
		closeTo(t, "own pace", got[0], 0.4, 1e-12)
	}
	if _, why := cropCall(t, "node_pace", words, one(20), one(1)); !strings.Contains(why, "count") {
		t.Errorf("pepper without a count: %q", why)
	}
	if _, why := cropCall(t, "fruit_days", words, one(14), one(0)); why == "" {
		t.Error("cucumbers ripen at 14 degC")
	}
	for _, name := range []string{"node_pace", "fruit_days"} {
		if _, why := cropCall(t, name, words, one(20), one(2)); !strings.Contains(why, "large") {
			t.Errorf("%s of a tomato: %q", name, why)
		}
		for _, in := range [][2]float64{{array.Blank, 0}, {20, array.Blank}} {
			if got, _ := cropCall(t, name, words, one(in[0]), one(in[1])); !array.IsBlank(got[0]) {
				t.Errorf("%s of %v: %v", name, in, got[0])
			}
		}
	}
	got, _ := cropCall(t, "usual_weight", words, one(0))
	closeTo(t, "a cucumber", got[0], 350, 0)
	if _, why := cropCall(t, "usual_weight", words, one(1)); why == "" {
		t.Error("weighs a pepper")
	}
}

func TestFlushFunctions(t *testing.T) {
	words := []string{"cucumber", "pepper"}
	outputs := func(in ...[]float64) (set, ripe, left []float64, why string) {
		set, why = cropCall(t, "flush_set", words, in...)
		ripe, _ = cropCall(t, "flush_ripe", words, in...)
		left, _ = cropCall(t, "flush_hanging", words, in...)
		return
	}
	// Half of a cucumber's flowers, and 18.1 days at 22 degC.
	set, ripe, left, _ := outputs(steady(7), steady(22), one(0))
	closeTo(t, "set", set[10], 3.5, 1e-9)
	closeTo(t, "picked", ripe[30], 3.5, 1e-9)
	closeTo(t, "hanging", left[30], 3.5/7/(0.0069*8), 1e-6)
	// With room for twice the fruit on twice the flowers, twice the fruit.
	one1, _, _, _ := outputs(steady(3), steady(20), one(1), steady(1), one(1))
	two, _, _, _ := outputs(steady(6), steady(20), one(1), steady(1), one(2))
	for w := range two {
		closeTo(t, "room", two[w], 2*one1[w], 1e-9)
	}
	// What is not known spoils only what rests on it.
	flowers, air := steady(3), steady(20)
	for w := range 10 {
		flowers[w], air[w] = array.Blank, array.Blank
	}
	set, _, _, _ = outputs(flowers, air, one(1))
	closeTo(t, "before the crop", set[9], 0, 0)
	air[20] = array.Blank
	set, ripe, _, _ = outputs(flowers, air, one(1))
	if array.IsBlank(set[19]) || !array.IsBlank(set[20]) || !array.IsBlank(ripe[52]) {
		t.Errorf("air not known in week 20: %v, %v, %v", set[19], set[20], ripe[52])
	}
	if set, _, _, _ = outputs(steady(array.Blank), steady(20), one(1)); !array.IsBlank(set[5]) {
		t.Errorf("no flowers known: %v", set[5])
	}
	for _, in := range [][2]float64{{0, 1}, {1, 0}} {
		if _, _, _, why := outputs(steady(3), steady(20), one(1), steady(1), one(in[0]), steady(array.Blank), one(in[1])); why == "" {
			t.Errorf("room and own days %v pass", in)
		}
	}
	if set, _, _, _ = outputs(steady(3), steady(20), one(1), steady(1), one(array.Blank)); !array.IsBlank(set[0]) {
		t.Errorf("room not known: %v", set[0])
	}
	// What was counted stands, and the farm's own days are its own.
	counted := steady(array.Blank)
	counted[7] = 0.9
	set, _, _, _ = outputs(steady(3), steady(20), one(1), steady(1), one(1), counted)
	closeTo(t, "counted", set[7], 2.7, 1e-9)
	_, _, left, _ = outputs(steady(7), steady(22), one(0), steady(0.5), one(1), steady(array.Blank), one(2))
	closeTo(t, "twice the days, twice the fruit hang", left[30], 2*3.5/7/(0.0069*8), 1e-6)
	if _, _, _, why := outputs(steady(-1), steady(20), one(1)); why == "" {
		t.Error("flowers below 0 pass")
	}
}
