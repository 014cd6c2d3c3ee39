package formula

import "wintertruss/engine/array"

// needs says of the values of a draw run which of their cells anything asked for is
// made of: all of them, or those that are true.
//
// A choice whose condition is the same in every draw (a tomato sets by trusses, a
// pepper by nodes) reads only one of its branches in a cell. A model that stands in
// the other branch for some plantings need not be run for those, and models are most
// of what draws cost. So needs goes from what was asked back to what that is made of,
// cell by cell through arithmetic and choices; what looks along axes needs all.
// Only calls of models heed it: a row of arithmetic is cheaper than asking.
type needs struct {
	p     *Program
	cells [][]bool
	all   []bool
}

// needed gives for the calls of models in a run which cells of their outer axes are to
// be run, nil where all are: an entry a value, in the cells' order. in marks the values
// of the run, asked those whose draws are wanted.
//
// What is made of a value nearly always has a higher number; a loop of weeks may
// not, and what such a value reads is needed whole.
func (p *Program) needed(in []bool, asked []int32) [][]bool {
	n := &needs{p: p, cells: make([][]bool, len(p.vals)), all: make([]bool, len(p.vals))}
	for _, id := range asked {
		n.all[id] = true
	}
	for i := range in {
		if in[i] {
			p.reads(int32(i), func(a int32) { n.all[a] = n.all[a] || a >= int32(i) || p.vals[i].loop >= 0 })
		}
	}
	for i := len(in) - 1; i >= 0; i-- {
		if in[i] && (n.all[i] || n.cells[i] != nil) {
			n.back(int32(i), &p.vals[i])
		}
	}
	calls := make([][]bool, len(p.vals))
	for i := range in {
		if v := &p.vals[i]; in[i] && v.op == vCall && !n.all[i] {
			if calls[i] = n.cells[i]; calls[i] == nil { // in a branch that no cell takes
				calls[i] = make([]bool, p.src.Space.Size(v.axes))
			}
		}
	}
	return calls
}

// back marks what the needed cells of a value are made of.
func (n *needs) back(id int32, v *value) {
	choice := v.op == vElement && v.eop == array.Select
	switch {
	case n.all[id] && !choice, v.loop >= 0, v.op != vElement && v.op != vOutput && v.op != vCall:
		n.p.reads(id, func(a int32) { n.all[a] = true })
	case choice && !n.p.vals[v.a].draws:
		n.all[v.a] = true
		n.branch(id, v, v.b, true)
		n.branch(id, v, v.c, false)
	case v.op == vElement:
		for _, a := range v.args() {
			if a >= 0 {
				axes := n.p.vals[a].axes
				n.walk(id, v.axes, array.Layout{In: axes, Along: axes}, func(cell int) { n.mark(a, cell) })
			}
		}
	case v.op == vOutput:
		outer := n.p.vals[v.a].axes
		n.walk(id, v.axes, array.Layout{In: outer, Along: outer}, func(cell int) { n.mark(v.a, cell) })
	case v.op == vCall:
		c := n.p.calls[v.aux]
		for _, list := range [][]callArg{c.args, c.cols} {
			for _, a := range list {
				if a.id < 0 || n.all[a.id] {
					continue
				}
				axes := n.p.vals[a.id].axes
				n.walk(id, v.axes, array.Layout{In: axes, Along: axes & c.outer}, func(cell int) {
					for _, at := range a.cells {
						n.mark(a.id, cell+int(at))
					}
				})
			}
		}
	}
}

// branch marks the cells of a branch where the condition takes it, and where it
// takes neither.
func (n *needs) branch(id int32, v *value, a int32, when bool) {
	axes, conds := n.p.vals[a].axes, n.p.vals[v.a].axes
	truth := n.p.cells(v.a)
	w := array.NewWalk(n.p.src.Space, v.axes, array.Over(v.axes), array.Layout{In: axes, Along: axes}, array.Layout{In: conds, Along: conds})
	for more := w.Len() > 0; more; more = w.Next() {
		if n.has(id, w.Cell[0]) && truth[w.Cell[2]] != array.Truth(!when) {
			n.mark(a, w.Cell[1])
		}
	}
}

// walk calls f with every needed cell of a value over its axes, and the cell that
// another layout has there.
func (n *needs) walk(id int32, axes array.Axes, other array.Layout, f func(there int)) {
	w := array.NewWalk(n.p.src.Space, axes, array.Over(axes), other)
	for more := w.Len() > 0; more; more = w.Next() {
		if n.has(id, w.Cell[0]) {
			f(w.Cell[1])
		}
	}
}

func (n *needs) has(id int32, cell int) bool { return n.all[id] || n.cells[id][cell] }

func (n *needs) mark(id int32, cell int) {
	if n.all[id] {
		return
	}
	if n.cells[id] == nil {
		n.cells[id] = make([]bool, n.p.src.Space.Size(n.p.vals[id].axes))
	}
	n.cells[id][cell] = true
}
