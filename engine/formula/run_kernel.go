package formula

import (
	"fmt"
	"math"

	"wintertruss/engine/array"
)

// callRoom is what a worker keeps for one call of a kernel.
type callRoom struct {
	call  Call
	walk  *array.Walk
	fixed []bool // argument does not differ from draw to draw
	ids   []int32
	outs  []int32 // wanted outputs, -1 when nobody reads them
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
		at := int(c.site)
		if k.pl.plain { // draws are not asked why, and workers share the program
			at = k.p.refuse(refusal{c.site, call.refused})
		}
		fill(call.Out, array.Fault(array.ModelRefused, at))
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
