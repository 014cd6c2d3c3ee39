package library

import (
	"math"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/money"
	"wintertruss/engine/week"
)

const moneyFamily = "money"

// loanCaution stands on every loan card.
const loanCaution = "This is for planning and no advice: the lender's own schedule and contract rule, and a loan puts what secures it at risk."

// loanFunctions gives what a loan does to the weeks of a season: one kernel,
// five outputs.
func loanFunctions() []formula.Function {
	params := []formula.Param{
		{Name: "amount", Says: "what is lent; taken to the cent", Unit: "money"},
		{Name: "yearly_rate", Says: "interest a year, not compounded: a month bears a twelfth of it", Unit: "1/year"},
		{Name: "years", Says: "from the first period to the last payment, a whole number of payments", Unit: "year"},
		{Name: "drawn", Says: "the day the money arrives", Takes: formula.Dates},
		{Name: "first_payment", Says: "the day the first payment falls due; the others follow on that day of the month, or on its last", Takes: formula.Dates},
		{Name: "interest_only", Says: "how many of the payments, from the first, are interest alone; none when left out", Unit: "1", Optional: true},
		{Name: "payments_a_year", Says: "12, 4, 2 or 1; 12 when left out", Unit: "1", Optional: true, Default: 12},
		{Name: "level_payment", Says: "the level payment the lender names; reckoned when left out or 0", Unit: "money", Optional: true},
	}
	overWeeks := formula.Result{Unit: "money", Whole: []string{"week"}}
	kernel := &formula.Kernel{
		Name:    "loan",
		Results: []formula.Result{overWeeks, overWeeks, overWeeks, overWeeks, overWeeks},
		Run:     runLoan,
	}
	const (
		valid = "Amounts to 10 million million, rates of 0 % to 1,000 %/year, up to 1,200 payments; others, and a level payment below the interest, are refused. " +
			"Each period's interest is rounded to the cent, half up; the last payment is what is owed and its interest, so the loan ends at 0.00. " +
			"The first period bears a whole period's interest, however many days lie before it. Payments outside the season are reckoned but shown in no week. " + loanCaution
		source = "OpenStax, Principles of Finance, 2nd edition, amortised loans (module m00054); OpenStax, Principles of Accounting, long-term liabilities (module m67914)"
		gives  = "money, over week"
	)
	example := func(function, reads string, want float64) formula.Example {
		return formula.Example{Lines: []string{
			"amount : 32000 USD",
			"yearly_rate : 6 %/year",
			"years : 3 year",
			"drawn : 2026-09-01",
			"first_payment : 2026-10-01", // a Thursday, in 2026-W40; the second falls in 2026-W44
			"weekly = " + function + "(amount, yearly_rate, years, drawn, first_payment) -> USD",
			"seen = " + reads + " -> USD",
		}, Ask: "seen", Want: []float64{want}}
	}
	card := func(says, after string, e formula.Example) formula.Card {
		return formula.Card{Family: moneyFamily, Says: says, Gives: gives + after, Valid: valid, Source: source, Example: e, Table: &formula.Table{
			Title: "32,000 at 6 % over 36 months, level payments of 973.50", Heads: []string{"month", "interest, USD", "principal, USD", "owed after, USD"},
			Rows:   [][]float64{{1, 160.00, 813.50, 31186.50}, {2, 155.93, 817.57, 30368.93}, {4, 147.74, 825.76, 28721.51}},
			Source: "OpenStax, Principles of Finance, 2nd edition, module m00054; in month 4 the book prints 825.77 as principal, which its own rows do not give",
		}}
	}
	return []formula.Function{{
		Name: "loan_payments",
		Card: card("What is paid on a level loan each week, interest and principal together, in the week its due date falls in.", "",
			example("loan_payments", `at(weekly, "2026-W40")`, 973.50)),
		Params: params, Kernel: kernel, Output: 0,
	}, {
		Name: "loan_interest",
		Card: card("The interest in the payments of a level loan.", "",
			example("loan_interest", `at(weekly, "2026-W44")`, 155.93)),
		Params: params, Kernel: kernel, Output: 1,
	}, {
		Name: "loan_principal",
		Card: card("The principal in the payments of a level loan: what takes the debt down.", "",
			example("loan_principal", `at(weekly, "2026-W44")`, 817.57)),
		Params: params, Kernel: kernel, Output: 2,
	}, {
		Name: "loan_owed",
		Card: card("What is owed on a level loan at the end of each week, without interest since the last payment: nothing before the money arrives.", "; a line of it is a level: write -> USD level",
			example("loan_owed", `at(weekly, "2026-W44")`, 30368.93)),
		Params: params, Kernel: kernel, Output: 3,
	}, {
		Name: "loan_drawn",
		Card: card("What a loan brings in: its amount, in the week the money arrives.", "",
			example("loan_drawn", "total(weekly)", 32000)),
		Params: params, Kernel: kernel, Output: 4,
	}}
}

// What a loan's arguments are refused for beside what the model refuses.
const (
	loanBeforeDrawn = "the first payment falls due before the money arrives"
	loanPartPayment = "the years do not hold a whole number of payments"
)

// runLoan fills payments, interest, principal, owed and drawn, in this order.
func runLoan(c *formula.Call) {
	amount, rate, years, drawnDay, firstDay := c.In[0][0], c.In[1][0], c.In[2][0], c.In[3][0], c.In[4][0]
	interestOnly, perYear, level := c.In[5][0], c.In[6][0], c.In[7][0]
	if passOn(c, amount, rate, years, drawnDay, firstDay, interestOnly, perYear, level) {
		return
	}
	payments := math.Round(years * perYear)
	if math.Abs(years*perYear-payments) > 1e-6 {
		c.Refuse(loanPartPayment)
		return
	}
	share := figuresOf(rate)
	payoff, err := money.Terms{
		Amount:       money.Cents(figuresOf(amount).cents()),
		YearlyRate:   money.Rate{Numerator: share.digits, Denominator: power10[share.places]},
		Payments:     wholeCount(payments),
		PerYear:      wholeCount(perYear),
		InterestOnly: wholeCount(interestOnly),
		Level:        money.Cents(figuresOf(level).cents()),
	}.Start()
	if err != nil {
		c.Refuse(err.Error())
		return
	}
	drawn, first := week.Day(drawnDay), week.Day(firstDay)
	if first < drawn {
		c.Refuse(loanBeforeDrawn)
		return
	}

	months := 12 / wholeCount(perYear)
	calendar, made := money.DueFrom(first), 0
	due := first
	for i := range c.Out[0] {
		monday := c.Season.At(i).Monday()
		end := monday + 7 // the first day after the week
		var interest, principal money.Cents
		for payoff.Balance() > 0 && due < end {
			of, down, _ := payoff.Next()
			if due >= monday { // else it fell due before the season
				interest += of
				principal += down
			}
			made++
			due = calendar.After(made * months)
		}
		var owed, arrives money.Cents
		if drawn < end {
			owed = payoff.Balance()
		}
		if monday <= drawn && drawn < end {
			arrives = money.Cents(figuresOf(amount).cents())
		}
		c.Out[0][i] = inMoney(interest + principal)
		c.Out[1][i] = inMoney(interest)
		c.Out[2][i] = inMoney(principal)
		c.Out[3][i] = inMoney(owed)
		c.Out[4][i] = inMoney(arrives)
	}
}

// inMoney is the binary number nearest to an amount of cents.
func inMoney(c money.Cents) float64 { return float64(c) / 100 }

// wholeCount is a small whole number, or -1, which no model takes, when x is
// not one.
func wholeCount(x float64) int {
	if x != math.Trunc(x) || x < 0 || x > 1e6 {
		return -1
	}
	return int(x)
}
