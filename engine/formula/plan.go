package formula

import (
	"slices"
	"sort"

	"wintertruss/engine/array"
)

// A plan is what a run does, in order: rounds. It is made for the values that
// are wanted.
//
// A draw run has to touch every line for every week and draw; what costs is
// moving numbers, not computing with them. So values that go row by row (a row
// is one cell's draws) and stand over the same axes are put into one block, and
// the block is walked cell by cell: all its values for week 1, then week 2. A value that only
// the block itself reads needs room for one row, and that row is still in the
// fastest cache when it is read. A line that leans on its own earlier week needs
// nothing special: the row before is there. What looks along an axis (totals,
// models that want whole seasons) stands between blocks. Tried and rejected: one
// value after another over all weeks (twice the time: every value goes through
// memory), and larger fused kernels (many loops for little).
type plan struct {
	p      *Program
	plain  bool  // the plain pass: one number a cell, kept in the program
	stage  int32 // of a plain pass: only values of this stage, see value; -1: all
	rounds []round
	wanted []int32
	place  []int32 // value -> first row in the scratch of a draw run; -1 when it has none
	rows   int32   // rows of the scratch
}

type roundKind uint8

const (
	rowBlock roundKind = iota // values over the same axes, cell by cell
	whole                     // one value that looks along axes
	weekLoop                  // a loop with such values inside, week by week
)

type round struct {
	kind  roundKind
	axes  array.Axes
	ids   []int32
	steps []rowStep // rowBlock
}

// rowStep is one row operation of a block.
type rowStep struct {
	op           valueOp
	eop          array.Op
	careful      bool
	site         int32
	back         int
	dst, a, b, c ref
}

// ref says where a row is found.
type ref struct {
	kind  refKind
	base  int
	outer []int // stride along each axis of the block but the week
	week  int   // stride along the weeks
	cur   int   // base and outer place, while the block runs (each worker has its own copy)
	x     float64
	cells []float64 // refTable: the drawn cells; refPlain: the program's plain cells
}

type refKind uint8

const (
	refNone  refKind = iota
	refConst         // x
	refPlain         // one number a cell
	refRow           // a row of the scratch for each cell
	refSlot          // one row of the scratch
	refTable         // a row of a drawn input
)

func isData(op valueOp) bool {
	return op == vConst || op == vInput || op == vOdds || op == vEdge
}

func isRowwise(op valueOp) bool { return op == vElement || op == vEarlier }

// drawPlan plans a draw run that gives the wanted values.
func (p *Program) drawPlan(wanted []int32) *plan {
	return (&plan{p: p, wanted: wanted}).make()
}

// plainPlan plans a plain pass over the values of one stage, or over all.
func (p *Program) plainPlan(stage int32) *plan {
	return (&plan{p: p, plain: true, stage: stage}).make()
}

func (pl *plan) make() *plan { return pl.makeFor(pl.needed()) }

// makeFor plans a run of the marked values; all others are there.
func (pl *plan) makeFor(run []bool) *plan {
	level := pl.levels(run)
	pl.arrange(run, level)
	pl.storage(run)
	for i := range pl.rounds {
		if pl.rounds[i].kind == rowBlock {
			pl.block(&pl.rounds[i])
		}
	}
	return pl
}

// reads calls f for every value that value i is made of.
func (p *Program) reads(i int32, f func(int32)) {
	v := &p.vals[i]
	if v.op == vCall {
		c := p.calls[v.aux]
		for _, list := range [][]callArg{c.args, c.cols} {
			for _, a := range list {
				if a.id >= 0 {
					f(a.id)
				}
			}
		}
		return
	}
	for _, a := range v.args() {
		if a >= 0 {
			f(a)
		}
	}
}

// needed marks the values that must run: in a draw run only those that differ
// from draw to draw, the others are there from the plain pass.
func (pl *plan) needed() []bool {
	if !pl.plain {
		return pl.p.closure(pl.wanted, func(v *value) bool { return v.draws })
	}
	run := slices.Clone(pl.p.live)
	for i := range run {
		run[i] = run[i] && (pl.stage < 0 || pl.p.vals[i].stage == pl.stage)
	}
	return run
}

// closure marks the values that some are made of, themselves included, as far as
// they are to be looked at.
func (p *Program) closure(from []int32, look func(v *value) bool) []bool {
	in := make([]bool, len(p.vals))
	p.mark(in, from, look)
	return in
}

// mark is closure where some are marked already; it gives those that came new.
func (p *Program) mark(in []bool, from []int32, look func(v *value) bool) (marked []int32) {
	todo := append([]int32(nil), from...)
	for len(todo) > 0 {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if in[i] || !look(&p.vals[i]) {
			continue
		}
		in[i] = true
		marked = append(marked, i)
		p.reads(i, func(a int32) { todo = append(todo, a) })
	}
	return marked
}

// levels gives every value the number of walls between it and the inputs: a
// value that looks along axes is a wall. Values of a loop share their level; they
// stand together, and nothing else among them is made of them.
func (pl *plan) levels(run []bool) []int32 {
	p := pl.p
	level := make([]int32, len(p.vals))
	loops := pl.loops(run)
	for i := range p.vals {
		v := &p.vals[i]
		if !run[i] || isData(v.op) {
			continue
		}
		if v.loop < 0 {
			p.reads(int32(i), func(a int32) { level[i] = max(level[i], level[a]) })
			if !isRowwise(v.op) && v.op != vOutput {
				level[i]++
			}
			continue
		}
		members := loops[v.loop]
		if int32(i) != members[len(members)-1] {
			continue
		}
		l := int32(0)
		for _, m := range members {
			p.reads(m, func(a int32) { l = max(l, level[a]) }) // that of a member is still 0
		}
		if !p.simpleLoop(members) {
			l++
		}
		for _, m := range members {
			level[m] = l
		}
	}
	return level
}

// loops gives the values of every loop, in order.
func (pl *plan) loops(run []bool) map[int32][]int32 {
	members := map[int32][]int32{}
	for i := range pl.p.vals {
		if l := pl.p.vals[i].loop; run[i] && l >= 0 {
			members[l] = append(members[l], int32(i))
		}
	}
	return members
}

// simpleLoop says whether a loop goes row by row over one set of axes.
func (p *Program) simpleLoop(members []int32) bool {
	for _, m := range members {
		if !isRowwise(p.vals[m].op) || p.vals[m].axes != p.vals[members[0]].axes {
			return false
		}
	}
	return true
}

// arrange puts the values into rounds.
func (pl *plan) arrange(run []bool, level []int32) {
	p := pl.p
	type at struct {
		level int32
		axes  array.Axes
	}
	blocks := map[at][]int32{}
	walls := map[int32][]round{}
	members := pl.loops(run)
	loopSimple := map[int32]bool{}
	for l, m := range members {
		loopSimple[l] = p.simpleLoop(m)
	}
	most := int32(0)
	for i := range p.vals {
		v := &p.vals[i]
		if !run[i] || isData(v.op) {
			continue
		}
		most = max(most, level[i])
		switch {
		case v.loop >= 0 && !loopSimple[v.loop]:
			if m := members[v.loop]; int32(i) == m[len(m)-1] {
				walls[level[i]] = append(walls[level[i]], round{kind: weekLoop, ids: m})
			}
		case v.op == vOutput:
		case isRowwise(v.op):
			k := at{level[i], v.axes}
			blocks[k] = append(blocks[k], int32(i))
		default:
			walls[level[i]] = append(walls[level[i]], round{kind: whole, ids: []int32{int32(i)}})
		}
	}
	byLevel := make([][]at, most+1)
	for k := range blocks {
		byLevel[k.level] = append(byLevel[k.level], k)
	}
	for l := range byLevel {
		pl.rounds = append(pl.rounds, walls[int32(l)]...)
		list := byLevel[l]
		sort.Slice(list, func(i, j int) bool { // a value may be made of one of the same level with fewer axes
			if a, b := list[i].axes.Count(), list[j].axes.Count(); a != b {
				return a < b
			}
			return list[i].axes < list[j].axes
		})
		for _, k := range list {
			pl.rounds = append(pl.rounds, round{kind: rowBlock, axes: k.axes, ids: blocks[k]})
		}
	}
}

// storage gives room in the scratch to every value that more than its own block
// reads; rows are used again when their last reader is done.
func (pl *plan) storage(run []bool) {
	p := pl.p
	pl.place = make([]int32, len(p.vals))
	for i := range pl.place {
		pl.place[i] = -1
	}
	if pl.plain {
		return
	}
	roundOf := make([]int32, len(p.vals))
	last := make([]int32, len(p.vals))
	keep := make([]bool, len(p.vals))
	for r := range pl.rounds {
		for _, i := range pl.rounds[r].ids {
			roundOf[i] = int32(r)
			keep[i] = pl.rounds[r].kind != rowBlock
		}
	}
	for i := range p.vals {
		if run[i] && p.vals[i].op == vOutput {
			roundOf[i], keep[i] = roundOf[p.vals[i].a], true
		}
	}
	for i := range p.vals {
		if !run[i] || isData(p.vals[i].op) || p.vals[i].op == vOutput {
			continue
		}
		last[i] = max(last[i], roundOf[i])
		p.reads(int32(i), func(a int32) {
			last[a] = max(last[a], roundOf[i])
			if roundOf[a] != roundOf[i] || p.vals[i].op == vEarlier {
				keep[a] = true
			}
		})
	}
	for _, w := range pl.wanted {
		keep[w] = true
		last[w] = int32(len(pl.rounds))
	}
	free := map[int][]int32{}
	done := make([][]int32, len(pl.rounds)+1)
	give := func(i int32) {
		n := p.src.Space.Size(p.vals[i].axes)
		if list := free[n]; len(list) > 0 {
			pl.place[i] = list[len(list)-1]
			free[n] = list[:len(list)-1]
		} else {
			pl.place[i] = pl.rows
			pl.rows += int32(n)
		}
		done[last[i]] = append(done[last[i]], i)
	}
	outputs := map[int32][]int32{}
	for i := range p.vals {
		if run[i] && p.vals[i].op == vOutput {
			outputs[p.vals[i].a] = append(outputs[p.vals[i].a], int32(i))
		}
	}
	for r := range pl.rounds {
		for _, i := range pl.rounds[r].ids {
			for _, o := range outputs[i] {
				last[o] = max(last[o], int32(r))
				give(o)
			}
			if keep[i] && p.vals[i].op != vCall && p.vals[i].op != vOutput {
				give(i)
			}
		}
		for _, i := range done[r] {
			n := p.src.Space.Size(p.vals[i].axes)
			free[n] = append(free[n], pl.place[i])
		}
	}
}

// block turns the values of one block into steps. Values without room of their
// own get one row each while the block's cell is computed.
func (pl *plan) block(r *round) {
	p := pl.p
	inBlock := make(map[int32]int, len(r.ids)) // value -> last step that reads it
	for s, i := range r.ids {
		inBlock[i] = s
		p.reads(i, func(a int32) {
			if _, ok := inBlock[a]; ok {
				inBlock[a] = s
			}
		})
	}
	var free []int32
	slot := map[int32]int32{}
	ends := make([][]int32, len(r.ids))
	r.steps = make([]rowStep, len(r.ids))
	for s, i := range r.ids {
		v := &p.vals[i]
		st := rowStep{op: v.op, eop: v.eop, careful: v.careful, site: v.site, back: int(v.aux)}
		find := func(id int32) ref {
			if id < 0 {
				return ref{}
			}
			if at, ok := slot[id]; ok {
				return ref{kind: refSlot, base: int(at)}
			}
			return pl.ref(id, r.axes)
		}
		st.a, st.b, st.c = find(v.a), find(v.b), find(v.c)
		if !pl.plain && pl.place[i] < 0 {
			if n := len(free); n > 0 {
				slot[i], free = free[n-1], free[:n-1]
			} else {
				slot[i] = pl.rows
				pl.rows++
			}
			ends[inBlock[i]] = append(ends[inBlock[i]], i)
			st.dst = ref{kind: refSlot, base: int(slot[i])}
		} else {
			st.dst = pl.ref(i, r.axes)
		}
		r.steps[s] = st
		for _, e := range ends[s] {
			free = append(free, slot[e])
		}
	}
}

// ref finds a value that has cells of its own, from a block over axes.
func (pl *plan) ref(id int32, over array.Axes) ref {
	p := pl.p
	v := &p.vals[id]
	week := p.src.Week
	out := ref{week: p.src.Space.Stride(v.axes, week)}
	for _, i := range over.List() {
		if i != week {
			out.outer = append(out.outer, p.src.Space.Stride(v.axes, i))
		}
	}
	switch {
	case v.op == vConst && v.axes == 0:
		out.kind, out.x = refConst, v.imm
	case pl.plain || !v.draws:
		out.kind, out.base, out.cells = refPlain, p.offset[id], p.plain
	case v.op == vInput:
		out.kind, out.cells = refTable, p.tables[v.aux].drawn
	default:
		out.kind, out.base = refRow, int(pl.place[id])
	}
	return out
}
