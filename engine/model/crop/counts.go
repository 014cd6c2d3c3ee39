package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// Counts on marked plants. A count belongs to the week in which its truss
// opened, not to the week of counting: only then does it meet the trusses that
// the forecast lets ripen together.

// OpenedWeek gives the week in which the truss of that number opened, by the
// trusses a stem had opened by the end of each week (rising): the first week
// whose number reaches truss - 0.5, since a whole-numbered truss is open halfway
// between two whole paces. It gives len(opened) when none does.
func OpenedWeek(opened []float64, truss float64) int {
	low, high := 0, len(opened)
	for low < high {
		if mid := (low + high) / 2; opened[mid] >= truss-0.5 {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low
}

// Counted is a sample: its size, mean, and the sum of squares about the mean.
type Counted struct{ Number, Mean, Squares float64 }

// With gives the sample with one more in it (the running form of Welford 1962,
// which does not lose digits).
func (c Counted) With(x float64) Counted {
	c.Number++
	off := x - c.Mean
	c.Mean += off / c.Number
	c.Squares += off * (x - c.Mean)
	return c
}

// Error gives the standard error of the mean, in the unit of the counts; not a
// number with fewer than two.
func (c Counted) Error() float64 {
	if c.Number < 2 {
		return math.NaN()
	}
	return math.Sqrt(c.Squares / (c.Number - 1) / c.Number)
}

var normal95 = fact.New(fact.Fact{Name: "half-width of 95 in a hundred of a normal distribution", Value: 1.96, Unit: "1", Low: 1.96, High: 1.96, Source: "definition, to the two places that tables print", Known: fact.Exact})

// PlantsToCount gives how many plants to count so that in 95 cases of a hundred
// their mean lies within a share of the true one: spread is the coefficient of
// variation between plants, within that share (both 0.1 for 10 %), of standing
// plants in all.
//
//	n = (1.96 spread / within)^2;  of few plants, n / (1 + n/standing)
//
// Rounded up to whole plants. The definition of a sample size for a mean, with
// the correction for a finite population (Cochran 1977, Sampling Techniques, chapter 4).
func PlantsToCount(spread, within, standing float64) float64 {
	n := normal95.Value * spread / within
	n *= n
	return math.Ceil(n/(1+n/standing) - 1e-9)
}
