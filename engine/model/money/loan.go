package money

import (
	"math/big"

	"github.com/shopspring/decimal"
)

// Terms says how a loan is paid back.
type Terms struct {
	Amount       Cents // lent, 0 to 10^15 cents
	YearlyRate   Rate  // share per year; a period's rate is this over PerYear
	Payments     int   // number of payments, those of interest only among them
	PerYear      int   // payments a year: 12, 4, 2 or 1
	InterestOnly int   // the first so many payments pay the interest alone
	// Level is the level payment the lender names; 0: it is computed.
	Level Cents
}

// Row is one payment of a schedule. Payment is Interest + Principal; Balance
// is what is owed after it.
type Row struct {
	Number                                int // from 1
	Interest, Principal, Payment, Balance decimal.Decimal
}

// Limits of a loan: they keep products within 128 bits and lives within reason.
const maxAmount Cents = 1e15

const maxPayments = 1200

func (t Terms) check() error {
	switch {
	case t.Amount < 0 || t.Amount > maxAmount || t.Level < 0:
		return ErrAmount
	case t.Payments < 1 || t.Payments > maxPayments:
		return ErrPayments
	case t.PerYear != 1 && t.PerYear != 2 && t.PerYear != 4 && t.PerYear != 12:
		return ErrPerYear
	case t.InterestOnly < 0 || t.InterestOnly >= t.Payments:
		return ErrInterestOnly
	}
	return t.YearlyRate.check()
}

// Schedule gives the loan's payments, one row each, to the cent.
//
// Each period the interest is the balance times the period's rate, rounded half
// up; the rest of the level payment is principal. The level payment is
//
//	A = P r / (1 - (1 + r)^-n)      P/n when r is 0
//
// rounded half up, with P the amount, r the period's rate and n the payments
// after those of interest only. Since A is rounded, the last payment is not A
// but the balance and its interest, and the loan ends at exactly 0.00: lenders
// settle the last cents so (OpenStax, Principles of Accounting, long-term
// liabilities, modules m67913 and m67914; tables in the tests). A named payment, or one rounded up, that
// pays the loan sooner ends the schedule sooner. A loan of nothing has no rows.
//
// Errors: terms outside their limits; a level payment below the interest.
func (t Terms) Schedule() ([]Row, error) {
	if err := t.check(); err != nil {
		return nil, err
	}
	level := t.Level
	if level == 0 {
		level = exactLevel(t)
	}
	balance, levelMoney := t.Amount.Decimal(), level.Decimal()
	numerator := decimal.NewFromInt(t.YearlyRate.Numerator)
	denominator := decimal.NewFromInt(t.YearlyRate.Denominator).Mul(decimal.NewFromInt(int64(t.PerYear)))

	var rows []Row
	for number := 1; balance.IsPositive(); number++ {
		interest := balance.Mul(numerator).DivRound(denominator, 2)
		payment := levelMoney
		if number <= t.InterestOnly {
			payment = interest
		} else if payment.LessThan(interest) {
			return nil, ErrLevel
		}
		if all := balance.Add(interest); number == t.Payments || payment.GreaterThan(all) {
			payment = all
		}
		balance = balance.Add(interest).Sub(payment)
		rows = append(rows, Row{number, interest, payment.Sub(interest), payment, balance})
	}
	return rows, nil
}

// exactLevel is the level payment to the cent, half up, by whole numbers alone.
// With r = p/q it is A = P p (q+p)^n / (q ((q+p)^n - q^n)).
func exactLevel(t Terms) Cents {
	n := big.NewInt(int64(t.Payments - t.InterestOnly))
	amount := big.NewInt(int64(t.Amount))
	if t.YearlyRate.Numerator == 0 {
		return roundHalfUp(amount, n)
	}
	rate := new(big.Rat).SetFrac(
		big.NewInt(t.YearlyRate.Numerator),
		new(big.Int).Mul(big.NewInt(t.YearlyRate.Denominator), big.NewInt(int64(t.PerYear))))
	p, q := rate.Num(), rate.Denom()
	grown := new(big.Int).Exp(new(big.Int).Add(q, p), n, nil)
	above := new(big.Int).Mul(amount, p)
	above.Mul(above, grown)
	below := new(big.Int).Sub(grown, new(big.Int).Exp(q, n, nil))
	below.Mul(below, q)
	return roundHalfUp(above, below)
}

// roundHalfUp is a/b to the nearest whole, half up, for a >= 0 and b > 0:
// the floor of (2a + b) / 2b.
func roundHalfUp(a, b *big.Int) Cents {
	twice := new(big.Int).Lsh(a, 1)
	twice.Add(twice, b)
	return Cents(twice.Quo(twice, new(big.Int).Lsh(b, 1)).Int64())
}
