package formula

import (
	"math"
	"sort"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// Compile checks names, axes and units of every line and turns all of them into
// one program. Errors belong to lines; the other lines still run.
//
// The way of a line: its names give a graph (depend.go); lines are taken in
// order, loops through earlier weeks together (loop.go); each formula is checked
// and lowered in one walk of its tree (lower.go, functions in builtin.go and
// kernel_call.go); equal steps become one. What is left is a row of values in an
// order in which they can be computed (program.go); plan.go makes rounds of them
// and run.go runs those.
func Compile(src *Source) *Program {
	p := &Program{src: src, Errors: map[int]*syntax.Error{}, refused: map[int32]string{}}
	b := &builder{src: src, p: p, seen: map[key]int32{}, calls: map[string]int32{}, unitOf: map[string]*unit.Unit{}}
	b.day = b.parseUnit("d")
	b.percent = src.Units.Percent()
	b.one = src.Units.One()
	b.index()
	b.graph()
	for _, group := range b.order() {
		b.group(group)
	}
	p.line = make([]int32, len(src.Lines))
	p.types = make([]Type, len(src.Lines))
	for i := range src.Lines {
		n := b.nodes[nodeKey{i, b.context(i, b.chosen())}]
		p.line[i] = -1
		switch {
		case n == nil:
		case n.err != nil:
			p.Errors[i] = n.err
		default:
			p.line[i], p.types[i] = n.id, n.typ
		}
	}
	for k, n := range b.nodes {
		if n.err != nil && n.err.Code != msgWaits.code && k.context != b.context(k.line, b.chosen()) {
			if main := p.Errors[k.line]; main == nil || main.Code == msgWaits.code || main.Place != n.err.Place {
				p.Others = append(p.Others, n.err)
			}
		}
	}
	sort.Slice(p.Others, func(i, j int) bool {
		a, c := p.Others[i], p.Others[j]
		if a.Line != c.Line {
			return a.Line < c.Line
		}
		return a.Col < c.Col
	})
	b.fuse()
	p.settle()
	return p
}

// builder lowers formulas to values.
type builder struct {
	src     *Source
	p       *Program
	day     *unit.Unit
	percent *unit.Unit
	one     *unit.Unit

	lineOf    map[string]int
	listOf    map[string]int    // list name -> index in src.Lists
	axisList  map[int]int       // axis -> index in src.Lists
	axisRec   map[int]int       // axis -> index in src.Records
	overrides map[int][]int     // line -> indices into src.Overrides, in order of layers
	affected  map[string][]bool // scenario -> lines that it changes
	nodes     map[nodeKey]*node

	seen   map[key]int32
	calls  map[string]int32
	size   []float64 // largest size of each value, as a power of ten
	unitOf map[string]*unit.Unit

	// where the builder stands
	at      nodeKey
	formula *syntax.Formula
	base    *operand // what base means in an override
	dry     bool     // only types are wanted
	loop    int32    // the week loop being lowered, -1 outside
	inLoop  map[nodeKey]bool
	fixes   []fix
	depth   int
}

// fix completes an earlier whose line was not lowered yet.
type fix struct {
	value int32
	node  nodeKey
}

func (b *builder) index() {
	s := b.src
	b.loop = -1
	b.lineOf = make(map[string]int, len(s.Lines))
	for i := range s.Lines {
		if _, twice := b.lineOf[s.Lines[i].Name]; !twice {
			b.lineOf[s.Lines[i].Name] = i
		}
	}
	b.listOf, b.axisList, b.axisRec = map[string]int{}, map[int]int{}, map[int]int{}
	for i, l := range s.Lists {
		b.listOf[l.Name], b.axisList[l.Axis] = i, i
	}
	for i, r := range s.Records {
		b.axisRec[r.Axis] = i
	}
	b.overrides = map[int][]int{}
	for i, o := range s.Overrides {
		b.overrides[o.Line] = append(b.overrides[o.Line], i)
	}
	for _, list := range b.overrides {
		sort.SliceStable(list, func(i, j int) bool { return s.Overrides[list[i]].Layer < s.Overrides[list[j]].Layer })
	}
}

func (b *builder) chosen() string { return b.src.Chosen }

// fault makes an error at a node of the formula that is being lowered.
func (b *builder) fault(n syntax.Expr, m msg, args ...any) *syntax.Error {
	place := b.src.Lines[b.at.line].Place
	if b.formula != nil && n != nil {
		place = b.formula.At(n.Span())
	}
	return m.fill(place, b.src.Lines[b.at.line].Name, args...)
}

// parseUnit reads a unit of a function's card; "money" is the book's currency.
func (b *builder) parseUnit(text string) *unit.Unit {
	if u := b.unitOf[text]; u != nil {
		return u
	}
	t := text
	if strings.Contains(t, "money") {
		t = strings.ReplaceAll(t, "money", b.src.Money.String())
	}
	u, err := b.src.Units.Parse(t)
	if err != nil {
		panic("formula: unit " + text + " of a function card: " + err.Error())
	}
	b.unitOf[text] = u
	return u
}

// push adds a value without looking for an equal one.
func (b *builder) push(v value, size float64) int32 {
	b.p.vals = append(b.p.vals, v)
	b.size = append(b.size, size)
	return int32(len(b.p.vals) - 1)
}

// add gives the value equal to v, adding it when there is none; size bounds it.
func (b *builder) add(v value, size float64) int32 {
	if b.dry {
		return -1
	}
	k := keyOf(v)
	if id, ok := b.seen[k]; ok {
		return id
	}
	id := b.push(v, size)
	b.seen[k] = id
	if size > inMath {
		id = b.element(array.Guard, id)
	}
	return id
}

func (b *builder) constant(x float64) int32 {
	return b.add(value{op: vConst, imm: x, a: -1, b: -1, c: -1, loop: -1}, constSize(x))
}

func (b *builder) site(what string, n syntax.Expr) int32 {
	if b.dry {
		return 0
	}
	place := b.src.Lines[b.at.line].Place
	if b.formula != nil && n != nil {
		place = b.formula.At(n.Span())
	}
	b.p.sites = append(b.p.sites, site{b.at.line, place, what})
	return int32(len(b.p.sites) - 1)
}

// element lowers a kernel over cells; arguments are values.
func (b *builder) element(op array.Op, args ...int32) int32 { return b.elementAt(op, 0, args...) }

func (b *builder) elementAt(op array.Op, at int32, args ...int32) int32 {
	if b.dry {
		return -1
	}
	v := value{op: vElement, eop: op, a: -1, b: -1, c: -1, loop: -1, site: at}
	allConst := true
	var x [3]float64
	for i, a := range args {
		w := &b.p.vals[a]
		v.axes |= w.axes
		if w.loop >= 0 && w.loop == b.loop {
			v.loop = b.loop
		}
		allConst = allConst && w.op == vConst && w.axes == 0
		x[i] = w.imm
		switch i {
		case 0:
			v.a = a
		case 1:
			v.b = a
		case 2:
			v.c = a
		}
	}
	if allConst {
		return b.constant(op.One(x[0], x[1], x[2], int(at)))
	}
	if (op == array.Add || op == array.Mul) && v.a > v.b {
		v.a, v.b = v.b, v.a
	}
	return b.add(v, b.growth(op, v))
}

// growth bounds the size of the result of a kernel.
func (b *builder) growth(op array.Op, v value) float64 {
	s := func(i int32) float64 {
		if i < 0 {
			return 0
		}
		return b.size[i]
	}
	x, y, z := s(v.a), s(v.b), s(v.c)
	switch op {
	case array.Mul:
		return x + y
	case array.Add, array.Sub:
		return math.Max(x, y) + 0.31
	case array.MulAdd, array.MulSub:
		return math.Max(x+y, z) + 0.31
	case array.Div, array.Power, array.Exp, array.Guard, array.StepNear, array.StepUp, array.StepDown:
		return guardSize
	case array.Log:
		return 3
	case array.Select:
		return math.Max(y, z)
	case array.Less, array.LessEq, array.Greater, array.GreaterEq, array.Equal, array.Unequal, array.And, array.Or, array.Not, array.Known:
		return 0
	}
	return math.Max(x, math.Max(y, z))
}

// convert brings an operand to a unit.
func (b *builder) convert(o operand, to *unit.Unit) int32 {
	if to == nil || o.Kind != Quantity || o.Unit == to || (o.Zero && !to.Absolute) {
		return o.id
	}
	mul, add, err := unit.Convert(o.Unit, to)
	if err != nil {
		panic("formula: conversion was not checked: " + err.Error())
	}
	id := o.id
	if mul != 1 {
		id = b.element(array.Mul, id, b.constant(mul))
	}
	if add != 0 {
		id = b.element(array.Add, id, b.constant(add))
	}
	return id
}

// constantTable gives a value with fixed cells.
func (b *builder) constantTable(axes array.Axes, cells []float64) int32 {
	if b.dry {
		return -1
	}
	b.p.tables = append(b.p.tables, table{axes: axes, plain: cells})
	return b.push(value{op: vInput, aux: int32(len(b.p.tables) - 1), axes: axes, a: -1, b: -1, c: -1, loop: -1}, inputSize)
}

// widen repeats a value along axes that it does not have.
func (b *builder) widen(id int32, axes array.Axes) int32 {
	if b.dry || b.p.vals[id].axes&axes == axes {
		return id
	}
	return b.add(value{op: vElement, eop: array.Copy, a: id, b: -1, c: -1, axes: b.p.vals[id].axes | axes, loop: b.p.vals[id].loop}, b.size[id])
}

// fuse makes one step of a product and the sum or difference that alone uses it.
func (b *builder) fuse() {
	p := b.p
	uses := make([]int32, len(p.vals))
	count := func(i int32) {
		if i >= 0 {
			uses[i]++
		}
	}
	for i := range p.vals {
		for _, a := range p.vals[i].args() {
			count(a)
		}
	}
	for _, c := range p.calls {
		for _, a := range append(c.args[:len(c.args):len(c.args)], c.cols...) {
			count(a.id)
		}
	}
	for _, l := range p.line {
		count(l)
	}
	for i := range p.vals {
		v := &p.vals[i]
		if v.op != vElement || (v.eop != array.Add && v.eop != array.Sub) {
			continue
		}
		product := func(j int32) bool {
			x := &p.vals[j]
			return x.op == vElement && x.eop == array.Mul && uses[j] == 1 && x.loop == v.loop && x.axes == v.axes
		}
		switch {
		case product(v.a):
			x := p.vals[v.a]
			uses[v.a] = 0
			v.c = v.b
			v.a, v.b = x.a, x.b
			if v.eop == array.Add {
				v.eop = array.MulAdd
			} else {
				v.eop = array.MulSub
			}
		case v.eop == array.Add && product(v.b):
			x := p.vals[v.b]
			uses[v.b] = 0
			v.c = v.a
			v.a, v.b = x.a, x.b
			v.eop = array.MulAdd
		}
	}
}

// settle works out which values differ from draw to draw and gives every value
// its cells for the plain pass.
func (p *Program) settle() {
	for again := true; again; {
		again = false
		for i := range p.vals {
			v := &p.vals[i]
			if v.draws || v.op == vOdds || v.op == vEdge {
				continue
			}
			d := v.op == vInput && p.tables[v.aux].sampler != nil
			for _, a := range v.args() {
				d = d || (a >= 0 && p.vals[a].draws)
			}
			if v.op == vCall {
				c := p.calls[v.aux]
				for _, a := range c.args {
					d = d || (a.id >= 0 && p.vals[a.id].draws)
				}
				for _, a := range c.cols {
					d = d || (a.id >= 0 && p.vals[a.id].draws)
				}
			}
			if d {
				v.draws = true
				again = again || v.loop >= 0 // an earlier inside a loop reads a later value
			}
		}
	}
	p.offset = make([]int, len(p.vals))
	n := 0
	for i := range p.vals {
		p.offset[i] = n
		if p.vals[i].op != vCall {
			n += p.src.Space.Size(p.vals[i].axes)
		}
	}
	p.plain = make([]float64, n)
}
