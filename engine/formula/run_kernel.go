package formula

import (
	"fmt"
	"math"

	"wintertruss/engine/array"
)

// callRoom is what a worker keeps for one call of a kernel.
type callRoom struct {
	call Call
	walk *array.Walk
	args []roomArg
	outs []roomOut
}

// roomArg is an argument or column of a call: where its numbers come from, and
// the slice in which the kernel finds them.
type roomArg struct {
	id     int32 // -1: a default, written once
	buf    []float64
	cells  []int32 // cell of each number, from the outer cell on
	fixed  bool    // the same in every draw
	faults bool    // may hold a fault
	from   []float64
	stride int
}

// roomOut is an output of a call and where it goes.
type roomOut struct {
	id    int32 // -1: nobody reads it
	buf   []float64
	cells []int32
	to    []float64
}

// call runs a kernel for every cell outside of what it takes whole, and every draw.
func (k *worker) call(id int32, v *value, week int) {
	c := k.p.calls[v.aux]
	room := k.calls[id]
	if room == nil {
		room = k.prepare(c, week >= 0)
		k.calls[id] = room
	}
	shift := make([]int, len(room.args)+len(room.outs))
	if week >= 0 {
		for i := range room.args {
			if a := room.args[i].id; a >= 0 {
				shift[i] = week * k.p.src.Space.Stride(k.p.vals[a].axes, k.p.src.Week)
			}
		}
		for i, o := range c.outs {
			shift[len(room.args)+i] = week * k.p.src.Space.Stride(c.outer|o.whole, k.p.src.Week)
		}
	}
	w := room.walk
	w.Reset(shift)
	n := k.n
	if k.pl.plain || !v.draws {
		n = 1
	}
	for more := w.Len() > 0; more; more = w.Next() {
		fault := k.enter(room, w.Cell)
		for d := 0; d < n; {
			d = k.runKernel(room, c, d, n, fault)
		}
	}
}

// prepare makes a worker's room for a call.
func (k *worker) prepare(c *call, inLoop bool) *callRoom {
	room := &callRoom{}
	src := k.p.src
	var layouts []array.Layout
	add := func(a callArg, into *[][]float64) {
		r := roomArg{id: a.id, cells: a.cells, fixed: true, buf: make([]float64, max(1, len(a.cells)))}
		axes := array.Axes(0)
		if a.id < 0 {
			for i := range r.buf {
				r.buf[i] = a.imm
			}
		} else {
			v := &k.p.vals[a.id]
			axes = v.axes
			r.buf = r.buf[:len(a.cells)]
			r.fixed, r.faults = k.pl.plain || !v.draws, v.fault
		}
		*into = append(*into, r.buf)
		room.args = append(room.args, r)
		layouts = append(layouts, array.Layout{In: axes, Along: axes & c.outer})
	}
	for _, a := range c.args {
		add(a, &room.call.In)
	}
	for _, a := range c.cols {
		add(a, &room.call.Columns)
	}
	for _, o := range c.outs {
		r := roomOut{id: o.id, cells: o.cells, buf: make([]float64, len(o.cells))}
		if r.id >= 0 && !k.pl.plain && k.pl.place[r.id] < 0 {
			r.id = -1
		}
		room.call.Out = append(room.call.Out, r.buf)
		room.outs = append(room.outs, r)
		layouts = append(layouts, array.Layout{In: c.outer | o.whole, Along: c.outer})
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

// enter goes to one outer cell: it finds where arguments come from and outputs go,
// and brings the arguments together that are the same in every draw. It gives a
// fault among those, or 0.
func (k *worker) enter(room *callRoom, cell []int) (fault float64) {
	for i := range room.args {
		a := &room.args[i]
		if a.id < 0 {
			continue
		}
		switch {
		case k.pl.plain || !k.p.vals[a.id].draws:
			a.from, a.stride = k.p.plain[k.p.offset[a.id]+cell[i]:], 1
		default:
			a.from, a.stride = k.found(a.id, cell[i])
		}
		if a.fixed {
			if f := a.gather(0); f != 0 {
				fault = f
			}
		}
	}
	for i := range room.outs {
		o := &room.outs[i]
		at := cell[len(room.args)+i]
		switch {
		case o.id < 0:
		case k.pl.plain || !k.p.vals[o.id].draws:
			o.to = k.p.plain[k.p.offset[o.id]+at:]
		default:
			o.to = k.scratch[(int(k.pl.place[o.id])+at)*k.n:]
		}
	}
	return fault
}

// gather brings the numbers of one draw together; it gives a fault among them, or 0.
func (a *roomArg) gather(d int) (fault float64) {
	from, stride := a.from[d:], a.stride
	for j, at := range a.cells {
		a.buf[j] = from[int(at)*stride]
	}
	if a.faults {
		for _, x := range a.buf {
			if x != x && array.IsFault(x) {
				return x
			}
		}
	}
	return 0
}

// runKernel runs a kernel for draws d to n-1 and gives the next that is to be run:
// n, or the one after a draw in which the kernel failed. A fault among the
// arguments becomes the result; what the kernel refuses, and a failure inside it,
// become a fault of its own.
func (k *worker) runKernel(room *callRoom, c *call, d, n int, fixed float64) (next int) {
	defer func() {
		if r := recover(); r != nil {
			k.refuse(room, c, d, fmt.Sprint("the model failed: ", r))
			next = d + 1
		}
	}()
	call := &room.call
	for ; d < n; d++ {
		fault := fixed
		for i := range room.args {
			if a := &room.args[i]; !a.fixed {
				if f := a.gather(d); f != 0 {
					fault = f
				}
			}
		}
		if fault != 0 {
			k.fillOuts(room, d, fault)
			continue
		}
		for _, out := range call.Out {
			for j := range out {
				out[j] = array.Blank
			}
		}
		call.used, call.refused = 0, ""
		c.fn.Kernel.Run(call)
		if call.refused != "" {
			k.refuse(room, c, d, call.refused)
			continue
		}
		for i := range room.outs {
			o := &room.outs[i]
			if o.id < 0 {
				continue
			}
			to := o.to[d:]
			for j, x := range o.buf {
				if !(math.Abs(x) <= array.Limit) {
					x = keep(x, c)
				}
				to[int(o.cells[j])*k.n] = x
			}
		}
	}
	return n
}

// keep gives what stands in a cell for a result that is no number.
func keep(x float64, c *call) float64 {
	switch {
	case x == x:
		return array.Fault(array.TooLarge, int(c.site))
	case array.IsFault(x):
		return x
	}
	return array.Blank
}

// refuse fills the outputs of one draw with the fault of a kernel that refused.
func (k *worker) refuse(room *callRoom, c *call, d int, why string) {
	at := int(c.site)
	if k.pl.plain { // draws are not asked why, and workers share the program
		at = k.p.refuse(refusal{c.site, why})
	}
	k.fillOuts(room, d, array.Fault(array.ModelRefused, at))
}

func (k *worker) fillOuts(room *callRoom, d int, x float64) {
	for i := range room.outs {
		if o := &room.outs[i]; o.id >= 0 {
			for _, cell := range o.cells {
				o.to[int(cell)*k.n+d] = x
			}
		}
	}
}
