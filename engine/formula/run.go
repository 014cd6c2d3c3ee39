package formula

import (
	"context"

	"wintertruss/engine/array"
)

// worker runs a plan over one block of draws (or, in the plain pass, over the
// single number of each cell). Each has its own scratch.
type worker struct {
	ctx     context.Context // ends the run between rounds; nil in the plain pass
	pl      *plan
	p       *Program
	scratch []float64
	first   int // the first draw of the block
	n       int // draws in the block
	total   int // draws of the whole run
	steps   [][]rowStep
	walks   map[int32]*array.Walk
	spans   map[spanKey][]int
	calls   map[int32]*callRoom
	at      []int
}

func newWorker(pl *plan, block, total int) *worker {
	k := &worker{pl: pl, p: pl.p, total: total, walks: map[int32]*array.Walk{}, spans: map[spanKey][]int{}, calls: map[int32]*callRoom{}}
	k.scratch = make([]float64, int(pl.rows)*block)
	k.steps = make([][]rowStep, len(pl.rounds))
	for i := range pl.rounds {
		k.steps[i] = append([]rowStep(nil), pl.rounds[i].steps...) // cur is each worker's own
	}
	k.at = make([]int, array.MaxAxes)
	return k
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
			k.block(r, k.steps[i])
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
func (k *worker) block(r *round, steps []rowStep) {
	src := k.p.src
	weeks, hasWeek := 1, r.axes.Has(src.Week)
	if hasWeek {
		weeks = src.Season.Len()
	}
	outer := (r.axes &^ array.Only(src.Week)).List()
	cells := 1
	for j, axis := range outer {
		k.at[j] = 0
		cells *= src.Space.Axes[axis].Len()
	}
	for range cells {
		for i := range steps {
			s := &steps[i]
			s.dst.settle(k.at)
			s.a.settle(k.at)
			s.b.settle(k.at)
			s.c.settle(k.at)
		}
		if k.pl.plain {
			k.plainCells(steps, weeks)
		} else {
			k.drawRows(steps, weeks)
		}
		for j := len(outer) - 1; j >= 0; j-- {
			k.at[j]++
			if k.at[j] < src.Space.Axes[outer[j]].Len() {
				break
			}
			k.at[j] = 0
		}
	}
}

func (r *ref) settle(at []int) {
	r.cur = r.base
	for j, s := range r.outer {
		r.cur += at[j] * s
	}
}

// plainCells is the plain pass over one outer cell of a block.
func (k *worker) plainCells(steps []rowStep, weeks int) {
	cells := k.p.plain
	for w := range weeks {
		for i := range steps {
			s := &steps[i]
			if s.op == vEarlier {
				x := s.b.one(w)
				if w >= s.back {
					x = s.a.one(w - s.back)
				}
				cells[s.dst.cur+w*s.dst.week] = x
				continue
			}
			cells[s.dst.cur+w*s.dst.week] = s.eop.One(s.a.one(w), s.b.one(w), s.c.one(w), int(s.site))
		}
	}
}

func (r *ref) one(w int) float64 {
	switch r.kind {
	case refConst:
		return r.x
	case refPlain:
		return r.cells[r.cur+w*r.week]
	}
	return 0
}

// drawRows is a draw run over one outer cell of a block.
func (k *worker) drawRows(steps []rowStep, weeks int) {
	for w := range weeks {
		for i := range steps {
			s := &steps[i]
			dst := k.row(&s.dst, w)
			if s.op == vEarlier {
				src, at := &s.b, w
				if w >= s.back {
					src, at = &s.a, w-s.back
				}
				array.Copy.Apply(dst, k.operand(src, at), array.Operand{}, array.Operand{}, 0)
				continue
			}
			a, b, c := k.operand(&s.a, w), k.operand(&s.b, w), k.operand(&s.c, w)
			s.eop.Apply(dst, a, b, c, int(s.site))
			if s.careful {
				s.eop.Repair(dst, a, b, c, int(s.site))
			}
		}
	}
}

func (k *worker) operand(r *ref, w int) array.Operand {
	switch r.kind {
	case refConst:
		return array.Operand{X: r.x, Single: true}
	case refPlain:
		return array.Operand{X: r.cells[r.cur+w*r.week], Single: true}
	case refTable:
		o := (r.cur+w*r.week)*k.total + k.first
		return array.Operand{V: r.cells[o : o+k.n]}
	case refNone:
		return array.Operand{}
	}
	return array.Operand{V: k.row(r, w)}
}

func (k *worker) row(r *ref, w int) []float64 {
	o := (r.cur + w*r.week) * k.n
	if r.kind == refSlot {
		o = r.base * k.n
	}
	return k.scratch[o : o+k.n]
}

// cell gives a cell of any value as an operand.
func (k *worker) cell(id int32, cell int) array.Operand {
	v := &k.p.vals[id]
	switch {
	case k.pl.plain || !v.draws:
		return array.One(k.p.plain[k.p.offset[id]+cell])
	case v.op == vInput:
		o := cell*k.total + k.first
		return array.Operand{V: k.p.tables[v.aux].drawn[o : o+k.n]}
	}
	o := (int(k.pl.place[id]) + cell) * k.n
	return array.Operand{V: k.scratch[o : o+k.n]}
}

// into gives a cell of a value to be filled.
func (k *worker) into(id int32, cell int) []float64 {
	if k.pl.plain {
		o := k.p.offset[id] + cell
		return k.p.plain[o : o+1]
	}
	o := (int(k.pl.place[id]) + cell) * k.n
	return k.scratch[o : o+k.n]
}

// walk gives the worker's walk for a value, made at the first use.
func (k *worker) walk(id int32, week int, over array.Axes, values ...array.Layout) *array.Walk {
	w := k.walks[id]
	if w == nil {
		if week >= 0 {
			over &^= array.Only(k.p.src.Week)
		}
		w = array.NewWalk(k.p.src.Space, over, values...)
		k.walks[id] = w
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
			array.Copy.Apply(dst, k.cell(v.b, w.Cell[2]), array.Operand{}, array.Operand{}, 0)
		case v.op == vEarlier:
			array.Copy.Apply(dst, k.cell(v.a, w.Cell[1]-back), array.Operand{}, array.Operand{}, 0)
		default:
			a, b, c := get(v.a, w.Cell[1]), get(v.b, w.Cell[2]), get(v.c, w.Cell[3])
			v.eop.Apply(dst, a, b, c, int(v.site))
			if v.careful {
				v.eop.Repair(dst, a, b, c, int(v.site))
			}
		}
		if !w.Next() {
			return
		}
	}
}
