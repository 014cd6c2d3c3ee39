package formula

import "wintertruss/engine/array"

// rowStep is one operation of a block over rows; in the plain pass, over numbers.
type rowStep struct {
	take         bool  // dst takes a in, by reducer
	args         uint8 // how many of a, b and c there are
	careful      bool  // see value
	eop          array.Op
	reducer      array.Reducer
	overInner    bool  // the reducer goes over the innermost axis
	over         []int // the outer axes of the block that it goes over
	fresh        bool  // all of those stand at their first cell
	site         int32
	dst, a, b, c ref
}

// ref says where a row is found.
type ref struct {
	kind   refKind
	mask   uint16 // refRing: how many rows it has, less one
	back   uint16 // how many weeks earlier it is read
	before int32  // what is read before the first weeks: a place in round.first
	outer  int32  // a place in round.outer, from 1; 0: none
	data   int32  // refData: a place in plan.data
	base   int32
	at     int32 // base and what the outer axes add, while the block runs
	step   int32 // from one cell of the innermost axis to the next
	x      float64
}

type refKind uint8

const (
	refNone  refKind = iota
	refConst         // x
	refPlain         // one number a cell, in the program
	refRow           // a row of the scratch for each cell
	refRing          // rows of the scratch for the last cells only
	refData          // a row of plan.data for each cell
)

// storage gives room in the scratch to every value that more than its own block
// reads; rows are used again when their last reader is done.
func (pl *plan) storage() {
	p := pl.p
	pl.place, pl.out = make([]int32, len(p.vals)), make([]int32, len(p.vals))
	for i := range pl.place {
		pl.place[i], pl.out[i] = -1, -1
	}
	pl.data = make([][]float64, len(p.tables))
	free := map[int32][]int32{}
	done := make([][]int32, len(pl.rounds)+1)
	give := func(t *planned) {
		if t.asked && p.vals[t.id].op != vOutput { // it goes where it is wanted at once
			pl.out[t.id] = int32(len(pl.data))
			pl.data = append(pl.data, nil)
			return
		}
		n := int32(p.size(t.id))
		if list := free[n]; len(list) > 0 {
			pl.place[t.id], free[n] = list[len(list)-1], list[:len(list)-1]
		} else {
			pl.place[t.id] = pl.rows
			pl.rows += n
		}
		if t.asked {
			t.last = int32(len(pl.rounds))
		}
		done[t.last] = append(done[t.last], t.id)
	}
	outputs := map[int32][]*planned{}
	for i := range pl.todo {
		t := &pl.todo[i]
		if v := &p.vals[t.id]; v.op == vOutput {
			outputs[v.a] = append(outputs[v.a], t)
		}
	}
	for r := range pl.rounds {
		for _, i := range pl.rounds[r].ids {
			for _, o := range outputs[i] {
				give(o)
			}
			t := pl.of(i)
			switch op := p.vals[i].op; {
			case op == vCall, op == vOutput:
			case t.wide, t.asked, op == vReduce:
				give(t)
			}
		}
		for _, i := range done[r] {
			n := int32(p.size(i))
			free[n] = append(free[n], pl.place[i])
		}
	}
}

func (pl *plan) hasRows(id int32) bool { return pl.place[id] >= 0 || pl.out[id] >= 0 }

// blockMaker turns the values of one block into steps.
type blockMaker struct {
	pl    *plan
	r     *round
	axes  []int // of the block; the last one is walked innermost
	fused map[int32]fusedSum
	rows  int32         // rows of the scratch that are taken
	slot  map[int32]ref // where the values without room of their own stand
	last  map[int32]int // the last step that reads each
	free  []int32       // rows whose last reader is done
}

// fusedSum is a sum or difference that is one step with the product it is made of.
type fusedSum struct {
	op      array.Op
	args    [3]int32
	careful bool
}

// block makes the steps of a block. Values without room of their own get one row
// each while the block's cell is computed, or a ring of rows when the block looks
// back at them.
func (pl *plan) block(r *round) {
	b := &blockMaker{pl: pl, r: r, axes: r.axes.List(), rows: pl.kept}
	if !pl.plain {
		b.fused, b.slot, b.last = map[int32]fusedSum{}, map[int32]ref{}, map[int32]int{}
		b.absorb()
		for s, i := range r.ids {
			b.uses(i, func(a int32) { b.last[a] = s })
			if t := pl.of(i); t.back > 0 && !pl.hasRows(i) {
				b.ring(t)
			}
		}
	}
	r.steps = make([]rowStep, 0, len(r.ids))
	for s, i := range r.ids {
		if !pl.of(i).absorbed {
			b.step(s, i)
		}
	}
	pl.rows = max(pl.rows, b.rows)
}

// absorb finds the values that need no row, since who reads them can do without.
func (b *blockMaker) absorb() {
	p := b.pl.p
	for _, i := range b.r.ids {
		v, t := &p.vals[i], b.pl.of(i)
		t.absorbed = v.op == vEarlier && v.eop == array.Copy && !t.beyond && !b.pl.hasRows(i)
		if v.op != vElement || v.eop != array.Add && v.eop != array.Sub {
			continue
		}
		for n, a := range []int32{v.a, v.b} {
			x, m := &p.vals[a], b.pl.of(a)
			if m == nil || m.round != t.round || x.op != vElement || x.eop != array.Mul || m.readers != 1 || m.beyond || b.pl.hasRows(a) {
				continue
			}
			m.absorbed = true
			f := fusedSum{array.MulAdd, [3]int32{x.a, x.b, v.b}, v.careful || x.careful}
			switch {
			case n == 1:
				f.args[2] = v.a
				if v.eop == array.Sub {
					f.op = array.SubMul
				}
			case v.eop == array.Sub:
				f.op = array.MulSub
			}
			b.fused[i] = f
			break
		}
	}
}

// args gives the arguments of a value's step.
func (b *blockMaker) args(i int32) [3]int32 {
	if f, ok := b.fused[i]; ok {
		return f.args
	}
	return b.pl.p.vals[i].args()
}

// uses calls f for every value whose row the step of a value reads.
func (b *blockMaker) uses(i int32, f func(int32)) {
	if b.pl.of(i).absorbed {
		return
	}
	for _, a := range b.args(i) {
		switch {
		case a < 0:
		case b.isAbsorbed(a):
			f(b.pl.p.vals[a].a)
			f(b.pl.p.vals[a].b)
		default:
			f(a)
		}
	}
}

func (b *blockMaker) isAbsorbed(id int32) bool {
	t := b.pl.of(id)
	return t != nil && t.absorbed
}

// step makes the step of a value; s is its place in the block.
func (b *blockMaker) step(s int, i int32) {
	v := &b.pl.p.vals[i]
	st := rowStep{eop: v.eop, careful: v.careful, site: v.site}
	if f, ok := b.fused[i]; ok {
		st.eop, st.careful = f.op, f.careful
	}
	if v.op == vEarlier {
		st.a = b.earlier(v)
	} else {
		args := b.args(i)
		st.a, st.b, st.c = b.find(args[0]), b.find(args[1]), b.find(args[2])
	}
	st.args = 1
	for n, r := range []*ref{&st.a, &st.b, &st.c} {
		if r.kind != refNone {
			st.args = uint8(n + 1)
		}
	}
	if v.op == vReduce {
		b.total(&st, v)
	}
	_, ring := b.slot[i]
	switch {
	case b.pl.plain || b.pl.hasRows(i):
		st.dst = b.ref(i)
		b.release(s, i)
	case ring:
		st.dst = b.slot[i]
		b.release(s, i)
	case st.careful || st.eop == array.Clamp && (st.b.kind > refPlain || st.c.kind > refPlain):
		st.dst = b.room(i) // these read their arguments after they have begun to write
		b.release(s, i)
	default:
		b.release(s, i)
		st.dst = b.room(i)
	}
	b.r.steps = append(b.r.steps, st)
}

// total makes a step that takes rows in.
func (b *blockMaker) total(st *rowStep, v *value) {
	st.take, st.reducer = true, array.Reducer(v.aux)
	for n, axis := range b.axes {
		switch {
		case !v.over.Has(axis):
		case n == len(b.axes)-1:
			st.overInner = true
		default:
			st.over = append(st.over, n)
		}
	}
}

// room gives a value a row, until its last reader is done.
func (b *blockMaker) room(i int32) ref {
	r := ref{kind: refRing}
	if n := len(b.free); n > 0 {
		r.base, b.free = b.free[n-1], b.free[:n-1]
	} else {
		r.base = b.rows
		b.rows++
	}
	b.slot[i] = r
	return r
}

// ring gives a value a row for each week that the block looks back.
func (b *blockMaker) ring(t *planned) {
	n := int32(1)
	for n <= t.back {
		n *= 2
	}
	b.slot[t.id] = ref{kind: refRing, base: b.rows, mask: uint16(n - 1), step: 1}
	b.rows += n
}

// release takes back the rows that nobody reads after step s, which is value i's.
func (b *blockMaker) release(s int, i int32) {
	if b.pl.plain {
		return
	}
	b.uses(i, func(a int32) {
		if r, ok := b.slot[a]; ok && r.mask == 0 && b.last[a] == s {
			b.free = append(b.free, r.base)
			b.last[a] = -1 // once, though the step may read it twice
		}
	})
}

// find gives the row of a value, from within the block.
func (b *blockMaker) find(id int32) ref {
	switch {
	case id < 0:
		return ref{}
	case b.isAbsorbed(id):
		return b.earlier(&b.pl.p.vals[id])
	}
	if r, ok := b.slot[id]; ok {
		return r
	}
	return b.ref(id)
}

// earlier gives the row of a value some weeks before; before the first weeks there
// is something else.
func (b *blockMaker) earlier(v *value) ref {
	r := b.find(v.a)
	r.back, r.before = uint16(v.aux), int32(len(b.r.first))
	b.r.first = append(b.r.first, b.find(v.b))
	return r
}

// ref finds a value that has cells of its own.
func (b *blockMaker) ref(id int32) ref {
	p, space := b.pl.p, b.pl.p.src.Space
	v := &p.vals[id]
	var r ref
	if n := len(b.axes); n > 0 {
		r.step = int32(space.Stride(v.axes, b.axes[n-1]))
		if n > 1 {
			strides := make([]int32, n-1)
			for i, axis := range b.axes[:n-1] {
				strides[i] = int32(space.Stride(v.axes, axis))
			}
			b.r.outer = append(b.r.outer, strides)
			r.outer = int32(len(b.r.outer))
		}
	}
	switch {
	case v.op == vConst:
		r.kind, r.x = refConst, v.imm
	case b.pl.plain || !v.draws:
		r.kind, r.base = refPlain, int32(p.offset[id])
	case v.op == vInput:
		r.kind, r.data = refData, v.aux
	case b.pl.out[id] >= 0:
		r.kind, r.data = refData, b.pl.out[id]
	default:
		r.kind, r.base = refRow, b.pl.place[id]
	}
	return r
}
