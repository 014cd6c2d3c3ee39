package library

import (
	"math"
	"testing"

	"wintertruss/engine/array"
)

func TestFillingFunctions(t *testing.T) {
	// A crop with light to spare: a fruit comes to its full weight at 20 degC, whatever
	// the curve between.
	args := func() [][]float64 {
		return [][]float64{steady(2), steady(20), steady(40), steady(2.5), one(130), one(0.055)}
	}
	got, _ := cropCall(t, "fruit_grown", nil, args()...)
	closeTo(t, "wants for nothing", got[40], 130, 1e-9)
	closeTo(t, "none ripe yet", got[3], 0, 0)
	// What hangs: 2 fruit a week for 53.9 days, of which the curve's mean is half, as it
	// is nearly symmetric.
	green, _ := cropCall(t, "green_grown", nil, args()...)
	closeTo(t, "hangs", green[40], 2./7*53.9*130/2, 0.05*green[40])
	// Whole trusses hang a fifth longer and weigh the same: their full weight is that of
	// the pick.
	got, _ = cropCall(t, "fruit_grown", nil, append(args(), one(1.2))...)
	closeTo(t, "whole trusses", got[40], 130, 1e-9)

	// What is not known: from that week on, as far as fruit hang.
	for i, what := range map[int]string{1: "air", 2: "light", 3: "heads"} {
		in := args()
		in[i][30] = array.Blank
		got, _ := cropCall(t, "fruit_grown", nil, in...)
		for w := range got {
			if array.IsBlank(got[w]) != (w >= 30) {
				t.Fatalf("%s not known in week 30: week %d is %v", what, w, got[w])
			}
		}
	}
	in := args()
	for w := range 20 {
		in[0][w], in[1][w] = array.Blank, array.Blank // before the crop
	}
	if got, _ = cropCall(t, "fruit_grown", nil, in...); !(got[40] > 0) || got[10] != 0 {
		t.Errorf("weeks before the crop: %v, %v", got[10], got[40])
	}
	in[0] = steady(array.Blank)
	if got, _ = cropCall(t, "fruit_grown", nil, in...); !array.IsBlank(got[40]) {
		t.Errorf("no set known: %v", got[40])
	}

	for what, change := range map[string]func(in [][]float64){
		"set below 0":       func(in [][]float64) { in[0][5] = -1 },
		"no full weight":    func(in [][]float64) { in[4][0] = 0 },
		"no dry matter":     func(in [][]float64) { in[5][0] = 0 },
		"all of dry matter": func(in [][]float64) { in[5][0] = 1.1 },
	} {
		in := args()
		change(in)
		if _, why := cropCall(t, "fruit_grown", nil, in...); why == "" {
			t.Errorf("%s is taken", what)
		}
	}
	if _, why := cropCall(t, "fruit_grown", nil, append(args(), one(0))...); why == "" {
		t.Error("a days factor of 0 is taken")
	}
}

func TestFirstFlowerByAir(t *testing.T) {
	sown := float64(cropDay(t, "2026-09-01"))
	// Vanthoor et al. 2011, equation 28, by hand: 40 days / (0.047 x 16 + 0.060) = 49.3.
	got, _ := cropCall(t, "first_flower", nil, one(sown), steady(20), steady(16))
	closeTo(t, "cool", got[0]-sown, 8+49, 0)
	air := steady(16)
	air[8] = array.Blank // the week of 5 October
	if got, _ = cropCall(t, "first_flower", nil, one(sown), steady(20), air); !array.IsBlank(got[0]) {
		t.Errorf("air not known before the flower: %v", got[0])
	}
	if _, why := cropCall(t, "first_flower", nil, one(sown), steady(20), steady(10)); why == "" {
		t.Error("flowers in the cold")
	}
}

func TestSetByLightFunction(t *testing.T) {
	got, _ := cropCall(t, "set_by_light", nil, one(10), one(0.6))
	closeTo(t, "10 mol", got[0], 0.6*10*0.74/0.79/8.6, 1e-12)
	got, _ = cropCall(t, "set_by_light", nil, one(math.Inf(1)))
	closeTo(t, "bright", got[0], 1, 0)
}
