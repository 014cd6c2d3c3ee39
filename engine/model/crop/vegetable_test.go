package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Hemming et al. 2019 (Sensors 19:1807), cucumber: the periods that the records
// of three compartments give at 20, 22 and 24 degC.
func TestCucumberPeriod(t *testing.T) {
	for air, want := range map[float64]float64{20: 24, 22: 18, 24: 14} {
		near(t, "days to pick", 1/FruitGain(Cucumber, air), want, 1)
	}
	// 12 days from flower to pick, read for a modern Chinese house (Transactions of
	// the CSAE 2005, 20051448, abstract): no shorter at any temperature.
	near(t, "shortest", 1/FruitGain(Cucumber, 40), 12, 0.2)
	// Compartment A: 83.2 nodes in the 77 days of weeks 35 to 45 at a mean of 22.6 degC.
	near(t, "nodes", 77*NodePace(22.6), 83.2, 0.05*83.2)
	// 7.0 to 7.7 nodes a stem and week at 20 to 23 degC; the line lies in it but for
	// its own error, 0.4 a week.
	for air := 20.0; air <= 23; air += 0.5 {
		if n := 7 * NodePace(air); n < 7.0-0.4 || n > 7.7+0.4 {
			t.Errorf("%v degC: %v nodes a week", air, n)
		}
	}
	// 98.2 nodes a stem, half of them kept, 2.5 stems/m2: 123 fruit/m2; counted 129.
	near(t, "fruit a square metre", 98.2*UsualKept(Cucumber)*2.5, 129, 0.07*129)
}

// Dickson et al. 2024 (HortScience 59:1293, abstract): flower to ripe tends to
// 0.0252/d, and ends at 9.3 to 13.3 degC; 8 to 9 weeks at 20 to 21 degC.
func TestPepperPeriod(t *testing.T) {
	near(t, "weeks at 20.5 degC", 1/FruitGain(Pepper, 20.5)/7, 8.5, 0.5)
	if d := 1 / FruitGain(Pepper, 30); d < 40 || d > 46 {
		t.Errorf("at 30 degC %v days", d)
	}
	if d := 1 / FruitGain(Pepper, 60); d < 1/0.0252 {
		t.Errorf("quicker than the limit: %v days", d)
	}
	near(t, "cold", FruitGain(Pepper, 9.2), 0, 0)
}

func TestVegetablesNeverLaterInWarmerAir(t *testing.T) {
	for v, word := range Vegetables {
		if got, ok := VegetableOf(word); !ok || got != Vegetable(v) {
			t.Errorf("%s: %v, %v", word, got, ok)
		}
		for air := -5.0; air < 45; air += 0.01 {
			a, b := FruitGain(Vegetable(v), air), FruitGain(Vegetable(v), air+0.01)
			c, d := RelativePaceOf(Vegetable(v), air), RelativePaceOf(Vegetable(v), air+0.01)
			if a < 0 || b < a || b > a+0.001 || c < 0 || d < c || d > c+0.01 {
				t.Fatalf("%s at %v degC: stage %v to %v, pace %v to %v", word, air, a, b, c, d)
			}
		}
		near(t, "own pace is at 20 degC", RelativePaceOf(Vegetable(v), 20), 1, 1e-12)
	}
	near(t, "no node in the cold", NodePace(14), 0, 0)
	if _, ok := VegetableOf("large"); ok {
		t.Error("knows tomatoes")
	}
}

// Heuvelink & Marcelis (abstract): 78, 56, 28 and 6 % of flowers set with 0, 1, 2
// and 4 early fruits on the plant.
func TestSetByLoad(t *testing.T) {
	for load, want := range map[float64]float64{0: 0.78, 1: 0.56, 2: 0.28, 4: 0.06} {
		near(t, "set", SetByLoad(Pepper, load), want, 0.02)
	}
	for load := 0.0; load < 20; load += 0.01 {
		if a, b := SetByLoad(Pepper, load), SetByLoad(Pepper, load+0.01); b > a || b < 0 || a-b > 0.003 {
			t.Fatalf("%v to %v at a load of %v", a, b, load)
		}
	}
}

func flush(v Vegetable, flowers, air []float64, kept float64) (set, ripe, left []float64) {
	n := len(flowers)
	gain := make([]float64, n)
	for w := range gain {
		gain[w] = FruitGain(v, air[w])
	}
	set, ripe, left = make([]float64, n), make([]float64, n), make([]float64, n)
	leave, none := make([]float64, n), make([]float64, n)
	for w := range leave {
		leave[w], none[w] = kept, math.NaN()
	}
	Flush(v, set, ripe, left, flowers, gain, leave, none, 1, make([]float64, WeekDays*n))
	return set, ripe, left
}

// Fruit set = ripe so far + hanging, in any season; and never more than the
// flowers, or than the grower leaves.
func TestFlushKeepsCount(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 300 {
		n := 1 + r.IntN(60)
		flowers, air := someSeason(r, n)
		for w := range flowers {
			flowers[w] /= 100
			air[w] += 4
		}
		for v := range Vegetables {
			kept := r.Float64()
			set, ripe, left := flush(Vegetable(v), flowers, air, kept)
			sum := 0.0
			for w := range set {
				sum += set[w] - ripe[w]
				near(t, "set less ripe", left[w], sum, 1e-9)
				if set[w] < 0 || ripe[w] < 0 || set[w] > kept*flowers[w]+1e-12 {
					t.Fatalf("week %d: %v flowers, %v set, %v ripe", w, flowers[w], set[w], ripe[w])
				}
			}
		}
	}
}

// With a constant set there is no flush and the fruit come as in [Ripening],
// which reckons in weeks and by itself.
func TestFlushAgainstRipening(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for range 100 {
		flowers, air := someSeason(r, 53)
		gain := make([]float64, 53)
		for w := range gain {
			gain[w] = FruitGain(Cucumber, air[w])
		}
		set, ripe, left := flush(Cucumber, flowers, air, 0.5)
		wantRipe, wantLeft := make([]float64, 53), make([]float64, 53)
		Ripening(wantRipe, wantLeft, set, gain, 0, make([]float64, 53))
		for w := range ripe {
			near(t, "ripe", ripe[w], wantRipe[w], 1e-6)
			near(t, "hanging", left[w], wantLeft[w], 1e-6)
		}
	}
}

// A pepper that flowers steadily in steady air bears in flushes: its set falls to
// near nothing while the first fruit hang, and rises when they are picked. The
// load stays within what the published figures let it reach.
func TestPepperFlushes(t *testing.T) {
	flowers, air := make([]float64, 60), make([]float64, 60)
	for w := range flowers {
		flowers[w], air[w] = 4, 20.5
	}
	set, ripe, left := flush(Pepper, flowers, air, 1)
	if set[0] < 1 || set[5] > 0.1*set[0] {
		t.Errorf("set at first %v, and under its load %v", set[0], set[5])
	}
	peak, trough := 0.0, math.Inf(1)
	for w := 9; w < 18; w++ {
		peak, trough = max(peak, ripe[w]), min(trough, ripe[w])
	}
	if peak < 4*trough {
		t.Errorf("picks go between %v and %v: no flush", trough, peak)
	}
	for w, x := range left {
		if x > 4.6 {
			t.Errorf("week %d: %v fruit on a plant that would drop every flower", w, x)
		}
	}
	// Two plantings four weeks apart are steadier (same abstract): their picks
	// together spread less about the mean, from the first flush of both on.
	spread := func(x []float64) float64 {
		var c Counted
		for _, v := range x {
			c = c.With(v)
		}
		return math.Sqrt(c.Squares/c.Number) / c.Mean
	}
	var both []float64
	for w := 13; w < 40; w++ {
		both = append(both, ripe[w]+ripe[w-4])
	}
	if a, b := spread(ripe[13:40]), spread(both); b >= a {
		t.Errorf("one planting varies by %v, two by %v", a, b)
	}
}

// A count on marked plants stands in place of what load and grower would leave, and the
// fruit counted are a load for the flowers that follow.
func TestFlushFromCounts(t *testing.T) {
	const n = 30
	nodes, gain, kept, none, counted := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for w := range nodes {
		nodes[w], gain[w], kept[w], none[w], counted[w] = 4, FruitGain(Pepper, 20.5), 1, math.NaN(), math.NaN()
	}
	counted[3] = 0.9
	run := func(counted []float64) []float64 {
		set, ripe, left := make([]float64, n), make([]float64, n), make([]float64, n)
		Flush(Pepper, set, ripe, left, nodes, gain, kept, counted, 1, make([]float64, WeekDays*n))
		return set
	}
	free, seen := run(none), run(counted)
	near(t, "the week counted", seen[3], 3.6, 1e-12)
	near(t, "the week before", seen[2], free[2], 0)
	if seen[4] >= free[4] {
		t.Errorf("more fruit on the plant, and %v set instead of %v", seen[4], free[4])
	}
}
