package feed

import (
	"testing"
)

func TestWater(t *testing.T) {
	// hortidaily: 1.7 mL a joule; a day of 1,000 J/cm2, a full canopy: 1.70 L/m2. With a
	// quarter drained, 2.267 L are given.
	near(t, "1,000 J/cm2", Drinks(10, 1, UptakeOfSun()), 1.70, 1e-12)
	near(t, "given", Drinks(10, 1, UptakeOfSun())/(1-0.25), 2.267, 0.001)
	// The middle of each published step of light lies in its published drain.
	for _, c := range []struct{ joules, low, high float64 }{{250, 0, 0.10}, {750, 0.10, 0.20}, {1250, 0.20, 0.30}, {1750, 0.30, 0.40}, {3000, 0.30, 0.40}} {
		if got := DrainShare(c.joules / 100); got < c.low || got > c.high {
			t.Errorf("%v J/cm2: %v drains", c.joules, got)
		}
	}
	near(t, "dark", DrainShare(0)+DrainShare(-1), 0, 0)
	last := 0.0
	for sun := 0.0; sun < 40; sun += 0.1 {
		given := Drinks(sun, 1, UptakeOfSun()) / (1 - DrainShare(sun))
		if given < last {
			t.Fatalf("%v MJ: %v given after %v", sun, given, last)
		}
		last = given
		near(t, "what is given is drunk or drains", given*DrainShare(sun)+Drinks(sun, 1, UptakeOfSun()), given, 1e-12)
	}
}

func TestCanopy(t *testing.T) {
	near(t, "before", Canopy(-1, 56), 0, 0)
	near(t, "set out", Canopy(0, 56), 0.15, 0)
	near(t, "half way", Canopy(28, 56), 0.575, 1e-12)
	near(t, "at the wire", Canopy(56, 56)+Canopy(200, 56), 2, 0)
	// The mean of a week is the mean of its moments.
	for _, from := range []float64{-10, -3, 0, 20, 50, 53, 60} {
		sum, n := 0.0, 0
		for d := max(0, from) + 0.0005; d < from+7; d += 0.001 {
			sum, n = sum+Canopy(d, 56), n+1
		}
		want := 0.0
		if n > 0 {
			want = sum / float64(n)
		}
		near(t, "week", MeanCanopy(from, from+7, 56), want, 1e-6)
	}
}

// Louisiana State University houses of 30 x 96 ft hold 320 bags of two plants: 640
// plants (LSU AgCenter 2003).
func TestBagCost(t *testing.T) {
	plants, bags := 640.0, 320.0
	each := BagCost(4, 0.60, 0.40, plants/bags, 2)
	near(t, "a plant", each, 1.25, 1e-12)
	near(t, "a house", each*plants, 5*bags/2, 1e-9)
	if BagCost(4, 0.6, 0.4, 2, 3) >= each || BagCrops() < 3 || BagCrops() > 5 {
		t.Error("a bag that serves longer costs less")
	}
}
