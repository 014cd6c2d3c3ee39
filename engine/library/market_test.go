package library

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/market"
	"wintertruss/engine/week"
)

// The kinds by word number, as the tests' Word reads them.
const (
	isOpen = iota
	isGiven
	isBarter
)

// offerRow is a row of a list of offers.
type offerRow struct{ crop, price, volume, response, kind, fee, selling, reference float64 }

// splitCall runs the kernel of split for one week.
func splitCall(toSell []float64, rows ...offerRow) *formula.Call {
	columns := make([][]float64, 8)
	for _, r := range rows {
		for i, x := range []float64{r.crop, r.price, r.volume, r.response, r.kind, r.fee, r.selling, r.reference} {
			columns[i] = append(columns[i], x)
		}
	}
	c := formula.NewCall(loanSeason(), week.Standing{}, [][]float64{nil, toSell}, columns,
		[][]float64{blankOutputs(1, len(rows))[0], blankOutputs(1, len(toSell))[0]})
	c.Members = len(rows)
	c.Word = func(x float64) string {
		if array.IsBlank(x) {
			return ""
		}
		return []string{"open", "given", "barter"}[int(x)]
	}
	runSplit(c)
	return c
}

// sameCell compares numbers within 1e-9, and blanks and faults by their bits.
func sameCell(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9 || math.Float64bits(a) == math.Float64bits(b)
}

// TestSplitWeek: by hand. Tomatoes 160 kg: the stall (net 4.00 x 0.95 - 0.20 =
// 3.60) takes 40 x (4/5)^-1 = 50, the grocer (net 2.90) his 100. Of the
// cucumbers, 30 kg, nobody wants any.
func TestSplitWeek(t *testing.T) {
	blank, fault := array.Blank, array.Fault(array.DividedByZero, 3)
	grocer := offerRow{crop: 0, price: 3, volume: 100, kind: isGiven, selling: 0.10, reference: blank}
	stall := offerRow{crop: 0, price: 4, volume: 40, response: -1, kind: isOpen, fee: 0.05, selling: 0.20, reference: 5}
	change := func(o offerRow, f func(*offerRow)) offerRow { f(&o); return o }
	for _, c := range []struct {
		what       string
		toSell     []float64
		rows       []offerRow
		sold, left []float64
	}{
		{"the example of the card", []float64{160, 30}, []offerRow{grocer, stall}, []float64{100, 50}, []float64{10, 30}},
		{"a short week", []float64{60, 0}, []offerRow{grocer, stall}, []float64{10, 50}, []float64{0, 0}},
		{"two crops", []float64{60, 30}, []offerRow{change(grocer, func(o *offerRow) { o.crop = 1 }), stall}, []float64{30, 50}, []float64{10, 0}},
		{"a response of a price-taking buyer says nothing", []float64{160}, []offerRow{change(grocer, func(o *offerRow) { o.response = -2; o.reference = 9 })}, []float64{100}, []float64{60}},
		{"the reference is the price when blank", []float64{160}, []offerRow{change(stall, func(o *offerRow) { o.reference = blank })}, []float64{40}, []float64{120}},
		{"kind left blank", []float64{160}, []offerRow{change(stall, func(o *offerRow) { o.kind = blank })}, []float64{50}, []float64{110}},
		{"better left than sold below nothing", []float64{160}, []offerRow{change(grocer, func(o *offerRow) { o.price = 0.09 })}, []float64{0}, []float64{160}},
		{"no price this week", []float64{160}, []offerRow{change(stall, func(o *offerRow) { o.price = blank }), grocer}, []float64{blank, 100}, []float64{60}},
		{"no crop named", []float64{160}, []offerRow{change(stall, func(o *offerRow) { o.crop = blank }), grocer}, []float64{blank, 100}, []float64{60}},
		{"how much there is not known", []float64{blank, 30}, []offerRow{stall, change(grocer, func(o *offerRow) { o.crop = 1 })}, []float64{blank, 30}, []float64{blank, 0}},
		{"a fault reaches all of the crop, and no other", []float64{160, 30}, []offerRow{change(stall, func(o *offerRow) { o.fee = fault }), grocer, change(grocer, func(o *offerRow) { o.crop = 1 })}, []float64{fault, fault, 30}, []float64{fault, 0}},
		{"no offers at all", []float64{160}, nil, nil, []float64{160}},
	} {
		got := splitCall(c.toSell, c.rows...)
		if why := got.Refused(); why != "" {
			t.Errorf("%s: %s", c.what, why)
		}
		for i, want := range c.sold {
			if !sameCell(got.Out[0][i], want) {
				t.Errorf("%s: offer %d is sold %v, want %v", c.what, i, got.Out[0][i], want)
			}
		}
		for i, want := range c.left {
			if !sameCell(got.Out[1][i], want) {
				t.Errorf("%s: of crop %d %v is left, want %v", c.what, i, got.Out[1][i], want)
			}
		}
	}
	for why, row := range map[string]offerRow{
		offerKind:                  change(stall, func(o *offerRow) { o.kind = isBarter }),
		market.ErrPrice.Error():    change(stall, func(o *offerRow) { o.price = -1 }),
		market.ErrFee.Error():      change(stall, func(o *offerRow) { o.fee = 1 }),
		market.ErrVolume.Error():   change(stall, func(o *offerRow) { o.volume = -1 }),
		market.ErrResponse.Error(): change(stall, func(o *offerRow) { o.response = 1.5 }),
		market.ErrNoPrice.Error():  change(stall, func(o *offerRow) { o.reference = 0 }),
	} {
		if c := splitCall([]float64{1}, row); c.Refused() != why {
			t.Errorf("refused with %q, want %q", c.Refused(), why)
		}
	}
}

// TestSplitKeepsAccount: for each crop, sold and left over add up to what there
// was, and no offer of another crop gets any of it.
func TestSplitKeepsAccount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		crops := rapid.IntRange(1, 3).Draw(t, "crops")
		toSell := rapid.SliceOfN(rapid.Float64Range(0, 300), crops, crops).Draw(t, "to sell")
		rows := make([]offerRow, rapid.IntRange(0, 9).Draw(t, "offers"))
		for i := range rows {
			rows[i] = offerRow{
				crop:      float64(rapid.IntRange(0, crops-1).Draw(t, "crop")),
				price:     rapid.Float64Range(0.1, 8).Draw(t, "price"),
				volume:    rapid.Float64Range(0, 200).Draw(t, "volume"),
				response:  rapid.Float64Range(-3, 0).Draw(t, "response"),
				kind:      float64(rapid.IntRange(isOpen, isGiven).Draw(t, "kind")),
				fee:       rapid.Float64Range(0, 0.5).Draw(t, "fee"),
				selling:   rapid.Float64Range(0, 2).Draw(t, "selling"),
				reference: rapid.Float64Range(0.1, 8).Draw(t, "reference"),
			}
		}
		c := splitCall(toSell, rows...)
		if why := c.Refused(); why != "" {
			t.Fatal(why)
		}
		account := append([]float64(nil), c.Out[1]...)
		for i, r := range rows {
			account[int(r.crop)] += c.Out[0][i]
		}
		for crop := range toSell {
			if math.Abs(account[crop]-toSell[crop]) > 1e-9 || c.Out[1][crop] < 0 {
				t.Fatalf("crop %d: %v to sell, %v left, %v in all", crop, toSell[crop], c.Out[1][crop], account[crop])
			}
		}
	})
}

// aWeek is a week of three crops and nine offers.
func aWeek() *formula.Call {
	rows := make([]offerRow, 9)
	for i := range rows {
		rows[i] = offerRow{crop: float64(i % 3), price: 3 + float64(i)/4, volume: 40, response: -1.5, fee: 0.05, selling: 0.1, reference: 4}
	}
	return splitCall([]float64{100, 60, 80}, rows...)
}

func TestSplitDoesNotAllocate(t *testing.T) {
	c := aWeek()
	if n := testing.AllocsPerRun(5, func() { runSplit(c) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkSplitKernel(b *testing.B) {
	c := aWeek()
	for range b.N {
		runSplit(c)
	}
}
