package formula

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"wintertruss/engine/array"
)

// worker runs a plan over one block of draws (or, in the plain pass, over the
// single number of each cell). Each has its own scratch.
type worker struct {
	pl      *plan
	p       *Program
	scratch []float64
	first   int // the first draw of the block
	n       int // draws in the block
	total   int // draws of the whole run
	steps   [][]rowStep
	walks   map[int32]*array.Walk
	calls   map[int32]*callRoom
	at      []int
}

// callRoom is what a worker keeps for one call of a kernel.
type callRoom struct {
	call  Call
	walk  *array.Walk
	fixed []bool // argument does not differ from draw to draw
	ids   []int32
	outs  []int32 // wanted outputs, -1 when nobody reads them
}

func newWorker(pl *plan, block, total int) *worker {
	k := &worker{pl: pl, p: pl.p, total: total, walks: map[int32]*array.Walk{}, calls: map[int32]*callRoom{}}
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
			s.eop.Apply(dst, k.operand(&s.a, w), k.operand(&s.b, w), k.operand(&s.c, w), int(s.site))
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
			v.eop.Apply(dst, get(v.a, w.Cell[1]), get(v.b, w.Cell[2]), get(v.c, w.Cell[3]), int(v.site))
		}
		if !w.Next() {
			return
		}
	}
}

// look computes a value that looks along axes; week is -1 outside of loops.
func (k *worker) look(id int32, week int) {
	v := &k.p.vals[id]
	switch v.op {
	case vReduce:
		k.reduce(id, v, week)
	case vPick:
		x := k.p.vals[v.a].axes
		skip := int(v.aux) * k.p.src.Space.Stride(x, v.over.List()[0])
		w := k.walk(id, week, v.axes, array.Over(v.axes), array.Layout{In: x, Along: v.axes})
		for more := w.Len() > 0; more; more = w.Next() {
			array.Copy.Apply(k.into(id, w.Cell[0]), k.cell(v.a, w.Cell[1]+skip), array.Operand{}, array.Operand{}, 0)
		}
	case vVia:
		list := array.Only(int(v.aux))
		x, i := k.p.vals[v.b].axes, k.p.vals[v.a].axes
		stride := k.p.src.Space.Stride(x, int(v.aux))
		w := k.walk(id, week, v.axes, array.Over(v.axes), array.Over(i), array.Layout{In: x, Along: x &^ list})
		for more := w.Len() > 0; more; more = w.Next() {
			from := array.One(array.Blank)
			if m := k.cell(v.a, w.Cell[1]).X; m == m {
				from = k.cell(v.b, w.Cell[2]+int(m)*stride)
			}
			array.Copy.Apply(k.into(id, w.Cell[0]), from, array.Operand{}, array.Operand{}, 0)
		}
	case vGroup:
		k.group(id, v, week)
	case vCall:
		k.call(id, v, week)
	}
}

func (k *worker) reduce(id int32, v *value, week int) {
	r, x := array.Reducer(v.aux), k.p.vals[v.a].axes
	k.begin(id, v, week, r)
	w := k.walk(id, week, x, array.Layout{In: v.axes, Along: x}, array.Over(x))
	for more := w.Len() > 0; more; more = w.Next() {
		r.Take(k.into(id, w.Cell[0]), k.cell(v.a, w.Cell[1]))
	}
}

// begin makes the cells of a value ready to be added to: all, or those of one week.
func (k *worker) begin(id int32, v *value, week int, r array.Reducer) {
	space := k.p.src.Space
	n := space.Size(v.axes)
	stride := space.Stride(v.axes, k.p.src.Week)
	for c := range n {
		if week < 0 || stride == 0 || c/stride%k.p.src.Season.Len() == week {
			r.Begin(k.into(id, c))
		}
	}
}

// group adds up by the member that a column names; a member that nothing refers to gets 0.
func (k *worker) group(id int32, v *value, week int) {
	space := k.p.src.Space
	x, i := k.p.vals[v.b].axes, k.p.vals[v.a].axes
	k.begin(id, v, week, array.Total)
	stride := space.Stride(v.axes, int(v.aux))
	named := make([]bool, space.Axes[v.aux].Len())
	for c := range space.Size(i) {
		if m := k.cell(v.a, c).X; m == m {
			named[int(m)] = true
		}
	}
	w := k.walk(id, week, x, array.Layout{In: v.axes, Along: x}, array.Over(i), array.Over(x))
	for more := w.Len() > 0; more; more = w.Next() {
		if m := k.cell(v.a, w.Cell[1]).X; m == m {
			array.Total.Take(k.into(id, w.Cell[0]+int(m)*stride), k.cell(v.b, w.Cell[2]))
		}
	}
	weekStride := space.Stride(v.axes, k.p.src.Week)
	for c := range space.Size(v.axes) {
		if !named[c/stride%len(named)] && (week < 0 || weekStride == 0 || c/weekStride%k.p.src.Season.Len() == week) {
			clear(k.into(id, c))
		}
	}
}

// call runs a kernel for every cell outside of what it takes whole, and every draw.
func (k *worker) call(id int32, v *value, week int) {
	c := k.p.calls[v.aux]
	room := k.calls[id]
	if room == nil {
		room = k.prepare(id, c, week >= 0)
		k.calls[id] = room
	}
	shift := make([]int, len(room.ids)+len(c.outs))
	if week >= 0 {
		for i, a := range room.ids {
			if a >= 0 {
				shift[i] = week * k.p.src.Space.Stride(k.p.vals[a].axes, k.p.src.Week)
			}
		}
		for i, o := range c.outs {
			shift[len(room.ids)+i] = week * k.p.src.Space.Stride(c.outer|o.whole, k.p.src.Week)
		}
	}
	w := room.walk
	w.Reset(shift)
	n := k.n
	if k.pl.plain || !v.draws {
		n = 1
	}
	for more := w.Len() > 0; more; more = w.Next() {
		for i := range room.ids {
			if room.fixed[i] {
				k.gather(room, c, i, w.Cell[i], 0)
			}
		}
		for d := range n {
			for i := range room.ids {
				if !room.fixed[i] {
					k.gather(room, c, i, w.Cell[i], d)
				}
			}
			k.runKernel(room, c)
			for i, o := range room.outs {
				if o < 0 {
					continue
				}
				base := w.Cell[len(room.ids)+i]
				for j, cell := range c.outs[i].cells {
					k.into(o, base+int(cell))[d] = room.call.Out[i][j]
				}
			}
		}
	}
}

// prepare makes a worker's room for a call.
func (k *worker) prepare(id int32, c *call, inLoop bool) *callRoom {
	room := &callRoom{}
	src := k.p.src
	var layouts []array.Layout
	add := func(a callArg, into *[][]float64) {
		n := max(1, len(a.cells))
		if a.id >= 0 && a.whole != 0 {
			n = len(a.cells)
		}
		buf := make([]float64, n)
		if a.id < 0 {
			for i := range buf {
				buf[i] = a.imm
			}
		}
		*into = append(*into, buf)
		room.ids = append(room.ids, a.id)
		axes := array.Axes(0)
		fixed := true
		if a.id >= 0 {
			axes = k.p.vals[a.id].axes
			fixed = k.pl.plain || !k.p.vals[a.id].draws
		}
		room.fixed = append(room.fixed, fixed)
		layouts = append(layouts, array.Layout{In: axes, Along: axes & c.outer})
	}
	for _, a := range c.args {
		add(a, &room.call.In)
	}
	for _, a := range c.cols {
		add(a, &room.call.Columns)
	}
	for _, o := range c.outs {
		room.call.Out = append(room.call.Out, make([]float64, len(o.cells)))
		layouts = append(layouts, array.Layout{In: c.outer | o.whole, Along: c.outer})
		wanted := o.id
		if wanted >= 0 && !k.pl.plain && k.pl.place[wanted] < 0 {
			wanted = -1
		}
		room.outs = append(room.outs, wanted)
	}
	over := c.outer
	if inLoop {
		over &^= array.Only(src.Week)
	}
	room.walk = array.NewWalk(src.Space, over, layouts...)
	room.call.Season, room.call.Standing, room.call.Rows = src.Season, src.Standing, c.rows
	room.call.Text, room.call.Members = c.texts, c.member
	room.call.Word = func(x float64) string {
		if i := int(x); x == x && i >= 0 && i < len(src.Words) {
			return src.Words[i]
		}
		return ""
	}
	return room
}

// gather brings one argument together for one cell and draw.
func (k *worker) gather(room *callRoom, c *call, i, cell, d int) {
	id := room.ids[i]
	if id < 0 {
		return
	}
	var buf []float64
	var a *callArg
	if i < len(c.args) {
		buf, a = room.call.In[i], &c.args[i]
	} else {
		buf, a = room.call.Columns[i-len(c.args)], &c.cols[i-len(c.args)]
	}
	v := &k.p.vals[id]
	var from []float64
	stride := 1
	switch {
	case k.pl.plain || !v.draws:
		from = k.p.plain[k.p.offset[id]+cell:]
	case v.op == vInput:
		from, stride = k.p.tables[v.aux].drawn[cell*k.total+k.first+d:], k.total
	default:
		from, stride = k.scratch[(int(k.pl.place[id])+cell)*k.n+d:], k.n
	}
	for j, at := range a.cells {
		buf[j] = from[int(at)*stride]
	}
}

// runKernel runs a kernel once. A fault among its arguments becomes its result;
// what it refuses, and a panic inside it, become a fault of its own.
func (k *worker) runKernel(room *callRoom, c *call) {
	call := &room.call
	for i, out := range call.Out {
		for j := range out {
			call.Out[i][j] = array.Blank
		}
	}
	for _, list := range [][][]float64{call.In, call.Columns} {
		for _, in := range list {
			for _, x := range in {
				if x != x && array.IsFault(x) {
					fill(call.Out, x)
					return
				}
			}
		}
	}
	call.used, call.refused = 0, ""
	func() {
		defer func() {
			if r := recover(); r != nil {
				call.refused = fmt.Sprint("the model failed: ", r)
			}
		}()
		c.fn.Kernel.Run(call)
	}()
	if call.refused != "" {
		k.p.mu.Lock()
		if k.p.refused[c.site] == "" {
			k.p.refused[c.site] = call.refused
		}
		k.p.mu.Unlock()
		fill(call.Out, array.Fault(array.ModelRefused, int(c.site)))
		return
	}
	for _, out := range call.Out {
		for j, x := range out {
			if math.Abs(x) <= array.Limit {
				continue
			}
			if x == x {
				out[j] = array.Fault(array.TooLarge, int(c.site))
			} else if !array.IsFault(x) {
				out[j] = array.Blank
			}
		}
	}
}

func fill(outs [][]float64, x float64) {
	for _, out := range outs {
		for j := range out {
			out[j] = x
		}
	}
}

// Plain runs the plain pass: every input at its middle, every line.
func (p *Program) Plain() {
	for i := range p.vals {
		v := &p.vals[i]
		switch v.op {
		case vConst:
			p.plain[p.offset[i]] = v.imm
		case vInput:
			copy(p.plain[p.offset[i]:], p.tables[v.aux].plain)
		case vOdds, vEdge:
			cells := p.plain[p.offset[i] : p.offset[i]+p.src.Space.Size(v.axes)]
			for j := range cells {
				cells[j] = array.Blank
			}
		}
	}
	p.rerunPlain()
}

func (p *Program) rerunPlain() {
	newWorker(p.makePlan(p.roots(), true), 1, 1).run(0, 1)
}

func (p *Program) roots() []int32 {
	var roots []int32
	for _, l := range p.line {
		if l >= 0 {
			roots = append(roots, l)
		}
	}
	return roots
}

// Cells gives the plain cells of a line, over the axes of its type.
func (p *Program) Cells(line int) []float64 {
	id := p.line[line]
	return p.plain[p.offset[id] : p.offset[id]+p.src.Space.Size(p.vals[id].axes)]
}

// drawInputs makes the draws of the inputs that a plan reads.
func (p *Program) drawInputs(pl *plan, draws int) {
	var todo []*table
	for i, need := range pl.needed() {
		if v := &p.vals[i]; need && v.op == vInput {
			if t := &p.tables[v.aux]; t.sampler != nil && len(t.drawn) != len(t.plain)*draws {
				todo = append(todo, t)
			}
		}
	}
	for _, t := range todo {
		t.drawn = make([]float64, len(t.plain)*draws)
		t.sampler.Sample(0, draws, t.drawn)
	}
}

// runDraws runs the wanted values over draws 0 .. draws-1 and gives for each its
// cells, a row of draws a cell.
func (p *Program) runDraws(wanted []int32, draws, block, workers int) [][]float64 {
	first := &plan{p: p, wanted: wanted}
	p.drawInputs(first, draws)
	pl := p.makePlan(wanted, false)
	out := make([][]float64, len(wanted))
	for i, id := range wanted {
		if v := &p.vals[id]; v.op == vInput && v.draws {
			out[i] = p.tables[v.aux].drawn
		} else if v.draws {
			out[i] = make([]float64, p.src.Space.Size(v.axes)*draws)
		}
	}
	var next atomic.Int64
	var group sync.WaitGroup
	for range max(1, workers) {
		group.Go(func() {
			k := newWorker(pl, block, draws)
			for {
				d0 := int(next.Add(int64(block))) - block
				if d0 >= draws {
					return
				}
				k.run(d0, min(block, draws-d0))
				for i, id := range wanted {
					v := &p.vals[id]
					if !v.draws || v.op == vInput {
						continue
					}
					for c := range p.src.Space.Size(v.axes) {
						copy(out[i][c*draws+d0:], k.cell(id, c).V)
					}
				}
			}
		})
	}
	group.Wait()
	return out
}
