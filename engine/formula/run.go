package formula

import (
	"context"
	"slices"

	"wintertruss/engine/array"
)

// worker runs a plan over one block of draws (or, in the plain pass, over the
// single number of each cell). Each has its own scratch.
type worker struct {
	ctx      context.Context // ends the run between rounds; nil in the plain pass
	pl       *plan
	p        *Program
	scratch  []float64
	first    int // the first draw of the block
	n        int // draws in the block
	stride   int // numbers from a row of the scratch to the next
	steps    [][]rowStep
	before   [][]ref
	operands [3]array.Operand
	at       [array.MaxAxes]int // where the outer axes of a block stand

	// made at the first use
	walks map[int32]*array.Walk
	spans map[spanKey][]int
	calls map[int32]*callRoom
}

func newWorker(pl *plan, block int) *worker {
	k := &worker{pl: pl, p: pl.p, stride: apart(block), scratch: make([]float64, int(pl.rows)*apart(block))}
	k.steps, k.before = make([][]rowStep, len(pl.rounds)), make([][]ref, len(pl.rounds))
	for i := range pl.rounds {
		r := &pl.rounds[i]
		k.steps[i], k.before[i] = r.steps, r.first
		if !pl.plain { // each worker moves references of its own
			k.steps[i], k.before[i] = slices.Clone(r.steps), slices.Clone(r.first)
		}
	}
	return k
}

// apart gives how far rows of n numbers stand apart. Models read one draw of many
// rows: if rows stood a power of two apart, all those numbers would want the same
// few places of the fastest cache.
func apart(n int) int {
	if n < 64 {
		return n
	}
	return (n+7)/8*8 + 8
}

// run computes draws first .. first+n-1 of everything the plan wants.
func (k *worker) run(first, n int) {
	k.first, k.n = first, n
	for i := range k.pl.rounds {
		if k.ctx != nil && k.ctx.Err() != nil {
			return // a newer edit waits
		}
		r := &k.pl.rounds[i]
		switch r.kind {
		case rowBlock:
			k.block(r, k.steps[i], k.before[i])
		case whole:
			k.look(r.ids[0], -1)
		case weekLoop:
			for w := range k.p.src.Season.Len() {
				for _, id := range r.ids {
					if v := &k.p.vals[id]; isRowwise(v.op) {
						k.rowwise(id, v, w)
					} else {
						k.look(id, w)
					}
				}
			}
		}
	}
}

// block walks the cells of a block; for each, all its steps.
func (k *worker) block(r *round, steps []rowStep, before []ref) {
	axes := r.axes.List()
	inner, cells := 1, 1
	if n := len(axes); n > 0 {
		inner, axes = k.p.src.Space.Axes[axes[n-1]].Len(), axes[:n-1]
	}
	for j, axis := range axes {
		k.at[j] = 0
		cells *= k.p.src.Space.Axes[axis].Len()
	}
	for range cells {
		k.settle(r, steps, before)
		switch {
		case !k.pl.plain:
			k.rows(steps, before, inner)
		case r.loop || inner == 1:
			k.numbers(steps, before, inner)
		default:
			k.seasons(steps, before, inner)
		}
		for j := len(axes) - 1; j >= 0; j-- {
			if k.at[j]++; k.at[j] < k.p.src.Space.Axes[axes[j]].Len() {
				break
			}
			k.at[j] = 0
		}
	}
}

// settle moves the references to where the outer axes stand.
func (k *worker) settle(r *round, steps []rowStep, before []ref) {
	move := func(x *ref) {
		x.at = x.base
		if x.outer > 0 {
			for j, s := range r.outer[x.outer-1] {
				x.at += int32(k.at[j]) * s
			}
		}
	}
	for i := range steps {
		s := &steps[i]
		move(&s.dst)
		move(&s.a)
		move(&s.b)
		move(&s.c)
		s.fresh = true
		for _, j := range s.over {
			s.fresh = s.fresh && k.at[j] == 0
		}
	}
	for i := range before {
		move(&before[i])
	}
}

// begins says whether a total takes in its first row.
func (s *rowStep) begins(w int) bool { return s.fresh && (w == 0 || !s.overInner) }

// seasons is the plain pass over one outer cell of a block that is no loop: the
// numbers of the innermost axis, most often weeks, stand side by side and are the
// rows here.
func (k *worker) seasons(steps []rowStep, before []ref, inner int) {
	cells := k.p.plain
	a, b, c := &k.operands[0], &k.operands[1], &k.operands[2]
	all := []*array.Operand{a, b, c}
	find := func(o *array.Operand, r *ref) {
		switch {
		case r.kind == refConst:
			o.X, o.Single = r.x, true
		case r.step == 0:
			o.X, o.Single = cells[r.at], true
		default:
			o.V, o.Single = cells[r.at:int(r.at)+inner], false
		}
	}
	for i := range steps {
		s := &steps[i]
		if s.take && s.overInner {
			dst := &cells[s.dst.at]
			if s.fresh {
				*dst = s.reducer.First()
			}
			for w := range inner {
				*dst = s.reducer.Join(*dst, s.a.one(cells, before, w))
			}
			continue
		}
		dst := cells[s.dst.at : int(s.dst.at)+inner]
		if s.a.back > 0 {
			for w := range dst {
				dst[w] = s.a.one(cells, before, w)
			}
			continue
		}
		find(a, &s.a)
		if s.take {
			if s.fresh {
				s.reducer.Begin(dst, a)
			} else {
				s.reducer.Take(dst, a)
			}
			continue
		}
		if s.args > 1 {
			find(b, &s.b)
		}
		if s.args > 2 {
			find(c, &s.c)
		}
		s.eop.Apply(dst, a, b, c, int(s.site))
		if s.careful {
			array.Repair(dst, all[:s.args]...)
		}
	}
}

// numbers is the plain pass over one outer cell of a block, number by number.
func (k *worker) numbers(steps []rowStep, before []ref, inner int) {
	cells := k.p.plain
	for w := range inner {
		for i := range steps {
			s := &steps[i]
			dst := &cells[int(s.dst.at)+w*int(s.dst.step)]
			a := s.a.one(cells, before, w)
			if !s.take {
				*dst = s.eop.One(a, s.b.one(cells, before, w), s.c.one(cells, before, w), int(s.site))
				continue
			}
			if s.begins(w) {
				*dst = s.reducer.First()
			}
			*dst = s.reducer.Join(*dst, a)
		}
	}
}

func (r *ref) one(cells []float64, before []ref, w int) float64 {
	switch r.kind {
	case refConst:
		if w < int(r.back) {
			return before[r.before].one(cells, before, w)
		}
		return r.x
	case refPlain:
		if w < int(r.back) {
			return before[r.before].one(cells, before, w)
		}
		return cells[int(r.at)+(w-int(r.back))*int(r.step)]
	}
	return 0
}

// rows is a draw run over one outer cell of a block.
func (k *worker) rows(steps []rowStep, before []ref, inner int) {
	a, b, c := &k.operands[0], &k.operands[1], &k.operands[2]
	all := []*array.Operand{a, b, c}
	for w := range inner {
		for i := range steps {
			s := &steps[i]
			dst := k.row(&s.dst, w)
			k.operand(a, &s.a, before, w)
			if s.take {
				if s.begins(w) {
					s.reducer.Begin(dst, a)
				} else {
					s.reducer.Take(dst, a)
				}
				continue
			}
			if s.args > 1 {
				k.operand(b, &s.b, before, w)
			}
			if s.args > 2 {
				k.operand(c, &s.c, before, w)
			}
			s.eop.Apply(dst, a, b, c, int(s.site))
			if s.careful {
				array.Repair(dst, all[:s.args]...)
			}
		}
	}
}

// operand finds a row, or the number that stands for it.
func (k *worker) operand(o *array.Operand, r *ref, before []ref, w int) {
	if w < int(r.back) {
		r = &before[r.before]
	} else {
		w -= int(r.back)
	}
	switch r.kind {
	case refConst:
		o.X, o.Single = r.x, true
	case refPlain:
		o.X, o.Single = k.p.plain[int(r.at)+w*int(r.step)], true
	default:
		o.V, o.Single = k.row(r, w), false
	}
}

// row gives a row of draws.
func (k *worker) row(r *ref, w int) []float64 {
	cell := w * int(r.step)
	switch r.kind {
	case refData:
		at := (int(r.at)+cell)*k.pl.stride + k.first
		return k.pl.data[r.data][at : at+k.n]
	case refRing:
		cell &= int(r.mask)
	}
	at := (int(r.at) + cell) * k.stride
	return k.scratch[at : at+k.n]
}

// cell gives a cell of any value as an operand.
func (k *worker) cell(id int32, cell int) array.Operand {
	if k.pl.plain || !k.p.vals[id].draws {
		return array.One(k.p.plain[k.p.offset[id]+cell])
	}
	row, _ := k.found(id, cell)
	return array.Operand{V: row[:k.n]}
}

// into gives a cell of a value to be filled.
func (k *worker) into(id int32, cell int) []float64 {
	if k.pl.plain {
		at := k.p.offset[id] + cell
		return k.p.plain[at : at+1]
	}
	row, _ := k.found(id, cell)
	return row[:k.n]
}

// found gives the draws of a value from a cell on, and how far the next cell is.
func (k *worker) found(id int32, cell int) (from []float64, stride int) {
	data := k.pl.out[id]
	if v := &k.p.vals[id]; v.op == vInput {
		data = v.aux
	}
	if data >= 0 {
		return k.pl.data[data][cell*k.pl.stride+k.first:], k.pl.stride
	}
	return k.scratch[(int(k.pl.place[id])+cell)*k.stride:], k.stride
}

// walk gives the worker's walk for a value, made at the first use.
func (k *worker) walk(id int32, week int, over array.Axes, values ...array.Layout) *array.Walk {
	w := k.walks[id]
	if w == nil {
		if week >= 0 {
			over &^= array.Only(k.p.src.Week)
		}
		w = array.NewWalk(k.p.src.Space, over, values...)
		put(&k.walks, id, w)
	}
	var shift [4]int
	if week >= 0 {
		for i, v := range values {
			if v.Along.Has(k.p.src.Week) {
				shift[i] = week * k.p.src.Space.Stride(v.In, k.p.src.Week)
			}
		}
	}
	w.Reset(shift[:len(values)])
	return w
}

// rowwise computes one row-by-row value of a loop for one week.
func (k *worker) rowwise(id int32, v *value, week int) {
	layout := func(i int32) array.Layout {
		if i < 0 {
			return array.Layout{}
		}
		return array.Over(k.p.vals[i].axes)
	}
	a, b, c := layout(v.a), layout(v.b), layout(v.c)
	w := k.walk(id, week, v.axes, array.Over(v.axes), a, b, c)
	if w.Len() == 0 {
		return
	}
	back := 0
	if v.op == vEarlier {
		back = k.p.src.Space.Stride(a.In, k.p.src.Week) * int(v.aux)
	}
	get := func(i int32, cell int) array.Operand {
		if i < 0 {
			return array.Operand{Single: true}
		}
		return k.cell(i, cell)
	}
	for {
		dst := k.into(id, w.Cell[0])
		switch {
		case v.op == vEarlier && week < int(v.aux):
			a := k.cell(v.b, w.Cell[2])
			v.eop.Apply(dst, &a, &a, &a, int(v.site))
		case v.op == vEarlier:
			a := k.cell(v.a, w.Cell[1]-back)
			v.eop.Apply(dst, &a, &a, &a, int(v.site))
		default:
			a, b, c := get(v.a, w.Cell[1]), get(v.b, w.Cell[2]), get(v.c, w.Cell[3])
			v.eop.Apply(dst, &a, &b, &c, int(v.site))
			if v.careful {
				array.Repair(dst, &a, &b, &c)
			}
		}
		if !w.Next() {
			return
		}
	}
}

// put puts into a map that is made with its first entry.
func put[K comparable, V any](m *map[K]V, key K, v V) {
	if *m == nil {
		*m = map[K]V{}
	}
	(*m)[key] = v
}
