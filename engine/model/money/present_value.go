package money

import "math"

// PresentValue is what flows one period apart are worth at the moment of the
// first, at a rate per period (share, above -1): the sum of c_t (1+r)^-t.
func PresentValue(flows []float64, rate float64) float64 {
	value := 0.0
	for t := len(flows) - 1; t >= 0; t-- {
		value = float64(value/(1+rate)) + flows[t]
	}
	return value
}

// EquivalentAnnuity spreads a present value evenly over so many periods.
// Errors: as RecoveryFactor.
func EquivalentAnnuity(value, rate, periods float64) (float64, error) {
	factor, err := RecoveryFactor(rate, periods)
	return value * factor, err
}

// EffectiveRate is the yearly rate that a rate per period comes to when
// interest bears interest: (1+r)^m - 1, with m periods a year.
func EffectiveRate(rate, perYear float64) float64 { return math.Expm1(perYear * math.Log1p(rate)) }

// ModifiedRate is the rate per period at which what is paid out, brought back to
// the start at the rate of borrowing, grows to what comes in, carried to the end
// at the rate of reinvesting. It is always one. Error: no outflow or no inflow.
func ModifiedRate(flows []float64, borrowing, reinvesting float64) (float64, error) {
	last := float64(len(flows) - 1)
	out, in := 0.0, 0.0
	for t, c := range flows {
		if c < 0 {
			out -= c * math.Pow(1+borrowing, -float64(t))
		} else {
			in += c * math.Pow(1+reinvesting, last-float64(t))
		}
	}
	if out == 0 || in == 0 {
		return 0, ErrFlows
	}
	return math.Pow(in/out, 1/last) - 1, nil
}
