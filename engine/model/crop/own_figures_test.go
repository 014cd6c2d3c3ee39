package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestStageBetween(t *testing.T) {
	// 65 days at 18 degC, 46 at 22 (Adams et al. 2001): twenty days at 18, then 31.8 at
	// 22 make one.
	gain := make([]float64, 20)
	for w := range gain {
		gain[w] = 1. / 65
		if w >= 5 {
			gain[w] = 1. / 46
		}
	}
	near(t, "cool, then warm", StageBetween(gain, 15, 35+46*45/65.), 1, 1e-12)
	near(t, "before the series", StageBetween(gain, -65, 0), 1, 1e-12)
	near(t, "after it", StageBetween(gain, 200, 246), 1, 1e-12)
	near(t, "across all of it", StageBetween(gain, -65, 140+46), 2+35./65+105./46, 1e-12)
	near(t, "the other way", StageBetween(gain, 40, 10), -StageBetween(gain, 10, 40), 0)
	near(t, "one day to itself", StageBetween(gain, 12.5, 12.5), 0, 0)
	// It undoes Reached: what adds up to a stage from a day is reached at its end.
	r := rand.New(rand.NewPCG(41, 41))
	for range 200 {
		for w := range gain {
			gain[w] = 0.005 + 0.02*r.Float64()
		}
		from, stage := 200*r.Float64()-30, 0.1+r.Float64()
		to, ok := Reached(gain, WeekDays, from, stage)
		if !ok {
			t.Fatal("never reached")
		}
		near(t, "there and back", StageBetween(gain, from, to), stage, 1e-9)
	}
}

func TestPickedOfForecast(t *testing.T) {
	gap := math.NaN()
	told := []float64{0, 10, 20, 20, 20, 20, 20, 20, 20, 20}
	for _, c := range []struct {
		picked []float64
		want   float64
	}{
		{[]float64{gap, gap, gap, gap, gap, gap, gap, gap, gap, gap}, 1},
		{[]float64{0, 3, gap, gap, gap, gap, gap, gap, gap, gap}, 1}, // picking gets going
		{[]float64{0, 3, 30, gap, gap, gap, gap, gap, gap, gap}, (30 + 40) / 60.},
		{[]float64{0, 3, 30, 10, gap, gap, gap, gap, gap, gap}, 1},
		{[]float64{0, 3, 99, 24, 24, gap, 24, 24, 24, gap}, (120 + 40) / 140.}, // the last five known
		{[]float64{0, 3, 0, 0, 0, 0, 0, 0, 0, 0}, 40 / 140.},
	} {
		near(t, "share", PickedOfForecast(c.picked, told, 2), c.want, 1e-12)
	}
	near(t, "nothing was told", PickedOfForecast([]float64{1, 2, 3}, []float64{0, 0, 0}, 2), 1, 0)
	if x := PickedOfForecast([]float64{1, 2, 3}, []float64{0, gap, 1}, 2); !math.IsNaN(x) {
		t.Errorf("what was told is not known: %v", x)
	}
	// Between 1 and what the picks say, whatever the forecast counts for; all of it at 0.
	r := rand.New(rand.NewPCG(42, 42))
	for range 200 {
		picked, forecast := make([]float64, 12), make([]float64, 12)
		for w := range picked {
			picked[w], forecast[w] = r.Float64(), r.Float64()
		}
		bare, held := PickedOfForecast(picked, forecast, 0), PickedOfForecast(picked, forecast, 5*r.Float64())
		if held < min(1, bare)-1e-12 || held > max(1, bare)+1e-12 {
			t.Fatalf("picks say %v, held to %v", bare, held)
		}
	}
}
