package risk

import "math"

// Curve is the distribution of one literal: a map from a uniform in (0,1) to a
// value, which never falls as u rises. Quantile is finite for u from 2^-33 to
// 1-2^-33, the ends of what Key.Uniforms gives; u outside (0,1) has no meaning.
type Curve interface {
	Quantile(u float64) float64
}

// limit is the largest size of a number in a literal: what a cell can hold.
const limit = 1e60

// plain says whether every x can stand in a literal.
func plain(xs ...float64) bool {
	for _, x := range xs {
		if !(math.Abs(x) <= limit) {
			return false
		}
	}
	return true
}

type even struct{ low, width float64 }

// NewEven gives the uniform distribution from low to high, in any one unit. Low
// must be below high.
func NewEven(low, high float64) (Curve, error) {
	if !plain(low, high) {
		return nil, errNotNumber()
	}
	if !(low < high) {
		return nil, errNoWidth(low, high)
	}
	return even{low, high - low}, nil
}

func (c even) Quantile(u float64) float64 { return c.low + float64(c.width*u) }

type likely struct {
	low, high float64
	turn      float64 // share below the mode
	rise      float64 // width times the way from low to mode, unit squared
	fall      float64 // width times the way from mode to high, unit squared
}

// NewLikely gives the triangular distribution: nothing below low or above high,
// likeliest at mode. The mode may lie on an edge.
//
//	q(u) = low + sqrt(u (high-low)(mode-low))          for u <= (mode-low)/(high-low)
//	q(u) = high - sqrt((1-u) (high-low)(high-mode))    beyond
//
// Source: definition, the inverse of the area under the triangle.
func NewLikely(low, mode, high float64) (Curve, error) {
	if !plain(low, mode, high) {
		return nil, errNotNumber()
	}
	if !(low < high) {
		return nil, errNoWidth(low, high)
	}
	if mode < low || high < mode {
		return nil, errModeOutside(low, mode, high)
	}
	width := high - low
	return likely{low, high, (mode - low) / width, width * (mode - low), width * (high - mode)}, nil
}

func (c likely) Quantile(u float64) float64 {
	if u <= c.turn {
		return c.low + math.Sqrt(u*c.rise)
	}
	return c.high - math.Sqrt((1-u)*c.fall)
}

type chance struct{ stays float64 }

// NewChance gives 1 with probability p and 0 otherwise; p from 0 to 1. The ones
// stand at the upper end, u >= 1-p, so that a link to a chance has the sign one
// expects.
func NewChance(p float64) (Curve, error) {
	if !(0 <= p && p <= 1) {
		return nil, errChance(p)
	}
	return chance{1 - p}, nil
}

func (c chance) Quantile(u float64) float64 {
	if u >= c.stays {
		return 1
	}
	return 0
}
