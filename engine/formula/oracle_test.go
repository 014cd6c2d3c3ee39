package formula

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// The oracle is a second reading of the language, as plain as can be: it walks the
// syntax tree for one cell and one draw at a time and remembers nothing but lines
// it has been through. It shares the tree with the compiler and no more: its axes,
// its conversions and its rules for what is blank stand here once again.

// A value of the oracle: a number, or why there is none.
type cellValue struct {
	x float64
	k kind
}

type kind uint8

const (
	number kind = iota
	nothing
	faulty_
	wild // beyond 1e60, where the language promises little: not compared
)

// spot is a cell: where it stands along bed, crop and week.
type spot [3]int

// The axes of the oracle, and sets of them.
const (
	bed, crop, weeks = 0, 1, 2
	bedBit           = 1 << bed
	cropBit          = 1 << crop
	weekBit          = 1 << weeks
)

var axisNames = [3]string{"bed", "crop", "week"}

// measure is the oracle's unit: what it measures, and exactly how much of it.
type measure struct {
	dim    string // "" a plain number, "t" a temperature, "dt" a difference of two
	size   *big.Rat
	offset *big.Rat // of a temperature
	zero   bool     // the literal 0
	truth  bool
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return r
}

// The units that the random books use, as the International System, NIST SP 811
// and the language page give them.
var measures = map[string]measure{
	"1": {size: rat("1")}, "%": {size: rat("0.01")},
	"kg": {dim: "m", size: rat("1")}, "lb": {dim: "m", size: rat("0.45359237")},
	"oz": {dim: "m", size: new(big.Rat).Quo(rat("0.45359237"), rat("16"))}, "g": {dim: "m", size: rat("0.001")},
	"USD": {dim: "$", size: rat("1")}, "USD/kg": {dim: "$/m", size: rat("1")}, "USD/lb": {dim: "$/m", size: new(big.Rat).Inv(rat("0.45359237"))},
	"degC": {dim: "t", size: rat("1"), offset: rat("273.15")}, "degF": {dim: "t", size: rat("5/9"), offset: rat("459.67")},
	"K": {dim: "dt", size: rat("1")}, "degF_diff": {dim: "dt", size: rat("5/9")},
}

// oracle computes one book.
type oracle struct {
	b     *randomBook
	memo  map[memoKey]cellValue
	axes  map[lineUnder]int
	draws int
	busy  int
}

type lineUnder struct {
	line     int
	scenario string
}

type memoKey struct {
	lineUnder
	at   spot
	draw int
}

// under is where an expression is looked at: the scenario, and what base means.
type under struct {
	scenario string
	base     func(at spot, draw int) cellValue
	baseAxes int
	baseUnit measure
}

// span gives the axes of an expression.
func (o *oracle) span(e syntax.Expr, u under) int {
	switch n := e.(type) {
	case *syntax.Name:
		if n.Base == "base" {
			return u.baseAxes
		}
		if n.Full() == "crop.bed" {
			return o.b.refAxes
		}
		return o.lineAxes(lineUnder{o.b.at[n.Base], u.scenario})
	case *syntax.Unary:
		return o.span(n.X, u)
	case *syntax.Binary:
		return o.span(n.L, u) | o.span(n.R, u)
	case *syntax.Choice:
		return o.span(n.Cond, u) | o.span(n.Then, u) | o.span(n.Else, u)
	case *syntax.Call:
		switch n.Name {
		case "under":
			u.scenario = n.Args[0].(*syntax.Text).Value
			return o.span(n.Args[1], u)
		case "measure":
			return 0
		}
		a := o.span(n.Args[0], u)
		switch n.Name {
		case "total", "mean_over", "largest", "smallest", "how_many":
			return a &^ o.over(n, a)
		case "share_of":
			return a
		case "only", "at", "this_week":
			axis, _ := o.picked(n)
			return a &^ (1 << axis)
		case "via":
			return o.span(n.Args[1], u)&^bedBit | a
		case "grouped":
			return (a|o.span(n.Args[1], u))&^cropBit | bedBit
		case "weeks_before", "is":
			if len(n.Args) == 3 {
				a |= o.span(n.Args[2], u)
			}
			return a
		}
		for _, x := range n.Args[1:] {
			a |= o.span(x, u)
		}
		if n.Name == "earlier" { // a line that leans on itself is over weeks
			a |= weekBit
		}
		return a
	}
	return 0
}

// over gives the axes that a reducer names; none means all.
func (o *oracle) over(n *syntax.Call, have int) int {
	if len(n.Args) == 1 {
		return have
	}
	set := 0
	for _, a := range n.Args[1:] {
		for i, name := range axisNames {
			if name == a.(*syntax.Name).Base {
				set |= 1 << i
			}
		}
	}
	return set
}

// picked gives axis and cell of only, at and now.
func (o *oracle) picked(n *syntax.Call) (axis, cell int) {
	if n.Name == "this_week" {
		return weeks, o.b.now
	}
	word := n.Args[1].(*syntax.Text).Value
	axis = weeks
	if n.Name == "only" {
		axis = bed
		if word[0] == 'c' {
			axis = crop
		}
	}
	fmt.Sscanf(word[len(word)-1:], "%d", &cell)
	return axis, cell - 1
}

// lineAxes gives the axes of a line, as far as reach has found them.
func (o *oracle) lineAxes(k lineUnder) int {
	l := &o.b.lines[k.line]
	if l.tree == nil {
		return l.axes
	}
	return o.axes[k]
}

// reach finds the axes of every line; those of a line that leans on itself grow
// until nothing new comes.
func (o *oracle) reach() {
	for again := true; again; {
		again = false
		for i := range o.b.lines {
			for _, s := range append([]string{""}, o.b.scenarios...) {
				k := lineUnder{i, s}
				if l := &o.b.lines[i]; l.tree != nil {
					if a := o.axes[k] | o.span(l.tree, under{scenario: s}); a != o.axes[k] {
						o.axes[k], again = a, true
					}
				}
			}
		}
	}
}

func bad(vs ...cellValue) kind {
	k := number
	for _, v := range vs {
		k = max(k, v.k)
	}
	return k
}

// carry converts a value; nothing stays nothing.
func carry(v cellValue, from, to measure) cellValue {
	if v.k != number || from.truth || from.zero && to.dim != "t" {
		return v
	}
	ratio := new(big.Rat).Quo(from.size, to.size)
	if f, _ := ratio.Float64(); f != 1 {
		v.x *= f
	}
	if to.dim == "t" {
		shift := new(big.Rat).Mul(from.offset, ratio)
		if f, _ := shift.Sub(shift, to.offset).Float64(); f != 0 {
			v.x += f
		}
	}
	return v
}

// meet gives the unit in which two values meet.
func meet(a, b measure) measure {
	if a.zero && !b.zero {
		return b
	}
	a.zero = a.zero && b.zero
	return a
}

// line gives a cell of a line.
func (o *oracle) line(k lineUnder, at spot, draw int) cellValue {
	axes := o.lineAxes(k)
	for i := range at {
		if axes>>i&1 == 0 {
			at[i] = 0
		}
	}
	key := memoKey{k, at, draw}
	if v, ok := o.memo[key]; ok {
		return v
	}
	if o.busy++; o.busy > 4000 {
		panic("the oracle goes round in circles")
	}
	v := o.fresh(k, axes, at, draw)
	o.busy--
	o.memo[key] = v
	return v
}

func (o *oracle) fresh(k lineUnder, axes int, at spot, draw int) cellValue {
	l := &o.b.lines[k.line]
	var v cellValue
	if l.tree == nil {
		v = l.in.cell(at, draw)
	} else {
		x, m := o.eval(l.tree, under{scenario: k.scenario}, at, draw)
		v = carry(x, m, l.unit)
	}
	for _, pins := range []bool{false, true} {
		for i := range o.b.overrides {
			ov := &o.b.overrides[i]
			if ov.line != k.line || (ov.scenario == "") != pins || !pins && ov.scenario != k.scenario || !ov.holds(at) {
				continue
			}
			had := v
			if ov.in != nil {
				v = carry(ov.in.cell(at, draw), ov.unit, l.unit)
				continue
			}
			x, m := o.eval(ov.tree, under{scenario: k.scenario, baseAxes: axes, baseUnit: l.unit,
				base: func(spot, int) cellValue { return had }}, at, draw)
			v = carry(x, m, l.unit)
		}
	}
	return v
}

func num(x float64) cellValue {
	if math.Abs(x) > 1e60 {
		return cellValue{x, wild}
	}
	return cellValue{x, number}
}

// orFault is num for what the language checks.
func orFault(x float64) cellValue {
	if !(math.Abs(x) <= 1e60) {
		return cellValue{0, faulty_}
	}
	return cellValue{x, number}
}

func divided(a, b float64) cellValue {
	switch {
	case b != 0:
		return orFault(a / b)
	case a == 0:
		return cellValue{0, nothing}
	}
	return cellValue{0, faulty_}
}

func yesNo(b bool) cellValue {
	if b {
		return cellValue{1, number}
	}
	return cellValue{0, number}
}

var plain, truth = measures["1"], measure{truth: true, size: rat("1")}

// eval gives one cell of an expression in one draw (-1: every input at its middle),
// and its unit.
func (o *oracle) eval(e syntax.Expr, u under, at spot, draw int) (cellValue, measure) {
	switch n := e.(type) {
	case *syntax.Number:
		m := plain
		m.zero = n.Value == 0
		return num(n.Value), m
	case *syntax.Name:
		if n.Base == "base" {
			return u.base(at, draw), u.baseUnit
		}
		if n.Full() == "crop.bed" {
			return o.b.ref(at), truth
		}
		l := &o.b.lines[o.b.at[n.Base]]
		return o.line(lineUnder{o.b.at[n.Base], u.scenario}, at, draw), l.unit
	case *syntax.Unary:
		x, m := o.eval(n.X, u, at, draw)
		if n.Op == "not" {
			x.x = 1 - x.x
		} else {
			x.x = -x.x
		}
		return x, m
	case *syntax.Choice:
		c, _ := o.eval(n.Cond, u, at, draw)
		a, am := o.eval(n.Then, u, at, draw)
		b, bm := o.eval(n.Else, u, at, draw)
		m := meet(am, bm)
		switch {
		case c.k != number:
			return c, m
		case c.x != 0:
			return carry(a, am, m), m
		}
		return carry(b, bm, m), m
	case *syntax.Binary:
		return o.binary(n, u, at, draw)
	case *syntax.Call:
		return o.call(n, u, at, draw)
	}
	panic("no such node")
}

func (o *oracle) binary(n *syntax.Binary, u under, at spot, draw int) (cellValue, measure) {
	a, am := o.eval(n.L, u, at, draw)
	b, bm := o.eval(n.R, u, at, draw)
	switch n.Op {
	case "*", "/":
		dims := map[string]string{"m*$/m": "$", "$/m*m": "$", "m/m": "", "$/$": "", "$/m/$/m": "", "$/m": "$/m", "$/$/m": "m", "dt/dt": ""}
		dim, ok := dims[am.dim+n.Op+bm.dim]
		if !ok {
			dim = am.dim + bm.dim
		}
		m := measure{dim: dim}
		if n.Op == "*" {
			m.size = new(big.Rat).Mul(am.size, bm.size)
			if k := bad(a, b); k != number {
				return cellValue{0, k}, m
			}
			return num(a.x * b.x), m
		}
		m.size = new(big.Rat).Quo(am.size, bm.size)
		if k := bad(a, b); k != number {
			return cellValue{0, k}, m
		}
		return divided(a.x, b.x), m
	case "^":
		p := exponentOf(n.R)
		m := plain
		if p == p && p == math.Trunc(p) && math.Abs(p) <= 4 {
			m.size = big.NewRat(1, 1)
			for range int(math.Abs(p)) {
				m.size.Mul(m.size, am.size)
			}
			if p < 0 {
				m.size.Inv(m.size)
			}
		} else {
			a, b = carry(a, am, plain), carry(b, bm, plain)
		}
		switch k := bad(a, b); {
		case k != number:
			return cellValue{0, k}, m
		case p == 1:
			return a, m
		case p == 2:
			return num(a.x * a.x), m
		case a.x < 0 && b.x != math.Trunc(b.x), a.x == 0 && b.x < 0:
			return cellValue{0, faulty_}, m
		}
		return orFault(math.Pow(a.x, b.x)), m
	case "and", "or":
		if k := bad(a, b); k != number {
			return cellValue{0, k}, truth
		}
		if n.Op == "and" {
			return yesNo(a.x != 0 && b.x != 0), truth
		}
		return yesNo(a.x != 0 || b.x != 0), truth
	case "+", "-":
		m := meet(am, bm)
		switch {
		case am.dim == "t" && bm.dim == "t": // only with -
			b = carry(b, bm, am)
			m = measure{dim: "dt", size: am.size}
		case am.dim == "t":
			m = am
			b = carry(b, bm, measure{dim: "dt", size: am.size})
		case bm.dim == "t":
			m = bm
			a = carry(a, am, measure{dim: "dt", size: bm.size})
		default:
			a, b = carry(a, am, m), carry(b, bm, m)
		}
		v := cellValue{0, bad(a, b)}
		if v.k == number {
			if n.Op == "-" {
				b.x = -b.x
			}
			v = num(a.x + b.x)
		}
		if am.dim == "t" && bm.dim == "t" {
			return carry(v, m, measures["K"]), measures["K"]
		}
		return v, m
	}
	if !am.truth {
		m := meet(am, bm)
		a, b = carry(a, am, m), carry(b, bm, m)
	}
	if k := bad(a, b); k != number {
		return cellValue{0, k}, truth
	}
	return yesNo(map[string]bool{"<": a.x < b.x, "<=": a.x <= b.x, ">": a.x > b.x, ">=": a.x >= b.x, "==": a.x == b.x, "!=": a.x != b.x}[n.Op]), truth
}

func exponentOf(e syntax.Expr) float64 {
	switch n := e.(type) {
	case *syntax.Number:
		return n.Value
	case *syntax.Unary:
		return -exponentOf(n.X)
	}
	return math.NaN()
}

// TestOracle computes random books twice: the program and the oracle must give the
// same bits, whatever the block of draws and the number of workers.
func TestOracle(t *testing.T) {
	if f := flag.Lookup("rapid.checks"); f.Value.String() == f.DefValue { // 30,000 have passed; here a few
		f.Value.Set("250")
		defer f.Value.Set(f.DefValue)
	}
	defer func(was int) { smallest = was }(smallest)
	lines, wrong := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		src := b.source()
		p := Compile(src)
		for i, e := range p.Errors {
			switch e.Code {
			case msgWaits.code, msgLoopReach.code, msgLoop.code, msgLoopEarlier.code, msgGroupAxis.code:
				wrong++
			default:
				t.Fatalf("%s\n%s: %v (%s)", b, src.Lines[i].Name, e, e.Code)
			}
		}
		lines += len(b.lines)
		o := &oracle{b: b, memo: map[memoKey]cellValue{}, axes: map[lineUnder]int{}, draws: b.draws}
		o.reach()
		p.Plain()
		var ask []int
		for i := range b.lines {
			if p.OK(i) {
				ask = append(ask, i)
				if !p.NeedsDraws(i) {
					o.compare(t, p, i, -1, p.Cells(i))
				}
			}
		}
		smallest = rapid.SampledFrom([]int{24, 1}).Draw(t, "smallest block")
		options := Options{Draws: b.draws, Block: rapid.IntRange(1, b.draws+2).Draw(t, "block"), Workers: rapid.IntRange(1, 3).Draw(t, "workers")}
		d, err := p.Draw(context.Background(), ask, options)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range ask {
			o.compare(t, p, i, -1, p.Cells(i))
			rows := d.Line(i)
			if rows == nil {
				continue
			}
			cells := make([]float64, len(rows))
			for draw := range b.draws {
				for c := range rows {
					cells[c] = rows[c][draw]
				}
				o.compare(t, p, i, draw, cells)
			}
		}
	})
	t.Logf("%d lines, %d of them in error", lines, wrong)
	if wrong*4 > lines {
		t.Error("too many of the random lines are in error to say much")
	}
}

// compare holds the cells of a line in one draw against the oracle's.
func (o *oracle) compare(t *rapid.T, p *Program, line, draw int, cells []float64) {
	k := lineUnder{line, o.b.chosen}
	axes := o.lineAxes(k)
	i := 0
	for x := range o.b.extent(axes, bed) {
		for y := range o.b.extent(axes, crop) {
			for w := range o.b.extent(axes, weeks) {
				if i >= len(cells) {
					t.Fatalf("%s\n%s has %d cells, too few", o.b, o.b.lines[line].name, len(cells))
				}
				got, want := cells[i], o.line(k, spot{x, y, w}, draw)
				i++
				same := false
				switch want.k {
				case number:
					same = got == want.x && math.Signbit(got) == math.Signbit(want.x)
				case nothing:
					same = array.IsBlank(got)
				case faulty_:
					same = array.IsFault(got)
				case wild:
					same = true
				}
				if !same {
					t.Fatalf("%s\n%v axes %03b\n%s at %v in draw %d: %s, want %v (%d)", o.b, cells, axes, o.b.lines[line].name, spot{x, y, w}, draw, p.cellSays(got), want.x, want.k)
				}
			}
		}
	}
	if i != len(cells) {
		t.Fatalf("%s\n%s has %d cells, want %d", o.b, o.b.lines[line].name, len(cells), i)
	}
}
