package risk

import "math"

// Bounds says where the values of a range must stay.
type Bounds int

const (
	Unbounded Bounds = iota // temperatures, signed amounts, anything marked open
	Positive                // above 0
	Share                   // between 0 and 1
)

// The curve of a range "middle (low..high)" is drawn on a scale T on which the
// bounds are infinitely far away:
//
//	T(x) = x, ln x, or ln(x/(1-x))
//
// Keelin's metalog of a symmetric percentile triplet has the quantile function
//
//	T(x(y)) = a1 + a2 L + a3 (y - 1/2) L      L = ln(y/(1-y))
//
// At y = 0.1, 0.5 and 0.9 L is -ln 9, 0 and ln 9, so that the three percentiles fix
//
//	a1 = T(middle)
//	a2 = (T(high) - T(low)) / (2 ln 9)
//	a3 = (T(high) + T(low) - 2 T(middle)) / (0.8 ln 9)
//
// (Keelin 2016, Proposition 3, for alpha = 0.1). With the middle halfway a3 is 0
// and this is the logistic distribution. Why not two half normals for all: their
// density jumps at the middle, and there is no reason why it should.
//
// It rises everywhere only while the middle is not too near an edge. Its slope is
// (a2 + a3 g(y)) / (y(1-y)) with g(y) = y - 1/2 + y(1-y) L, which is odd about 1/2.
// With y = (1+t)/2, g = t/2 + (1-t^2)/2 artanh t; it is largest where t artanh t =
// 1, there g = 1/(2t), and t = 1/c with c = 1.19967864, the root of coth c = c. So
// the curve rises if and only if |a3| c/2 < a2. With r the place of the middle
// between the edges, on the scale T, from 0 to 1, this is
//
//	|1 - 2r| < 0.8/c = 0.66684525      0.16657738 < r < 0.83342262
//
// Keelin gives the limit as (1 - 1.66711 (1/2 - alpha))/2, here 0.166578. The
// language says a sixth, which is just inside, so that the slope is never 0. Nearer
// to an edge than that, two half normals meet at the middle: less smooth, but they
// exist for every triplet.
const nearest = 1.0 / 6

// z90 is the 90th percentile of the standard normal distribution.
var z90 = NormalScore(0.9)

// On the scale T of positive amounts values beyond this would overflow when they
// are turned back; e^700 is about 10^304.
const farthest = 700

// scale turns a value to T and back, and stops at the edges where it must.
type scale struct {
	bounds      Bounds
	floor, roof float64 // with bounds Unbounded: values stop here
}

func (s *scale) to(x float64) float64 {
	switch s.bounds {
	case Positive:
		return math.Log(x)
	case Share:
		return math.Log(x / (1 - x))
	}
	return x
}

func (s *scale) back(t float64) float64 {
	switch s.bounds {
	case Positive:
		if t > farthest {
			t = farthest
		} else if t < -farthest {
			t = -farthest
		}
		return math.Exp(t)
	case Share:
		return 1 / (1 + math.Exp(-t))
	}
	return max(s.floor, min(t, s.roof))
}

// NewRange gives the curve of "middle (low..high)": low, middle and high are its
// 10th, 50th and 90th percentile exactly, in one unit (shares as 0 to 1); values
// stay inside bounds. The middle must lie strictly between the edges, and the edges
// inside the bounds; an edge at exactly 0, or at exactly 1 of a share, has no place
// on the bounded scale, so the curve is then drawn without bounds and stops there:
// as many draws stand on the bound as the curve has beyond it. The language keeps
// temperatures Unbounded.
func NewRange(low, middle, high float64, bounds Bounds) (Curve, error) {
	if !plain(low, middle, high) {
		return nil, errNotNumber()
	}
	if !(low < middle && middle < high) {
		return nil, errMiddleOutside(low, middle, high)
	}
	s := scale{bounds, math.Inf(-1), math.Inf(1)}
	switch bounds {
	case Unbounded:
	case Positive:
		if low < 0 {
			return nil, errBelowZero(low)
		}
		if low == 0 {
			s = scale{Unbounded, 0, math.Inf(1)}
		}
	case Share:
		if low < 0 || high > 1 {
			return nil, errOutsideShare(low, high)
		}
		if low == 0 || high == 1 {
			s = scale{Unbounded, 0, 1}
		}
	default:
		return nil, errBounds(bounds)
	}
	return onScale(s, s.to(low), s.to(middle), s.to(high))
}

// onScale picks the curve for the triplet low, middle, high on the scale T.
func onScale(s scale, low, middle, high float64) (Curve, error) {
	// Neighbouring numbers may fall together on T.
	if !(low < middle && middle < high) {
		return nil, errMiddleOutside(s.back(low), s.back(middle), s.back(high))
	}
	width := high - low
	if min(middle-low, high-middle) < nearest*width {
		return &halfNormals{s, middle, (middle - low) / z90, (high - middle) / z90}, nil
	}
	ln9 := math.Log(9)
	return &metalog{s, middle, width / (2 * ln9), ((high - middle) - (middle - low)) / (0.8 * ln9)}, nil
}

type metalog struct {
	scale
	a1, a2, a3 float64
}

func (c *metalog) Quantile(u float64) float64 {
	l := math.Log(u / (1 - u))
	return c.back(c.a1 + float64((c.a2+float64(c.a3*(u-0.5)))*l))
}

type halfNormals struct {
	scale
	middle, below, above float64 // below, above: standard deviations of the halves
}

func (c *halfNormals) Quantile(u float64) float64 {
	z := NormalScore(u)
	if z < 0 {
		return c.back(c.middle + float64(c.below*z))
	}
	return c.back(c.middle + float64(c.above*z))
}
