package money

import "github.com/shopspring/decimal"

// Cents is money in hundredths of the currency. Amounts that are owed are held
// in it, so that sums are exact.
type Cents int64

// CentsOf takes an amount of money to whole cents, half up (amounts below zero:
// half away from zero). Beyond the range of Cents the result is meaningless.
func CentsOf(amount decimal.Decimal) Cents {
	return Cents(amount.Shift(2).Round(0).IntPart())
}

// Decimal is the same amount in money.
func (c Cents) Decimal() decimal.Decimal { return decimal.New(int64(c), -2) }

// Rate is a yearly rate as an exact fraction: 3.6 % is Rate{36, 1000}. It is
// kept so because a twelfth of most rates has no finite decimal.
type Rate struct{ Numerator, Denominator int64 }

// RateOf is a rate typed as a share of one, 0.036 for 3.6 %, with up to 15
// decimals.
func RateOf(share decimal.Decimal) Rate {
	return Rate{share.Shift(15).Round(0).IntPart(), 1e15}
}

// check refuses rates that are not ordinary, and denominators so large that
// a period's would not fit.
func (r Rate) check() error {
	if r.Numerator < 0 || r.Denominator < 1 || r.Denominator > 1e17 || r.Numerator > 10*r.Denominator {
		return ErrRate
	}
	return nil
}
