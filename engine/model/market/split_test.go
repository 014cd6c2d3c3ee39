package market

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestSplit: by hand. 100 to sell; best net first, the one below zero never, and
// equal nets in the order of the list.
func TestSplit(t *testing.T) {
	for _, c := range []struct {
		what       string
		net, takes []float64
		picked     float64
		sold       []float64
		left       float64
	}{
		{"best first", []float64{2, 5, 3}, []float64{50, 40, 30}, 100, []float64{30, 40, 30}, 0},
		{"below zero stays", []float64{-0.01, 0}, []float64{50, 40}, 100, []float64{0, 40}, 60},
		{"equal nets in order", []float64{2, 2}, []float64{50, 60}, 70, []float64{50, 20}, 0},
		{"nothing picked", []float64{2}, []float64{50}, 0, []float64{0}, 0},
		{"a store in debt sells nothing", []float64{2}, []float64{50}, -3, []float64{0}, -3},
		{"an offer that takes nothing", []float64{9, 1}, []float64{0, 5}, 3, []float64{0, 3}, 0},
		{"no offers", nil, nil, 8, nil, 8},
	} {
		sold := make([]float64, len(c.net))
		left := Split(c.net, c.takes, c.picked, sold)
		near(t, c.what+": left", left, c.left, 0)
		for i := range sold {
			near(t, c.what+": sold", sold[i], c.sold[i], 0)
		}
	}
}

// TestSplitLaws: sold and left over add up to picked, no offer gets more than it
// takes, none below zero, and no other split earns more at these prices.
func TestSplitLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "offers")
		draw := func(what string, low, high float64) []float64 {
			return rapid.SliceOfN(rapid.Float64Range(low, high), n, n).Draw(t, what)
		}
		net, takes := draw("net", -2, 8), draw("takes", 0, 200)
		picked := rapid.Float64Range(0, 600).Draw(t, "picked")
		sold := make([]float64, n)
		left := Split(net, takes, picked, sold)
		sum, earned := left, 0.0
		for i := range sold {
			sum += sold[i]
			earned += sold[i] * net[i]
			if sold[i] < 0 || sold[i] > takes[i] || net[i] < 0 && sold[i] > 0 {
				t.Fatalf("offer %d takes %v at net %v and gets %v", i, takes[i], net[i], sold[i])
			}
		}
		if left < 0 || math.Abs(sum-picked) > 1e-9 {
			t.Fatalf("%v left; all makes %v of %v", left, sum, picked)
		}
		// Another split: any shares of what each takes, cut to what was picked.
		other, rest := 0.0, picked
		for i, share := range draw("share", 0, 1) {
			q := min(share*takes[i], rest)
			rest -= q
			other += q * net[i]
		}
		if other > earned+1e-9 {
			t.Fatalf("another split earns %v, ours %v", other, earned)
		}
	})
}

// TestEqualMarginal: two channels and 150 units, worked out by hand.
func TestEqualMarginal(t *testing.T) {
	channels := []Channel{
		{Demand: Linear{4, 100, -1.5}, Fee: 0.06, Selling: 0.10},
		{Demand: Linear{3, 80, -2}, Fee: 0, Selling: 0.22},
	}
	q, marginal, err := EqualMarginal(channels, 150)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "marginal net revenue", marginal, 1.869388, 1e-4)
	near(t, "first channel", q[0], 85.7170, 1e-4)
	near(t, "second channel", q[1], 64.2830, 1e-4)
	near(t, "first price", channels[0].Demand.Clearing(q[0]), 4.3809, 1e-4)
	near(t, "second price", channels[1].Demand.Clearing(q[1]), 3.2947, 1e-4)

	// With more than both want at any price, the rest stays and adds nothing.
	q, marginal, err = EqualMarginal(channels, 1000)
	if err != nil || marginal != 0 || q[0]+q[1] >= 1000 {
		t.Errorf("plenty: %v at %v, %v", q, marginal, err)
	}
	for want, c := range map[error]Channel{
		ErrNoResponse: {Demand: Linear{4, 100, 0}},
		ErrFee:        {Demand: Linear{4, 100, -1}, Fee: 1},
		ErrNoPrice:    {Demand: Linear{0, 100, -1}},
	} {
		if _, _, err := EqualMarginal([]Channel{c}, 1); err != want {
			t.Errorf("%+v: %v, want %v", c, err, want)
		}
	}
}

// TestEqualMarginalLaws: all is sold or the marginal is zero, and moving some to
// another channel, or leaving some, never earns more.
func TestEqualMarginalLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "channels")
		channels := make([]Channel, n)
		for i := range channels {
			channels[i] = Channel{
				Demand: Linear{
					Price:    rapid.Float64Range(1, 8).Draw(t, "price"),
					Volume:   rapid.Float64Range(1, 200).Draw(t, "volume"),
					Response: rapid.Float64Range(-4, -0.3).Draw(t, "response"),
				},
				Fee:     rapid.Float64Range(0, 0.4).Draw(t, "fee"),
				Selling: rapid.Float64Range(0, 2).Draw(t, "selling"),
			}
		}
		supply := rapid.Float64Range(0, 500).Draw(t, "supply")
		q, marginal, err := EqualMarginal(channels, supply)
		if err != nil {
			t.Fatal(err)
		}
		earned := func(i int, q float64) float64 {
			c := channels[i]
			return q * Net(c.Demand.Clearing(q), c.Fee, c.Selling)
		}
		sum, best := 0.0, 0.0
		for i := range q {
			sum += q[i]
			best += earned(i, q[i])
		}
		if sum > supply+1e-6 || marginal < 0 || marginal > 0 && sum < supply-1e-6 {
			t.Fatalf("%v of %v sold at a marginal of %v", sum, supply, marginal)
		}
		from, to := rapid.IntRange(0, n-1).Draw(t, "from"), rapid.IntRange(0, n-1).Draw(t, "to")
		moved := rapid.Float64Range(0, 1).Draw(t, "share") * q[from]
		left := best - earned(from, q[from]) + earned(from, q[from]-moved)
		if left > best+1e-6 {
			t.Fatalf("leaving %v earns %v, more than %v", moved, left, best)
		}
		if from != to {
			if other := left - earned(to, q[to]) + earned(to, q[to]+moved); other > best+1e-6 {
				t.Fatalf("moving %v earns %v, more than %v", moved, other, best)
			}
		}
	})
}

// TestCarryOver: four days, 5 % a night, two days at most; worked out by hand.
func TestCarryOver(t *testing.T) {
	c, err := CarryOver([]float64{60, 20, 70, 0}, []float64{45, 50, 40, 60}, 0.05, 2)
	if err != nil {
		t.Fatal(err)
	}
	for day, want := range []struct{ sold, lost float64 }{{45, 0}, {34.25, 0.75}, {40, 0}, {28.5, 1.5}} {
		near(t, "sold", c.Sold[day], want.sold, 1e-9)
		near(t, "lost", c.Lost[day], want.lost, 1e-9)
	}
	near(t, "left", c.Left, 0, 1e-9)
	// Nothing may get older than its day: all that is left over goes each night.
	c, err = CarryOver([]float64{10, 0}, []float64{4, 5}, 0.05, 0)
	if err != nil || c.Sold[1] != 0 || c.Lost[1] != 6 {
		t.Errorf("oldest 0: %+v, %v", c, err)
	}
	if _, err := CarryOver(nil, nil, 1.5, 2); err != ErrLoss {
		t.Errorf("more lost than there is: %v", err)
	}
	if _, err := CarryOver([]float64{1}, nil, 0, 2); err != ErrDays {
		t.Errorf("a day without demand: %v", err)
	}
	if _, err := CarryOver([]float64{-1}, []float64{0}, 0, 2); err != ErrDays {
		t.Errorf("picked below zero: %v", err)
	}
}

// TestCarryOverKeepsAccount: picked = sold + lost + left.
func TestCarryOverKeepsAccount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 12).Draw(t, "days")
		amounts := rapid.SliceOfN(rapid.Float64Range(0, 100), n, n)
		picked, wanted := amounts.Draw(t, "picked"), amounts.Draw(t, "wanted")
		c, err := CarryOver(picked, wanted, rapid.Float64Range(0, 1).Draw(t, "loss"), rapid.IntRange(0, 5).Draw(t, "oldest"))
		if err != nil {
			t.Fatal(err)
		}
		rest := -c.Left
		for day := range picked {
			rest += picked[day] - c.Sold[day] - c.Lost[day]
			if c.Sold[day] > wanted[day]+1e-9 || c.Lost[day] < 0 {
				t.Fatalf("day %d: sold %v of %v, lost %v", day, c.Sold[day], wanted[day], c.Lost[day])
			}
		}
		if math.Abs(rest) > 1e-9 {
			t.Fatalf("%v is missing", rest)
		}
	})
}
