package engine

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"wintertruss/engine/risk"
)

// Driver is an unsure input that a figure hangs on, and how much.
//
// The draws say it: they move all inputs at once, as the book says they may, and how
// closely a figure follows one of them is Spearman's rank correlation of the two
// (Spearman 1904), which asks no more of the way between than that it goes one way.
// How far the figure goes with the input is read off the straight line of least
// squares through the draws. Both are of the draws that were made for the bands, so
// they cost no run of their own. Turning one input at a time instead would need two
// runs an input and miss what inputs do together; the whole share of an input with
// what it does together (Sobol' 1993) would need thousands more draws.
type Driver struct {
	Name string // of the input: a line, or a list's column
	Cell string // which of its cells, "" when it has one draw for all of them
	// Rank is Spearman's correlation, -1 to 1. Of an input with a draw for every week it
	// is that of its draws together: the root of the sum of squares, without a sign.
	Rank float64
	// Low and High are the input's 10th and 90th percentile, in the unit it is shown in,
	// or 0 and 1 for a chance; NaN where it has a draw for every week.
	Low, High float64
	Unit      string
	Chance    bool
	// AtLow and AtHigh are what the figure comes to, on average, with the input there,
	// in the figure's unit; of a draw for every week half of what they move it to either side.
	AtLow, AtHigh float64
}

// Moves is how far the figure goes while the input goes through its range.
func (d *Driver) Moves() float64 { return math.Abs(d.AtHigh - d.AtLow) }

// leastRank is the least correlation that is told from chance: three times the
// spread that two inputs with nothing in common show over n draws, 1/sqrt(n).
func leastRank(n int) float64 { return math.Max(0.05, 3/math.Sqrt(float64(n))) }

// Drivers gives the inputs that the sum of some cells of a line hangs on, the one that
// moves it most first. It reads the draws that were made (Bands, Value) and makes none:
// false when the line's are not there yet. A line that is sure has no drivers.
func (d *Desk) Drivers(name string, cells []int) ([]Driver, bool) {
	if d.made == nil {
		return nil, true
	}
	line, ok := d.made.byName[name]
	if !ok || !d.prog.OK(line) || !d.prog.Drawn(line) {
		return nil, true
	}
	rows, drawn := d.drawn[line]
	if !drawn {
		return nil, false
	}
	v, mul, add := d.plainValue(line)
	y, plain := summed(rows, v.Cells, cells, mul, add)
	if y == nil {
		return nil, true
	}
	ranked := ranksOf(y)
	if ranked == nil {
		return nil, true
	}
	var out []Driver
	for _, input := range d.prog.Reaching(line, d.inputsDrawn()) {
		out = append(out, d.driversOf(input, y, ranked, plain)...)
	}
	slices.SortStableFunc(out, func(a, b Driver) int {
		return cmp.Or(cmp.Compare(b.Moves(), a.Moves()), strings.Compare(a.Name+a.Cell, b.Name+b.Cell))
	})
	return out, true
}

// summed adds up cells draw by draw, in the unit they are shown in.
func summed(rows [][]float64, shown []float64, cells []int, mul, add float64) (y []float64, plain float64) {
	for _, c := range cells {
		if c < 0 || c >= len(rows) {
			return nil, 0
		}
		if y == nil {
			y = make([]float64, len(rows[c]))
		}
		for i, x := range rows[c] {
			y[i] += x*mul + add
		}
		plain += shown[c]
	}
	return y, plain
}

// inputsDrawn gives the lines of the source that are inputs with a range.
func (d *Desk) inputsDrawn() []int {
	var out []int
	for i := range d.made.src.Lines {
		if in := d.made.src.Lines[i].Input; in != nil && in.Sampler != nil && named(&d.made.src.Lines[i]) {
			out = append(out, i)
		}
	}
	return out
}

// driversOf gives what one input does: a driver for each of its literals, or one for
// all of its weeks.
func (d *Desk) driversOf(input int, y, ranked []float64, plain float64) []Driver {
	l := &d.made.src.Lines[input]
	s, ok := l.Input.Sampler.(*sampler)
	rows := d.drawn[input]
	if !ok || rows == nil {
		return nil
	}
	v, mul, add := d.plainValue(input)
	least := leastRank(len(y))
	var out []Driver
	weekly := Driver{Name: l.Name, Low: math.NaN(), High: math.NaN(), AtLow: plain, AtHigh: plain}
	square := 0.0
	for i := range s.streams {
		cell := slices.Index(s.stream, i)
		if cell < 0 || cell >= len(rows) {
			continue
		}
		x := make([]float64, len(rows[cell]))
		for k := range x {
			x[k] = rows[cell][k]*mul + add
		}
		rank := correlation(ranksOf(x), ranked)
		if !(math.Abs(rank) >= least) {
			continue
		}
		one := Driver{Name: l.Name, Rank: rank, Unit: v.Unit, AtLow: plain, AtHigh: plain}
		edges := risk.Bands(slices.Clone(x), 0.1, 0.9)
		one.Low, one.High = edges[0], edges[1]
		if lowest, highest := slices.Min(x), slices.Max(x); lowest == 0 && highest == 1 && one.Low == 0 && (one.High == 0 || one.High == 1) {
			one.Chance, one.Low, one.High = true, 0, 1
		}
		slope, middle := leastSquares(x, y), v.Cells[cell]
		one.AtLow, one.AtHigh = plain+slope*(one.Low-middle), plain+slope*(one.High-middle)
		if s.streams[i].week >= 0 {
			weekly.Rank = math.Hypot(weekly.Rank, rank)
			square += one.Moves() * one.Moves()
			continue
		}
		if len(s.streams) > 1 {
			one.Cell = strings.TrimSuffix(strings.TrimPrefix(d.cellName(input, cell), "at "), ": ")
		}
		out = append(out, one)
	}
	if square > 0 {
		half := math.Sqrt(square) / 2
		weekly.AtLow, weekly.AtHigh = plain-half, plain+half
		out = append(out, weekly)
	}
	return out
}

// ranksOf gives each number its place in the order of all, from 1, with equal ones in
// the middle of theirs; NaN keeps no place. Nil when all are equal.
func ranksOf(x []float64) []float64 {
	order := make([]int, 0, len(x))
	for i, v := range x {
		if v == v {
			order = append(order, i)
		}
	}
	if len(order) < 2 {
		return nil
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	if x[order[0]] == x[order[len(order)-1]] {
		return nil
	}
	out := make([]float64, len(x))
	for i := range out {
		out[i] = math.NaN()
	}
	for i := 0; i < len(order); {
		j := i
		for j+1 < len(order) && x[order[j+1]] == x[order[i]] {
			j++
		}
		for k := i; k <= j; k++ {
			out[order[k]] = float64(i+j)/2 + 1
		}
		i = j + 1
	}
	return out
}

// moments gives the sums of squares and products around the means of the pairs of
// which both are known.
func moments(x, y []float64) (xx, xy, yy float64) {
	n, mx, my := 0.0, 0.0, 0.0
	for i := range x {
		if x[i] == x[i] && y[i] == y[i] {
			n, mx, my = n+1, mx+x[i], my+y[i]
		}
	}
	mx, my = mx/n, my/n
	for i := range x {
		if x[i] == x[i] && y[i] == y[i] {
			a, b := x[i]-mx, y[i]-my
			xx, xy, yy = xx+float64(a*a), xy+float64(a*b), yy+float64(b*b)
		}
	}
	return xx, xy, yy
}

func correlation(x, y []float64) float64 {
	if x == nil || y == nil {
		return 0
	}
	xx, xy, yy := moments(x, y)
	return xy / math.Sqrt(xx*yy)
}

func leastSquares(x, y []float64) float64 {
	xx, xy, _ := moments(x, y)
	if xx == 0 {
		return 0
	}
	return xy / xx
}
