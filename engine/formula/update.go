package formula

import (
	"math"
	"reflect"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// After an edit that only puts other values into inputs, the program stays as it
// is: the inputs' cells are replaced, and what hangs on them is computed again,
// node by node, in an order and by a graph that the caller keeps (package graph
// knows nothing of formulas, and this package nothing of graphs).
//
// A node is what is computed in one go: a value, all values of a week loop, or a
// call of a kernel with its outputs.

// Update takes in a source that differs from the program's only in the values of
// inputs, and gives the nodes of those that differ. ok is false when anything
// else differs: then the program has to be compiled anew, and nothing was changed.
func (p *Program) Update(src *Source) (touched []int32, ok bool) {
	if !sameButValues(p.src, src) {
		return nil, false
	}
	type swap struct {
		table *table
		in    *Input
	}
	var swaps []swap
	check := func(old, now *Input) bool {
		id, used := p.inputOf[old]
		if !used || !p.live[id] {
			return true
		}
		t := &p.tables[p.vals[id].aux]
		if (t.sampler == nil) != (now.Sampler == nil) || hasNothing(t.plain) != hasNothing(now.Plain) || !t.holds(now.Plain) {
			return false
		}
		samePlain := SameBits(t.plain, now.Plain)
		sameDraws := reflect.DeepEqual(t.sampler, now.Sampler)
		if !samePlain || !sameDraws {
			swaps = append(swaps, swap{t, now})
			if !samePlain {
				touched = append(touched, p.node(id))
			}
		}
		return true
	}
	for i := range src.Lines {
		if in := src.Lines[i].Input; in != nil && !check(p.src.Lines[i].Input, in) {
			return nil, false
		}
	}
	for i := range src.Overrides {
		if in := src.Overrides[i].Input; in != nil && !check(p.src.Overrides[i].Input, in) {
			return nil, false
		}
	}
	for _, s := range swaps {
		if !SameBits(s.table.plain, s.in.Plain) {
			s.table.plain = s.in.Plain
		}
		s.table.sampler, s.table.drawn = s.in.Sampler, nil
	}
	inputs := make(map[*Input]int32, len(p.inputOf))
	move := func(old, now *Input) {
		if id, used := p.inputOf[old]; used {
			inputs[now] = id
		}
	}
	for i := range src.Lines {
		move(p.src.Lines[i].Input, src.Lines[i].Input)
	}
	for i := range src.Overrides {
		move(p.src.Overrides[i].Input, src.Overrides[i].Input)
	}
	units := p.src.Units // the program's types hold on to units of this system
	next := *src
	next.Units, next.Money = units, p.src.Money
	p.inputOf, p.src = inputs, &next
	p.filled = 0
	for i := range p.vals { // what hangs on draws is not known until they ran again
		if v := &p.vals[i]; p.live[i] && (v.op == vOdds || v.op == vEdge) {
			touched = append(touched, p.node(int32(i)))
		}
	}
	return touched, true
}

// Units gives the system that the program's types take their units from.
func (p *Program) Units() *unit.System { return p.src.Units }

// sameButValues says whether two sources differ at most in the values of inputs.
func sameButValues(a, b *Source) bool {
	if a.Season != b.Season || a.Standing != b.Standing || a.Chosen != b.Chosen || a.Money.String() != b.Money.String() ||
		len(a.Lines) != len(b.Lines) || len(a.Overrides) != len(b.Overrides) ||
		!reflect.DeepEqual(a.Space, b.Space) || !reflect.DeepEqual(a.Lists, b.Lists) ||
		!reflect.DeepEqual(a.Records, b.Records) || !reflect.DeepEqual(a.Scenarios, b.Scenarios) || !reflect.DeepEqual(a.Words, b.Words) {
		return false
	}
	for i := range a.Lines {
		x, y := &a.Lines[i], &b.Lines[i]
		if x.Name != y.Name || x.Place != y.Place || x.Gather != y.Gather || x.Broken != nil || y.Broken != nil ||
			!sameUnit(x.Unit, y.Unit) || !sameFormula(x.Formula, y.Formula) || !sameType(x.Input, y.Input) {
			return false
		}
	}
	for i := range a.Overrides {
		x, y := &a.Overrides[i], &b.Overrides[i]
		if x.Layer != y.Layer || x.Scenario != y.Scenario || x.Line != y.Line || x.ForecastOnly != y.ForecastOnly || x.Place != y.Place ||
			!reflect.DeepEqual(x.Where, y.Where) || !sameFormula(x.Formula, y.Formula) || !sameType(x.Input, y.Input) {
			return false
		}
	}
	return true
}

func sameUnit(a, b *unit.Unit) bool {
	return a == b || a != nil && b != nil && a.String() == b.String()
}

func sameFormula(a, b *syntax.Formula) bool {
	return a == b || a != nil && b != nil && a.Text == b.Text && a.Place == b.Place
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

// LineNode gives the node of a line that is OK.
func (p *Program) LineNode(line int) int32 { return p.node(p.line[line]) }

// Recompute computes a node again from the plain cells of what it reads, and says
// whether a bit of its own changed.
func (p *Program) Recompute(node int32) (changed bool) {
	if !p.live[node] || p.node(node) != node {
		return false // a number that is no node
	}
	parts := p.parts(node)
	var before []float64
	for _, i := range parts {
		before = append(before, p.cells(i)...)
	}
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
		newWorker(p.nodePlan(node), 1).run(0, 1)
	}
	at := 0
	for _, i := range parts {
		now := p.cells(i)
		changed = changed || !SameBits(before[at:at+len(now)], now)
		at += len(now)
	}
	return changed
}

// nodePlan plans the plain pass of one node; it is kept, since a node that changed
// once is likely to change again.
func (p *Program) nodePlan(node int32) *plan {
	if pl := p.plans[node]; pl != nil {
		return pl
	}
	if p.plans == nil {
		p.plans = map[int32]*plan{}
	}
	pl := p.plainPlanOf(p.parts(node))
	p.plans[node] = pl
	return pl
}

// Snapshot gives the plain cells as they are now, for Differs.
func (p *Program) Snapshot() []float64 { return append([]float64(nil), p.plain...) }

// Differs says whether a bit of a line that is OK differs from a snapshot.
func (p *Program) Differs(line int, was []float64) bool {
	id := p.line[line]
	at := p.offset[id]
	return !SameBits(was[at:at+len(p.cells(id))], p.cells(id))
}
