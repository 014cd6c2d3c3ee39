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
	one  bool // every output, and every argument that differs from draw to draw, is one number
}

// A kernel wants one draw of many cells, the rows hold many draws of one cell. So
// a few draws are brought together at a time: each part of a row is then touched
// once, and not once a draw after other arguments have pushed it out of the cache.
const together = 8

// roomArg is an argument or column of a call: where its numbers come from, and
// where the kernel finds them.
type roomArg struct {
	id     int32             // -1: a default, written once
	cells  []int32           // cell of each number, from the outer cell on
	fixed  bool              // the same in every draw
	faults bool              // may hold a fault
	buf    []float64         // the numbers of a draw, of one or of a few draws
	fault  [together]float64 // of each draw that was brought together: a fault among its numbers, or 0
	to     *[]float64
	from   []float64
	stride int
}

// roomOut is an output of a call and where it goes.
type roomOut struct {
	id    int32 // -1: nobody reads it
	cells []int32
	buf   []float64 // the numbers of a draw, of a few draws
	blank []float64 // a draw of which nothing is known
	to    []float64
}

// call runs a kernel for every cell outside of what it takes whole, and every draw.
func (k *worker) call(id int32, v *value, week int) {
	c := k.p.calls[v.aux]
	room := k.calls[id]
	if room == nil {
		room = k.prepare(c, week >= 0)
		put(&k.calls, id, room)
	}
	shift := make([]int, len(room.args)+len(room.outs)+1)
	if week >= 0 {
		for i := range room.args {
			if a := room.args[i].id; a >= 0 {
				shift[i] = week * k.p.src.Space.Stride(k.p.vals[a].axes, k.p.src.Week)
			}
		}
		for i, o := range c.outs {
			shift[len(room.args)+i] = week * k.p.src.Space.Stride(c.outer|o.whole, k.p.src.Week)
		}
		shift[len(shift)-1] = week * k.p.src.Space.Stride(c.outer, k.p.src.Week)
	}
	w := room.walk
	w.Reset(shift)
	n := k.n
	if k.pl.plain || !v.draws {
		n = 1
	}
	var need []bool
	if !k.pl.plain {
		need = k.pl.need[id]
	}
	for more := w.Len() > 0; more; more = w.Next() {
		if need != nil && !need[w.Cell[len(shift)-1]] {
			continue // what nothing asked for is made of
		}
		fault := k.enter(room, w.Cell)
		if room.one {
			for d := 0; d < n; {
				d = k.runNumbers(room, c, d, n, fault)
			}
			continue
		}
		for d := 0; d < n; d += together {
			k.runDraws(room, c, d, min(together, n-d), fault)
		}
	}
}

// prepare makes a worker's room for a call.
func (k *worker) prepare(c *call, inLoop bool) *callRoom {
	room := &callRoom{}
	src := k.p.src
	var layouts []array.Layout
	room.call.In, room.call.Columns = make([][]float64, len(c.args)), make([][]float64, len(c.cols))
	add := func(a callArg, to *[]float64) {
		r := roomArg{id: a.id, cells: a.cells, fixed: true, to: to}
		axes := array.Axes(0)
		if a.id < 0 {
			r.buf = make([]float64, max(1, len(a.cells)))
			for i := range r.buf {
				r.buf[i] = a.imm
			}
			*to = r.buf
		} else {
			v := &k.p.vals[a.id]
			axes = v.axes
			r.fixed, r.faults = k.pl.plain || !v.draws, v.fault
			r.buf = make([]float64, len(a.cells)*together)
		}
		room.args = append(room.args, r)
		layouts = append(layouts, array.Layout{In: axes, Along: axes & c.outer})
	}
	for i, a := range c.args {
		add(a, &room.call.In[i])
	}
	for i, a := range c.cols {
		add(a, &room.call.Columns[i])
	}
	room.call.Out = make([][]float64, len(c.outs))
	for _, o := range c.outs {
		r := roomOut{id: o.id, cells: o.cells, buf: make([]float64, len(o.cells)*together), blank: make([]float64, len(o.cells))}
		for i := range r.blank {
			r.blank[i] = array.Blank
		}
		if r.id >= 0 && !k.pl.plain && k.pl.place[r.id] < 0 {
			r.id = -1
		}
		room.outs = append(room.outs, r)
		layouts = append(layouts, array.Layout{In: c.outer | o.whole, Along: c.outer})
	}
	layouts = append(layouts, array.Over(c.outer)) // the cell that is asked for, see needed
	over := c.outer
	if inLoop {
		over &^= array.Only(src.Week)
	}
	room.walk = array.NewWalk(src.Space, over, layouts...)
	room.one = true
	for i := range room.args {
		room.one = room.one && (room.args[i].fixed || len(room.args[i].cells) == 1)
	}
	for i := range room.outs {
		room.one = room.one && len(room.outs[i].cells) == 1
	}
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
			a.gather(0, 1)
			if f := a.at(0); f != 0 {
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
			o.to = k.scratch[(int(k.pl.place[o.id])+at)*k.stride:]
		}
	}
	return fault
}

// gather brings the numbers of draws d to d+n-1 together, and finds the first fault
// among those of each.
func (a *roomArg) gather(d, n int) {
	m := len(a.cells)
	if a.faults {
		a.fault = [together]float64{}
	}
	for j, at := range a.cells {
		row := a.from[int(at)*a.stride+d:][:n]
		if len(row) == together {
			row, to := (*[together]float64)(row), a.buf[j:j+(together-1)*m+1]
			to[0], to[m], to[2*m], to[3*m] = row[0], row[1], row[2], row[3]
			to[4*m], to[5*m], to[6*m], to[7*m] = row[4], row[5], row[6], row[7]
		} else {
			for t, x := range row {
				a.buf[t*m+j] = x
			}
		}
		if a.faults {
			for t, x := range row {
				if x != x && a.fault[t] == 0 && array.IsFault(x) {
					a.fault[t] = x
				}
			}
		}
	}
}

// at hands the kernel the draw at place t of those that were brought together; it
// gives a fault among its numbers, or 0.
func (a *roomArg) at(t int) (fault float64) {
	m := len(a.cells)
	*a.to = a.buf[t*m : (t+1)*m : (t+1)*m]
	return a.fault[t]
}

// runDraws runs a kernel for draws d to d+n-1, a few.
func (k *worker) runDraws(room *callRoom, c *call, d, n int, fixed float64) {
	for i := range room.args {
		if a := &room.args[i]; !a.fixed {
			a.gather(d, n)
		}
	}
	for t := 0; t < n; {
		t = k.runKernel(room, c, t, n, fixed)
	}
	for i := range room.outs {
		o := &room.outs[i]
		if o.id < 0 {
			continue
		}
		m := len(o.cells)
		for j, cell := range o.cells {
			row, from := o.to[int(cell)*k.stride+d:][:n], j
			for t := range row {
				x := o.buf[from]
				if from += m; !(math.Abs(x) <= array.Limit) {
					x = keep(x, c)
				}
				row[t] = x
			}
		}
	}
}

// runNumbers is runDraws and runKernel for one number of each argument and output:
// there is nothing to bring together. A draw with the arguments of the one before it,
// as in weeks that are over, has its outputs: a model is a function of its arguments.
func (k *worker) runNumbers(room *callRoom, c *call, d, n int, fixed float64) (next int) {
	defer func() {
		if r := recover(); r != nil {
			room.fill(0, k.refusal(c, fmt.Sprint("the model failed: ", r)))
			room.put(c, k.stride, d)
			next = d + 1
		}
	}()
	call, first := &room.call, d
	for i := range room.args {
		if a := &room.args[i]; !a.fixed {
			*a.to = a.buf[:1:1]
		}
	}
	for i := range room.outs {
		call.Out[i] = room.outs[i].buf[:1:1]
	}
	for ; d < n; d++ {
		fault, same := fixed, d > first
		for i := range room.args {
			a := &room.args[i]
			if a.fixed {
				continue
			}
			x := a.from[int(a.cells[0])*a.stride+d]
			same = same && math.Float64bits(x) == math.Float64bits(a.buf[0])
			a.buf[0] = x
			if x != x && a.faults && array.IsFault(x) {
				fault = x
			}
		}
		switch {
		case same:
		case fault != 0:
			room.fill(0, fault)
		default:
			for i := range room.outs {
				room.outs[i].buf[0] = array.Blank
			}
			call.used, call.refused = 0, ""
			c.fn.Kernel.Run(call)
			if call.refused != "" {
				room.fill(0, k.refusal(c, call.refused))
			}
		}
		room.put(c, k.stride, d)
	}
	return n
}

// put writes outputs of one number each where they go.
func (room *callRoom) put(c *call, stride, d int) {
	for i := range room.outs {
		if o := &room.outs[i]; o.id >= 0 {
			x := o.buf[0]
			if !(math.Abs(x) <= array.Limit) {
				x = keep(x, c)
			}
			o.to[int(o.cells[0])*stride+d] = x
		}
	}
}

// runKernel runs a kernel for the draws at places t to n-1 and gives the next that
// is to be run: n, or the one after a draw in which the kernel failed. A fault among
// the arguments becomes the result; what the kernel refuses, and a failure inside
// it, become a fault of its own.
func (k *worker) runKernel(room *callRoom, c *call, t, n int, fixed float64) (next int) {
	defer func() {
		if r := recover(); r != nil {
			room.fill(t, k.refusal(c, fmt.Sprint("the model failed: ", r)))
			next = t + 1
		}
	}()
	call := &room.call
	for ; t < n; t++ {
		fault := fixed
		for i := range room.args {
			if a := &room.args[i]; !a.fixed {
				if f := a.at(t); f != 0 {
					fault = f
				}
			}
		}
		if fault != 0 {
			room.fill(t, fault)
			continue
		}
		room.clear(t)
		call.used, call.refused = 0, ""
		c.fn.Kernel.Run(call)
		if call.refused != "" {
			room.fill(t, k.refusal(c, call.refused))
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

// refusal is the fault of a kernel that refused, or failed.
func (k *worker) refusal(c *call, why string) float64 {
	at := int(c.site)
	if k.pl.plain { // draws are not asked why, and workers share the program
		at = k.p.refuse(refusal{c.site, why})
	}
	return array.Fault(array.ModelRefused, at)
}

// clear hands the kernel the outputs of the draw at place t, all of them blank.
func (room *callRoom) clear(t int) {
	for i := range room.outs {
		o := &room.outs[i]
		m := len(o.cells)
		out := o.buf[t*m : (t+1)*m : (t+1)*m]
		copy(out, o.blank)
		room.call.Out[i] = out
	}
}

// fill puts x into all outputs of the draw at place t, and hands them to the kernel.
func (room *callRoom) fill(t int, x float64) {
	for i := range room.outs {
		m := len(room.outs[i].cells)
		out := room.outs[i].buf[t*m : (t+1)*m : (t+1)*m]
		for j := range out {
			out[j] = x
		}
		room.call.Out[i] = out
	}
}
