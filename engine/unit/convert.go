package unit

import "math/big"

// Convert gives the two numbers that carry a value from one unit to another:
// value in to = value in from * mul + add. Both are worked out in exact
// fractions and rounded once; between units of the same size mul is 1 and add
// 0 exactly. add is 0 except between absolute temperatures. Units that measure
// different things, also a temperature and a difference of temperatures, give
// *MismatchError.
func Convert(from, to *Unit) (mul, add float64, err error) {
	if from == to && !from.Beyond() {
		return 1, 0, nil
	}
	ratio := Ratio(from, to)
	if ratio == nil {
		return 0, 0, &MismatchError{From: from, To: to}
	}
	mul, _ = ratio.Float64()
	if from.Absolute {
		// (x + from.offset) * from.factor = (y + to.offset) * to.factor
		shift := new(big.Rat).Mul(from.offset, ratio)
		add, _ = shift.Sub(shift, to.offset).Float64()
	}
	return mul, add, nil
}

// Ratio is the exact mul of Convert; nil when the units measure different
// things. It is what money and other exact decimals convert with.
func Ratio(from, to *Unit) *big.Rat {
	if from.Dim != to.Dim || from.Absolute != to.Absolute || from.Beyond() {
		return nil
	}
	return new(big.Rat).Quo(from.factor, to.factor)
}
