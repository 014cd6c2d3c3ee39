package risk

import (
	"math"
	"math/bits"
	"slices"
)

// Quantile gives the p-quantile of the numbers in x (Hyndman and Fan 1996, type 7),
// p from 0 to 1: with x in rising order, counted from 0, and h = (n-1)p, the value
// at h, on a straight line between its two neighbours. Cells that are not numbers
// (blank or fault) are skipped; with none left the result is NaN. The order of x is
// changed; nothing is allocated.
func Quantile(x []float64, p float64) float64 {
	var ps, dst = [1]float64{p}, [1]float64{}
	BandsInto(dst[:], x, ps[:])
	return dst[0]
}

// Bands gives the quantiles ps of x as Quantile does, faster than one by one, in
// the order of ps. The order of x is changed; only the result is allocated.
func Bands(x []float64, ps ...float64) []float64 {
	dst := make([]float64, len(ps))
	BandsInto(dst, x, ps)
	return dst
}

// BandsInto is Bands into dst, which has the length of ps. It is fastest when ps
// rise.
func BandsInto(dst, x, ps []float64) {
	x = x[:numbersFirst(x)]
	from := 0 // nothing before it is greater than anything from it on
	for i, p := range ps {
		if len(x) == 0 || !(0 <= p && p <= 1) {
			dst[i] = math.NaN()
			continue
		}
		h := float64(len(x)-1) * p
		k := int(h)
		if k < from {
			from = 0
		}
		sink(x[from:], k-from)
		from = k
		dst[i] = x[k]
		if share := h - float64(k); share > 0 {
			dst[i] += float64(share * (slices.Min(x[k+1:]) - x[k]))
		}
	}
}

// numbersFirst moves the numbers of x to the front and counts them.
func numbersFirst(x []float64) int {
	n := 0
	for i, v := range x {
		if v == v {
			x[n], x[i] = v, x[n]
			n++
		}
	}
	return n
}

// sink reorders x so that x[k] is what it would be in rising order, with nothing
// greater before it and nothing less behind it (Hoare's find, 1961, with the median
// of three as pivot). Both scans stop at equal numbers, so that draws which are all
// 0 or 1, or stopped at a bound, split evenly. Should the pivots be bad time after
// time, sorting ends it.
func sink(x []float64, k int) {
	for tries := 2 * bits.Len(uint(len(x))); len(x) > 12; tries-- {
		if tries == 0 {
			break
		}
		pivot := medianOfThree(x[0], x[len(x)/2], x[len(x)-1])
		i, j := 0, len(x)-1
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			x = x[:j+1]
		case k >= i:
			x, k = x[i:], k-i
		default:
			return // between j and i stands the pivot
		}
	}
	slices.Sort(x)
}

func medianOfThree(a, b, c float64) float64 {
	return max(min(a, b), min(max(a, b), c))
}
