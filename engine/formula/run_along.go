package formula

import "wintertruss/engine/array"

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
			x := k.cell(v.a, w.Cell[1]+skip)
			x.CopyTo(k.into(id, w.Cell[0]))
		}
	case vVia:
		k.via(id, v, week)
	case vGroup:
		k.group(id, v, week)
	case vCall:
		k.call(id, v, week)
	}
}

// spanOf gives how far from its first cell each cell of a value stands, along the
// axes in over; made once a value.
func (k *worker) spanOf(key spanKey, over, axes array.Axes) []int {
	s, ok := k.spans[key]
	if !ok {
		w := array.NewWalk(k.p.src.Space, over, array.Over(axes))
		for more := w.Len() > 0; more; more = w.Next() {
			s = append(s, w.Cell[0])
		}
		put(&k.spans, key, s)
	}
	return s
}

// spanKey names a span: a value and which of its arguments.
type spanKey struct {
	id  int32
	arg int
}

func (k *worker) reduce(id int32, v *value, week int) {
	r, x := array.Reducer(v.aux), k.p.vals[v.a].axes
	span := k.spanOf(spanKey{id, 0}, v.over, x)
	w := k.walk(id, week, v.axes, array.Over(v.axes), array.Layout{In: x, Along: v.axes})
	for more := w.Len() > 0; more; more = w.Next() {
		dst := k.into(id, w.Cell[0])
		if len(span) == 0 {
			none := array.One(r.First())
			none.CopyTo(dst)
		}
		for i, s := range span {
			if row := k.cell(v.a, w.Cell[1]+s); i == 0 {
				r.Begin(dst, &row)
			} else {
				r.Take(dst, &row)
			}
		}
	}
}

// via takes the cell of the member that a column names; blank where it names none.
func (k *worker) via(id int32, v *value, week int) {
	list := array.Only(int(v.aux))
	x, i := k.p.vals[v.b].axes, k.p.vals[v.a].axes
	stride := k.p.src.Space.Stride(x, int(v.aux))
	w := k.walk(id, week, v.axes, array.Over(v.axes), array.Over(i), array.Layout{In: x, Along: x &^ list})
	for more := w.Len() > 0; more; more = w.Next() {
		dst, column := k.into(id, w.Cell[0]), k.cell(v.a, w.Cell[1])
		if column.Single {
			from := column // a blank or a fault is handed on
			if m := column.X; m == m {
				from = k.cell(v.b, w.Cell[2]+int(m)*stride)
			}
			from.CopyTo(dst)
			continue
		}
		for d, m := range column.V {
			dst[d] = m
			if m == m {
				from := k.cell(v.b, w.Cell[2]+int(m)*stride)
				dst[d] = from.At(d)
			}
		}
	}
}

// group adds up by the member that a column names. A member that nothing refers
// to gets 0; what refers to none is left out.
func (k *worker) group(id int32, v *value, week int) {
	space, list := k.p.src.Space, int(v.aux)
	x, i := k.p.vals[v.b].axes, k.p.vals[v.a].axes
	outer := v.axes &^ array.Only(list)
	g := grouping{k: k, id: id, v: v, stride: space.Stride(v.axes, list), named: make([]bool, space.Axes[list].Len()),
		refs: k.spanOf(spanKey{id, 0}, v.over, i), rows: k.spanOf(spanKey{id, 1}, v.over, x)}
	w := k.walk(id, week, outer, array.Layout{In: v.axes, Along: outer}, array.Layout{In: i, Along: i & outer}, array.Layout{In: x, Along: x & outer})
	for more := w.Len() > 0; more; more = w.Next() {
		g.at = w.Cell
		if k.pl.plain || !k.p.vals[v.a].draws {
			g.add(0, k.n)
			continue
		}
		for d := range k.n {
			g.add(d, d+1)
		}
	}
}

// grouping adds up one outer cell of a group.
type grouping struct {
	k          *worker
	id         int32
	v          *value
	at         []int // cells of the result, the column and the value
	refs, rows []int
	stride     int
	named      []bool
}

// add does draws from .. to-1, in which every reference names the same member.
func (g *grouping) add(from, to int) {
	clear(g.named)
	put := func(m int, x array.Operand) {
		dst := g.k.into(g.id, g.at[0]+m*g.stride)[from:to]
		if g.named[m] {
			array.Total.Take(dst, &x)
			return
		}
		g.named[m] = true
		x.CopyTo(dst)
	}
	for j := range g.refs {
		ref := g.k.cell(g.v.a, g.at[1]+g.refs[j]).At(from)
		switch {
		case ref == ref:
			put(int(ref), g.k.cell(g.v.b, g.at[2]+g.rows[j]).Part(from, to))
		case array.IsFault(ref): // it might name any
			for m := range g.named {
				put(m, array.One(ref))
			}
		}
	}
	for m, named := range g.named {
		if !named {
			clear(g.k.into(g.id, g.at[0]+m*g.stride)[from:to])
		}
	}
}
