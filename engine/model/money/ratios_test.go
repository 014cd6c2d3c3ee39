package money

import (
	"math/rand/v2"
	"testing"
)

// TestRatios holds the ratios against published worked examples.
func TestRatios(t *testing.T) {
	// OpenStax, Principles of Accounting 1, current ratio and working capital.
	current, err := CurrentRatio(26540, 5400)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "current ratio", current, 4.91, 0.005)
	near(t, "working capital", WorkingCapital(26540, 5400), 21140, 0)
	// OpenStax, Principles of Finance, debt ratio: 150,000 of 250,000; and 600,000 of
	// 2.4 million, with 400,000 more of debt, or of the family's own.
	for _, c := range [][3]float64{{150_000, 250_000, 0.60}, {600_000, 1_800_000, 0.333}, {1_000_000, 1_800_000, 0.556}, {600_000, 2_200_000, 0.273}} {
		share, err := DebtToAsset(c[0], c[1])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "debt to asset", share, c[2], 0.0005)
	}
	// Northland Community and Technical College, farm business management, averages of
	// 2004 over 76 farms: of 100 of revenue, the low fifth, the middle and the high.
	for _, c := range [][4]float64{{76.5, 3.8, 5.0, 14.7}, {91.2, 4.6, 6.1, -1.9}, {79.8, 3.1, 6.3, 10.8}, {71.3, 2.7, 3.3, 22.7}} {
		shares, err := Efficiency(100, c[0], c[1], c[2])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "what is left of 100", 100*shares.Income, c[3], 0.05)
	}
}

// TestEfficiencyAddsUp: the shares of any year add up to one.
func TestEfficiencyAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(71, 71))
	for range 1000 {
		s, err := Efficiency(1+1e5*r.Float64(), 1e5*r.Float64(), 1e4*r.Float64(), 1e4*r.Float64())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "sum of the shares", s.Operating+s.Depreciation+s.Interest+s.Income, 1, 1e-9)
	}
}

func TestRatiosRefuse(t *testing.T) {
	if _, err := CurrentRatio(1, 0); err != ErrCurrent {
		t.Error(err)
	}
	if _, err := DebtToAsset(1, 0); err != ErrAssets {
		t.Error(err)
	}
	if _, err := Efficiency(0, 1, 1, 1); err != ErrNoSales {
		t.Error(err)
	}
}

// TestPartialBudget holds two published changes of plan and a crop to drop.
func TestPartialBudget(t *testing.T) {
	// Iowa State University Extension, Ag Decision Maker C6-10, 2010: greens for beans.
	near(t, "greens for beans", PartialBudget(150, 209.16, 36.53, 360), -37.37, 1e-9)
	// Southeast Farm Press, partial budgets: corn for dry beans on 100 acres.
	near(t, "corn for beans", PartialBudget(97_500, 55_000, 88_000, 69_000), -4500, 0)
	// OpenStax, Principles of Accounting 2: contribution 65,000, half of 70,000 avoidable.
	near(t, "a line dropped", DropGain(65_000, 35_000), -30_000, 0)
	// Turned round, a change undoes itself.
	near(t, "there and back", PartialBudget(5, 7, 11, 13)+PartialBudget(13, 11, 7, 5), 0, 0)
}
