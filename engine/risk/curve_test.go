package risk

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: %.17g, want %.17g within %g", what, got, want, tolerance)
	}
}

func must(c Curve, err error) Curve {
	if err != nil {
		panic(err)
	}
	return c
}

// ends are the least and the greatest uniform.
var ends = [...]float64{1.0 / (1 << 33), 1 - 1.0/(1<<33)}

// midpoints gives n evenly spread uniforms.
func midpoints(n int) []float64 {
	u := make([]float64, n)
	for i := range u {
		u[i] = (float64(i) + 0.5) / float64(n)
	}
	return u
}

// shareBelow is the distribution function of c at x, read off its quantiles.
func shareBelow(c Curve, x float64) float64 {
	low, high := ends[0], ends[1]
	for range 80 {
		if u := low + (high-low)/2; c.Quantile(u) <= x {
			low = u
		} else {
			high = u
		}
	}
	return low
}

// OpenTURNS, test t_Triangular (a -0.5, m 1.5, b 2.5): the distribution function at
// 1, the 25 % and 95 % quantile. Printed there to six digits.
func TestLikelyAgainstPublishedTriangle(t *testing.T) {
	c := must(NewLikely(-0.5, 1.5, 2.5))
	near(t, "share below 1", shareBelow(c, 1), 0.375, 1e-6)
	near(t, "25 %", c.Quantile(0.25), 0.724745, 1e-6)
	near(t, "95 %", c.Quantile(0.95), 2.112702, 1e-6)
	// Mean (a+m+b)/3 and variance (a²+m²+b²-am-ab-mb)/18, definition; midpoint
	// rule, whose error at n points is below 1e-5 here.
	mean, variance := moments(c, 1<<14)
	near(t, "mean", mean, 3.5/3, 1e-5)
	near(t, "variance", variance, 7.0/18, 1e-4)
}

// The same curve by another hand: gonum's triangle, modes inside and on an edge.
func TestLikelyAgainstGonum(t *testing.T) {
	for _, m := range []float64{20, 20.5, 35, 60} {
		c, g := must(NewLikely(20, m, 60)), distuv.NewTriangle(20, 60, m, nil)
		for _, u := range midpoints(201) {
			near(t, "quantile", c.Quantile(u), g.Quantile(u), 1e-12*60)
		}
	}
}

func moments(c Curve, n int) (mean, variance float64) {
	for _, u := range midpoints(n) {
		mean += c.Quantile(u) / float64(n)
	}
	for _, u := range midpoints(n) {
		d := c.Quantile(u) - mean
		variance += d * d / float64(n)
	}
	return mean, variance
}

// Mean (a+b)/2 and variance (b-a)²/12 of the uniform distribution, definition.
func TestEven(t *testing.T) {
	c := must(NewEven(-3, 9))
	mean, variance := moments(c, 1000)
	near(t, "mean", mean, 3, 1e-9)
	near(t, "variance", variance, 12, 1e-4)
	near(t, "25 %", c.Quantile(0.25), 0, 1e-12)
}

func TestChance(t *testing.T) {
	for _, p := range []float64{0, 0.04, 0.5, 1} {
		mean, _ := moments(must(NewChance(p)), 10000)
		near(t, "share of ones", mean, p, 1e-12)
	}
	if c := must(NewChance(0.04)); c.Quantile(0.5) != 0 || c.Quantile(0.97) != 1 {
		t.Error("the ones must stand at the upper end")
	}
}

// Every curve of any literal is finite at the ends of the draws and never falls.
// The slack of a few last digits is that of the logarithm.
func TestCurvesRiseAndAreFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64Range(-limit, limit)
		a, b, p := number.Draw(t, "a"), number.Draw(t, "b"), rapid.Float64Range(0, 1).Draw(t, "p")
		low, high := min(a, b), max(a, b)
		if low == high {
			t.Skip()
		}
		mode := max(low, min(low/2+high/2, high))
		for _, c := range []Curve{must(NewEven(low, high)), must(NewLikely(low, mode, high)), must(NewChance(p))} {
			rises(t, c, max(math.Abs(low), math.Abs(high), 1))
			if q := c.Quantile(ends[0]); !(q >= 0 || q >= low) {
				t.Fatalf("%#v begins at %g", c, q)
			}
		}
	})
}

type fataler interface{ Fatalf(string, ...any) }

func rises(t fataler, c Curve, size float64) {
	last := c.Quantile(ends[0])
	for _, u := range append(midpoints(400), ends[1]) {
		q := c.Quantile(u)
		if math.IsNaN(q) || math.IsInf(q, 0) || q < last-1e-13*size {
			t.Fatalf("%#v: %g at %g after %g", c, q, u, last)
		}
		last = q
	}
	if math.IsInf(last, 0) || math.IsNaN(c.Quantile(ends[0])) || math.IsInf(c.Quantile(ends[0]), 0) {
		t.Fatalf("%#v is not finite at its ends", c)
	}
}

func TestLiteralsRefused(t *testing.T) {
	refused := func(c Curve, err error) func(want string) {
		return func(want string) {
			t.Helper()
			if err == nil || c != nil || err.Error() != want {
				t.Errorf("%v, %v; want: %s", c, err, want)
			}
		}
	}
	refused(NewEven(5, 5))("the lower edge 5 must be below the upper edge 5")
	refused(NewEven(0, math.Inf(1)))("a range needs plain numbers no larger than 1e+60")
	refused(NewLikely(6, 5.5, 5))("the lower edge 6 must be below the upper edge 5")
	refused(NewLikely(1, 7, 5))("the likeliest value 7 must not lie outside 1 to 5")
	refused(NewChance(1.07))("a chance lies between 0 and 100 %, this is 107 %")
	refused(NewChance(math.NaN()))("a chance lies between 0 and 100 %, this is NaN %")
	refused(NewRange(5, math.NaN(), 9, Unbounded))("a range needs plain numbers no larger than 1e+60")
	refused(NewRange(5, 5, 9, Unbounded))("the middle 5 must lie between the edges 5 and 9, not on or beyond them")
	refused(NewRange(5, 10, 9, Positive))("the middle 10 must lie between the edges 5 and 9, not on or beyond them")
	refused(NewRange(-1, 10, 90, Positive))("the lower edge -1 is below 0, but the amount is one " +
		"that stays positive; write open after the range if it may go below")
	refused(NewRange(0.2, 0.5, 1.1, Share))("the edges 0.2 and 1.1 leave 0 to 100 %, but the share is one " +
		"that stays there; write open after the range if it may leave")
	refused(NewRange(1, 2, 3, Bounds(7)))("there are no bounds of kind 7")
}
