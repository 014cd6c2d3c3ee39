package graph

import (
	"slices"
	"strconv"
	"strings"
)

// Circle is the error of nodes that need each other. Each node of the path reads
// the next, and the last is the first again; no other node stands in it twice.
// It is a shortest one through its first node.
type Circle struct{ Path []int32 }

// Error names the nodes by number; whoever knows their names writes the message
// that a person reads.
func (c *Circle) Error() string {
	var b strings.Builder
	b.WriteString("nodes need each other: ")
	for i, node := range c.Path {
		if i > 0 {
			b.WriteString(" -> ")
		}
		b.WriteString(strconv.Itoa(int(node)))
	}
	return b.String()
}

// startAt turns the circle so that it starts at the first node that is wanted.
func (c *Circle) startAt(wanted func(int32) bool) {
	round := c.Path[:len(c.Path)-1]
	i := max(0, slices.IndexFunc(round, wanted))
	c.Path = append(slices.Concat(round[i:], round[:i]), round[i])
}

// sortRows puts rows into an order in which each stands after all it reads:
// depth first, each row when all it reads are placed, without recursion (a chain
// may be a hundred thousand long). Rows are begun in their old order, so one
// that already stands right moves only for others that must pass it.
func sortRows(reads rows) ([]int32, *Circle) {
	const (
		unseen = iota
		open   // on the path
		placed
	)
	n := len(reads.at) - 1
	order := make([]int32, 0, n)
	state := make([]uint8, n)
	next := slices.Clone(reads.at[:n]) // the read to look at next
	var path []int32
	for start := range int32(n) {
		if state[start] != unseen {
			continue
		}
		state[start] = open
		path = append(path[:0], start)
		for len(path) > 0 {
			i := path[len(path)-1]
			if next[i] == reads.at[i+1] {
				state[i] = placed
				order = append(order, i)
				path = path[:len(path)-1]
				continue
			}
			to := reads.to[next[i]]
			next[i]++
			switch state[to] {
			case unseen:
				state[to] = open
				path = append(path, to)
			case open:
				return nil, circleThrough(to, reads)
			}
		}
	}
	return order, nil
}

// circleThrough gives a shortest circle through a row that stands in one. What
// the search for an order happens to meet may be long; a person who must mend it
// is better served with the shortest.
func circleThrough(start int32, reads rows) *Circle {
	before := make([]int32, len(reads.at)-1) // row -> the one it was reached from, plus 1
	queue := []int32{start}
	for i := 0; i < len(queue); i++ {
		for _, to := range reads.of(queue[i]) {
			if to == start {
				path := []int32{start}
				for at := queue[i]; at != start; at = before[at] - 1 {
					path = append(path, at)
				}
				path = append(path, start)
				slices.Reverse(path)
				return &Circle{path}
			}
			if before[to] == 0 {
				before[to] = queue[i] + 1
				queue = append(queue, to)
			}
		}
	}
	panic("graph: no circle where one was met")
}
