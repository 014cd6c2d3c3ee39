package risk

import "math"

// QuantileError gives the standard error of the p-quantile of n independent draws,
// in the unit of the line, where density is the line's probability density there
// (one over the unit):
//
//	sqrt(p (1-p) / n) / density
//
// Draws of this package settle faster than independent ones wherever single inputs
// decide, so it is usually on the safe side. Source: the delta method; OpenTURNS
// theory manual, estimation of a quantile by plain draws.
func QuantileError(p, density float64, n int) float64 {
	return math.Sqrt(p*(1-p)/float64(n)) / density
}

// RankInterval gives the ranks, counted from 1, between which the true p-quantile
// lies with the given confidence, of n independent draws in rising order:
//
//	floor(n p -+ z sqrt(n p (1-p)))      z the normal score of (1+confidence)/2
//
// kept within 1..n. No density is needed, and no shape assumed; n p and n (1-p)
// should be 10 or more for the normal approximation of the binomial (common
// practice). Source: as QuantileError.
func RankInterval(n int, p, confidence float64) (low, high int) {
	z := NormalScore((1 + confidence) / 2)
	middle, half := float64(n)*p, z*math.Sqrt(float64(n)*p*(1-p))
	within := func(rank float64) int { return int(max(1, min(math.Floor(rank), float64(n)))) }
	return within(middle - half), within(middle + half)
}
