package market

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v within %v", what, got, want, tolerance)
	}
}

// TestFloor: a stall and a shop, worked out by hand from the equation; grown 0
// is the floor of what can still be avoided.
func TestFloor(t *testing.T) {
	for _, c := range []struct {
		what                                         string
		grown, picking, unsold, selling, fee, expect float64
	}{
		{"stall, avoidable", 0, 0.35, 0.08, 0.10, 0.06, 0.511101},
		{"stall, all cost", 2.10, 0.35, 0.08, 0.10, 0.06, 2.939408},
		{"shop, avoidable", 0, 0.35, 0.02, 0.22, 0.30, 0.824490},
		{"shop, all cost", 2.10, 0.35, 0.02, 0.22, 0.30, 3.885714},
	} {
		got, err := Floor(c.grown, c.picking, c.unsold, c.selling, c.fee)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.what, got, c.expect, 1e-6)
	}
	// A shop that sells at 3.00 and keeps 30 % pays 2.10 at most: common practice.
	near(t, "what a shop pays", Net(3.00, 0.30, 0), 2.10, 1e-12)
	// OpenStax, Principles of Accounting, module m68082, special orders: with
	// spare capacity 1,800 over a variable cost of 1,650 brings in 120,000 on 800.
	near(t, "special order", 800*NetPicked(1800, 0, 0, 0, 1650), 120000, 0)
	// Same module: 27 of variable cost, 1.50 of packing saved, 26 offered, 1,200 units.
	near(t, "special order without packing", 1200*NetPicked(26, 0, -1.50, 0, 27), 600, 1e-9)

	for _, c := range []struct {
		unsold, fee float64
		want        error
	}{{1, 0, ErrUnsold}, {-0.1, 0, ErrUnsold}, {0, 1, ErrFee}, {0, -0.1, ErrFee}, {math.NaN(), 0, ErrUnsold}} {
		if _, err := Floor(1, 1, c.unsold, 0, c.fee); err != c.want {
			t.Errorf("unsold %v, fee %v: %v, want %v", c.unsold, c.fee, err, c.want)
		}
	}
}

// TestFloorLeavesNothing: sold at the floor, what is picked pays its cost exactly.
func TestFloorLeavesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cost := rapid.Float64Range(0, 20)
		share := rapid.Float64Range(0, 0.9)
		grown, picking, selling := cost.Draw(t, "grown"), cost.Draw(t, "picking"), cost.Draw(t, "selling")
		unsold, fee := share.Draw(t, "unsold"), share.Draw(t, "fee")
		floor, err := Floor(grown, picking, unsold, selling, fee)
		if err != nil {
			t.Fatal(err)
		}
		if got := NetPicked(floor, fee, selling, unsold, picking); math.Abs(got-grown) > 1e-9 {
			t.Fatalf("at its floor %v a unit leaves %v, cost %v", floor, got, grown)
		}
	})
}

// TestDemand: worked out by hand from the closed forms.
func TestDemand(t *testing.T) {
	far := math.Inf(1)
	for _, c := range []struct {
		what                         string
		demand                       Demand
		best, sold, profit, clearing float64
		capped                       bool
		cost, high                   float64
	}{
		{what: "linear, -1.5", demand: Linear{4, 100, -1.5}, cost: 1.20, high: far, best: 3.9333, sold: 102.5, profit: 280.1667, clearing: 3.2000},
		{what: "constant, -1.5", demand: Constant{4, 100, -1.5}, cost: 1.20, high: far, best: 3.6000, sold: 117.1214, profit: 281.0913, clearing: 3.3581},
		{what: "linear, -0.6", demand: Linear{4, 100, -0.6}, cost: 1.20, high: far, best: 5.9333, sold: 71.0, profit: 71 * (89.0/15 - 1.20), clearing: 2.0000},
		{what: "constant, -0.6, has no best price", demand: Constant{4, 100, -0.6}, cost: 1.20, high: 5, capped: true, best: 5, sold: 100 * math.Pow(1.25, -0.6), profit: 380 * math.Pow(1.25, -0.6), clearing: 2.5832},
		{what: "linear, held by a cap", demand: Linear{4, 100, -1.5}, cost: 1.20, high: 3.5, capped: true, best: 3.5, sold: 118.75, profit: 118.75 * 2.30, clearing: 3.2000},
	} {
		price, capped, err := Best(c.demand, c.cost, 0, 0.5, c.high)
		if err != nil {
			t.Fatal(err)
		}
		if capped != c.capped {
			t.Errorf("%s: capped %v", c.what, capped)
		}
		sold := c.demand.Quantity(price)
		near(t, c.what+": best price", price, c.best, 1e-4)
		near(t, c.what+": sold", sold, c.sold, 1e-4)
		near(t, c.what+": profit", sold*(price-c.cost), c.profit, 1e-4)
		near(t, c.what+": clearing price of 130", c.demand.Clearing(130), c.clearing, 1e-4)
	}
	near(t, "choke price", Linear{4, 100, -1.5}.Choke(), 6.6667, 1e-4)
	near(t, "choke price", Linear{4, 100, -0.6}.Choke(), 10.6667, 1e-4)
	if got := (Constant{4, 100, -1.5}).Quantity(0); !math.IsInf(got, 1) {
		t.Errorf("for nothing it takes %v", got)
	}
	near(t, "nobody buys", Constant{4, 0, -1.5}.Quantity(0), 0, 0)
	near(t, "nothing above it", Linear{4, 100, -1.5}.Quantity(7), 0, 0)
	if p, capped, err := Best(Linear{4, 100, 0}, 1, 0, 0, 9); p != 9 || !capped || err != nil {
		t.Errorf("without response: %v %v %v", p, capped, err)
	}
	if !math.IsNaN(Linear{4, 100, 0}.Clearing(130)) || !math.IsNaN(Constant{4, 100, 0}.Clearing(130)) {
		t.Error("without response there is no clearing price")
	}
	if _, _, err := Best(Linear{4, 100, -1}, 1, 1, 0, 9); err != ErrFee {
		t.Errorf("all kept by the channel: %v", err)
	}
	for _, c := range []struct {
		r    Reference
		want error
	}{{Reference{0, 1, -1}, ErrNoPrice}, {Reference{1, -1, -1}, ErrVolume}, {Reference{1, 1, 0.1}, ErrResponse}, {Reference{1, 0, 0}, nil}} {
		if err := c.r.Check(); err != c.want {
			t.Errorf("%v: %v, want %v", c.r, err, c.want)
		}
	}
}

// TestBestIsBest: no other price between the caps earns more; demand falls with
// the price, passes its reference, and clears what it takes.
func TestBestIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ref := Reference{
			Price:    rapid.Float64Range(0.5, 10).Draw(t, "price"),
			Volume:   rapid.Float64Range(1, 500).Draw(t, "volume"),
			Response: rapid.Float64Range(-4, -0.1).Draw(t, "response"),
		}
		demand := rapid.SampledFrom([]Demand{Linear(ref), Constant(ref)}).Draw(t, "form")
		cost, fee := rapid.Float64Range(0, 5).Draw(t, "cost"), rapid.Float64Range(0, 0.5).Draw(t, "fee")
		low := rapid.Float64Range(0.1, 5).Draw(t, "low")
		high := low + rapid.Float64Range(0, 10).Draw(t, "width")
		best, _, err := Best(demand, cost, fee, low, high)
		if err != nil {
			t.Fatal(err)
		}
		profit := func(p float64) float64 { return demand.Quantity(p) * Net(p, fee, cost) }
		for i := range 50 {
			p := low + (high-low)*float64(i)/49
			if profit(p) > profit(best)+1e-9*(1+math.Abs(profit(best))) {
				t.Fatalf("%v earns %v, more than %v at %v", p, profit(p), profit(best), best)
			}
			if i > 0 && demand.Quantity(p) > demand.Quantity(low)+1e-9 {
				t.Fatal("a higher price sells more")
			}
		}
		if q := demand.Quantity(ref.Price); math.Abs(q-ref.Volume) > 1e-9*ref.Volume {
			t.Fatalf("at the reference price it takes %v, not %v", q, ref.Volume)
		}
		supply := rapid.Float64Range(0.1, 1).Draw(t, "supply") * ref.Volume
		if q := demand.Quantity(demand.Clearing(supply)); math.Abs(q-supply) > 1e-6*supply {
			t.Fatalf("%v should clear, %v does", supply, q)
		}
	})
}
