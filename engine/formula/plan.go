package formula

import (
	"slices"
	"sort"

	"wintertruss/engine/array"
)

// A plan is what a run does, in order: rounds over the values that have to run.
//
// A draw run has to touch every line for every week and draw; what costs is
// moving numbers, not computing with them. So values that go row by row (a row
// is one cell's draws) and stand over the same axes are put into one block, and
// the block is walked cell by cell: all its values for week 1, then for week 2. A
// value that only the block itself reads needs room for one row, or for the few
// weeks that a reader looks back, and that row is still in the fastest cache when
// it is read. A total of such a value takes in each row as it comes. A line that
// leans on its own earlier week needs nothing special: the row before is there.
// What has nothing to do with each other makes blocks of its own, which keeps the
// rows in use few. What looks along an axis otherwise (models that want whole
// seasons, references) stands between blocks.
//
// Tried and rejected: one value after another over all weeks (twice the time: every
// value goes through memory), and larger fused kernels (many loops for little).
type plan struct {
	p      *Program
	plain  bool // the plain pass: one number a cell, kept in the program
	rounds []round

	// of a draw run
	place  []int32     // value -> first row in the scratch, -1 when it has none
	out    []int32     // value -> its place in data when its draws are asked for, else -1
	rows   int32       // rows of the scratch
	kept   int32       // those of them that more than one block uses
	need   [][]bool    // see needed
	data   [][]float64 // cells x draws of every input, and of what is asked for
	stride int         // numbers from a row of data to the next

	// while it is made
	todo []planned
}

// planned is a value that runs, while the plan is made.
type planned struct {
	id    int32
	level int32 // walls before it, see levels
	round int32 // where it runs
	last  int32 // the last round that reads it

	readers int32
	back    int32 // how many weeks its own block looks back at it
	wide    bool  // all its cells are needed at once
	asked   bool  // its draws are
	// An earlier that is not copied: who reads it reads the row before. A product
	// that is one step with the sum that reads it.
	absorbed bool
	beyond   bool // read by what cannot absorb it
}

type roundKind uint8

const (
	rowBlock roundKind = iota // values over the same axes, cell by cell
	whole                     // one value that looks along axes
	weekLoop                  // a loop with such values inside, week by week
)

type round struct {
	kind  roundKind
	loop  bool // of the plain pass: a rowBlock that goes week by week
	axes  array.Axes
	ids   []int32
	steps []rowStep // the rest of a rowBlock
	first []ref     // what stands before the first weeks, for ref.before
	outer [][]int32 // strides along the outer axes of the block, for ref.outer
}

func isData(op valueOp) bool {
	return op == vConst || op == vInput || op == vOdds || op == vEdge
}

func isRowwise(op valueOp) bool { return op == vElement || op == vEarlier }

// drawPlan plans a draw run that gives the asked values: of all they are made of,
// what differs from draw to draw; the rest is there from the plain pass.
func (p *Program) drawPlan(asked []int32) *plan {
	pl := &plan{p: p}
	in := p.closure(asked, func(v *value) bool { return v.draws })
	pl.begin(in)
	for _, id := range asked {
		if t := pl.of(id); t != nil {
			t.asked = true
		}
	}
	pl.need = p.needed(in, asked)
	return pl.make()
}

// plainPlan plans a plain pass over the values of one stage, or (-1) over all.
func (p *Program) plainPlan(stage int32) *plan {
	run := slices.Clone(p.live)
	for i := range run {
		run[i] = run[i] && (stage < 0 || p.vals[i].stage == stage)
	}
	pl := &plan{p: p, plain: true}
	pl.begin(run)
	return pl.make()
}

// plainPlanOf plans the plain pass of a few values, given in order; all others are there.
func (p *Program) plainPlanOf(ids []int32) *plan {
	pl := &plan{p: p, plain: true}
	for _, i := range ids {
		pl.add(i)
	}
	return pl.make()
}

func (pl *plan) begin(run []bool) {
	for i, in := range run {
		if in {
			pl.add(int32(i))
		}
	}
}

// add takes a value in. What is data is there and does not run.
func (pl *plan) add(id int32) {
	if isData(pl.p.vals[id].op) {
		return
	}
	pl.todo = append(pl.todo, planned{id: id})
	pl.p.turn[id] = int32(len(pl.todo))
}

// of gives a value that runs, nil for one that does not.
func (pl *plan) of(id int32) *planned {
	if n := pl.p.turn[id]; n > 0 {
		return &pl.todo[n-1]
	}
	return nil
}

func (pl *plan) make() *plan {
	loops := pl.loops()
	pl.levels(loops)
	pl.arrange(loops)
	pl.follow()
	if !pl.plain {
		pl.storage()
		pl.kept = pl.rows
	}
	for i := range pl.rounds {
		if pl.rounds[i].kind == rowBlock {
			pl.block(&pl.rounds[i])
		}
	}
	for i := range pl.todo {
		pl.p.turn[pl.todo[i].id] = 0
	}
	pl.todo = nil
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

// weekLoops are the loops of a run: the values of each, in order, and whether it
// goes row by row over one set of axes, so that it can be part of a block.
type weekLoops map[int32]*loopValues

type loopValues struct {
	ids    []int32
	simple bool
}

func (pl *plan) loops() weekLoops {
	loops := weekLoops{}
	for i := range pl.todo {
		id := pl.todo[i].id
		v := &pl.p.vals[id]
		if v.loop < 0 {
			continue
		}
		l := loops[v.loop]
		if l == nil {
			l = &loopValues{simple: true}
			loops[v.loop] = l
		}
		l.ids = append(l.ids, id)
		l.simple = l.simple && isRowwise(v.op) && v.axes == pl.p.vals[l.ids[0]].axes
	}
	return loops
}

// levels gives every value the number of walls between it and the inputs: a
// value that looks along axes is a wall. Values of a loop share their level; they
// stand together, and nothing else among them is made of them.
func (pl *plan) levels(loops weekLoops) {
	p := pl.p
	upTo := func(id int32, l int32) int32 {
		p.reads(id, func(a int32) {
			if t := pl.of(a); t != nil {
				l = max(l, t.level)
			}
		})
		return l
	}
	for i := range pl.todo {
		t := &pl.todo[i]
		v := &p.vals[t.id]
		if v.loop < 0 {
			t.level = upTo(t.id, 0)
			if !isRowwise(v.op) && v.op != vOutput {
				t.level++
			}
			continue
		}
		loop := loops[v.loop]
		if t.id != loop.ids[len(loop.ids)-1] {
			continue
		}
		l := int32(0)
		for _, m := range loop.ids {
			l = upTo(m, l) // that of a value of the loop is still 0
		}
		if !loop.simple || pl.plain {
			l++
		}
		for _, m := range loop.ids {
			pl.of(m).level = l
		}
	}
}

// smallest is how many steps a block of a draw run has at least, unless there are
// no more: what belongs to nothing else is put together. A variable only for tests,
// whose books are small.
var smallest = 24

// arrange puts the values into rounds.
func (pl *plan) arrange(loops weekLoops) {
	p := pl.p
	type at struct {
		level int32
		axes  array.Axes
	}
	blocks := map[at][]int32{}
	walls := map[int32][]round{}
	most := int32(0)
	for i := range pl.todo {
		t := &pl.todo[i]
		v := &p.vals[t.id]
		most = max(most, t.level)
		switch {
		case v.loop >= 0 && (!loops[v.loop].simple || pl.plain):
			if ids := loops[v.loop].ids; t.id == ids[len(ids)-1] {
				r := round{kind: weekLoop, ids: ids}
				if loops[v.loop].simple { // in the plain pass, where all else goes a season at a time
					r = round{kind: rowBlock, loop: true, axes: v.axes, ids: ids}
				}
				walls[t.level] = append(walls[t.level], r)
			}
		case v.op == vOutput:
		case isRowwise(v.op):
			k := at{t.level, v.axes}
			blocks[k] = append(blocks[k], t.id)
		default:
			if k, ok := pl.takenIn(v, loops); ok {
				blocks[at{k, p.vals[v.a].axes}] = append(blocks[at{k, p.vals[v.a].axes}], t.id)
				continue
			}
			walls[t.level] = append(walls[t.level], round{kind: whole, ids: []int32{t.id}})
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
			for _, ids := range pl.parts(blocks[k]) {
				pl.rounds = append(pl.rounds, round{kind: rowBlock, axes: k.axes, ids: ids})
			}
		}
	}
}

// takenIn says whether a total takes in the rows of a block as they come, and the
// level of that block. The block is walked in the order in which a total adds.
func (pl *plan) takenIn(v *value, loops weekLoops) (level int32, ok bool) {
	if v.op != vReduce {
		return 0, false
	}
	x, a := pl.of(v.a), &pl.p.vals[v.a]
	if x == nil || !isRowwise(a.op) || pl.p.size(v.a) == 0 || a.loop >= 0 && (!loops[a.loop].simple || pl.plain) {
		return 0, false
	}
	return x.level, true
}

// parts takes a block apart into what has nothing to do with each other.
func (pl *plan) parts(ids []int32) [][]int32 {
	if pl.plain || len(ids) <= smallest {
		return [][]int32{ids}
	}
	root := make(map[int32]int32, len(ids)) // a forest: every value points towards its root
	for _, i := range ids {
		root[i] = i
	}
	find := func(i int32) int32 {
		for root[i] != i {
			root[i] = root[root[i]]
			i = root[i]
		}
		return i
	}
	for _, i := range ids {
		pl.p.reads(i, func(a int32) {
			if _, here := root[a]; here {
				root[find(a)] = find(i)
			}
		})
	}
	partOf := map[int32]int{}
	var parts [][]int32
	for _, i := range ids {
		n, ok := partOf[find(i)]
		if !ok {
			n = len(parts)
			partOf[find(i)] = n
			parts = append(parts, nil)
		}
		parts[n] = append(parts[n], i)
	}
	together := parts[:1]
	for _, part := range parts[1:] {
		if last := &together[len(together)-1]; len(*last) < smallest {
			*last = append(*last, part...)
			continue
		}
		together = append(together, part)
	}
	for _, part := range together {
		slices.Sort(part)
	}
	return together
}

// follow finds who reads each value, and where.
func (pl *plan) follow() {
	p := pl.p
	for r := range pl.rounds {
		for _, i := range pl.rounds[r].ids {
			t := pl.of(i)
			t.round, t.last, t.wide = int32(r), int32(r), pl.rounds[r].kind != rowBlock
		}
	}
	for i := range pl.todo {
		t := &pl.todo[i]
		if v := &p.vals[t.id]; v.op == vOutput {
			t.round, t.wide = pl.of(v.a).round, true
			t.last = t.round
		}
	}
	for i := range pl.todo {
		t := &pl.todo[i]
		v := &p.vals[t.id]
		if v.op == vOutput {
			continue
		}
		p.reads(t.id, func(a int32) {
			x := pl.of(a)
			if x == nil {
				return
			}
			x.readers++
			x.last = max(x.last, t.round)
			switch {
			case x.round != t.round:
				x.wide = true
			case v.op == vEarlier && a == v.a:
				x.back = max(x.back, v.aux)
				x.beyond = true
			case v.op == vEarlier:
				x.beyond = true
			}
		})
	}
}
