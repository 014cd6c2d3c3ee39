package money

import "math"

// The rates that InternalRates looks between, per period: beyond them a rate of
// return says nothing to anybody.
const (
	lowestRate  = -0.99
	highestRate = 10.0
)

// InternalRates gives every rate per period (share) between -99 % and 1,000 %
// at which flows are worth nothing at their start, lowest first. Where
// money goes out and comes in once there is at most one; where the sign changes
// more often there may be several, and then none of them is "the" return: the
// caller must say so and show the present value over the rates instead. Empty:
// there is none.
//
// The essay. With x = 1/(1+r) the present value is a polynomial p(x), x > 0.
// Taking one root by Newton's method from a guess, as is often done, hides the
// others and can miss all. Stepping along a grid misses pairs between two steps.
// Here p is cut where it turns, so that each stretch holds at most one root, which
// bisection finds. For the turning points it helps that the value at any other
// date, x^-k p(x), has the same roots, and turns where sum (t-k) c_t x^t is 0. If
// k lies at a change of sign of the flows, that sum has one change fewer (the step
// in the classical proof of Descartes' rule of signs). So the search
// calls itself as often as the flows change sign, and ends on a sum without any.
func InternalRates(flows []float64) []float64 {
	var rates []float64
	zeros := zerosBetween(flows, 1/(1+highestRate), 1/(1+lowestRate))
	for i := len(zeros) - 1; i >= 0; i-- {
		rates = append(rates, 1/zeros[i]-1)
	}
	return rates
}

// zerosBetween gives the zeros of sum c_t x^t for low < x < high, in order.
func zerosBetween(c []float64, low, high float64) []float64 {
	k, changes := signChange(c)
	if !changes {
		return nil
	}
	tilted := make([]float64, len(c))
	for t := range c {
		tilted[t] = (float64(t) - k) * c[t]
	}
	var zeros []float64
	from, before := low, worth(c, low)
	for _, to := range append(zerosBetween(tilted, low, high), high) {
		after := worth(c, to)
		switch {
		case after == 0 && to < high: // it touches zero where it turns
			zeros = append(zeros, to)
		case before < 0 && after > 0, before > 0 && after < 0:
			zeros = append(zeros, bisect(c, from, to, before))
		}
		from, before = to, after
	}
	return zeros
}

// signChange gives a place between the first two neighbours (zeros apart) of
// opposite sign.
func signChange(c []float64) (k float64, ok bool) {
	last := -1
	for t := range c {
		if c[t] == 0 {
			continue
		}
		if last >= 0 && (c[t] > 0) != (c[last] > 0) {
			return float64(last+t) / 2, true
		}
		last = t
	}
	return 0, false
}

// worth gives a number of the sign of sum c_t x^t; 0 where it cannot be told
// from rounding. Powers run down from 1, for x above 1 from the far end, so none
// grows too large.
func worth(c []float64, x float64) float64 {
	value, size := 0.0, 0.0
	power, step := 1.0, min(x, 1/x)
	for t := range c {
		term := c[t]
		if x > 1 {
			term = c[len(c)-1-t]
		}
		term *= power
		value += term
		size += math.Abs(term)
		power *= step
	}
	if math.Abs(value) <= 1e-14*size {
		return 0
	}
	return value
}

// bisect narrows a stretch at whose start the sum is worth before, and of
// opposite sign at its end, until it is worth nothing or there is no number left
// between.
func bisect(c []float64, from, to, before float64) float64 {
	for {
		middle := from + (to-from)/2
		value := worth(c, middle)
		if value == 0 || middle <= from || middle >= to {
			return middle
		}
		if (value > 0) == (before > 0) {
			from = middle
		} else {
			to = middle
		}
	}
}
