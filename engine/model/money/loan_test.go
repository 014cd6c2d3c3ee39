package money

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"wintertruss/engine/week"
)

// money reads an amount.
func money(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// same fails unless got is the amount written in want, exactly.
func same(t *testing.T, what string, got decimal.Decimal, want string) {
	t.Helper()
	if !got.Equal(money(want)) {
		t.Errorf("%s = %s, want %s", what, got, want)
	}
}

// row is a row of a published table: interest, principal and the balance after.
type row struct {
	number                       int
	interest, principal, balance string
}

// TestPublishedLoans holds schedules to the cent (no tolerance). Where a book
// prints level payments to the end, the last payment and the total are worked
// out from its rows by the rule of Terms.Schedule.
func TestPublishedLoans(t *testing.T) {
	cases := []struct {
		name                   string
		source                 string
		terms                  Terms
		level, final, interest string
		rows                   []row
	}{
		{
			name:   "32,000 at 6 % over 36 months",
			source: "OpenStax, Principles of Finance, 2e, amortised loans, module m00054: payment and first rows",
			// The book prints 825.77 as principal of month 4 and 35,046.00 as sum of all
			// payments; neither follows from its own rows (825.76; 35,046.10).
			terms: Terms{Amount: 3200000, YearlyRate: Rate{6, 100}, Payments: 36, PerYear: 12},
			level: "973.50", final: "973.60", interest: "3046.10",
			rows: []row{
				{1, "160.00", "813.50", "31186.50"},
				{2, "155.93", "817.57", "30368.93"},
				{4, "147.74", "825.76", "28721.51"},
			},
		},
		{
			name:   "140,000 at 3.6 % over 240 months",
			source: "OpenStax, Principles of Finance, 2e, module m00054: payment, first and ninth row",
			terms:  Terms{Amount: 14000000, YearlyRate: Rate{36, 1000}, Payments: 240, PerYear: 12},
			level:  "819.16", final: "817.90", interest: "56597.14",
			rows: []row{{1, "420.00", "399.16", "139600.84"}, {9, "410.32", "408.84", "136364.15"}},
		},
		{
			name:   "10,000 at 10 % over 5 years",
			source: "OpenStax, Principles of Accounting, module m67913",
			terms:  Terms{Amount: 1000000, YearlyRate: Rate{10, 100}, Payments: 5, PerYear: 1},
			level:  "2637.97", final: "2638.00", interest: "3189.88",
			rows: []row{{1, "1000.00", "1637.97", "8362.03"}},
		},
		{
			name:   "10,000 at 12 % over 5 years, payment from a three-digit factor",
			source: "OpenStax, Principles of Accounting, module m67914: last payment 2,774.99",
			terms:  Terms{Amount: 1000000, YearlyRate: Rate{12, 100}, Payments: 5, PerYear: 1, Level: 277393},
			level:  "2773.93", final: "2774.99", interest: "3870.71",
		},
		{
			name:   "the same with the exact payment",
			source: "closed form",
			terms:  Terms{Amount: 1000000, YearlyRate: Rate{12, 100}, Payments: 5, PerYear: 1},
			level:  "2774.10", final: "2774.08", interest: "3870.48",
		},
		{
			name:   "100,000 at 5 % over 5 years",
			source: "OpenStax, Principles of Accounting, module m67914",
			terms:  Terms{Amount: 10000000, YearlyRate: Rate{5, 100}, Payments: 5, PerYear: 1},
			level:  "23097.48", final: "23097.49", interest: "15487.41",
			rows: []row{{1, "5000.00", "18097.48", "81902.52"}, {2, "4095.13", "19002.35", "62900.17"}},
		},
		{
			name:   "20,000 over 48 months at 6 %",
			source: "OpenStax, Principles of Accounting, module m67913: payment 469.70; it prints 469.74 as the last, the cents give 469.76",
			terms:  Terms{Amount: 2000000, YearlyRate: Rate{6, 100}, Payments: 48, PerYear: 12},
			level:  "469.70", final: "469.76", interest: "2545.66",
		},
		{
			name:   "2,500 at 8.24 % over 12 months",
			source: "numpy-financial, docstring of its interest payments: first row 17.17, 200.58, 2,299.42",
			terms:  Terms{Amount: 250000, YearlyRate: Rate{824, 10000}, Payments: 12, PerYear: 12},
			level:  "217.75", final: "217.72", interest: "112.97",
			rows: []row{{1, "17.17", "200.58", "2299.42"}},
		},
		{
			name:   "200,000 at 7.5 % over 180 months",
			source: "numpy-financial, docstring of its payments: 1,854.0247",
			terms:  Terms{Amount: 20000000, YearlyRate: Rate{75, 1000}, Payments: 180, PerYear: 12},
			level:  "1854.02", final: "1855.50",
		},
		{
			name:   "15,000 at 8 % over 60 months",
			source: "numpy-financial, tests: 304.145914",
			terms:  Terms{Amount: 1500000, YearlyRate: Rate{8, 100}, Payments: 60, PerYear: 12},
			level:  "304.15", final: "303.84",
		},
		{
			name:   "15,000 at no interest over 60 months",
			source: "numpy-financial, tests: 250.00",
			terms:  Terms{Amount: 1500000, YearlyRate: Rate{0, 1}, Payments: 60, PerYear: 12},
			level:  "250.00", final: "250.00", interest: "0.00",
		},
		{
			name:   "30,000 at 7.2 %, 6 months of interest only, then 30 level",
			source: "worked out by hand from the two formulas",
			terms:  Terms{Amount: 3000000, YearlyRate: Rate{72, 1000}, Payments: 36, PerYear: 12, InterestOnly: 6},
			level:  "1095.69", final: "1095.63", interest: "3950.64", // 6 x 180.00 and 2,870.64
			rows: []row{{1, "180.00", "0.00", "30000.00"}, {6, "180.00", "0.00", "30000.00"}, {7, "180.00", "915.69", "29084.31"}},
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			rows, err := c.terms.Schedule()
			if err != nil {
				t.Fatal(err)
			}
			if len(rows) != c.terms.Payments {
				t.Fatalf("%d payments, want %d", len(rows), c.terms.Payments)
			}
			last := rows[len(rows)-1]
			same(t, "level payment", rows[c.terms.InterestOnly].Payment, c.level)
			same(t, "last payment", last.Payment, c.final)
			same(t, "last balance", last.Balance, "0")
			if c.interest != "" {
				total := decimal.Zero
				for _, r := range rows {
					total = total.Add(r.Interest)
				}
				same(t, "interest in all", total, c.interest)
			}
			for _, want := range c.rows {
				got := rows[want.number-1]
				same(t, "interest", got.Interest, want.interest)
				same(t, "principal", got.Principal, want.principal)
				same(t, "balance", got.Balance, want.balance)
			}
		})
	}
}

// TestLevelPaymentKept is the same 240 months with level payments to the end:
// 1.26 too much is paid, since interest is rounded (the book's table, with
// unrounded interest, ends at 1.38).
func TestLevelPaymentKept(t *testing.T) {
	rows, err := Terms{Amount: 14000000, YearlyRate: Rate{36, 1000}, Payments: 240, PerYear: 12}.Schedule()
	if err != nil {
		t.Fatal(err)
	}
	same(t, "too much", rows[0].Payment.Sub(rows[239].Payment), "1.26")
}

// anyTerms draws loans of all kinds, with rates of up to 12 digits.
func anyTerms(t *rapid.T) Terms {
	payments := rapid.IntRange(1, 400).Draw(t, "payments")
	terms := Terms{
		Amount:       Cents(rapid.Int64Range(0, 2_000_000_00).Draw(t, "amount")),
		YearlyRate:   Rate{rapid.Int64Range(0, 400_000_000_000).Draw(t, "rate"), 1_000_000_000_000},
		Payments:     payments,
		PerYear:      rapid.SampledFrom([]int{1, 2, 4, 12}).Draw(t, "per year"),
		InterestOnly: rapid.IntRange(0, payments-1).Draw(t, "interest only"),
	}
	if rapid.Bool().Draw(t, "level named") {
		terms.Level = terms.Amount/Cents(payments) + Cents(rapid.Int64Range(0, 100_000).Draw(t, "level"))
	}
	return terms
}

// TestCentsAgreeWithDecimals: the integers that draws use and the decimals of
// the table are the same cents, for any loan.
func TestCentsAgreeWithDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := anyTerms(t)
		rows, err := terms.Schedule()
		payoff, fastErr := terms.Start()
		if (err == nil) != (fastErr == nil) {
			t.Fatalf("decimals say %v, cents say %v", err, fastErr)
		}
		for _, r := range rows {
			interest, principal, more := payoff.Next()
			if !more || !interest.Decimal().Equal(r.Interest) || !principal.Decimal().Equal(r.Principal) || !payoff.Balance().Decimal().Equal(r.Balance) {
				t.Fatalf("payment %d: cents %d + %d leave %d, decimals %s + %s leave %s",
					r.Number, interest, principal, payoff.Balance(), r.Interest, r.Principal, r.Balance)
			}
		}
		if _, _, more := payoff.Next(); err == nil && more {
			t.Fatal("cents pay on after the last decimal row")
		}
	})
}

// TestLoanLaws: principal adds up to the amount, the balance never rises and
// ends at nothing, no payment but the last differs from the level one.
func TestLoanLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		terms := anyTerms(t)
		rows, err := terms.Schedule()
		if err != nil {
			t.Skip(err)
		}
		balance, principal := terms.Amount.Decimal(), decimal.Zero
		for i, r := range rows {
			principal = principal.Add(r.Principal)
			if r.Principal.IsNegative() || !r.Balance.Equal(balance.Sub(r.Principal)) {
				t.Fatalf("payment %d: principal %s takes %s to %s", r.Number, r.Principal, balance, r.Balance)
			}
			if !r.Payment.Equal(r.Interest.Add(r.Principal)) {
				t.Fatalf("payment %d does not add up", r.Number)
			}
			if i > terms.InterestOnly && i < len(rows)-1 && !r.Payment.Equal(rows[i-1].Payment) {
				t.Fatalf("payment %d is %s after %s", r.Number, r.Payment, rows[i-1].Payment)
			}
			balance = r.Balance
		}
		if !balance.IsZero() || !principal.Equal(terms.Amount.Decimal()) {
			t.Fatalf("%s left, %s of %s paid", balance, principal, terms.Amount.Decimal())
		}
	})
}

// TestHalfACent makes level payments that lie exactly on half a cent, where
// floating point cannot decide: one payment a year over one year at r is
// P (1 + r), so 10.00 at 0.05 % is 10.005 and rounds up.
func TestHalfACent(t *testing.T) {
	for _, c := range []struct {
		amount Cents
		rate   Rate
		want   Cents
	}{
		{1000, Rate{5, 10000}, 1001},
		{3000, Rate{15, 10000}, 3005}, // 30.045
		{9000, Rate{15, 10000}, 9014}, // 90.135
		{1000, Rate{499999999, 1000000000000}, 1000},
	} {
		terms := Terms{Amount: c.amount, YearlyRate: c.rate, Payments: 1, PerYear: 1}
		if got := terms.level(); got != c.want || exactLevel(terms) != c.want {
			t.Errorf("%d at %v: %d and %d, want %d", c.amount, c.rate, got, exactLevel(terms), c.want)
		}
	}
}

func TestLoanEdges(t *testing.T) {
	good := Terms{Amount: 100000, YearlyRate: Rate{5, 100}, Payments: 12, PerYear: 12}
	change := func(f func(*Terms)) Terms { c := good; f(&c); return c }
	for _, c := range []struct {
		terms Terms
		want  error
	}{
		{change(func(t *Terms) { t.Amount = -1 }), ErrAmount},
		{change(func(t *Terms) { t.Amount = 2e15 }), ErrAmount},
		{change(func(t *Terms) { t.Level = -1 }), ErrAmount},
		{change(func(t *Terms) { t.YearlyRate = Rate{-1, 100} }), ErrRate},
		{change(func(t *Terms) { t.YearlyRate = Rate{1, 0} }), ErrRate},
		{change(func(t *Terms) { t.YearlyRate = Rate{12, 1} }), ErrRate},
		{change(func(t *Terms) { t.Payments = 0 }), ErrPayments},
		{change(func(t *Terms) { t.Payments = 1201 }), ErrPayments},
		{change(func(t *Terms) { t.PerYear = 3 }), ErrPerYear},
		{change(func(t *Terms) { t.InterestOnly = 12 }), ErrInterestOnly},
		{change(func(t *Terms) { t.Level = 100 }), ErrLevel}, // first interest is 4.17
	} {
		if _, err := c.terms.Schedule(); err != c.want {
			t.Errorf("%+v: %v, want %v", c.terms, err, c.want)
		}
		if _, err := c.terms.Start(); err != c.want {
			t.Errorf("%+v (cents): %v, want %v", c.terms, err, c.want)
		}
	}
	if rows, err := change(func(t *Terms) { t.Amount = 0 }).Schedule(); err != nil || len(rows) != 0 {
		t.Errorf("a loan of nothing: %v, %v", rows, err)
	}
	// 0.31 in 60 parts is a cent each, so 31 payments do.
	if rows, err := (Terms{Amount: 31, YearlyRate: Rate{0, 1}, Payments: 60, PerYear: 12}).Schedule(); err != nil || len(rows) != 31 {
		t.Errorf("31 cents: %d rows, %v", len(rows), err)
	}
	// The largest of everything stays within the machine's words.
	largest := Terms{Amount: maxAmount, YearlyRate: Rate{1e18, 1e17}, Payments: 1, PerYear: 1}
	p, err := largest.Start()
	if err != nil {
		t.Fatal(err)
	}
	if interest, principal, _ := p.Next(); interest != 10*maxAmount || principal != maxAmount {
		t.Errorf("largest loan: interest %d, principal %d", interest, principal)
	}
}

func TestRateAndCents(t *testing.T) {
	if r := RateOf(money("0.036")); float64(r.Numerator)/float64(r.Denominator) != 0.036 {
		t.Errorf("rate %v", r)
	}
	for in, want := range map[string]Cents{"0.005": 1, "0.00499": 0, "12.345": 1235, "-3.10": -310, "7": 700} {
		if got := CentsOf(money(in)); got != want {
			t.Errorf("%s is %d cents, want %d", in, got, want)
		}
	}
}

// TestDue: month ends by ISO 8601's calendar; 2028 is a leap year.
func TestDue(t *testing.T) {
	for _, c := range []struct {
		first  string
		months int
		want   string
	}{
		{"2027-01-31", 0, "2027-01-31"},
		{"2027-01-31", 1, "2027-02-28"},
		{"2027-01-31", 2, "2027-03-31"},
		{"2027-01-31", 3, "2027-04-30"},
		{"2027-01-31", 13, "2028-02-29"},
		{"2026-11-15", 2, "2027-01-15"},
		{"2028-02-29", 12, "2029-02-28"},
		{"1969-12-30", 2, "1970-02-28"},
	} {
		first, err := week.ParseDay(c.first)
		if err != nil {
			t.Fatal(err)
		}
		if got := DueFrom(first).After(c.months).String(); got != c.want {
			t.Errorf("%s and %d months is %s, want %s", c.first, c.months, got, c.want)
		}
	}
}

// TestPayoffDoesNotAllocate: draws pay off thousands of loans.
func TestPayoffDoesNotAllocate(t *testing.T) {
	terms := Terms{Amount: 3200000, YearlyRate: Rate{6, 100}, Payments: 36, PerYear: 12}
	var owed Cents
	if n := testing.AllocsPerRun(100, func() {
		p, _ := terms.Start()
		for {
			if _, _, more := p.Next(); !more {
				break
			}
		}
		owed += p.Balance()
	}); n != 0 || owed != 0 {
		t.Errorf("%v allocations, %d owed", n, owed)
	}
}

// BenchmarkLoan holds the integers beside the decimals: 30 years of months.
func BenchmarkLoan(b *testing.B) {
	terms := Terms{Amount: 14000000, YearlyRate: Rate{36, 1000}, Payments: 360, PerYear: 12}
	b.Run("cents", func(b *testing.B) {
		for range b.N {
			p, _ := terms.Start()
			for {
				if _, _, more := p.Next(); !more {
					break
				}
			}
		}
	})
	b.Run("decimals", func(b *testing.B) {
		for range b.N {
			if _, err := terms.Schedule(); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// near fails unless got is within tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v within %v", what, got, want, tolerance)
	}
}
