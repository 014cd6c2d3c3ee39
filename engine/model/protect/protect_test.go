package protect

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, within)
	}
}

func cards(t testing.TB, pest string, feet float64) float64 {
	t.Helper()
	n, ok := Cards(pest, feet*0.09290304)
	if !ok {
		t.Fatalf("no cards for %s", pest)
	}
	return n
}

// Ohio State HYG-1033-98: a house of 30 x 96 ft takes one card for thrips and three
// for whitefly.
func TestCards(t *testing.T) {
	near(t, "thrips", cards(t, "thrips", 2880), 1, 0)
	near(t, "whitefly", cards(t, "whitefly", 2880), 3, 0)
	near(t, "exactly two thousand", cards(t, "whitefly", 2000), 2, 0)
	near(t, "no floor", cards(t, "whitefly", 0), 0, 0)
	if _, ok := Cards("mice", 100); ok {
		t.Error("cards for mice")
	}
	last := 0.0
	for feet := 1.0; feet < 30000; feet += 37 {
		n := cards(t, "whitefly", feet)
		if n < max(last, 1) {
			t.Fatalf("%v ft2: %v cards after %v", feet, n, last)
		}
		last = n
	}
}

// Supplier sheets: 54 soil mites for a square metre on a house of 30 x 96 ft, once at
// planting: 14,400. van Lenteren 2003: one Encarsia for a square metre every second
// week from a week after setting out.
func TestReleases(t *testing.T) {
	const floor = 2880 * 0.09290304
	near(t, "soil mites", 54*floor, 14400, 60)
	sum := 0.0
	for monday := 0.0; monday < 238; monday += 7 {
		sum += TimesDue(monday, 28+7, 14, 238)
	}
	near(t, "Encarsia", sum, 15, 0) // days 35, 49 ... 231
	near(t, "once", TimesDue(28, 28, 1000, 238), 1, 0)
	near(t, "not before", TimesDue(21, 28, 7, 238), 0, 0)
	near(t, "not after", TimesDue(238, 28, 7, 238), 0, 0)
	near(t, "every second day", TimesDue(28, 28, 2, 238), 4, 0)
}

// Law: weeks add up to days, wherever they begin.
func TestReleasesAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 32))
	for range 300 {
		first, every := float64(r.IntN(100)), float64(1+r.IntN(40))
		last := first + float64(r.IntN(200))
		want := 0.0
		for day := first; day < last; day += every {
			want++
		}
		got := 0.0
		for monday := -float64(r.IntN(7)); monday < 400; monday += 7 {
			n := TimesDue(monday, first, every, last)
			if n < 0 {
				t.Fatalf("%v releases", n)
			}
			got += n
		}
		near(t, "releases", got, want, 0)
	}
}

// In step: never early, never a whole rhythm late, always on the rhythm.
func TestInStep(t *testing.T) {
	for first := 0.0; first < 60; first++ {
		for _, with := range []float64{-20, 0, 33, 90} {
			got := InStep(first, 14, with)
			if got < first || got >= first+14 || math.Mod(got-with+14*100, 14) != 0 {
				t.Fatalf("%v in step with %v: %v", first, with, got)
			}
		}
	}
	near(t, "already in step", InStep(28, 14, 0), 28, 0)
}

// van Lenteren 2003: cucumeris stops at nights of 12 degC; soil mites below 15.
func TestAgents(t *testing.T) {
	for _, c := range []struct {
		word         string
		night        float64
		hairy        bool
		lays, stands bool
	}{
		{"cucumeris", 12, false, false, true}, {"cucumeris", 16, false, true, true}, {"cucumeris", 16, true, true, false},
		{"persimilis", 5, true, true, false}, {"encarsia", 5, true, true, true}, {"stratiolaelaps", 14, true, false, true},
	} {
		a, ok := AgentOf(c.word)
		if !ok || a.LaysAt(c.night) != c.lays || a.HoldsOn(c.hairy) != c.stands {
			t.Errorf("%+v", c)
		}
	}
	for i, w := range Agents() {
		if a, ok := AgentOf(w); !ok || a != Agent(i) {
			t.Errorf("%s is not found", w)
		}
	}
	if _, ok := AgentOf("cat"); ok {
		t.Error("an agent that is none")
	}
}

// Law: a day is counted once, as if days were ticked off one by one.
func TestCover(t *testing.T) {
	r := rand.New(rand.NewPCG(10, 33))
	for range 300 {
		var froms, tos []float64
		ticked := map[int]bool{}
		for range r.IntN(5) {
			from := r.IntN(20) - 5
			to := from + r.IntN(9)
			froms, tos = append(froms, float64(from)), append(tos, float64(to))
			for d := max(0, from); d < min(7, to); d++ {
				ticked[d] = true
			}
		}
		days, begin, end := Cover(0, 7, froms, tos)
		near(t, "days", days, float64(len(ticked)), 0)
		if len(ticked) > 0 {
			near(t, "first day", begin, float64(slices.Min(slices.Collect(maps.Keys(ticked)))), 0)
			near(t, "last day", end, float64(slices.Max(slices.Collect(maps.Keys(ticked)))+1), 0)
		}
	}
}
