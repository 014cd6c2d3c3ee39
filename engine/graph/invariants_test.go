package graph

import (
	"fmt"
	"math/bits"
	"slices"
)

// check says what is wrong with a graph between runs, if anything: the
// invariants of the package as code.
func (g *Graph) check() error {
	n := g.Size()
	for p, node := range g.order {
		if int(g.place[node]) != p {
			return fmt.Errorf("node %d stands at place %d and is looked for at %d", node, p, g.place[node])
		}
	}
	for _, r := range []rows{g.reads, g.dependents} {
		if len(r.at) != n+1 || r.at[0] != 0 || int(r.at[n]) != len(r.to) || !slices.IsSorted(r.at) {
			return fmt.Errorf("rows of %d nodes begin at %v and hold %d", n, r.at, len(r.to))
		}
	}
	for p := range int32(n) {
		for i, r := range g.reads.of(p) {
			if r < 0 || r >= p {
				return fmt.Errorf("place %d reads %d, which is not before it", p, r)
			}
			if slices.Contains(g.reads.of(p)[:i], r) {
				return fmt.Errorf("place %d reads %d twice", p, r)
			}
		}
		last := p
		for _, d := range g.dependents.of(p) {
			if d <= last {
				return fmt.Errorf("the dependents of place %d are %v", p, g.dependents.of(p))
			}
			last = d
			if !slices.Contains(g.reads.of(d), p) {
				return fmt.Errorf("place %d has %d as a dependent, which does not read it", p, d)
			}
		}
	}
	if len(g.reads.to) != len(g.dependents.to) { // each dependent is a read, once: then they are all
		return fmt.Errorf("%d reads, %d dependents", len(g.reads.to), len(g.dependents.to))
	}
	set := 0
	for w, word := range g.dirty {
		set += bits.OnesCount64(word)
		if summed := g.sum[w>>6]>>(w&63)&1 == 1; summed != (word != 0) {
			return fmt.Errorf("word %d of the dirty set is %#x, the summary says %v", w, word, summed)
		}
		if last := n - w<<6; last < 64 && word>>last != 0 {
			return fmt.Errorf("word %d of the dirty set, %#x, has bits past the last node", w, word)
		}
	}
	for s, word := range g.sum {
		if words := len(g.dirty) - s<<6; words < 64 && word>>words != 0 {
			return fmt.Errorf("word %d of the summary, %#x, has bits past the last word", s, word)
		}
	}
	switch {
	case g.all && (set != 0 || g.touched != n):
		return fmt.Errorf("all %d nodes are touched; %d are counted and %d bits set", n, g.touched, set)
	case !g.all && g.touched != set:
		return fmt.Errorf("%d nodes are counted as touched, %d bits are set", g.touched, set)
	case slices.Contains(g.moved, true):
		return fmt.Errorf("place %d moved, and no run is under way", slices.Index(g.moved, true))
	case g.running:
		return fmt.Errorf("a run is said to be under way")
	}
	return nil
}

// bytes is the memory that a graph holds.
func (g *Graph) bytes() int {
	four := cap(g.order) + cap(g.place) + cap(g.reads.at) + cap(g.reads.to) + cap(g.dependents.at) + cap(g.dependents.to)
	return 4*four + 8*(cap(g.dirty)+cap(g.sum)) + cap(g.moved)
}
