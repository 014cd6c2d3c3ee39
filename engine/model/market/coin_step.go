package market

import "github.com/shopspring/decimal"

// Way says how a price meets a step.
type Way int

const (
	Nearest Way = iota // half a step goes up
	Up
	Down
)

// ToStep takes a price (at least 0) to a whole number of steps (above 0), both
// per sale unit and in the same money, in exact decimals: 3.61 on a step of 0.25
// is 3.50 (Nearest, Down) or 3.75 (Up). Errors: a step or a price outside its range.
func ToStep(price, step decimal.Decimal, way Way) (decimal.Decimal, error) {
	switch {
	case !step.IsPositive():
		return decimal.Zero, ErrStep
	case price.IsNegative():
		return decimal.Zero, ErrPrice
	}
	count, rest := price.QuoRem(step, 0)
	if up(way, rest.IsPositive(), rest.Add(rest).GreaterThanOrEqual(step)) {
		count = count.Add(decimal.NewFromInt(1))
	}
	return count.Mul(step), nil
}

// Steps is ToStep in whole numbers: price and step count the same smallest
// amount (cents, thousandths). Both at most 10^18; the result is in it too.
func Steps(price, step int64, way Way) (int64, error) {
	switch {
	case step <= 0:
		return 0, ErrStep
	case price < 0:
		return 0, ErrPrice
	}
	count, rest := price/step, price%step
	if up(way, rest > 0, rest >= step-rest) {
		count++
	}
	return count * step, nil
}

// up says whether a price with a rest beyond its last whole step, which may be
// half a step or more, goes to the next one.
func up(way Way, rest, half bool) bool {
	return way == Up && rest || way == Nearest && half
}

// AtLeast takes a price to a step and keeps it from falling below the floor:
// where it would, the floor's next step up is the price. Errors: as ToStep.
func AtLeast(price, floor, step decimal.Decimal, way Way) (decimal.Decimal, error) {
	stepped, err := ToStep(price, step, way)
	if err != nil || stepped.GreaterThanOrEqual(floor) {
		return stepped, err
	}
	return ToStep(floor, step, Up)
}
