package formula

import (
	"iter"

	"wintertruss/engine/syntax"
)

// A node is a line under a scenario. A line that a scenario does not touch, not
// even through others, is the same node as in the plan: what does not differ is
// not run twice.

type nodeKey struct {
	line    int
	context string // scenario name; "" for the plan
}

type node struct {
	typ   Type
	id    int32
	err   *syntax.Error
	needs []need

	low, num int // for finding loops
	onStack  bool
}

// nodeSet holds the nodes. Most stand in the plan, so those need no hashing.
type nodeSet struct {
	plan  []*node // by line
	under map[nodeKey]*node
}

// at gives the node of a key, nil when there is none.
func (s *nodeSet) at(k nodeKey) *node {
	if k.context == "" {
		return s.plan[k.line]
	}
	return s.under[k]
}

func (s *nodeSet) put(k nodeKey, n *node) {
	if k.context == "" {
		s.plan[k.line] = n
		return
	}
	s.under[k] = n
}

// all goes through the nodes, those under scenarios in no order.
func (s *nodeSet) all() iter.Seq2[nodeKey, *node] {
	return func(yield func(nodeKey, *node) bool) {
		for i, n := range s.plan {
			if n != nil && !yield(nodeKey{i, ""}, n) {
				return
			}
		}
		for k, n := range s.under {
			if !yield(k, n) {
				return
			}
		}
	}
}

// need is one line that a formula reads.
type need struct {
	to   nodeKey
	past bool // only through earlier
	span syntax.Span
}

// context gives the scenario that a line stands under when looked at under s:
// the plan when s does not touch it.
func (b *builder) context(line int, s string) string {
	if s == "" {
		return ""
	}
	if a := b.affected[s]; a != nil && a[line] {
		return s
	}
	return ""
}

// reads calls f for every line that an expression reads: its index, the scenario
// it is read under ("" means the surrounding one, given as under), whether only
// through earlier.
func (b *builder) reads(e syntax.Expr, past bool, under *string, f func(line int, past bool, under *string, at syntax.Expr)) {
	switch n := e.(type) {
	case *syntax.Name:
		if i, ok := b.lineOf[n.Full()]; ok {
			f(i, past, under, n)
		}
	case *syntax.Unary:
		b.reads(n.X, past, under, f)
	case *syntax.Binary:
		b.reads(n.L, past, under, f)
		b.reads(n.R, past, under, f)
	case *syntax.Choice:
		b.reads(n.Cond, past, under, f)
		b.reads(n.Then, past, under, f)
		b.reads(n.Else, past, under, f)
	case *syntax.Call:
		args := n.Args
		switch n.Name {
		case "under":
			if len(args) == 2 {
				if t, ok := args[0].(*syntax.Text); ok {
					b.reads(args[1], past, &t.Value, f)
				}
			}
			return
		case "earlier":
			if len(args) > 0 {
				b.reads(args[0], true, under, f)
				args = args[1:]
			}
		case "total", "mean_over", "largest", "smallest", "how_many", "share_of":
			args = args[:min(1, len(args))] // what follows are names of axes
		}
		fn := b.src.Functions[n.Name]
		for i, a := range args {
			if name, ok := a.(*syntax.Name); ok && fn != nil && fn.Kernel != nil && i < len(fn.Params) && fn.Params[i].Takes == ListName {
				for _, c := range fn.Kernel.Columns {
					if j, ok := b.lineOf[name.Base+"."+c.Name]; ok {
						f(j, past, under, n)
					}
				}
				for _, p := range fn.Params {
					for _, w := range p.Whole {
						if col, ok := viaColumn(w); ok {
							if j, ok := b.lineOf[name.Base+"."+col]; ok {
								f(j, past, under, n)
							}
						}
					}
				}
				continue
			}
			b.reads(a, past, under, f)
		}
	}
}

// overrideReads is reads for the formula of an override, where base is no line.
func (b *builder) overrideReads(o *Override, f func(line int, past bool, under *string, at syntax.Expr)) {
	if o.Formula == nil || o.Formula.Tree == nil {
		return
	}
	b.reads(o.Formula.Tree, false, nil, func(line int, past bool, under *string, at syntax.Expr) {
		if b.src.Lines[line].Name != "base" {
			f(line, past, under, at)
		}
	})
}

// graph finds which lines each scenario touches, and makes the nodes reachable
// from the lines as the book is looked at.
func (b *builder) graph() {
	n := len(b.src.Lines)
	users := make([][]int32, n)
	for i := range b.src.Lines {
		if f := b.src.Lines[i].Formula; f != nil && f.Tree != nil {
			b.reads(f.Tree, false, nil, func(j int, _ bool, under *string, _ syntax.Expr) {
				if under == nil {
					users[j] = append(users[j], int32(i))
				}
			})
		}
	}
	for i := range b.src.Overrides { // a formula of a pin or --set reads lines too
		o := &b.src.Overrides[i]
		b.overrideReads(o, func(j int, _ bool, under *string, _ syntax.Expr) {
			if under == nil {
				users[j] = append(users[j], int32(o.Line))
			}
		})
	}
	b.affected = map[string][]bool{}
	for _, s := range b.src.Scenarios {
		hit := make([]bool, n)
		var todo []int
		mark := func(i int) {
			if !hit[i] {
				hit[i] = true
				todo = append(todo, i)
			}
		}
		for _, o := range b.src.Overrides {
			if o.Layer == ByScenario && o.Scenario == s {
				mark(o.Line)
			}
		}
		for len(todo) > 0 {
			i := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for _, u := range users[i] {
				mark(int(u))
			}
		}
		b.affected[s] = hit
	}
	b.nodes = nodeSet{plan: make([]*node, n), under: map[nodeKey]*node{}}
	for i := range b.src.Lines {
		b.node(nodeKey{i, b.context(i, b.src.Chosen)})
	}
}

// node gives the node of a key, making it and all it needs.
func (b *builder) node(k nodeKey) *node {
	if n := b.nodes.at(k); n != nil {
		return n
	}
	root := &node{id: -1}
	b.nodes.put(k, root)
	for todo := []nodeKey{k}; len(todo) > 0; {
		at := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		n := b.nodes.at(at)
		take := func(j int, past bool, under *string, e syntax.Expr) {
			s := at.context
			if under != nil {
				s = *under
			}
			to := nodeKey{j, b.context(j, s)}
			n.needs = append(n.needs, need{to, past, e.Span()})
			if b.nodes.at(to) == nil {
				b.nodes.put(to, &node{id: -1})
				todo = append(todo, to)
			}
		}
		if f := b.src.Lines[at.line].Formula; f != nil && f.Tree != nil {
			b.reads(f.Tree, false, nil, take)
		}
		for _, i := range b.overrides[at.line] {
			if o := &b.src.Overrides[i]; o.Layer != ByScenario || o.Scenario == at.context {
				b.overrideReads(o, take)
			}
		}
	}
	return root
}

// order gives the nodes in groups, each after all it needs. A group of more than
// one node, or of one that needs itself, is a loop (Tarjan's strongly connected
// components, without recursion: a chain of lines may be a hundred thousand long).
func (b *builder) order() [][]nodeKey {
	type frame struct {
		key  nodeKey
		next int
	}
	var groups [][]nodeKey
	var stack []nodeKey
	count := 0
	visit := func(start nodeKey) {
		frames := []frame{{start, 0}}
		open := func(k nodeKey) {
			n := b.nodes.at(k)
			count++
			n.num, n.low, n.onStack = count, count, true
			stack = append(stack, k)
		}
		open(start)
		for len(frames) > 0 {
			f := &frames[len(frames)-1]
			n := b.nodes.at(f.key)
			if f.next < len(n.needs) {
				to := n.needs[f.next].to
				f.next++
				m := b.nodes.at(to)
				switch {
				case m.num == 0:
					open(to)
					frames = append(frames, frame{to, 0})
				case m.onStack:
					n.low = min(n.low, m.num)
				}
				continue
			}
			frames = frames[:len(frames)-1]
			if len(frames) > 0 {
				up := b.nodes.at(frames[len(frames)-1].key)
				up.low = min(up.low, n.low)
			}
			if n.low == n.num {
				var g []nodeKey
				for {
					k := stack[len(stack)-1]
					stack = stack[:len(stack)-1]
					b.nodes.at(k).onStack = false
					g = append(g, k)
					if k == f.key {
						break
					}
				}
				groups = append(groups, g)
			}
		}
	}
	for i := range b.src.Lines { // in the book's order, so that the program does not depend on a map's
		k := nodeKey{i, b.context(i, b.src.Chosen)}
		if b.nodes.at(k).num == 0 {
			visit(k)
		}
	}
	return groups
}
