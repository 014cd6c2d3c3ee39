package risk

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
)

// Ten numbers and seven quantiles of R 4.2.2, quantile(x, p, type = 7), in the
// definitions of Hyndman and Fan (1996). Types 4 and 6 give other values, so that
// these tell the types apart.
func TestQuantileIsType7(t *testing.T) {
	x := []float64{15, 4, 20, 2, 12, 7, 4, 11, 5, 9}
	ps := []float64{0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95}
	want := []float64{2.9, 3.8, 4.25, 8, 11.75, 15.5, 17.75}
	type4 := []float64{2, 2, 4, 7, 11.5, 15, 17.5}
	type6 := []float64{2, 2.2, 4, 8, 12.75, 19.5, 20}
	differs4, differs6 := 0, 0
	for i, p := range ps {
		got := Quantile(slices.Clone(x), p)
		near(t, "quantile", got, want[i], 1e-9)
		if math.Abs(got-type4[i]) > 0.01 {
			differs4++
		}
		if math.Abs(got-type6[i]) > 0.01 {
			differs6++
		}
	}
	if differs4 < 6 || differs6 < 5 {
		t.Error("the list does not tell type 7 from types 4 and 6")
	}
	for i, q := range Bands(slices.Clone(x), ps...) {
		near(t, "together", q, want[i], 1e-9)
	}
}

// By definition: sort, then interpolate.
func sortedQuantile(x []float64, p float64) float64 {
	var s []float64
	for _, v := range x {
		if !math.IsNaN(v) {
			s = append(s, v)
		}
	}
	if len(s) == 0 {
		return math.NaN()
	}
	slices.Sort(s)
	h := float64(len(s)-1) * p
	k := int(h)
	return s[k] + (h-float64(k))*(s[min(k+1, len(s)-1)]-s[k])
}

func TestBandsAreThoseOfSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Few different numbers: ties are what breaks selections. Some cells
		// blank, some faulty.
		few := rapid.IntRange(1, 40).Draw(t, "few")
		cell := rapid.Custom(func(t *rapid.T) float64 {
			switch n := rapid.IntRange(-2, few).Draw(t, "n"); n {
			case -2:
				return array.Blank
			case -1:
				return array.Fault(array.DividedByZero, 3)
			default:
				return float64(n) - 7
			}
		})
		x := rapid.SliceOfN(cell, 0, 200).Draw(t, "x")
		ps := rapid.SliceOfN(rapid.Float64Range(0, 1), 1, 5).Draw(t, "ps")
		before := slices.Clone(x)
		got := Bands(x, ps...)
		for i, p := range ps {
			if want := sortedQuantile(before, p); got[i] != want && !(math.IsNaN(want) && math.IsNaN(got[i])) && math.Abs(got[i]-want) > 1e-12 {
				t.Fatalf("%g of %v is %g, want %g", p, before, got[i], want)
			}
		}
		// Only reordered: nothing lost, nothing new.
		slices.Sort(x)
		slices.Sort(before)
		for i := range x {
			if x[i] != before[i] && !(math.IsNaN(x[i]) && math.IsNaN(before[i])) {
				t.Fatalf("%v became %v", before, x)
			}
		}
	})
}

func TestQuantileEdges(t *testing.T) {
	for p, want := range map[float64]float64{0: -1, 0.5: 2, 1: 5} {
		if got := Quantile([]float64{array.Blank, 5, -1, array.Blank}, p); got != want {
			t.Errorf("%g: %g, want %g", p, got, want)
		}
	}
	for _, got := range []float64{Quantile(nil, 0.5), Quantile([]float64{array.Blank, array.Fault(array.TooLarge, 1)}, 0.5),
		Quantile([]float64{1, 2}, 1.5), Quantile([]float64{1, 2}, math.NaN())} {
		if !math.IsNaN(got) {
			t.Errorf("%g where nothing can be said", got)
		}
	}
	if got := Quantile([]float64{3}, 0.9); got != 3 {
		t.Errorf("one draw: %g", got)
	}
}

// Orders that are hard on selections, at a size at which n² steps would not end
// within the time of a test.
func TestHardOrders(t *testing.T) {
	const n = 400_000
	orders := map[string]func(i int) float64{
		"rising":     func(i int) float64 { return float64(i) },
		"falling":    func(i int) float64 { return float64(n - i) },
		"all one":    func(i int) float64 { return 7 },
		"two values": func(i int) float64 { return float64(i & 1) },
		"organ pipe": func(i int) float64 { return float64(min(i, n-i)) },
		"saw":        func(i int) float64 { return float64(i % 1000) },
	}
	for name, order := range orders {
		x := make([]float64, n)
		for i := range x {
			x[i] = order(i)
		}
		want10, want90 := sortedQuantile(x, 0.1), sortedQuantile(x, 0.9)
		if got := Bands(x, 0.1, 0.9); got[0] != want10 || got[1] != want90 {
			t.Errorf("%s: %v, want %g and %g", name, got, want10, want90)
		}
	}
}

func TestQuantileDoesNotAllocate(t *testing.T) {
	x, scratch := draws(Key{}, 1024), make([]float64, 1024)
	var dst [3]float64
	ps := []float64{0.1, 0.5, 0.9}
	if n := testing.AllocsPerRun(10, func() {
		copy(scratch, x)
		dst[0] = Quantile(scratch, 0.3)
		BandsInto(dst[:], scratch, ps)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkBands(b *testing.B) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, n := range []int{1024, 10240} {
		x, scratch := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = r.NormFloat64()
		}
		var dst [2]float64
		name := map[int]string{1024: "1024", 10240: "10240"}[n]
		b.Run("band of "+name, func(b *testing.B) {
			for range b.N {
				copy(scratch, x)
				BandsInto(dst[:], scratch, []float64{0.1, 0.9})
			}
		})
		// The peer: sorting.
		b.Run("sort of "+name, func(b *testing.B) {
			for range b.N {
				copy(scratch, x)
				slices.Sort(scratch)
			}
		})
	}
}
