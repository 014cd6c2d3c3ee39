package array

import "math/bits"

// Axis is one named axis.
type Axis struct {
	Name    string
	Members []string // names of its cells, as they stand in JSON
}

// Len is the number of cells.
func (a *Axis) Len() int { return len(a.Members) }

// MaxAxes is how many axes a Space can hold.
const MaxAxes = 64

// Axes is a set of axes of a Space, by number.
type Axes uint64

// Only gives the set of one axis.
func Only(i int) Axes { return 1 << i }

// Has says whether axis i is in the set.
func (a Axes) Has(i int) bool { return i >= 0 && a>>i&1 == 1 }

// Within says whether every axis of a is in b.
func (a Axes) Within(b Axes) bool { return a&^b == 0 }

// Count is the number of axes.
func (a Axes) Count() int { return bits.OnesCount64(uint64(a)) }

// List gives the numbers of the axes in canonical order.
func (a Axes) List() []int {
	var out []int
	for ; a != 0; a &= a - 1 {
		out = append(out, bits.TrailingZeros64(uint64(a)))
	}
	return out
}

// Space is the table of all axes of a book, in canonical order.
type Space struct{ Axes []Axis }

// Find gives the number of the axis of that name, or -1.
func (s *Space) Find(name string) int {
	for i := range s.Axes {
		if s.Axes[i].Name == name {
			return i
		}
	}
	return -1
}

// Uncounted is what Size gives when there are that many cells or more.
const Uncounted = 1 << 40

// Size is the number of cells over a set of axes; 1 for the empty set.
func (s *Space) Size(a Axes) int {
	n := 1
	for ; a != 0; a &= a - 1 {
		m := s.Axes[bits.TrailingZeros64(uint64(a))].Len()
		if m == 0 {
			return 0
		}
		n = min(n*m, Uncounted) // an axis has less than 2^20 cells, so this stays an int
	}
	return n
}

// Stride is how many cells apart two neighbours along axis i stand in a value
// over a; 0 when a does not have the axis.
func (s *Space) Stride(a Axes, i int) int {
	if !a.Has(i) {
		return 0
	}
	return s.Size(a >> (i + 1) << (i + 1))
}

// Names gives the names of a set of axes in canonical order.
func (s *Space) Names(a Axes) []string {
	out := []string{}
	for _, i := range a.List() {
		out = append(out, s.Axes[i].Name)
	}
	return out
}
