package graph

import (
	"fmt"
	"iter"
	"math"
	"slices"
)

// Graph is n nodes, which of them reads which, and which are to be computed
// again. Inside, a node is known by its place in the order: whatever is walked
// in order then lies in order in memory.
type Graph struct {
	order []int32 // place -> node
	place []int32 // node -> place

	reads      rows // place -> the places it reads, all of them before it
	dependents rows // place -> the places that read it, rising

	// What is to be computed at the next run. all stands for every node; then no
	// bit is set.
	all     bool
	dirty   []uint64 // one bit a place
	sum     []uint64 // one bit a word of dirty: the word is not 0
	touched int      // bits set in dirty between runs

	moved   []bool // place -> it changed since the run began to ask; all false between runs
	running bool
	limit   int // dependents told of changes after which a run turns to asking
}

// New makes the graph of the nodes 0 to n-1. reads is called once for each node
// and yields those that the node reads, in any order; one that is yielded twice
// counts once. Nodes that already stand after all they read keep their order.
//
// Every node counts as touched: the first Run computes them all.
//
// Nodes that need each other give an error, a *Circle. A node outside 0 to n-1,
// and more reads than an int32 counts, are a mistake of the caller and panic.
func New(n int, reads func(node int32, yield func(int32))) (*Graph, error) {
	g := &Graph{
		order: make([]int32, n),
		place: make([]int32, n),
		dirty: make([]uint64, (n+63)/64),
		sum:   make([]uint64, (n+4095)/4096),
		moved: make([]bool, n),
	}
	for i := range g.order {
		g.order[i], g.place[i] = int32(i), int32(i)
	}
	if circle := g.arrange(gather(n, g.order, reads)); circle != nil {
		return nil, circle
	}
	g.TouchAll()
	return g, nil
}

// Size is the number of nodes.
func (g *Graph) Size() int { return len(g.order) }

// Order gives the nodes in the order they are computed in: each after all it
// reads. The slice is the graph's own: it is not to be written, and holds until
// the next Replace.
func (g *Graph) Order() []int32 { return g.order }

// Reads gives the nodes that a node reads, each once, in the order they were
// yielded.
func (g *Graph) Reads(node int32) iter.Seq[int32] { return g.nodes(&g.reads, node) }

// Dependents gives the nodes that read a node, each once, in the order they are
// computed in.
func (g *Graph) Dependents(node int32) iter.Seq[int32] { return g.nodes(&g.dependents, node) }

func (g *Graph) nodes(r *rows, node int32) iter.Seq[int32] {
	return func(yield func(int32) bool) {
		for _, p := range r.of(g.place[node]) {
			if !yield(g.order[p]) {
				return
			}
		}
	}
}

// Replace gives nodes other reads, as New does for all, and touches them. Name
// all that change in one call: it costs one walk through the graph, however many
// they are. The order stays as it is where it still holds.
//
// Nodes that would need each other give an error, a *Circle that starts with one
// of those replaced; the graph is then as it was.
func (g *Graph) Replace(nodes []int32, reads func(node int32, yield func(int32))) error {
	g.mustRest("Replace")
	sorted := make([]int32, len(nodes))
	for i, node := range nodes {
		sorted[i] = g.place[node]
	}
	slices.Sort(sorted)
	sorted = slices.Compact(sorted)
	of := make([]int32, len(sorted))
	for i, p := range sorted {
		of[i] = g.order[p]
	}
	fresh := gather(g.Size(), of, reads)
	for i, node := range fresh.to {
		fresh.to[i] = g.place[node]
	}
	if circle := g.arrange(g.reads.with(sorted, fresh)); circle != nil {
		circle.startAt(func(node int32) bool {
			_, replaced := slices.BinarySearch(sorted, g.place[node])
			return replaced
		})
		return circle
	}
	for _, node := range of {
		g.Touch(node)
	}
	return nil
}

// arrange takes on new reads, by place. When a node no longer stands after all
// it reads, the nodes move to other places. On a circle nothing is changed.
func (g *Graph) arrange(reads rows) *Circle {
	if !reads.rising() {
		from, circle := sortRows(reads)
		if circle != nil {
			for i, p := range circle.Path {
				circle.Path[i] = g.order[p]
			}
			return circle
		}
		touched := g.touchedNodes()
		to := make([]int32, len(from)) // place before -> place now
		order := make([]int32, len(from))
		for p, before := range from {
			to[before] = int32(p)
			order[p] = g.order[before]
			g.place[order[p]] = int32(p)
		}
		g.order = order
		reads = reads.renumbered(from, to)
		if len(touched) > 0 {
			g.clear()
		}
		for _, node := range touched {
			g.Touch(node)
		}
	}
	g.reads, g.dependents = reads, reads.turned()
	g.limit = (g.Size() + len(reads.to)) / asksPerTell
	return nil
}

// rows are lists laid end to end: list i is to[at[i]:at[i+1]].
type rows struct{ at, to []int32 }

func (r *rows) of(i int32) []int32 { return r.to[r.at[i]:r.at[i+1]] }

// gather asks for the reads of some nodes out of n; row i is that of nodes[i].
func gather(n int, nodes []int32, reads func(node int32, yield func(int32))) rows {
	r := rows{make([]int32, len(nodes)+1), make([]int32, 0, len(nodes))}
	seen := make([]int32, n) // node -> the row that has it, counted from 1
	row := int32(0)
	yield := func(to int32) {
		if uint32(to) >= uint32(n) {
			panic(fmt.Sprintf("graph: node %d reads %d, which is not one of the %d nodes", nodes[row-1], to, n))
		}
		if seen[to] != row {
			seen[to] = row
			r.to = append(r.to, to)
		}
	}
	for i, node := range nodes {
		row = int32(i) + 1
		reads(node, yield)
		if len(r.to) > math.MaxInt32 {
			panic("graph: more reads than an int32 counts")
		}
		r.at[row] = int32(len(r.to))
	}
	r.to = slices.Clone(r.to) // without the room left to grow
	return r
}

// rising says whether every row holds only numbers below its own.
func (r *rows) rising() bool {
	for i := range int32(len(r.at) - 1) {
		for _, to := range r.of(i) {
			if to >= i {
				return false
			}
		}
	}
	return true
}

// with gives the rows with some exchanged: row sorted[i] for row i of fresh.
func (r *rows) with(sorted []int32, fresh rows) rows {
	size := len(r.to) + len(fresh.to)
	for _, p := range sorted {
		size -= len(r.of(p))
	}
	if size > math.MaxInt32 {
		panic("graph: more reads than an int32 counts")
	}
	out := rows{make([]int32, len(r.at)), make([]int32, 0, size)}
	from := int32(0)
	keep := func(until int32) { // rows from to until-1 stay
		shift := int32(len(out.to)) - r.at[from]
		for p := from; p < until; p++ {
			out.at[p] = r.at[p] + shift
		}
		out.to = append(out.to, r.to[r.at[from]:r.at[until]]...)
		from = until
	}
	for i, p := range sorted {
		keep(p)
		out.at[p] = int32(len(out.to))
		out.to = append(out.to, fresh.of(int32(i))...)
		from = p + 1
	}
	keep(int32(len(r.at) - 1))
	out.at[len(r.at)-1] = int32(len(out.to))
	return out
}

// renumbered gives the rows with everything renumbered: from tells where a row was,
// to where it is now.
func (r *rows) renumbered(from, to []int32) rows {
	out := rows{make([]int32, len(r.at)), make([]int32, 0, len(r.to))}
	for i, before := range from {
		for _, x := range r.of(before) {
			out.to = append(out.to, to[x])
		}
		out.at[i+1] = int32(len(out.to))
	}
	return out
}

// turned gives, for each number, the rows that hold it, rising.
func (r *rows) turned() rows {
	n := len(r.at) - 1
	at := make([]int32, n+2) // one place ahead while rows fill: at[x+1] is where x goes on
	for _, x := range r.to {
		at[x+2]++
	}
	for i := 2; i < len(at); i++ {
		at[i] += at[i-1]
	}
	to := make([]int32, len(r.to))
	for i := range int32(n) {
		for _, x := range r.of(i) {
			to[at[x+1]] = i
			at[x+1]++
		}
	}
	return rows{at[:n+1], to}
}
