package formula

import (
	"sort"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// group lowers one group of nodes: a single line, or a loop of lines that lean
// on each other's earlier weeks.
//
// A loop is lowered as rows of one week after another. What was chosen: within a
// week the lines of the loop have an order that needs nothing from a later week;
// earlier(line, start) reads the row before. The axes of the lines depend on each
// other, so they are found first by going round until nothing grows (dry walks
// that make no values); units cannot be found so and must be written.
func (b *builder) group(g []nodeKey) {
	if len(g) == 1 && !b.selfish(g[0]) {
		b.lowerNode(g[0])
		return
	}
	in := map[nodeKey]bool{}
	for _, k := range g {
		in[k] = true
	}
	sort.Slice(g, func(i, j int) bool {
		return g[i].line < g[j].line || g[i].line == g[j].line && g[i].context < g[j].context
	})
	order, path := b.weekOrder(g, in)
	if path != nil {
		names := make([]string, len(path))
		for i, k := range path {
			names[i] = b.nodeName(k)
		}
		first := path[0]
		b.at, b.formula = first, b.src.Lines[first.line].Formula
		err := b.fault(nil, msgLoop, strings.Join(names, " -> "))
		if f := b.formula; f != nil {
			for _, n := range b.nodes.at(first).needs {
				if n.to == path[1] && !n.past {
					err.Place = f.At(n.span)
					break
				}
			}
		}
		b.fail(g, first, err)
		return
	}
	week := array.Only(b.src.Week)
	for _, k := range order {
		n, line := b.nodes.at(k), &b.src.Lines[k.line]
		if err := b.waiting(k, in); err != nil {
			b.fail(g, k, err)
			return
		}
		b.at, b.formula = k, line.Formula
		n.typ = Type{Kind: Quantity, Unit: line.Unit, Axes: week}
		if line.Input != nil { // a scenario puts a formula of the loop over it
			n.typ.Kind, n.typ.Unit = line.Input.Type.Kind, line.Input.Type.Unit
		}
		if n.typ.Kind != Quantity || n.typ.Unit == nil {
			b.fail(g, k, b.fault(nil, msgLoopUnit, line.Name))
			return
		}
	}
	b.inLoop, b.before = in, map[rowBefore]int32{}
	defer func() { b.inLoop, b.before, b.open, b.loop = nil, nil, nil, -1 }()
	if k, err := b.grow(order, in); err != nil {
		b.fail(g, k, err)
		return
	}
	b.loop = int32(len(b.p.vals)) // a number no other loop has
	for _, k := range order {
		o, err := b.lineValue(k)
		if err != nil {
			b.fail(g, k, err)
			return
		}
		n := b.nodes.at(k)
		if v := &b.p.vals[o.id]; v.loop != b.loop || v.axes != n.typ.Axes || v.op == vEarlier {
			o.id = b.push(value{op: vElement, eop: array.Copy, a: o.id, b: -1, c: -1, axes: n.typ.Axes})
			b.p.vals[o.id].loop = b.loop
		}
		n.id = o.id
	}
	for _, r := range b.open {
		b.p.vals[r.value].a = b.nodes.at(r.node).id
	}
	b.guardLoop()
}

// grow finds the axes of the lines of a loop: those of one that grew are looked for
// again in all that read it, until nothing grows.
func (b *builder) grow(order []nodeKey, in map[nodeKey]bool) (nodeKey, *syntax.Error) {
	b.dry, b.growing = true, true
	defer func() { b.dry, b.growing = false, false }()
	users := map[nodeKey][]nodeKey{}
	for _, k := range order {
		for _, n := range b.nodes.at(k).needs {
			if in[n.to] {
				users[n.to] = append(users[n.to], k)
			}
		}
	}
	waits := map[nodeKey]bool{}
	todo := append([]nodeKey(nil), order...)
	for _, k := range todo {
		waits[k] = true
	}
	for len(todo) > 0 {
		k := todo[0]
		todo = todo[1:]
		waits[k] = false
		o, err := b.lineValue(k)
		if err != nil {
			return k, err
		}
		n := b.nodes.at(k)
		if n.typ.Axes|o.Axes == n.typ.Axes {
			continue
		}
		n.typ.Axes |= o.Axes
		for _, u := range users[k] {
			if !waits[u] {
				waits[u] = true
				todo = append(todo, u)
			}
		}
	}
	return nodeKey{}, nil
}

func (b *builder) selfish(k nodeKey) bool {
	for _, n := range b.nodes.at(k).needs {
		if n.to == k {
			return true
		}
	}
	return false
}

// weekOrder gives the nodes of a loop in an order for one week, or the path of a
// circle within the week.
func (b *builder) weekOrder(g []nodeKey, in map[nodeKey]bool) (order, circle []nodeKey) {
	state := map[nodeKey]int{}
	type frame struct {
		key  nodeKey
		next int
	}
	for _, start := range g {
		if state[start] != 0 {
			continue
		}
		frames := []frame{{start, 0}}
		state[start] = 1
		for len(frames) > 0 {
			f := &frames[len(frames)-1]
			needs := b.nodes.at(f.key).needs
			if f.next == len(needs) {
				state[f.key] = 2
				order = append(order, f.key)
				frames = frames[:len(frames)-1]
				continue
			}
			n := needs[f.next]
			f.next++
			if n.past || !in[n.to] {
				continue
			}
			switch state[n.to] {
			case 0:
				state[n.to] = 1
				frames = append(frames, frame{n.to, 0})
			case 1:
				for i := range frames {
					if frames[i].key == n.to {
						for _, fr := range frames[i:] {
							circle = append(circle, fr.key)
						}
						return nil, append(circle, n.to)
					}
				}
			}
		}
	}
	return order, nil
}

// nodeName names a line, and the scenario when it is not the one looked at.
func (b *builder) nodeName(k nodeKey) string {
	name := b.src.Lines[k.line].Name
	if k.context != b.context(k.line, b.src.Chosen) {
		if k.context == "" {
			return name + " (in the plan)"
		}
		return name + " (under " + k.context + ")"
	}
	return name
}

// fail puts an error on one node of a loop; the others wait for it.
func (b *builder) fail(g []nodeKey, k nodeKey, err *syntax.Error) {
	for _, other := range g {
		b.nodes.at(other).err = msgWaits.fill(b.src.Lines[other.line].Place, b.src.Lines[other.line].Name, b.src.Lines[k.line].Name)
	}
	b.nodes.at(k).err = err
}
