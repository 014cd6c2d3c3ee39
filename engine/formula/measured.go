package formula

import (
	"math"
	"slices"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// Measured is the range of an argument in which what a function says was measured.
// It changes no result: a line is marked that calls the function outside of it.
type Measured struct {
	// Low and High are in the parameter's unit; infinite where nothing bounds it.
	Low, High float64
	// Outside says in a few words what the function does outside.
	Outside string
	// For narrows it to one kind: a word of the function's first parameter that takes
	// words. "" holds for every kind that has no range of its own.
	For string
}

// Table is a small published table, as a person would look it up and a screen draw it.
type Table struct {
	Title string
	// Heads says what stands in each column, and after a comma its unit: "air, degC".
	// Where Of is set, the first is that of the words.
	Heads []string
	// Of holds the words that rows begin with; nil in a table of numbers only, whose
	// first column the others are drawn over.
	Of   []string
	Rows [][]float64 // the numbers of each row; a blank (array.Blank) where the source has none
	// Source is author, year and place of this table.
	Source string
}

// Mark says that a line calls a function outside what was measured.
type Mark struct {
	Function, Argument, Outside string
	Place                       syntax.Place // of the call
	// Unit is that of Low, High and Value: the one in which the book gives the
	// argument. An end that nothing bounds is infinite.
	Unit             *unit.Unit
	Low, High, Value float64
	Axes             array.Axes // of the argument
	Cell             int        // its first cell outside; Value and the range are those there
	Cells            int        // how many are
}

// nearEdge is how far beyond an edge counts as on it, as a part of it: degF and back
// to degC is not exact.
const nearEdge = 1e-9

func (m *Measured) has(x float64) bool {
	return x >= m.Low-nearEdge*(1+math.Abs(m.Low)) && x <= m.High+nearEdge*(1+math.Abs(m.High)) || x != x
}

// within gives a number of the range for one that lies outside: the middle, or as
// far inside the one edge there is.
func (m *Measured) within(x float64) float64 {
	switch {
	case math.IsInf(m.Low, -1):
		return 2*m.High - x
	case math.IsInf(m.High, 1):
		return 2*m.Low - x
	}
	return (m.Low + m.High) / 2
}

// rangeFor gives the range that holds for a kind; nil when there is none.
func (p *Param) rangeFor(kind string) *Measured {
	var found *Measured
	for i := range p.Measured {
		if m := &p.Measured[i]; m.For == kind || m.For == "" && found == nil {
			found = m
		}
	}
	return found
}

// came says in what unit the book gives an argument, and in which its model gets it.
type came struct{ in, to *unit.Unit }

// use is a call as one line's formula makes it. Lines with equal calls share the call.
type use struct {
	fn    *Function
	call  int32 // its value
	came  []came
	place syntax.Place
}

// noteUse remembers the call of a function with measured ranges.
func (b *builder) noteUse(k *kernelArgs, call int32, n *syntax.Call) {
	if b.at != b.main(b.at.line) || b.formula == nil || !slices.ContainsFunc(k.fn.Params, func(p Param) bool { return p.Measured != nil }) {
		return
	}
	if b.p.uses == nil {
		b.p.uses = map[int][]use{}
	}
	b.p.uses[b.at.line] = append(b.p.uses[b.at.line], use{k.fn, call, k.came, b.formula.At(n.Span())})
}

// Outside gives the marks of a line whose plain cells are there: the arguments of
// the functions that its formula calls, as far as they lie outside what was
// measured and it matters. What matters is found by trial: a cell outside is put
// inside, and the model asked again; where that moves no result in a cell in which
// the line holds anything but nothing and zero, it says nothing about the line. So
// the weeks before a planting stands, and those that a model does not look at, cry
// no wolf, and no model has to say which those are.
//
// It changes nothing of the program. It may run beside readers, and costs a model's
// run for each cell outside: it is for a line that somebody looks at.
func (p *Program) Outside(line int) []Mark {
	if p.line[line] < 0 {
		return nil
	}
	var out []Mark
	for i := range p.uses[line] {
		if u := &p.uses[line][i]; p.live[u.call] {
			out = append(out, p.marks(line, u)...)
		}
	}
	return out
}

// ReadsAgain says whether what Outside says of a line may differ after nodes were
// computed again.
func (p *Program) ReadsAgain(line int, again func(node int32) bool) bool {
	if p.line[line] >= 0 && again(p.node(p.line[line])) {
		return true
	}
	return slices.ContainsFunc(p.uses[line], func(u use) bool { return p.live[u.call] && again(p.node(u.call)) })
}

// mostTries bounds how often a model is run for the marks of one call; cells beyond
// are taken to matter.
const mostTries = 2000

// trial runs the model of one call on other numbers than the book's.
type trial struct {
	call   *call
	fn     *Function
	room   *callRoom
	shows  []bool // by cell of the function's output: whether the line shows anything there
	tries  int
	before []float64 // the output as it is, in the outer cell where the trial stands
	said   string    // what the model refused there
}

func (p *Program) marks(line int, u *use) []Mark {
	c := p.calls[p.vals[u.call].aux]
	k := &worker{pl: &plan{p: p, plain: true}, p: p, stride: 1}
	t := &trial{call: c, fn: u.fn, room: k.prepare(c, false)}
	found := make([]map[int]*Measured, len(c.args)) // by argument: its cells outside, and their range
	for more := t.room.walk.Len() > 0; more; more = t.room.walk.Next() {
		cell := t.room.walk.Cell
		fault := k.enter(t.room, cell)
		for i := range t.room.args {
			if f := t.room.args[i].at(0); f != 0 {
				fault = f
			}
		}
		if fault != 0 {
			continue
		}
		kind := t.kind()
		var places []outsidePlace
		for i := range c.args {
			r := u.fn.Params[i].rangeFor(kind)
			if r == nil || c.args[i].id < 0 {
				continue
			}
			for j, x := range t.room.call.In[i] {
				if at := cell[i] + int(c.args[i].cells[j]); !r.has(x) && found[i][at] == nil {
					places = append(places, outsidePlace{i, at, r})
				}
			}
		}
		if len(places) == 0 {
			continue
		}
		if t.shows == nil {
			t.shows = p.shows(line, c.outer|c.outs[u.fn.Output].whole)
		}
		for _, at := range t.matter(places, cell) {
			put(&found[at.arg], at.cell, at.measured)
		}
	}
	var out []Mark
	for i, cells := range found {
		if len(cells) > 0 {
			out = append(out, p.markOf(u, i, cells))
		}
	}
	return out
}

// markOf says of one argument what was found.
func (p *Program) markOf(u *use, arg int, cells map[int]*Measured) Mark {
	id, param := p.calls[p.vals[u.call].aux].args[arg].id, &u.fn.Params[arg]
	m := Mark{Function: u.fn.Name, Argument: param.Name, Place: u.place, Unit: u.came[arg].in, Axes: p.vals[id].axes, Cell: math.MaxInt, Cells: len(cells)}
	for cell := range cells {
		m.Cell = min(m.Cell, cell)
	}
	r := cells[m.Cell]
	m.Low, m.High, m.Value, m.Outside = r.Low, r.High, p.cells(id)[m.Cell], r.Outside
	if c := u.came[arg]; c.in != c.to {
		mul, add, err := unit.Convert(c.to, c.in)
		if err != nil {
			panic("formula: conversion was not checked: " + err.Error())
		}
		for _, x := range []*float64{&m.Low, &m.High, &m.Value} {
			*x = *x*mul + add
		}
	}
	return m
}

// kind gives the word that narrows ranges, "" where the function takes none.
func (t *trial) kind() string {
	for i := range t.fn.Params {
		if t.fn.Params[i].Takes == Words && t.call.args[i].id >= 0 {
			return t.room.call.Word(t.room.call.In[i][0])
		}
	}
	return ""
}

// outsidePlace is a cell of an argument that lies outside.
type outsidePlace struct {
	arg, cell int
	measured  *Measured
}

// matter gives those of the places in one outer cell that matter, each once. Most
// often none does, so all are tried together first.
func (t *trial) matter(places []outsidePlace, cell []int) []outsidePlace {
	out := t.room.outs[t.fn.Output]
	t.said = t.run()
	t.before = append(t.before[:0], out.buf[:len(out.cells)]...)
	if !t.moves(places, cell) {
		return nil
	}
	if len(places) == 1 {
		return places
	}
	var all []outsidePlace
	for _, at := range places {
		if slices.Contains(all, at) {
			continue
		}
		if t.tries++; t.tries > mostTries || t.moves([]outsidePlace{at}, cell) {
			all = append(all, at)
		}
	}
	return all
}

// moves says whether putting places inside their range moves a result that shows.
func (t *trial) moves(places []outsidePlace, cell []int) bool {
	in := t.room.call.In
	kept := make([][]float64, len(in))
	for _, at := range places {
		if kept[at.arg] == nil {
			kept[at.arg] = slices.Clone(in[at.arg])
		}
		for j, offset := range t.call.args[at.arg].cells {
			if cell[at.arg]+int(offset) == at.cell {
				in[at.arg][j] = at.measured.within(kept[at.arg][j])
			}
		}
	}
	said := t.run()
	for i, was := range kept {
		if was != nil {
			copy(in[i], was)
		}
	}
	if said != t.said {
		return true
	}
	first := cell[len(t.room.args)+t.fn.Output]
	for j, offset := range t.call.outs[t.fn.Output].cells {
		if t.shows[first+int(offset)] && differ(t.room.outs[t.fn.Output].buf[j], t.before[j]) {
			return true
		}
	}
	return false
}

// differ says whether two results differ by more than the rounding of a model that adds
// weeks up: one with nothing in a week may well be a bit off for its temperature.
func differ(x, y float64) bool {
	if x != x || y != y {
		return (x == x) != (y == y)
	}
	return math.Abs(x-y) > nearEdge*math.Max(math.Abs(x), math.Abs(y))
}

// run runs the model and gives what it refused; a failure inside it counts as that.
func (t *trial) run() (refused string) {
	defer func() {
		if recover() != nil {
			refused = "failed"
		}
	}()
	call := &t.room.call
	t.room.fill(0, array.Blank)
	call.used, call.refused = 0, ""
	t.call.fn.Kernel.Run(call)
	return call.refused
}

// shows says, for every cell of a value over axes, whether a line that is made of it
// holds anything but nothing and zero in a cell that has those members and weeks.
func (p *Program) shows(line int, axes array.Axes) []bool {
	t, cells := p.types[line], p.Cells(line)
	common := axes & t.Axes
	any := make([]bool, p.src.Space.Size(common))
	w := array.NewWalk(p.src.Space, t.Axes, array.Over(t.Axes), array.Layout{In: common, Along: common})
	for more := w.Len() > 0; more; more = w.Next() {
		if x := cells[w.Cell[0]]; x == x && (x != 0 || t.Kind == Words || t.Kind == Dates) {
			any[w.Cell[1]] = true
		}
	}
	out := make([]bool, p.src.Space.Size(axes))
	w = array.NewWalk(p.src.Space, axes, array.Over(axes), array.Layout{In: common, Along: common})
	for more := w.Len() > 0; more; more = w.Next() {
		out[w.Cell[0]] = any[w.Cell[1]]
	}
	return out
}
