package library

import (
	"math"
	"strconv"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/market"
	"wintertruss/engine/week"
)

// priceCall runs a function of priceFunctions by its name.
func priceCall(t *testing.T, name string, arguments ...float64) *formula.Call {
	t.Helper()
	for _, f := range priceFunctions() {
		if f.Name == name {
			c := formula.NewCall(loanSeason(), week.Standing{}, oneEach(arguments...), nil, blankOutputs(1, 1))
			f.Kernel.Run(c)
			return c
		}
	}
	t.Fatalf("no function %s", name)
	return nil
}

// TestPrintedPrices: typed prices come out as typed, also when a conversion has
// left dust on them; half a step goes up.
func TestPrintedPrices(t *testing.T) {
	pound := 0.45359237
	for _, c := range []struct {
		name              string
		price, step, want float64
	}{
		{"to_step", 3.61, 0.25, 3.50},
		{"up_to_step", 3.61, 0.25, 3.75},
		{"up_to_step", 3.75, 0.25, 3.75},
		{"to_step", 5.50, 0.05, 5.50},
		{"to_step", 1.07, 0.05, 1.05}, // Government of Canada, 2012, rounding of cash totals
		{"to_step", 1.08, 0.05, 1.10},
		{"to_step", 3.625, 0.25, 3.75},
		{"to_step", 3.625 / pound * pound, 0.25, 3.75},
		{"up_to_step", math.Nextafter(3.75, 4), 0.25, 3.75},
		{"up_to_step", 0.1 + 0.2, 0.1, 0.3}, // in binary 0.30000000000000004
		{"to_step", 1234567, 1000, 1235000},
		{"to_step", 0, 0.25, 0},
		{"to_step", 1e14, 3e-15, 1e14}, // too long for whole numbers: decimals
	} {
		got := priceCall(t, c.name, c.price, c.step)
		if got.Refused() != "" || got.Out[0][0] != c.want {
			t.Errorf("%s(%v, %v) = %v %q, want %v", c.name, c.price, c.step, got.Out[0][0], got.Refused(), c.want)
		}
	}
	if c := priceCall(t, "to_step", 1, 0); c.Refused() != market.ErrStep.Error() {
		t.Errorf("no step: %q", c.Refused())
	}
	if c := priceCall(t, "to_step", -1, 0.25); c.Refused() != market.ErrPrice.Error() {
		t.Errorf("below zero: %q", c.Refused())
	}
	if c := priceCall(t, "to_step", array.Blank, 0.25); !array.IsBlank(c.Out[0][0]) {
		t.Errorf("blank: %v", c.Out[0][0])
	}
}

// TestFloorPrice: worked out by hand from the equation.
func TestFloorPrice(t *testing.T) {
	for grown, want := range map[float64]float64{0: 0.511101, 2.10: 2.939408} {
		if got := priceCall(t, "floor_price", 0.35, grown, 0.08, 0.10, 0.06).Out[0][0]; math.Abs(got-want) > 1e-6 {
			t.Errorf("floor with %v grown: %v, want %v", grown, got, want)
		}
	}
	if c := priceCall(t, "floor_price", 0.35, 0, 1, 0.10, 0.06); c.Refused() != market.ErrUnsold.Error() {
		t.Errorf("nothing sold: %q", c.Refused())
	}
}

// TestStepsLikeDecimals: the whole numbers that draws use give what decimals of
// the shortest text give, for prices and steps as people write them.
func TestStepsLikeDecimals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		write := func(what string, places int, digits int64) float64 {
			x, err := strconv.ParseFloat(decimal.New(digits, int32(-places)).String(), 64)
			if err != nil {
				t.Fatal(what, err)
			}
			return x
		}
		price := write("price", rapid.IntRange(0, 6).Draw(t, "price places"), rapid.Int64Range(0, 1e9).Draw(t, "price"))
		step := write("step", rapid.IntRange(0, 4).Draw(t, "step places"), rapid.Int64Range(1, 1e4).Draw(t, "step"))
		way := rapid.SampledFrom([]market.Way{market.Nearest, market.Up, market.Down}).Draw(t, "way")
		got, err := stepNumber(price, step, way)
		if err != nil {
			t.Fatal(err)
		}
		want, err := market.ToStep(decimal.NewFromFloat(price), decimal.NewFromFloat(step), way)
		if err != nil || got != want.InexactFloat64() {
			t.Fatalf("%v on %v: %v, decimals %v (%v)", price, step, got, want, err)
		}
	})
}

// TestFigures: what is typed with up to 14 figures is read back exactly, with
// dust of a few conversions on it too.
func TestFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typed := decimal.New(rapid.Int64Range(-99999999999999, 99999999999999).Draw(t, "digits"), int32(rapid.IntRange(-17, 0).Draw(t, "shift")))
		x := typed.InexactFloat64()
		for range rapid.IntRange(0, 3).Draw(t, "dust") {
			x = x * 0.01 / 0.01
		}
		f := figuresOf(x)
		if !f.decimal().Equal(typed) {
			t.Fatalf("%v reads as %v of %v", typed, f.decimal(), f)
		}
		if got, want := f.number(), typed.InexactFloat64(); got != want {
			t.Fatalf("%v comes back as %v", want, got)
		}
		if got, want := f.cents(), typed.Shift(2).Add(decimal.New(5, -1)).Floor().IntPart(); got != want {
			t.Fatalf("%v is %d cents, want %d", typed, got, want)
		}
	})
	for x, want := range map[float64]figures{
		0: {0, 0}, 5.5: {55, 1}, -0.25: {-25, 2}, 1e15: {1e15, 0}, 2e30: {1e18, 0}, 1e-17: {1, 17}, 1e-18: {0, 0}, 6e-18: {1, 17}, 1e-60: {0, 0},
	} {
		if got := figuresOf(x); got != want {
			t.Errorf("%v reads as %v, want %v", x, got, want)
		}
	}
}

func TestStepDoesNotAllocate(t *testing.T) {
	c := formula.NewCall(loanSeason(), week.Standing{}, oneEach(3.61, 0.25), nil, blankOutputs(1, 1))
	if n := testing.AllocsPerRun(100, func() { runStep(c, market.Nearest) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkStepKernel(b *testing.B) {
	c := formula.NewCall(loanSeason(), week.Standing{}, oneEach(3.61, 0.25), nil, blankOutputs(1, 1))
	for range b.N {
		runStep(c, market.Nearest)
	}
}

// TestStepQuick: the quick way gives what exact decimals give, wherever it is sure.
func TestStepQuick(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.SampledFrom([]float64{0.01, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 0.0001, 0.125}).Draw(t, "step")
		price := rapid.OneOf(rapid.Float64Range(0, 500), rapid.Map(rapid.IntRange(0, 100_000), func(i int) float64 { return float64(i) / 200 }),
			rapid.Map(rapid.IntRange(0, 2000), func(i int) float64 { return float64(i) * step })).Draw(t, "price")
		way := rapid.SampledFrom([]market.Way{market.Nearest, market.Up, market.Down}).Draw(t, "way")
		got, sure := stepQuick(price, step, way)
		if !sure {
			return
		}
		exact, err := market.ToStep(figuresOf(price).decimal(), figuresOf(step).decimal(), way)
		if err != nil {
			t.Fatal(err)
		}
		if want := exact.InexactFloat64(); math.Abs(got-want) > 1e-12*math.Max(1, want) {
			t.Fatalf("%v to steps of %v: %v, want %v", price, step, got, want)
		}
	})
}
