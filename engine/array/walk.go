package array

// Walk goes over every combination of cells of a set of axes and gives, for
// each of several values, the number of its cell there. Values without an axis
// stay where they are along it.
type Walk struct {
	dims []walkDim
	at   []int // where each dimension stands
	Cell []int // the cell of each value, kept up to date by Next
}

type walkDim struct {
	n      int
	stride []int
}

// Layout says how a value takes part in a walk: its cells stand over the axes
// In, and it moves only along those of them that are in Along.
type Layout struct{ In, Along Axes }

// Over is the layout of a value that moves along all its axes.
func Over(a Axes) Layout { return Layout{a, a} }

// NewWalk prepares a walk over the axes in over. A value may have axes outside
// over, or not move along some: its cell is then the one at their start, to
// which the caller adds what it likes.
func NewWalk(s *Space, over Axes, values ...Layout) *Walk {
	w := &Walk{Cell: make([]int, len(values))}
	for _, i := range over.List() {
		d := walkDim{n: s.Axes[i].Len(), stride: make([]int, len(values))}
		for k, v := range values {
			if v.Along.Has(i) {
				d.stride[k] = s.Stride(v.In, i)
			}
		}
		if n := len(w.dims); n > 0 && joins(w.dims[n-1], d) {
			d.n *= w.dims[n-1].n
			w.dims[n-1] = d
			continue
		}
		w.dims = append(w.dims, d)
	}
	w.at = make([]int, len(w.dims))
	return w
}

// joins says whether two neighbouring dimensions can be walked as one.
func joins(outer, inner walkDim) bool {
	for k := range outer.stride {
		if outer.stride[k] != inner.stride[k]*inner.n {
			return false
		}
	}
	return true
}

// Reset goes back to the first combination, each value shifted by the given number of cells.
func (w *Walk) Reset(shift []int) {
	for i := range w.at {
		w.at[i] = 0
	}
	if shift == nil {
		clear(w.Cell)
		return
	}
	copy(w.Cell, shift)
}

// Len is the number of combinations.
func (w *Walk) Len() int {
	n := 1
	for i := range w.dims {
		n *= w.dims[i].n
	}
	return n
}

// Next goes to the next combination; false after the last.
func (w *Walk) Next() bool {
	for i := len(w.dims) - 1; i >= 0; i-- {
		d := &w.dims[i]
		w.at[i]++
		if w.at[i] < d.n {
			for k := range w.Cell {
				w.Cell[k] += d.stride[k]
			}
			return true
		}
		w.at[i] = 0
		for k := range w.Cell {
			w.Cell[k] -= d.stride[k] * (d.n - 1)
		}
	}
	return false
}
