package library

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/money"
	"wintertruss/engine/week"
)

// loanSeason is the season of the cards' examples: 53 weeks from 2026-W33.
func loanSeason() week.Season {
	return week.Season{First: loanDay("2026-08-10").Week(), Last: loanDay("2027-08-09").Week()}
}

func loanDay(s string) week.Day {
	d, err := week.ParseDay(s)
	if err != nil {
		panic(err) // a mistake in the test
	}
	return d
}

// oneEach wraps each argument as the one number a kernel gets of it.
func oneEach(arguments ...float64) [][]float64 {
	in := make([][]float64, len(arguments))
	for i, x := range arguments {
		in[i] = []float64{x}
	}
	return in
}

// blankOutputs makes n outputs of so many blank cells.
func blankOutputs(n, cells int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, cells)
		for j := range out[i] {
			out[i][j] = array.Blank
		}
	}
	return out
}

// loanCall runs the loan's kernel over the winter.
func loanCall(arguments ...float64) *formula.Call {
	c := formula.NewCall(loanSeason(), week.Standing{}, oneEach(arguments...), nil, blankOutputs(5, loanSeason().Len()))
	loanFunctions()[0].Kernel.Run(c)
	return c
}

// TestLoanWeeks: OpenStax, Principles of Finance, 2e, module m00054: 32,000 at
// 6 % over 36 months, rows 1 and 2. The weeks are those of the due dates.
func TestLoanWeeks(t *testing.T) {
	c := loanCall(32000, 0.06, 3, float64(loanDay("2026-09-01")), float64(loanDay("2026-10-01")), 0, 12, 0)
	if why := c.Refused(); why != "" {
		t.Fatal(why)
	}
	for _, w := range []struct {
		week                                        string
		payment, interest, principal, owed, arrives float64
	}{
		{"2026-W35", 0, 0, 0, 0, 0},
		{"2026-W36", 0, 0, 0, 32000, 32000}, // 1 September is a Tuesday
		{"2026-W39", 0, 0, 0, 32000, 0},
		{"2026-W40", 973.50, 160.00, 813.50, 31186.50, 0}, // 1 October, Thursday
		{"2026-W44", 973.50, 155.93, 817.57, 30368.93, 0}, // 1 November, Sunday
		{"2026-W45", 0, 0, 0, 30368.93, 0},
	} {
		at, err := week.ParseWeek(w.week)
		if err != nil {
			t.Fatal(err)
		}
		i, _ := loanSeason().Index(at)
		for k, want := range []float64{w.payment, w.interest, w.principal, w.owed, w.arrives} {
			if got := c.Out[k][i]; got != want { // cents: no tolerance
				t.Errorf("%s, output %d: %v, want %v", w.week, k, got, want)
			}
		}
	}
}

// TestLoanWeeksAddUp: for any loan, what the weeks of the season hold is what
// the decimal schedule holds between its dates.
func TestLoanWeeksAddUp(t *testing.T) {
	season := loanSeason()
	begin, end := season.First.Monday(), season.Last.Monday()+7
	rapid.Check(t, func(t *rapid.T) {
		perYear := rapid.SampledFrom([]int{1, 2, 4, 12}).Draw(t, "a year")
		n := rapid.IntRange(1, 120).Draw(t, "payments")
		terms := money.Terms{
			Amount:       money.Cents(rapid.Int64Range(0, 1e9).Draw(t, "amount")),
			YearlyRate:   money.Rate{Numerator: rapid.Int64Range(0, 3000).Draw(t, "rate"), Denominator: 10000},
			Payments:     n,
			PerYear:      perYear,
			InterestOnly: rapid.IntRange(0, n-1).Draw(t, "interest only"),
		}
		drawn := begin + week.Day(rapid.IntRange(-2000, 500).Draw(t, "drawn"))
		first := drawn + week.Day(rapid.IntRange(0, 400).Draw(t, "first"))
		c := loanCall(float64(terms.Amount)/100, float64(terms.YearlyRate.Numerator)/10000, float64(n)/float64(perYear),
			float64(drawn), float64(first), float64(terms.InterestOnly), float64(perYear), 0)
		if why := c.Refused(); why != "" {
			t.Fatal(why)
		}
		rows, err := terms.Schedule()
		if err != nil {
			t.Fatal(err)
		}
		payments, interest, owed := 0.0, 0.0, terms.Amount.Decimal().InexactFloat64()
		for _, r := range rows {
			due := money.DueFrom(first).After((r.Number - 1) * 12 / perYear)
			if due >= begin && due < end {
				payments += r.Payment.InexactFloat64()
				interest += r.Interest.InexactFloat64()
			}
			if due < end {
				owed = r.Balance.InexactFloat64()
			}
		}
		if drawn >= end {
			owed = 0
		}
		gotPayments, gotInterest, gotPrincipal := 0.0, 0.0, 0.0
		for i := range season.Len() {
			gotPayments += c.Out[0][i]
			gotInterest += c.Out[1][i]
			gotPrincipal += c.Out[2][i]
		}
		if math.Abs(gotPayments-payments) > 1e-6 || math.Abs(gotInterest-interest) > 1e-6 || math.Abs(gotInterest+gotPrincipal-payments) > 1e-6 {
			t.Fatalf("weeks hold %v with %v interest, schedule %v with %v", gotPayments, gotInterest, payments, interest)
		}
		if got := c.Out[3][season.Len()-1]; got != owed {
			t.Fatalf("owed at the end %v, want %v", got, owed)
		}
	})
}

// TestLoanArguments: dust of unit conversion is no figure, blanks and faults
// pass through, and what is no loan is refused with the reason.
func TestLoanArguments(t *testing.T) {
	day := float64(loanDay("2026-09-01"))
	perCent, seven := 0.01, 7.2
	seven *= perCent // as a conversion from % makes it
	if seven == 0.072 {
		t.Fatal("no dust: choose another rate")
	}
	if a, b := loanCall(30000, seven, 3, day, day+30, 6, 12, 0), loanCall(30000, 0.072, 3, day, day+30, 6, 12, 0); a.Out[3][52] != b.Out[3][52] {
		t.Errorf("dust on the rate changes the debt: %v and %v", a.Out[3][52], b.Out[3][52])
	}
	// 1,095.69 after six months of 180.00: worked out by hand from the formulas.
	c := loanCall(30000, 0.072, 3, day, day, 6, 12, 0)
	paid := map[float64]int{}
	for _, p := range c.Out[0] {
		paid[p]++
	}
	if paid[180.00] != 6 || paid[1095.69] != 6 {
		t.Errorf("payments %v", paid)
	}
	if c := loanCall(10000, 0.12, 5, day, day, 0, 1, 2773.93); c.Out[0][3] != 2773.93 {
		t.Errorf("named payment %v", c.Out[0][3])
	}

	if c := loanCall(array.Blank, 0.06, 3, day, day, 0, 12, 0); !array.IsBlank(c.Out[3][0]) || c.Refused() != "" {
		t.Errorf("blank amount: %v %q", c.Out[3][0], c.Refused())
	}
	fault := array.Fault(array.DividedByZero, 7)
	if c := loanCall(100, fault, 3, day, day, 0, 12, 0); math.Float64bits(c.Out[0][9]) != math.Float64bits(fault) {
		t.Errorf("a fault does not pass: %v", c.Out[0][9])
	}
	for why, c := range map[string]*formula.Call{
		loanBeforeDrawn:               loanCall(100, 0.06, 3, day, day-1, 0, 12, 0),
		loanPartPayment:               loanCall(100, 0.06, 2.55, day, day, 0, 12, 0),
		money.ErrRate.Error():         loanCall(100, -0.06, 3, day, day, 0, 12, 0),
		money.ErrAmount.Error():       loanCall(-100, 0.06, 3, day, day, 0, 12, 0),
		money.ErrPerYear.Error():      loanCall(100, 0.06, 3, day, day, 0, 3, 0),
		money.ErrInterestOnly.Error(): loanCall(100, 0.06, 3, day, day, 0.5, 12, 0),
		money.ErrPayments.Error():     loanCall(100, 0.06, 0, day, day, 0, 12, 0),
		money.ErrLevel.Error():        loanCall(10000, 0.12, 3, day, day, 0, 12, 50),
	} {
		if c.Refused() != why {
			t.Errorf("refused with %q, want %q", c.Refused(), why)
		}
	}
	if c := loanCall(1e30, 0.06, 3, day, day, 0, 12, 0); c.Refused() != money.ErrAmount.Error() {
		t.Errorf("more than there is: %q", c.Refused())
	}
}

// loanArguments is a loan of 30 years that began in an earlier season.
func loanArguments() [][]float64 {
	return oneEach(140000, 0.036, 30, float64(loanDay("2016-09-01")), float64(loanDay("2016-10-31")), 0, 12, 0)
}

// TestLoanDoesNotAllocate: the kernel runs once a draw.
func TestLoanDoesNotAllocate(t *testing.T) {
	c := formula.NewCall(loanSeason(), week.Standing{}, loanArguments(), nil, blankOutputs(5, loanSeason().Len()))
	if n := testing.AllocsPerRun(20, func() { runLoan(c) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	if c.Refused() != "" || c.Out[0][12] == array.Blank {
		t.Error(c.Refused())
	}
}

func BenchmarkLoanKernel(b *testing.B) {
	c := formula.NewCall(loanSeason(), week.Standing{}, loanArguments(), nil, blankOutputs(5, loanSeason().Len()))
	for range b.N {
		runLoan(c)
	}
}
