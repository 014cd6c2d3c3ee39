package market

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestToTake: own arithmetic on the formula, N(200, 30) at 3, 1 and 0.5, by the normal
// table (z of 0.8 is 0.841621): 225.2486; lost 3.3491, left 28.5978, earned 379.0029.
func TestToTake(t *testing.T) {
	take, lost, left, earns, err := ToTake(3, 1, 0.5, 200, 30)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][3]float64{{take, 225.2486, 1e-3}, {lost, 3.3491, 1e-4}, {left, 28.5978, 1e-3}, {earns, 379.0029, 1e-3}} {
		if math.Abs(c[0]-c[1]) > c[2] {
			t.Errorf("%v, want %v", c[0], c[1])
		}
	}
	if take, _, _, _, _ := ToTake(3, 1, 0.5, 200, 0); take != 200 {
		t.Errorf("of a demand that is sure %v is taken", take)
	}
	if take, lost, _, _, _ := ToTake(1, 1, 0.5, 200, 30); take != 0 || lost != 200 {
		t.Errorf("%v is taken at a loss", take)
	}
	if _, _, _, _, err := ToTake(3, 1, 1, 200, 30); err != ErrNoLimit {
		t.Error(err)
	}
	if _, _, _, _, err := ToTake(3, 1, 0.5, 200, math.NaN()); err != ErrVolume {
		t.Error(err)
	}
}

// TestToTakeIsBest: no other quantity earns more over many days of one demand.
func TestToTakeIsBest(t *testing.T) {
	const price, cost, worth, mean, spread = 4.0, 1.5, 0.25, 120.0, 25.0
	r := rand.New(rand.NewPCG(72, 72))
	days := make([]float64, 200_000)
	for i := range days {
		days[i] = mean + spread*r.NormFloat64()
	}
	earned := func(take float64) float64 {
		sum := 0.0
		for _, wanted := range days {
			sold := math.Min(take, wanted)
			sum += price*sold + worth*(take-sold) - cost*take
		}
		return sum / float64(len(days))
	}
	take, lost, left, earns, err := ToTake(price, cost, worth, mean, spread)
	if err != nil {
		t.Fatal(err)
	}
	if sold := mean - lost; math.Abs(sold+left-take) > 1e-9 {
		t.Errorf("sold %v and left %v are not the %v taken", sold, left, take)
	}
	if got := earned(take); math.Abs(got-earns) > 0.5 {
		t.Errorf("it earns %v, %v was said", got, earns)
	}
	for _, other := range []float64{0.8, 0.9, 1.1, 1.2} {
		if earned(take*other) >= earned(take) {
			t.Errorf("%v earns more than %v", take*other, take)
		}
	}
}
