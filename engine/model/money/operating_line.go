package money

import (
	"github.com/shopspring/decimal"

	"wintertruss/engine/fact"
	"wintertruss/engine/week"
)

// lineYear is the year that a day's interest is a part of, leap year or not.
var lineYear = fact.New(fact.Fact{
	Name: "days of a year in interest by the day (actual/365 fixed)", Value: 365, Unit: "d", Low: 365, High: 365,
	Source: "ISDA, 2006, 2006 ISDA Definitions", Place: "section 4.16, Actual/365 (Fixed)", Known: fact.Memory,
})

// Move is money drawn on an operating line (above zero) or repaid (below zero).
type Move struct {
	Day    week.Day
	Amount decimal.Decimal // money, to the cent
}

// LineEnd is an operating line on the day it is paid off. All in money.
type LineEnd struct {
	Peak     decimal.Decimal // most owed at any time
	Left     decimal.Decimal // principal owed before it is paid off
	Interest decimal.Decimal // of the whole time, to the cent
	PayOff   decimal.Decimal // Left + Interest
}

// OperatingLine reckons a line of credit with simple interest by the day, paid
// when the line is paid off: the sum over days of what was owed, times the
// yearly rate, over 365 days, rounded half up once. Interest runs only on money
// drawn. A move counts from its day on; moves stand in order of date.
//
// Contracts differ in day count and in when interest is paid; a plan must state
// its own. Errors: moves out of order or after the pay-off; more repaid than
// owed; a rate outside its limits.
func OperatingLine(moves []Move, yearlyRate Rate, payOff week.Day) (LineEnd, error) {
	if err := yearlyRate.check(); err != nil {
		return LineEnd{}, err
	}
	var owed, peak, moneyDays decimal.Decimal
	for i, m := range moves {
		until := payOff
		if i+1 < len(moves) {
			until = moves[i+1].Day
		}
		if until < m.Day || payOff < until {
			return LineEnd{}, ErrMoveOrder
		}
		if owed = owed.Add(m.Amount); owed.IsNegative() {
			return LineEnd{}, ErrMoveSize
		}
		peak = decimal.Max(peak, owed)
		moneyDays = moneyDays.Add(owed.Mul(decimal.NewFromInt(int64(until - m.Day))))
	}
	year := decimal.NewFromFloat(lineYear.Value)
	interest := moneyDays.Mul(decimal.NewFromInt(yearlyRate.Numerator)).
		DivRound(year.Mul(decimal.NewFromInt(yearlyRate.Denominator)), 2)
	return LineEnd{Peak: peak, Left: owed, Interest: interest, PayOff: owed.Add(interest)}, nil
}
