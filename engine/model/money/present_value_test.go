package money

import (
	"math"
	"sort"
	"testing"

	"pgregory.net/rapid"
)

// TestPresentValue: OpenStax, Principles of Finance, 2e, modules m00100 to
// m00103. The book prints 2,835.63 and 14.10 % for the first; its flows give
// 2,835.62 and 14.09 %.
func TestPresentValue(t *testing.T) {
	project := []float64{-16000, 2000, 4000, 5000, 5000, 5000, 5000}
	near(t, "at 9 %", PresentValue(project, 0.09), 2835.62, 0.005)
	for rate, want := range map[float64]float64{0: 10000, 0.03: 7231, 0.12: 1081, 0.14: 42, 0.15: -442, 0.18: -1773, 0.21: -2939} {
		near(t, "over the rates", PresentValue(project, rate), want, 0.5)
	}
	near(t, "rising flows", PresentValue([]float64{-30000, 6000, 8000, 10000, 12000, 14000, 16000, 18000}, 0.09), 26946.90, 0.01)
	near(t, "third project", PresentValue([]float64{-25000, 2000, 4000, 8000, 9000, 9000, 9000}, 0.09), 3970.67, 0.01)
	// numpy-financial, docstring: 3,065.22267.
	near(t, "at 8 %", PresentValue([]float64{-40000, 5000, 8000, 12000, 30000}, 0.08), 3065.22267, 1e-5)
	// Module m00053 prints 19,846.81 for year 3 and 99,818.76 in all; right is 99,817.75.
	near(t, "annuity", PresentValue([]float64{0, 25000, 25000, 25000, 25000, 25000}, 0.08), 99817.75, 0.005)
	near(t, "annuity due", PresentValue([]float64{25000, 25000, 25000, 25000, 25000}, 0.08), 107803.17, 0.005)
}

// TestEquivalentAnnuity: module m00102, a machine of three years and one of six.
func TestEquivalentAnnuity(t *testing.T) {
	for _, c := range []struct {
		yearly float64
		life   int
		want   float64
	}{{40000, 3, 19894.26}, {30000, 6, 18519.63}} {
		flows := []float64{-50000}
		for range c.life {
			flows = append(flows, c.yearly)
		}
		got, err := EquivalentAnnuity(PresentValue(flows, 0.10), 0.10, float64(c.life))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "equivalent annuity", got, c.want, 0.01)
	}
}

// TestEffectiveRate: module m00055, 1.5 % a month is 19.562 % a year. Its table
// prints 1,045.69 for month 3; 1,000 x 1.015^3 is 1,045.68.
func TestEffectiveRate(t *testing.T) {
	near(t, "a year", EffectiveRate(0.015, 12), 0.19562, 5e-6)
	near(t, "three months", 1000*(1+EffectiveRate(0.015, 3)), 1045.68, 0.005)
}

// TestModifiedRate: numpy-financial, tests (.126094); OpenStax m00103 (12 %).
func TestModifiedRate(t *testing.T) {
	got, err := ModifiedRate([]float64{-120000, 39000, 30000, 21000, 37000, 46000}, 0.10, 0.12)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "modified rate", got, 0.126094, 1e-6)
	got, err = ModifiedRate([]float64{-16000, 2000, 4000, 5000, 5000, 5000, 5000}, 0.09, 0.09)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "modified rate", got, 0.120048, 1e-6)
}

// TestInternalRates: OpenStax, Principles of Finance, 2e, modules m00100 to
// m00103; numpy-financial, tests and docstrings. One root, none, or all of several.
func TestInternalRates(t *testing.T) {
	for _, c := range []struct {
		name  string
		flows []float64
		want  []float64
	}{
		{"OpenStax, 14.09 %", []float64{-16000, 2000, 4000, 5000, 5000, 5000, 5000}, []float64{0.140855}},
		{"OpenStax, 13.20 %", []float64{-25000, 2000, 4000, 8000, 9000, 9000, 9000}, []float64{0.132040}},
		{"rising flows", []float64{-30000, 6000, 8000, 10000, 12000, 14000, 16000, 18000}, []float64{0.27679}},
		{"OpenStax, two rates", []float64{-350, 950, -620}, []float64{0.09180, 0.62249}},
		{"numpy-financial", []float64{-100, 39, 59, 55, 20}, []float64{0.28095}},
		{"numpy-financial, a loss", []float64{-100, 0, 0, 74}, []float64{-0.0955}},
		{"numpy-financial", []float64{-100, 100, 0, 7}, []float64{0.06206}},
		{"numpy-financial prints 0.0886 alone", []float64{-5, 10.5, 1, -8, 1}, []float64{-0.8702, 0.0886, 0.7096}},
		{"all in", []float64{1, 2, 3}, nil},
		{"all out", []float64{-1, -2, -3}, nil},
		{"two changes and no rate", []float64{-1, 1, -1}, nil},
		{"a touch at 10 %", []float64{-100, 220, -121}, []float64{0.10}},
		{"nothing", nil, nil},
		{"zeros around", []float64{0, 0, -100, 0, 121, 0}, []float64{0.10}},
	} {
		got := InternalRates(c.flows)
		if len(got) != len(c.want) {
			t.Errorf("%s: rates %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			within := 5e-5 // published with four to six figures
			if c.name == "OpenStax, two rates" {
				within = 1e-5
			}
			near(t, c.name, got[i], c.want[i], within)
		}
	}
	near(t, "six figures", InternalRates([]float64{-16000, 2000, 4000, 5000, 5000, 5000, 5000})[0], 0.140855, 1e-6)
}

// TestInternalRatesFound: flows made from rates of return give those rates back.
func TestInternalRatesFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Rates apart by 5 points or more; nearer ones are one rate to any reader.
		var want []float64
		for _, k := range rapid.SliceOfNDistinct(rapid.IntRange(-14, 40), 1, 5, rapid.ID).Draw(t, "rates") {
			want = append(want, float64(k)*0.05)
		}
		sort.Float64s(want)
		flows := []float64{rapid.SampledFrom([]float64{-1000, 1, 70}).Draw(t, "scale")}
		for _, r := range want { // times 1 - (1+r) x
			flows = append(flows, 0)
			for i := len(flows) - 1; i > 0; i-- {
				flows[i] -= (1 + r) * flows[i-1]
			}
		}
		got := InternalRates(flows)
		if len(got) != len(want) {
			t.Fatalf("rates %v, want %v", got, want)
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-6 {
				t.Fatalf("rates %v, want %v", got, want)
			}
		}
	})
}

// TestInternalRatesLong: five years of weeks stay within range of the numbers.
func TestInternalRatesLong(t *testing.T) {
	flows := make([]float64, 260)
	flows[0] = -50000
	for i := 1; i < len(flows); i++ {
		flows[i] = 400 * math.Sin(float64(i)/8) // in and out each season
	}
	flows[259] = 90000
	for _, r := range InternalRates(flows) {
		if v := PresentValue(flows, r); math.Abs(v) > 1e-6*50000 {
			t.Errorf("at %v worth %v", r, v)
		}
	}
	if len(InternalRates(flows)) == 0 {
		t.Error("no rate found")
	}
}
