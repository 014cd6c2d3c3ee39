package market

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func money(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// TestCashRounding: to the nearest 0.05, as published when Canada withdrew its
// cent (Government of Canada, Economic Action Plan 2012, "Eliminating the penny";
// Office de la protection du consommateur, Québec).
func TestCashRounding(t *testing.T) {
	for in, want := range map[string]string{
		"1.01": "1.00", "1.02": "1.00", "1.03": "1.05", "1.04": "1.05", "1.06": "1.05", "1.07": "1.05",
		"1.08": "1.10", "1.09": "1.10", "4.92": "4.90", "5.98": "6.00", "5.97": "5.95", "1.00": "1.00", "1.05": "1.05",
	} {
		got, err := ToStep(money(in), money("0.05"), Nearest)
		if err != nil || !got.Equal(money(want)) {
			t.Errorf("%s rounds to %s (%v), want %s", in, got, err, want)
		}
	}
}

func TestWays(t *testing.T) {
	for _, c := range []struct{ price, step, nearest, up, down string }{
		{"3.61", "0.25", "3.50", "3.75", "3.50"},
		{"3.625", "0.25", "3.75", "3.75", "3.50"}, // half goes up
		{"3.75", "0.25", "3.75", "3.75", "3.75"},
		{"0.01", "0.25", "0", "0.25", "0"},
		{"0", "0.25", "0", "0", "0"},
		{"1.0001", "0.3", "0.9", "1.2", "0.9"},
	} {
		for way, want := range map[Way]string{Nearest: c.nearest, Up: c.up, Down: c.down} {
			got, err := ToStep(money(c.price), money(c.step), way)
			if err != nil || !got.Equal(money(want)) {
				t.Errorf("%s on %s, way %d: %s (%v), want %s", c.price, c.step, way, got, err, want)
			}
		}
	}
	for _, c := range []struct {
		price, step int64
		want        error
	}{{100, 0, ErrStep}, {100, -5, ErrStep}, {-1, 5, ErrPrice}} {
		if _, err := Steps(c.price, c.step, Nearest); err != c.want {
			t.Errorf("%d on %d: %v, want %v", c.price, c.step, err, c.want)
		}
		if _, err := ToStep(decimal.New(c.price, 0), decimal.New(c.step, 0), Nearest); err != c.want {
			t.Errorf("%d on %d (decimal): %v, want %v", c.price, c.step, err, c.want)
		}
	}
}

// TestNeverBelowFloor: 3.60 rounds to 3.50, below a floor of 3.61; then the
// floor's step up holds.
func TestNeverBelowFloor(t *testing.T) {
	for _, c := range []struct{ price, floor, want string }{
		{"3.60", "3.61", "3.75"},
		{"3.60", "3.50", "3.50"},
		{"4.10", "3.61", "4.00"},
		{"3.00", "3.61", "3.75"},
	} {
		got, err := AtLeast(money(c.price), money(c.floor), money("0.25"), Nearest)
		if err != nil || !got.Equal(money(c.want)) {
			t.Errorf("%s over a floor of %s: %s (%v), want %s", c.price, c.floor, got, err, c.want)
		}
	}
	if _, err := AtLeast(money("1"), money("2"), money("0"), Nearest); err != ErrStep {
		t.Errorf("no step: %v", err)
	}
}

// TestStepLaws: a whole number of steps, on the right side and less than a step
// away (nearest: half a step), the same in integers and decimals, and staying
// where it is when rounded again.
func TestStepLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		price, step := rapid.Int64Range(0, 1e12).Draw(t, "price"), rapid.Int64Range(1, 1e6).Draw(t, "step")
		way := rapid.SampledFrom([]Way{Nearest, Up, Down}).Draw(t, "way")
		got, err := Steps(price, step, way)
		if err != nil {
			t.Fatal(err)
		}
		exact, err := ToStep(decimal.New(price, -3), decimal.New(step, -3), way)
		if err != nil || !exact.Equal(decimal.New(got, -3)) {
			t.Fatalf("integers give %d, decimals %s (%v)", got, exact, err)
		}
		low, high := price-step/2, price+step/2
		switch way {
		case Up:
			low, high = price, price+step-1
		case Down:
			low, high = price-step+1, price
		}
		if got%step != 0 || got < low || got > high {
			t.Fatalf("%d on %d, way %d: %d lies outside %d..%d", price, step, way, got, low, high)
		}
		if again, _ := Steps(got, step, way); again != got {
			t.Fatalf("%d becomes %d when rounded again", got, again)
		}
	})
}
