package formula

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/unit"
)

// After an edit that only puts other values into inputs, the program stays as it
// is: the inputs' cells are replaced, and what hangs on them is computed again,
// node by node, in an order and by a graph that the caller keeps (package graph
// knows nothing of formulas, and this package nothing of graphs).
//
// A node is what is computed in one go: a value, all values of a week loop, or a
// call of a kernel with its outputs.

// Swap is an input of the source, and the one that takes its place.
type Swap struct{ Old, Now *Input }

// Update puts other inputs in the place of some, and gives the nodes of those whose
// plain cells differ. The caller puts them into the source. ok is false when they
// differ in more than values: then the program has to be compiled anew, and nothing
// was changed.
func (p *Program) Update(swaps []Swap) (touched []int32, ok bool) {
	for _, s := range swaps {
		if !sameType(s.Old, s.Now) {
			return nil, false
		}
		if t := p.tableOf(s.Old); t != nil && ((t.sampler == nil) != (s.Now.Sampler == nil) || hasNothing(t.plain) != hasNothing(s.Now.Plain) || !t.holds(s.Now.Plain)) {
			return nil, false
		}
	}
	for _, s := range swaps {
		id, used := p.inputOf[s.Old]
		if !used {
			continue
		}
		if t := p.tableOf(s.Old); t != nil {
			if !SameBits(t.plain, s.Now.Plain) {
				t.plain = s.Now.Plain
				touched = append(touched, p.node(id))
			}
			t.sampler, t.drawn = s.Now.Sampler, nil
		}
		delete(p.inputOf, s.Old)
		p.inputOf[s.Now] = id
	}
	p.filled = 0
	return append(touched, p.ofDraws()...), true
}

// ofDraws gives the nodes that are not known any more until draws ran again: odds
// and edges.
func (p *Program) ofDraws() []int32 {
	if p.odds == nil {
		p.odds = []int32{}
		for i := range p.vals {
			if v := &p.vals[i]; p.live[i] && (v.op == vOdds || v.op == vEdge) {
				p.odds = append(p.odds, p.node(int32(i)))
			}
		}
	}
	return p.odds
}

// tableOf gives the cells of an input; nil when no line is made of it.
func (p *Program) tableOf(in *Input) *table {
	if id, used := p.inputOf[in]; used && p.live[id] {
		return &p.tables[p.vals[id].aux]
	}
	return nil
}

// Units gives the system that the program's types take their units from.
func (p *Program) Units() *unit.System { return p.src.Units }

func sameUnit(a, b *unit.Unit) bool {
	return a == b || a != nil && b != nil && a.String() == b.String()
}

func sameType(a, b *Input) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Type.Kind == b.Type.Kind && a.Type.Axes == b.Type.Axes && a.Type.List == b.Type.List && sameUnit(a.Type.Unit, b.Type.Unit)
}

// SameBits says whether two rows of cells are the same to the bit, blanks and faults
// included.
func SameBits(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if math.Float64bits(a[i]) != math.Float64bits(b[i]) {
			return false
		}
	}
	return true
}

func hasNothing(cells []float64) bool {
	for _, x := range cells {
		if x != x {
			return true
		}
	}
	return false
}

// Nodes is how many nodes the program has. Not every number is in use: a value
// that is part of a loop or of a call has the node of that.
func (p *Program) Nodes() int { return len(p.vals) }

// node gives the node that a value belongs to: the first value of its loop, its
// call, or itself.
func (p *Program) node(id int32) int32 {
	v := &p.vals[id]
	if v.op == vOutput {
		id, v = v.a, &p.vals[v.a]
	}
	if v.loop >= 0 {
		return p.loops()[v.loop][0]
	}
	return id
}

// loops gives the live values of every loop, in order.
func (p *Program) loops() map[int32][]int32 {
	if p.loopOf == nil {
		p.loopOf = map[int32][]int32{}
		for i := range p.vals {
			if v := &p.vals[i]; p.live[i] && v.loop >= 0 {
				p.loopOf[v.loop] = append(p.loopOf[v.loop], int32(i))
			}
		}
	}
	return p.loopOf
}

// parts gives the values of a node.
func (p *Program) parts(node int32) []int32 {
	v := &p.vals[node]
	switch {
	case v.loop >= 0:
		return p.loops()[v.loop]
	case v.op == vCall:
		parts := []int32{node}
		for _, o := range p.calls[v.aux].outs {
			if o.id >= 0 {
				parts = append(parts, o.id)
			}
		}
		return parts
	}
	return []int32{node}
}

// NodeReads gives the nodes that a node is made of, some perhaps twice.
func (p *Program) NodeReads(node int32, yield func(int32)) {
	if !p.live[node] || p.node(node) != node {
		return
	}
	for _, part := range p.parts(node) {
		p.reads(part, func(a int32) {
			if n := p.node(a); n != node {
				yield(n)
			}
		})
	}
}

// linesOf gives the lines that have a value.
func (p *Program) linesOf(id int32) []int {
	if p.lines == nil {
		p.lines = map[int32][]int{}
		for i, id := range p.line {
			if id >= 0 {
				p.lines[id] = append(p.lines[id], i)
			}
		}
	}
	return p.lines[id]
}

// Recompute computes a node again from the plain cells of what it reads, and says
// whether a bit of its own changed. It calls line for every line of the node.
func (p *Program) Recompute(node int32, line func(i int, changed bool)) (changed bool) {
	if !p.live[node] || p.node(node) != node {
		return false // a number that is no node
	}
	parts := p.parts(node)
	before := p.was[:0]
	for _, i := range parts {
		before = append(before, p.cells(i)...)
	}
	p.was = before
	switch v := &p.vals[node]; v.op {
	case vInput:
		copy(p.cells(node), p.tables[v.aux].plain)
	case vOdds, vEdge:
		cells := p.cells(node)
		for i := range cells {
			cells[i] = array.Blank
		}
	case vConst:
	default:
		p.nodeWorker(node).run(0, 1)
	}
	for _, i := range parts {
		now := p.cells(i)
		differs := !SameBits(before[:len(now)], now)
		before, changed = before[len(now):], changed || differs
		for _, l := range p.linesOf(i) {
			line(l, differs)
		}
	}
	return changed
}

// nodeWorker gives what runs the plain pass of one node; it is kept, since a node that
// changed once is likely to change again.
func (p *Program) nodeWorker(node int32) *worker {
	k := p.workers[node]
	if k == nil {
		k = newWorker(p.plainPlanOf(p.parts(node)), 1)
		put(&p.workers, node, k)
	}
	return k
}
