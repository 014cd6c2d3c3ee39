package money

import (
	"math"
	"math/bits"
)

// Payoff pays a loan off, payment by payment, in whole cents and without
// allocating: what a thousand draws of a plan need. It gives the cents of
// Terms.Schedule; the tests compare the two.
//
// The essay: a decimal number of any length costs a hundred times a machine
// word, so draws walk in machine words. A balance times a rate's numerator can
// take 110 bits; the processor multiplies and divides in 128, exactly. Only the
// level payment needs a power; it is reckoned in floating point, whose error here
// is below 10^-14 of it, and where it falls so near half a cent that this error
// could decide the cent, the whole-number form of Terms.Schedule decides. That
// form allocates, about once in 100,000 loans. So the cents are the same on
// every machine.
type Payoff struct {
	balance      Cents
	level        Cents
	numerator    uint64 // of the period's rate
	denominator  uint64
	number       int // payments made
	payments     int
	interestOnly int
}

// Start begins to pay off the loan. Errors: as Terms.Schedule.
func (t Terms) Start() (Payoff, error) {
	if err := t.check(); err != nil {
		return Payoff{}, err
	}
	p := Payoff{
		balance:      t.Amount,
		level:        t.Level,
		numerator:    uint64(t.YearlyRate.Numerator),
		denominator:  uint64(t.YearlyRate.Denominator) * uint64(t.PerYear),
		payments:     t.Payments,
		interestOnly: t.InterestOnly,
	}
	if p.level == 0 {
		p.level = t.level()
	}
	// Interest falls with the balance: what covers the first covers all.
	if p.level < p.interest() {
		return Payoff{}, ErrLevel
	}
	return p, nil
}

// Balance is what is still owed.
func (p *Payoff) Balance() Cents { return p.balance }

// Next makes the next payment and gives its parts; more is false, and nothing
// was paid, when the loan is paid off.
func (p *Payoff) Next() (interest, principal Cents, more bool) {
	if p.balance == 0 {
		return 0, 0, false
	}
	p.number++
	interest = p.interest()
	switch {
	case p.number == p.payments:
		principal = p.balance
	case p.number > p.interestOnly:
		principal = min(p.level-interest, p.balance)
	}
	p.balance -= principal
	return interest, principal, true
}

// interest is the balance times the period's rate, to the cent, half up.
func (p *Payoff) interest() Cents {
	high, low := bits.Mul64(uint64(p.balance), p.numerator)
	whole, rest := bits.Div64(high, low, p.denominator)
	if rest >= p.denominator-rest {
		whole++
	}
	return Cents(whole)
}

// level is exactLevel, quickly where the cent is beyond doubt.
func (t Terms) level() Cents {
	n := float64(t.Payments - t.InterestOnly)
	rate := float64(t.YearlyRate.Numerator) / float64(t.YearlyRate.Denominator) / float64(t.PerYear)
	if rate > 0 {
		payment := float64(t.Amount) * rate / -math.Expm1(-n*math.Log1p(rate))
		doubt := 1e-12*payment + 1e-9 // a hundred times the error of the line above
		if fraction := payment - math.Floor(payment); math.Abs(fraction-0.5) > doubt {
			return Cents(math.Floor(payment + 0.5))
		}
	}
	return exactLevel(t)
}
