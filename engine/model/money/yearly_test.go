package money

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"wintertruss/engine/week"
)

// TestCapitalRecovery: published examples worked with rounded factors.
func TestCapitalRecovery(t *testing.T) {
	for _, c := range []struct {
		price, salvage, life, rate, want, tolerance float64
	}{
		// Course example, sciemce.com qZBnCelr8xeP: 12,371 with four-digit factors.
		{50000, 5000, 5, 0.10, 12370.89, 0.01},
		// Course example, transtutors 5001602: 12,517.60 with a rounded factor; the
		// factor (0.10 1.1^15 / (1.1^15 - 1)) unrounded gives 12,517.90. Another
		// answer in circulation, 12,560.80, is wrong.
		{100000, 20000, 15, 0.10, 12517.90, 0.01},
		// Worked out by hand: 36,000 x 0.102963 + 4,000 x 0.06.
		{40000, 4000, 15, 0.06, 3946.66, 0.01},
		// At no interest it is straight-line depreciation.
		{10000, 1000, 5, 0, 1800, 0},
	} {
		got, err := CapitalRecovery(c.price, c.salvage, c.life, c.rate)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "capital recovery", got, c.want, c.tolerance)
	}
}

// TestCapitalRecoveryRepays: the charges, and the salvage at the end, are worth
// the price at that rate; so both forms of the equation are one.
func TestCapitalRecoveryRepays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		price := rapid.Float64Range(0, 1e6).Draw(t, "price")
		salvage := rapid.Float64Range(-1e4, 1e6).Draw(t, "salvage")
		life := rapid.IntRange(1, 40).Draw(t, "life")
		rate := rapid.Float64Range(0, 1).Draw(t, "rate")
		charge, err := CapitalRecovery(price, salvage, float64(life), rate)
		if err != nil {
			t.Fatal(err)
		}
		flows := make([]float64, life+1)
		for i := 1; i <= life; i++ {
			flows[i] = charge
		}
		flows[life] += salvage
		if got := PresentValue(flows, rate); math.Abs(got-price) > 1e-7*(price+math.Abs(salvage)+1) {
			t.Fatalf("charges of %v are worth %v, price %v", charge, got, price)
		}
	})
}

// TestDepreciation: OpenStax, Principles of Accounting, module m67897 (cost
// 58,000, salvage 10,000, five years; 10,000 less 1,000).
func TestDepreciation(t *testing.T) {
	got, err := StraightLine(58000, 10000, 5)
	if err != nil || got != 9600 {
		t.Errorf("straight line %v, %v", got, err)
	}
	for _, c := range []struct {
		price, salvage float64
		want           []float64
	}{
		{58000, 10000, []float64{23200, 13920, 8352, 2528, 0}},
		{10000, 1000, []float64{4000, 2400, 1440, 864, 296}}, // the book prints the first two
	} {
		years, err := DecliningBalance(c.price, c.salvage, 5, 2)
		if err != nil {
			t.Fatal(err)
		}
		for i := range c.want {
			near(t, "double declining balance", years[i], c.want[i], 0.005)
		}
	}
	if years, _ := DecliningBalance(1000, 2000, 2, 2); years[0] != 0 {
		t.Errorf("worth more at the end than at the start: depreciation %v", years)
	}
}

// TestBreakEven: OpenStax, Principles of Accounting, modules m68116 and m68119;
// Department of Primary Industries, Western Australia, break-even yields.
func TestBreakEven(t *testing.T) {
	yield := func(fixed, price, unsold, selling, picking float64) float64 {
		t.Helper()
		y, err := BreakEvenYield(fixed, price, unsold, selling, picking)
		if err != nil {
			t.Fatal(err)
		}
		return y
	}
	near(t, "18,000 at 100 less 20", yield(18000, 100, 0, 0, 20), 225, 1e-12)
	near(t, "with 16,000 wanted", yield(18000+16000, 100, 0, 0, 20), 425, 1e-12)
	near(t, "with 24,000 after 40 % tax", yield(18000+24000/(1-0.40), 100, 0, 0, 20), 725, 1e-12)
	near(t, "its sales", 100*yield(18000+24000/(1-0.40), 100, 0, 0, 20), 72500, 1e-9)
	near(t, "14,000 at 400 less 150", yield(14000, 400, 0, 0, 150), 56, 1e-12)
	if got := math.Ceil(yield(145000, 73, 0, 0, 42.25)); got != 4716 { // 4,715.45
		t.Errorf("composite units %v", got)
	}
	near(t, "wheat, 250/ha at 350/t", yield(250, 350, 0, 0, 0), 0.7143, 5e-5)

	// Worked out by hand: 3,000 kg, 8 % unsold, price 4.00, 0.90 a kg picked, fixed 6,200.
	sold, cost := 3000*(1-0.08), 3000*0.90+6200
	near(t, "gross margin", sold*4.00-3000*0.90, 8340, 1e-9)
	near(t, "net return", sold*4.00-cost, 2140, 1e-9)
	price, err := BreakEvenPrice(cost, sold)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "break-even price", price, 3.2246, 1e-4)
	harvest := yield(6200, 4.00, 0.08, 0, 0.90)
	near(t, "break-even yield", harvest, 2230.22, 0.01)
	near(t, "what that harvest leaves", harvest*(0.92*4.00-0.90)-6200, 0, 1e-9)
	near(t, "a selling cost of 0.50 is a price lower by it", yield(6200, 4.50, 0.08, 0.50, 0.90), harvest, 1e-9)
}

// TestCover: capacity by the formula of the Farm Financial Standards Council;
// the amounts are worked out by hand.
func TestCover(t *testing.T) {
	capacity := Income{NetFarm: 28000, Depreciation: 6000, OffFarm: 12000, TermInterest: 2400, Living: 30000, Tax: 3500}.Capacity()
	near(t, "capacity", capacity, 14900, 0)
	cover, err := TermDebtCover(capacity, 2400+8200)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cover", cover, 1.4057, 1e-4)
	near(t, "margin", RepaymentMargin(capacity, 2400+8200), 4300, 0)
}

// TestRefusals runs each message of the yearly figures.
func TestRefusals(t *testing.T) {
	refuses := func(what string, err, want error) {
		t.Helper()
		if err != want {
			t.Errorf("%s: %v, want %v", what, err, want)
		}
	}
	_, err := CapitalRecovery(1, 0, 0, 0.1)
	refuses("no life", err, ErrLife)
	_, err = CapitalRecovery(1, 0, math.NaN(), 0.1)
	refuses("unknown life", err, ErrLife)
	_, err = CapitalRecovery(1, 0, 5, -0.1)
	refuses("rate below zero", err, ErrRate)
	_, err = StraightLine(1, 0, 0)
	refuses("straight line", err, ErrLife)
	_, err = DecliningBalance(1, 0, 0, 2)
	refuses("declining balance", err, ErrLife)
	_, err = BreakEvenPrice(1, 0)
	refuses("nothing sold", err, ErrNoSales)
	_, err = BreakEvenYield(1, 2, 0, 0, 2)
	refuses("no margin", err, ErrMargin)
	_, err = BreakEvenYield(1, 2, 1, 0, 0)
	refuses("all unsold", err, ErrUnsold)
	_, err = TermDebtCover(1, 0)
	refuses("no debt", err, ErrDebtDue)
	_, err = ModifiedRate([]float64{1, 2}, 0.1, 0.1)
	refuses("nothing paid out", err, ErrFlows)
}

// lineMoves is a season's line: Mondays from 2026-11-02.
func lineMoves(t *testing.T) ([]Move, week.Day) {
	monday, err := week.ParseDay("2026-11-02")
	if err != nil {
		t.Fatal(err)
	}
	var moves []Move
	for i, amount := range []int64{2000, 1500, 1200, 900, 600, 400, 0, -300, -800, -900, -1200, -1400, -1500} {
		moves = append(moves, Move{monday + week.Day(7*i), decimal.NewFromInt(amount)})
	}
	return moves, monday + 7*13
}

// TestOperatingLine: 9 %, actual/365, worked out by hand: 57,500 a week owed in
// all, x 7 x 0.09 / 365 = 99.246575.
func TestOperatingLine(t *testing.T) {
	moves, payOff := lineMoves(t)
	end, err := OperatingLine(moves, Rate{9, 100}, payOff)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "peak", end.Peak, "6600")
	same(t, "left", end.Left, "500")
	same(t, "interest", end.Interest, "99.25")
	same(t, "pay-off", end.PayOff, "599.25")

	if end, err := OperatingLine(nil, Rate{9, 100}, payOff); err != nil || !end.PayOff.IsZero() {
		t.Errorf("a line never drawn: %+v, %v", end, err)
	}
	if _, err := OperatingLine(moves, Rate{9, 100}, payOff-8); err != ErrMoveOrder {
		t.Errorf("paid off before the last move: %v", err)
	}
	moves[1], moves[2] = moves[2], moves[1]
	if _, err := OperatingLine(moves, Rate{9, 100}, payOff); err != ErrMoveOrder {
		t.Errorf("out of order: %v", err)
	}
	if _, err := OperatingLine([]Move{{payOff - 7, money("-0.01")}}, Rate{9, 100}, payOff); err != ErrMoveSize {
		t.Errorf("repaid what was not owed: %v", err)
	}
	if _, err := OperatingLine(nil, Rate{-9, 100}, payOff); err != ErrRate {
		t.Errorf("rate below zero: %v", err)
	}
}
