package graph

import "math/bits"

// asksPerTell is how much is asked, of nodes and of their reads, for the cost of
// telling one dependent and computing the node that tells; measured by
// BenchmarkTurn, see the package comment.
const asksPerTell = 4

// Counts says what a run did.
type Counts struct {
	Touched    int // nodes touched since the run before
	Recomputed int // nodes computed: those touched, and those of which a read changed; no others
	Changed    int // nodes of these that changed

	// Work is what the graph itself did, whatever computing costs: one for each
	// node computed, each dependent told of a change, each node asked and each
	// read it was asked about.
	Work int

	// Full says that the run ended, or was from the start, a walk through every
	// node left. It changes the cost and nothing else: the same nodes are computed.
	Full bool
}

// Touch says that a node is to be computed at the next run: an input that was
// given another value, or whatever else the graph cannot see. Its dependents
// follow only if it then says that it changed.
func (g *Graph) Touch(node int32) {
	g.mustRest("Touch")
	p := g.place[node]
	w, bit := int(p>>6), uint64(1)<<(p&63)
	if g.all || g.dirty[w]&bit != 0 {
		return
	}
	g.dirty[w] |= bit
	g.sum[w>>6] |= 1 << (w & 63)
	g.touched++
}

// TouchAll touches every node.
func (g *Graph) TouchAll() {
	g.mustRest("TouchAll")
	g.clear()
	g.all, g.touched = true, g.Size()
}

// Run computes, in order, every node that was touched and every node of which a
// read changed, each once, and no other. compute is called with the node, an
// input too, and says whether the node is now other than it was; where it is
// not, what depends on it is left alone. It may not use the graph.
//
// Should compute panic, the panic passes through and every node counts as
// touched: what was left undone is not known, but it is not lost.
//
// Run allocates nothing.
func (g *Graph) Run(compute func(node int32) (changed bool)) Counts {
	g.mustRest("Run")
	g.running = true
	defer g.end()
	touched, full := g.touched, g.all
	recomputed, changed, work := 0, 0, 0
	if full {
		recomputed, changed, work = g.everything(compute)
	} else {
		var at int32
		if recomputed, changed, work, at = g.tell(compute); at >= 0 {
			r, c, w := g.ask(at, compute)
			recomputed, changed, work, full = recomputed+r, changed+c, work+w, true
		}
	}
	g.running = false
	return Counts{touched, recomputed, changed, work, full}
}

// end is what is left to do after a run.
func (g *Graph) end() {
	if g.running { // compute panicked
		g.running = false
		clear(g.moved)
		g.TouchAll()
		return
	}
	g.all, g.touched = false, 0
}

// everything computes all nodes.
func (g *Graph) everything(compute func(int32) bool) (recomputed, changed, work int) {
	for _, node := range g.order {
		if compute(node) {
			changed++
		}
	}
	return len(g.order), changed, len(g.order)
}

// tell computes dirty nodes, first places first; each that changed makes its
// dependents dirty, which all stand later. When telling has cost enough it stops,
// and gives the place of a node that changed and has told nobody; else -1.
func (g *Graph) tell(compute func(int32) bool) (recomputed, changed, work int, stopped int32) {
	dirty, sum := g.dirty, g.sum
	order, first, dependents := g.order, g.dependents.at, g.dependents.to
	told, limit := 0, g.limit
	for s := range sum {
		for sum[s] != 0 {
			w := uint32(s<<6 + bits.TrailingZeros64(sum[s]))
			sum[s] &= sum[s] - 1
			word := dirty[w] // what is told within the word goes on in here
			dirty[w] = 0
			for word != 0 {
				p := w<<6 + uint32(bits.TrailingZeros64(word))
				word &= word - 1
				recomputed++
				if !compute(order[p]) {
					continue
				}
				changed++
				all := dependents[first[p]:first[p+1]]
				if told+len(all) > limit {
					dirty[w] = word
					return recomputed, changed, recomputed + told, int32(p)
				}
				told += len(all)
				for _, d := range all {
					x, bit := uint32(d)>>6, uint64(1)<<(d&63)
					if x == w {
						word |= bit
						continue
					}
					if dirty[x] == 0 {
						sum[x>>6] |= 1 << (x & 63)
					}
					dirty[x] |= bit
				}
			}
		}
	}
	return recomputed, changed, recomputed + told, -1
}

// ask goes through all nodes after a place, whose node changed, and computes
// those that are dirty or read one that changed from that place on; what changed
// before it has told.
func (g *Graph) ask(from int32, compute func(int32) bool) (recomputed, changed, work int) {
	order, first, reads := g.order, g.reads.at, g.reads.to
	dirty, moved := g.dirty, g.moved
	moved[from] = true
	looked := 0
	end := first[from+1]
	for p := int(from) + 1; p < len(order); p++ {
		start := end
		end = first[p+1]
		if dirty[p>>6]>>(p&63)&1 == 0 {
			all := reads[start:end]
			i := 0
			for i < len(all) && !moved[all[i]] {
				i++
			}
			if i == len(all) {
				looked += i
				continue
			}
			looked += i + 1
		}
		recomputed++
		if compute(order[p]) {
			changed++
			moved[p] = true
		}
	}
	clear(moved[from:])
	clear(dirty[from>>6:])
	clear(g.sum[from>>12:])
	return recomputed, changed, len(order) - 1 - int(from) + looked + recomputed
}

// clear forgets what is to be computed.
func (g *Graph) clear() {
	clear(g.dirty)
	clear(g.sum)
	g.all, g.touched = false, 0
}

// touchedNodes gives the nodes that were touched one by one.
func (g *Graph) touchedNodes() []int32 {
	var nodes []int32
	for w, word := range g.dirty {
		for ; word != 0; word &= word - 1 {
			nodes = append(nodes, g.order[w<<6+bits.TrailingZeros64(word)])
		}
	}
	return nodes
}

func (g *Graph) mustRest(what string) {
	if g.running {
		panic("graph: " + what + " while nodes are computed")
	}
}
