package graph

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// reference is what the graph is held against: after each run it computes every
// node anew, in no order that is kept, and from the values before and after
// tells which nodes a run had to compute.
//
// A node's value is its own number plus what it reads, cut down to a few values
// (some nodes to a single one), so that many changes end early.
type reference struct {
	g       *Graph
	reads   [][]int32
	own     []int // what makes a touched node other than it was
	values  []int // how many values a node can have
	value   []int // as the graph computes them
	touched []bool
	way     int // 0: as the graph likes; 1: tell alone; 2: ask from the first change on
}

func newReference(reads [][]int32, values func(node int) int) (*reference, error) {
	n := len(reads)
	r := &reference{reads: reads, own: make([]int, n), values: make([]int, n), value: make([]int, n), touched: make([]bool, n)}
	for i := range n {
		r.values[i] = values(i)
	}
	g, err := New(n, r.yield)
	if err != nil {
		return nil, errors.Join(err, validCircle(err, reads, nil))
	}
	r.g = g
	r.touchAll()
	return r, r.g.check()
}

func (r *reference) yield(node int32, yield func(int32)) {
	for _, x := range r.reads[node] {
		yield(x)
	}
}

func (r *reference) touch(node int32, own int) {
	r.own[node] = own
	r.touched[node] = true
	r.g.Touch(node)
}

func (r *reference) touchAll() {
	for i := range r.touched {
		r.touched[i] = true
	}
	r.g.TouchAll()
}

func (r *reference) compute(node int32, value []int) int {
	x := r.own[node]
	for i, from := range r.reads[node] {
		x += (i + 1) * value[from]
	}
	return x % r.values[node]
}

// everything computes all nodes from nothing.
func (r *reference) everything() []int {
	value := make([]int, len(r.reads))
	done := make([]bool, len(r.reads))
	var visit func(node int32)
	visit = func(node int32) {
		if done[node] {
			return
		}
		done[node] = true
		for _, from := range r.reads[node] {
			visit(from)
		}
		value[node] = r.compute(node, value)
	}
	for i := range r.reads {
		visit(int32(i))
	}
	return value
}

// run runs the graph and says what is wrong with what it did, if anything.
func (r *reference) run() error {
	switch r.way {
	case 1:
		r.g.limit = math.MaxInt
	case 2:
		r.g.limit = -1
	}
	before := slices.Clone(r.value)
	var computed []int32
	c := r.g.Run(func(node int32) bool {
		computed = append(computed, node)
		was := r.value[node]
		r.value[node] = r.compute(node, r.value)
		return r.value[node] != was
	})
	after := r.everything()
	if !slices.Equal(r.value, after) {
		return fmt.Errorf("values %v, computed from nothing %v", r.value, after)
	}
	touched, changed, told := 0, 0, 0
	var needed []int32
	for i, reads := range r.reads {
		need := r.touched[i]
		for _, from := range reads {
			need = need || before[from] != after[from]
		}
		if need {
			needed = append(needed, int32(i))
		}
		if r.touched[i] {
			touched++
		}
		if before[i] != after[i] {
			changed++
			told += len(r.g.dependents.of(r.g.place[i]))
		}
	}
	if inOrder := slices.IsSortedFunc(computed, func(a, b int32) int { return int(r.g.place[a] - r.g.place[b]) }); !inOrder {
		return fmt.Errorf("computed out of order: %v", computed)
	}
	slices.Sort(computed)
	if !slices.Equal(computed, needed) {
		return fmt.Errorf("computed %v, needed %v", computed, needed)
	}
	if c.Touched != touched || c.Recomputed != len(computed) || c.Changed != changed {
		return fmt.Errorf("%+v, but %d touched, %d computed, %d changed", c, touched, len(computed), changed)
	}
	all := r.g.Size() + len(r.g.reads.to)
	switch {
	case touched == r.g.Size() && c.Full && c.Work == c.Recomputed:
	case r.way == 1 && c.Full || r.way == 2 && c.Full != (changed > 0) && told > 0:
		return fmt.Errorf("%+v, made to go way %d", c, r.way)
	case !c.Full && c.Work != c.Recomputed+told:
		return fmt.Errorf("%+v, but %d computed and %d told", c, c.Recomputed, told)
	case r.way == 0 && c.Work > c.Recomputed+all+min(told, all/asksPerTell):
		return fmt.Errorf("%+v: more work than to tell %d, ask %d", c, told, all)
	}
	clear(r.touched)
	return r.g.check()
}

// replace gives nodes other reads and says what is wrong with the answer.
func (r *reference) replace(nodes []int32, reads [][]int32) error {
	wanted := slices.Clone(r.reads)
	for i, node := range nodes {
		wanted[node] = reads[i]
	}
	was := r.reads
	r.reads = wanted
	order := slices.Clone(r.g.Order())
	err := r.g.Replace(nodes, r.yield)
	if hasCircle(wanted) != (err != nil) {
		return fmt.Errorf("Replace of the reads of %v by %v says %v", nodes, reads, err)
	}
	if err != nil {
		r.reads = was
		if !slices.Equal(order, r.g.Order()) {
			return fmt.Errorf("a circle that was refused changed the order from %v to %v", order, r.g.Order())
		}
		if wrong := validCircle(err, wanted, nodes); wrong != nil {
			return wrong
		}
	} else {
		for _, node := range nodes {
			r.touched[node] = true
		}
	}
	for i, reads := range r.reads {
		if got := slices.Collect(r.g.Reads(int32(i))); !slices.Equal(got, unique(reads)) {
			return fmt.Errorf("node %d reads %v in the graph, %v outside", i, got, unique(reads))
		}
	}
	return r.g.check()
}

// unique drops what stands in a list before.
func unique(list []int32) []int32 {
	var out []int32
	for _, x := range list {
		if !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	return out
}

// hasCircle takes away nodes that wait for nothing, and so what waits for them,
// until none is left or none can go.
func hasCircle(reads [][]int32) bool {
	waits := make([]int, len(reads))
	waiting := make([][]int, len(reads))
	var free []int
	for i, list := range reads {
		waits[i] = len(list)
		for _, from := range list {
			waiting[from] = append(waiting[from], i)
		}
		if len(list) == 0 {
			free = append(free, i)
		}
	}
	gone := 0
	for ; gone < len(free); gone++ {
		for _, i := range waiting[free[gone]] {
			if waits[i]--; waits[i] == 0 {
				free = append(free, i)
			}
		}
	}
	return gone < len(reads)
}

// validCircle says what is wrong with an error that should be a circle of reads,
// starting at one of the nodes in starts unless that is nil.
func validCircle(err error, reads [][]int32, starts []int32) error {
	var circle *Circle
	if !errors.As(err, &circle) {
		return fmt.Errorf("%v is no circle", err)
	}
	path := circle.Path
	if len(path) < 2 || path[0] != path[len(path)-1] {
		return fmt.Errorf("%v does not end where it starts", path)
	}
	if !slices.Equal(unique(path), path[1:]) && !slices.Equal(unique(path), path[:len(path)-1]) {
		return fmt.Errorf("%v goes through a node twice", path)
	}
	for i, node := range path[1:] {
		if !slices.Contains(reads[path[i]], node) {
			return fmt.Errorf("in %v, %d does not read %d", path, path[i], node)
		}
	}
	if starts != nil && !slices.Contains(starts, path[0]) {
		return fmt.Errorf("%v does not start at one of %v", path, starts)
	}
	return nil
}
