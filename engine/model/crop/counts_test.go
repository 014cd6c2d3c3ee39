package crop

import (
	"math"
	"testing"
)

func TestOpenedWeek(t *testing.T) {
	opened := []float64{0, 0.4, 1.2, 2.0, 2.0, 3.6, 4.4}
	for truss, want := range map[float64]int{1: 2, 2: 3, 3: 5, 4: 5, 5: 7, 0: 0} {
		if got := OpenedWeek(opened, truss); got != want {
			t.Errorf("truss %v: week %d, want %d", truss, got, want)
		}
	}
	if OpenedWeek(nil, 1) != 0 {
		t.Error("a season without weeks")
	}
}

func TestCounted(t *testing.T) {
	// By hand: 2, 4, 4, 6 have mean 4 and squares 4+0+0+4 = 8; the standard error is
	// the root of 8/3/4.
	var c Counted
	if !math.IsNaN(c.Error()) || !math.IsNaN(c.With(3).Error()) {
		t.Error("an error of the mean from fewer than two")
	}
	for _, x := range []float64{2, 4, 4, 6} {
		c = c.With(x)
	}
	near(t, "number", c.Number, 4, 0)
	near(t, "mean", c.Mean, 4, 1e-12)
	near(t, "error", c.Error(), math.Sqrt(8./12), 1e-12)
	// NIST Statistical Reference Datasets, NumAcc3 in small: 1000000.2 once, then
	// 1000000.1 and 1000000.3 in turn; mean 1000000.2, standard deviation 0.1.
	c = Counted{}.With(1000000.2)
	for range 500 {
		c = c.With(1000000.1).With(1000000.3)
	}
	near(t, "mean of large counts", c.Mean, 1000000.2, 1e-8)
	near(t, "their deviation", c.Error()*math.Sqrt(c.Number), 0.1, 1e-8)
}

func TestPlantsToCount(t *testing.T) {
	many := math.Inf(1)
	// n = (1.96 CV/E)^2, by hand: (1.96 x 1.5)^2 = 8.6; (1.96 x 3)^2 = 34.6. Lucio et
	// al. (Revista Ciencia Agronomica, scielo S1806-66902018000400653, abstract) come
	// to 35 cherry tomato plants in a 250 m2 house.
	near(t, "evenly grown", PlantsToCount(0.15, 0.10, many), 9, 0)
	near(t, "uneven", PlantsToCount(0.45, 0.15, many), 35, 0)
	near(t, "few in all", PlantsToCount(0.45, 0.15, 70), 24, 0) // 34.6 / (1 + 34.6/70) = 23.1
	near(t, "all alike", PlantsToCount(0, 0.10, 70), 0, 0)
}
