package formula

import (
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
	p := &Program{src: src, Errors: map[int]*syntax.Error{}, refused: map[refusal]int32{}, sites: make([]site, 1)}
	b := &builder{src: src, p: p, seen: map[key]int32{}, inputs: map[*Input]int32{}, calls: map[string]int32{}, unitOf: map[string]*unit.Unit{}}
	b.day = b.parseUnit("d")
	b.percent = src.Units.Percent()
	b.one = src.Units.One()
	b.index()
	b.graph()
	groups := b.order()
	for _, group := range groups {
		b.group(group)
	}
	b.count(groups)
	b.checkScenarios()
	b.lines()
	p.inputOf = b.inputs
	p.fuse()
	p.settle()
	return p
}

// checkScenarios checks what scenarios say that nobody looks at now. An override
// never changes the type of a line, so the types of the lines as they are looked
// at do, and no value has to be made.
func (b *builder) checkScenarios() {
	b.dry = true
	defer func() { b.dry = false }()
	for i := range b.src.Overrides {
		o := &b.src.Overrides[i]
		main := b.nodes.at(b.main(o.Line))
		if o.Layer != ByScenario || b.nodes.at(nodeKey{o.Line, o.Scenario}) != nil || main.err != nil {
			continue
		}
		line := &b.src.Lines[o.Line]
		b.at, b.formula, b.base = nodeKey{o.Line, o.Scenario}, line.Formula, nil
		if _, err := b.override(operand{main.typ, -1}, o, line); err != nil && err.Code != msgWaits.code {
			b.nodes.put(b.at, &node{id: -1, err: err})
		}
	}
}

// main is the node of a line as the book is looked at.
func (b *builder) main(line int) nodeKey {
	return nodeKey{line, b.context(line, b.src.Chosen)}
}

// lines fills in what the program says of every line.
func (b *builder) lines() {
	p, src := b.p, b.src
	p.line = make([]int32, len(src.Lines))
	p.types = make([]Type, len(src.Lines))
	for i := range src.Lines {
		p.line[i] = -1
		if n := b.nodes.at(b.main(i)); n.err != nil {
			p.Errors[i] = n.err
		} else {
			p.line[i], p.types[i] = n.id, n.typ
		}
	}
	type said struct {
		place syntax.Place
		code  string
	}
	once := map[said]bool{}
	for _, e := range p.Errors {
		once[said{e.Place, e.Code}] = true
	}
	for k, n := range b.nodes.all() {
		if n.err == nil || n.err.Code == msgWaits.code || k == b.main(k.line) || once[said{n.err.Place, n.err.Code}] {
			continue
		}
		once[said{n.err.Place, n.err.Code}] = true
		p.Others = append(p.Others, n.err)
	}
	sort.Slice(p.Others, func(i, j int) bool {
		a, c := p.Others[i], p.Others[j]
		switch {
		case a.Line != c.Line:
			return a.Line < c.Line
		case a.Col != c.Col:
			return a.Col < c.Col
		}
		return a.Code < c.Code
	})
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
	nodes     nodeSet

	seen   map[key]int32
	inputs map[*Input]int32
	calls  map[string]int32
	size   []float64 // largest size of each value, as a power of ten
	unitOf map[string]*unit.Unit

	// where the builder stands
	at       nodeKey
	formula  *syntax.Formula
	base     *operand // what base means in an override
	compared int      // words that hints were looked for among
	excess   int      // cells of a value of the line that has too many
	dry      bool     // only types are wanted
	growing  bool     // axes of the loop being lowered may still be missing
	loop     int32    // the week loop being lowered, -1 outside
	inLoop   map[nodeKey]bool
	before   map[rowBefore]int32 // the rows of the week before that the loop reads
	open     []openRow
}

// rowBefore is a line of a loop, one week back, and what stood before the season.
type rowBefore struct {
	node  nodeKey
	start int32
}

// openRow is a value that waits for its line to be lowered.
type openRow struct {
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

// push adds a value without looking for an equal one. What is made of a value
// of the loop being lowered stands in the loop too.
func (b *builder) push(v value) int32 {
	v.loop = b.loopOf(v.args())
	if n := b.src.Space.Size(v.axes); n > mostCells {
		b.excess = max(b.excess, n)
	}
	b.p.vals = append(b.p.vals, v)
	b.size = append(b.size, b.sizeOf(&v))
	return int32(len(b.p.vals) - 1)
}

func (b *builder) loopOf(args [3]int32) int32 {
	for _, a := range args {
		if a >= 0 && b.inside(a) {
			return b.loop
		}
	}
	return -1
}

// inside says whether a value stands in the loop being lowered.
func (b *builder) inside(id int32) bool {
	return b.loop >= 0 && b.p.vals[id].loop == b.loop
}

// add gives the value equal to v, adding it when there is none, with a guard when
// it can leave the numbers.
func (b *builder) add(v value) int32 {
	if b.dry {
		return -1
	}
	v.loop = b.loopOf(v.args())
	k := keyOf(v)
	if v.site != 0 { // a fault names the line in which it begins
		k.v.site = int32(b.p.sites[v.site].line)
	}
	if id, ok := b.seen[k]; ok {
		return id
	}
	id := b.push(v)
	if b.size[id] > inMath {
		id = b.elementAt(array.Guard, b.site("", nil), id)
	}
	b.seen[k] = id
	return id
}

func (b *builder) constant(x float64) int32 {
	return b.add(value{op: vConst, imm: x, a: -1, b: -1, c: -1})
}

func (b *builder) site(what string, n syntax.Expr) int32 {
	if b.dry {
		return 0
	}
	place := b.src.Lines[b.at.line].Place
	if b.formula != nil {
		place = b.formula.Place
		if n != nil {
			place = b.formula.At(n.Span())
		}
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
	v := value{op: vElement, eop: op, a: -1, b: -1, c: -1, site: at}
	allConst := true
	var x [3]float64
	for i, a := range args {
		w := &b.p.vals[a]
		v.axes |= w.axes
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
	if by := &b.p.vals[args[len(args)-1]]; op == array.Div && by.op == vConst && by.imm != 0 && by.imm == by.imm {
		if b.size[v.a]+constSize(1/by.imm) < guardSize {
			v.eop, v.site = array.DivSure, 0
		}
	}
	return b.add(v)
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
	return b.table(inputTable(axes, cells, nil))
}

// table adds a value with cells of its own.
func (b *builder) table(t table) int32 {
	b.p.tables = append(b.p.tables, t)
	return b.push(value{op: vInput, aux: int32(len(b.p.tables) - 1), axes: t.axes, a: -1, b: -1, c: -1})
}

// widen repeats a value along axes that it does not have.
func (b *builder) widen(id int32, axes array.Axes) int32 {
	if b.dry || b.p.vals[id].axes&axes == axes {
		return id
	}
	return b.add(value{op: vElement, eop: array.Copy, a: id, b: -1, c: -1, axes: b.p.vals[id].axes | axes})
}
