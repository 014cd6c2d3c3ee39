package risk

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The three percentiles are the literal's own, whatever the bounds and wherever the
// middle; the curve is finite, never falls and stays inside its bounds.
func TestRangePassesItsPercentiles(t *testing.T) {
	kinds := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range 40 { // thousands of triplets in all
			bounds := rapid.SampledFrom([]Bounds{Unbounded, Positive, Share}).Draw(t, "bounds")
			low, middle, high := triplet(t, bounds)
			if !(low < middle && middle < high) {
				continue
			}
			c, err := NewRange(low, middle, high, bounds)
			if err != nil {
				t.Fatal(err)
			}
			size := math.Abs(low) + math.Abs(middle) + math.Abs(high)
			for u, want := range map[float64]float64{0.1: low, 0.5: middle, 0.9: high} {
				if got := c.Quantile(u); !(math.Abs(got-want) <= 1e-12*size) {
					t.Fatalf("%g (%g..%g) %v: %.17g at %g", middle, low, high, bounds, got, u)
				}
			}
			// Far out a wide positive range reaches 10^300; compare each step to
			// itself.
			last := c.Quantile(ends[0])
			for _, u := range append(midpoints(200), ends[1]) {
				q := c.Quantile(u)
				if q < last-1e-13*max(size, math.Abs(q)) || math.IsNaN(q) || math.IsInf(q, 0) {
					t.Fatalf("%g (%g..%g) %v: %g at %g after %g", middle, low, high, bounds, q, u, last)
				}
				if bounds != Unbounded && q < 0 || bounds == Share && q > 1 {
					t.Fatalf("%g (%g..%g): %g leaves its bounds", middle, low, high, q)
				}
				last = q
			}
			switch c.(type) {
			case *metalog:
				kinds["metalog"]++
			case *halfNormals:
				kinds["half normals"]++
			}
		}
	})
	if kinds["metalog"] < 300 || kinds["half normals"] < 300 {
		t.Errorf("too few of one kind to prove anything: %v", kinds)
	}
}

// triplet draws a literal that may stand in a book.
func triplet(t *rapid.T, bounds Bounds) (low, middle, high float64) {
	place := rapid.Float64Range(0.001, 0.999).Draw(t, "place")
	switch bounds {
	case Unbounded:
		low = rapid.Float64Range(-1e6, 1e6).Draw(t, "low")
		high = low + math.Pow(10, rapid.Float64Range(-3, 7).Draw(t, "width"))
		return low, low + place*(high-low), high
	case Positive:
		low = math.Pow(10, rapid.Float64Range(-9, 9).Draw(t, "low"))
		high = low * math.Pow(10, rapid.Float64Range(0.001, 12).Draw(t, "width"))
		return low, low * math.Pow(high/low, place), high
	}
	low = rapid.Float64Range(0.0001, 0.99).Draw(t, "low")
	high = low + (0.9999-low)*rapid.Float64Range(0.01, 1).Draw(t, "width")
	return low, low + place*(high-low), high
}

// With the middle halfway the curve is the logistic distribution, whose quantile
// function and standard deviation s pi/sqrt(3) are standard (Johnson, Kotz and
// Balakrishnan 1995, chapter 23). On the scale of logarithms that is the
// log-logistic.
func TestMiddleHalfwayIsLogistic(t *testing.T) {
	s := 4 / math.Log(9)
	for _, u := range midpoints(99) {
		want := s * math.Log(u/(1-u))
		near(t, "logistic", must(NewRange(16, 20, 24, Unbounded)).Quantile(u), 20+want, 1e-12*30)
	}
	_, variance := moments(must(NewRange(16, 20, 24, Unbounded)), 1<<16)
	near(t, "standard deviation", math.Sqrt(variance), s*math.Pi/math.Sqrt(3), 1e-3)
	positive := must(NewRange(2, 8, 32, Positive))
	for _, u := range midpoints(99) {
		near(t, "log-logistic", positive.Quantile(u)/(8*math.Pow(u/(1-u), math.Log(4)/math.Log(9))), 1, 1e-12)
	}
}

// The mean of a three-term metalog is a1 + a3/2 (Keelin 2016, moments of the
// unbounded metalog); in terms of the literal a3 = (high + low - 2 middle)/(0.8 ln
// 9). The midpoint rule stops short of the tails: 1e-3 of the width.
func TestMetalogMean(t *testing.T) {
	for _, middle := range []float64{11.7, 14, 16, 18, 18.3} {
		mean, _ := moments(must(NewRange(10, middle, 20, Unbounded)), 1<<14)
		near(t, "mean", mean, middle+(30-2*middle)/(1.6*math.Log(9)), 1e-3)
	}
}

// Keelin (2016) gives the nearest place of the middle at which the curve still
// rises as (1 - 1.66711 (1/2 - alpha))/2. Both sides of that limit are tried on the
// bare formula: inside it rises everywhere, outside it falls somewhere. The
// language's sixth must lie inside.
func TestWhereMetalogStopsRising(t *testing.T) {
	edge := (1 - 1.66711*0.4) / 2
	if !(edge < nearest && nearest-edge < 1e-3) {
		t.Errorf("a sixth is not just inside the limit %.6f", edge)
	}
	near(t, "limit from the root of coth c = c", (1-0.8/1.1996786402577339)/2, edge, 1e-6)
	for place, want := range map[float64]bool{edge + 2e-5: true, edge - 2e-5: false, 1 - edge - 2e-5: true, 1 - edge + 2e-5: false, nearest: true} {
		ln9 := math.Log(9)
		c := metalog{scale{floor: math.Inf(-1), roof: math.Inf(1)}, place, 1 / (2 * ln9), (1 - 2*place) / (0.8 * ln9)}
		rises := true
		// The slope is least at t = 1/c, u = (1 -+ t)/2; look closely around
		// there.
		for i := -2000; i < 2000; i++ {
			for _, at := range []float64{0.0832, 0.9168} {
				u := at + float64(i)*1e-5
				rises = rises && c.Quantile(u+1e-5) > c.Quantile(u)
			}
		}
		if rises != want {
			t.Errorf("middle at %.6f: rises %v, want %v", place, rises, want)
		}
	}
}

// Two half normals: exact at the three points, continuous where they meet, and each
// half a normal distribution: 2.5 % lie 1.959964/1.281552 edges below the middle
// (table of the normal distribution, e.g. NIST/SEMATECH e-Handbook 1.3.6.7.1).
func TestHalfNormals(t *testing.T) {
	c := must(NewRange(10, 11, 20, Unbounded))
	if _, ok := c.(*halfNormals); !ok {
		t.Fatalf("the middle is within a tenth of an edge, yet the curve is %T", c)
	}
	near(t, "10 %", c.Quantile(0.1), 10, 1e-12)
	near(t, "50 %", c.Quantile(0.5), 11, 0)
	near(t, "90 %", c.Quantile(0.9), 20, 1e-12)
	near(t, "just below the middle", c.Quantile(0.5-1e-12), 11, 1e-10)
	near(t, "just above the middle", c.Quantile(0.5+1e-12), 11, 1e-10)
	near(t, "2.5 %", c.Quantile(0.025), 11-1.959964/1.281552, 1e-5)
	near(t, "97.5 %", c.Quantile(0.975), 11+9*1.959964/1.281552, 1e-5)
}

// An edge on the bound: the curve is that of the open range, and stops there.
func TestEdgeOnTheBoundStops(t *testing.T) {
	for _, r := range []struct {
		low, middle, high float64
		bounds            Bounds
		floor, roof       float64
	}{
		{0, 3, 8, Positive, 0, math.Inf(1)},
		{0, 0.1, 0.3, Share, 0, 1},
		{0.7, 0.9, 1, Share, 0, 1},
		{0, 0.5, 1, Share, 0, 1},
		{0, 0.02, 0.9, Share, 0, 1},
	} {
		c, open := must(NewRange(r.low, r.middle, r.high, r.bounds)), must(NewRange(r.low, r.middle, r.high, Unbounded))
		on := 0
		for _, u := range midpoints(1000) {
			q := c.Quantile(u)
			if want := max(r.floor, min(open.Quantile(u), r.roof)); q != want {
				t.Fatalf("%+v: %g at %g, want %g", r, q, u, want)
			}
			if q == r.floor || q == r.roof {
				on++
			}
		}
		if on < 100 {
			t.Errorf("%+v: %d of 1000 on the bound; an edge there is the outermost tenth", r, on)
		}
	}
}

// A share's curve read from the other side, as what is lost, is the same curve.
func TestShareReadFromTheOtherSide(t *testing.T) {
	kept, lost := must(NewRange(0.7, 0.78, 0.85, Share)), must(NewRange(0.15, 0.22, 0.3, Share))
	for _, u := range midpoints(99) {
		near(t, "share", kept.Quantile(u), 1-lost.Quantile(1-u), 1e-12)
	}
}

func BenchmarkRange(b *testing.B) {
	u := make([]float64, 1<<16)
	Key{Name: "set_share"}.Uniforms(0, u)
	for name, c := range map[string]Curve{
		"open metalog":          must(NewRange(10, 14, 20, Unbounded)),
		"positive metalog":      must(NewRange(10, 14, 20, Positive)),
		"share metalog":         must(NewRange(0.7, 0.78, 0.85, Share)),
		"positive half normals": must(NewRange(10, 10.5, 20, Positive)),
	} {
		b.Run(name, func(b *testing.B) {
			sum := 0.0
			for i := range b.N {
				sum += c.Quantile(u[i%len(u)])
			}
			benchmarkSink = sum
		})
	}
}

var benchmarkSink float64
