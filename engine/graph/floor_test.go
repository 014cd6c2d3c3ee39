package graph

import "math/bits"

// floor is what the graph is measured against: the least that recomputes what
// hangs on an edit, written out by hand for the one sum of the benchmarks, with
// nothing called, nothing checked and no way to ask. Its dirty set is one bit a
// node in an order that is given, with a level of summary above.
type floor struct {
	reads, dependents rows
	value             []float64
	dirty, sum        []uint64
	ran               int
}

func (s *shape) floor() *floor {
	m := s.means()
	n := len(s.reads)
	f := &floor{reads: m.reads, dependents: m.reads.turned(), value: m.value, dirty: make([]uint64, n/64+1), sum: make([]uint64, n/4096+1)}
	f.full()
	return f
}

func (f *floor) mean(i int32) float64 {
	x := 0.0
	reads := f.reads.to[f.reads.at[i]:f.reads.at[i+1]]
	for _, r := range reads {
		x += f.value[r]
	}
	return x/float64(len(reads)) + 0.001
}

// full computes every node but the inputs.
func (f *floor) full() {
	for i := range f.value {
		if f.reads.at[i] != f.reads.at[i+1] {
			f.value[i] = f.mean(int32(i))
		}
	}
}

// set gives an input a value and computes what hangs on it.
func (f *floor) set(input int32, x float64) {
	f.value[input] = x
	f.ran = 0
	low := len(f.sum)
	mark := func(i int32) {
		for _, d := range f.dependents.to[f.dependents.at[i]:f.dependents.at[i+1]] {
			w := d >> 6
			f.dirty[w] |= 1 << (d & 63)
			f.sum[w>>6] |= 1 << (w & 63)
			low = min(low, int(w>>6))
		}
	}
	mark(input)
	for s := low; s < len(f.sum); s++ {
		for f.sum[s] != 0 {
			w := s<<6 + bits.TrailingZeros64(f.sum[s])
			f.sum[s] &= f.sum[s] - 1
			for f.dirty[w] != 0 {
				b := bits.TrailingZeros64(f.dirty[w])
				f.dirty[w] &^= 1 << b
				i := int32(w<<6 + b)
				x := f.mean(i)
				f.ran++
				if x != f.value[i] {
					f.value[i] = x
					mark(i)
				}
			}
			f.sum[s] &^= 1 << (w & 63)
		}
	}
}
