package risk

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Standard errors of the 90 % quantile of the standard normal distribution from
// 10,000 draws, of the 5 % quantile from 2,000: formula of the OpenTURNS theory
// manual, computed.
func TestQuantileError(t *testing.T) {
	normal := distuv.UnitNormal
	near(t, "90 %", QuantileError(0.9, normal.Prob(normal.Quantile(0.9)), 10_000), 0.017094, 1e-6)
	near(t, "5 %", QuantileError(0.05, normal.Prob(normal.Quantile(0.05)), 2_000), 0.047252, 1e-6)
}

// Ranks floor(n p -+ 1.96 sqrt(n p (1-p))), same manual, computed by hand: 100 -+
// 18.59 and 9,000 -+ 58.8.
func TestRankInterval(t *testing.T) {
	for _, c := range []struct {
		n         int
		p         float64
		low, high int
	}{{1000, 0.1, 81, 118}, {10_000, 0.9, 8941, 9058}, {10, 0.1, 1, 2}, {5, 0.9, 3, 5}} {
		if low, high := RankInterval(c.n, c.p, 0.95); low != c.low || high != c.high {
			t.Errorf("%+v: %d, %d", c, low, high)
		}
	}
}

// Law: the ranks cover what they say, by the binomial distribution (Wilks 1962,
// Mathematical Statistics, section 11.2: the quantile lies between ranks a and b
// with probability P(a <= K < b)). The normal approximation is good to about 1 %
// here.
func TestRankIntervalCovers(t *testing.T) {
	for _, n := range []int{1024, 4096} {
		for _, p := range []float64{0.1, 0.5, 0.9} {
			low, high := RankInterval(n, p, 0.95)
			k := distuv.Binomial{N: float64(n), P: p}
			cover := k.CDF(float64(high-1)) - k.CDF(float64(low-1))
			near(t, "cover", cover, 0.95, 0.01)
		}
	}
	// Four times the draws, half the error.
	if narrow, wide := QuantileError(0.1, 1, 4096), QuantileError(0.1, 1, 1024); math.Abs(wide/narrow-2) > 1e-12 {
		t.Errorf("%g and %g", narrow, wide)
	}
}
