package graph

import (
	"math"
	"math/rand/v2"
	"runtime/debug"
	"slices"
	"testing"
)

// always is a node that changes whenever it is computed.
func always(int32) bool { return true }

func never(int32) bool { return false }

func none(int32, func(int32)) {}

func mustCheck(t *testing.T, g *Graph) {
	t.Helper()
	if err := g.check(); err != nil {
		t.Fatal(err)
	}
}

// renamed gives the shape with its nodes numbered otherwise.
func (s *shape) renamed(name []int32) shape {
	out := shape{name: s.name, reads: make([][]int32, len(s.reads))}
	for i, reads := range s.reads {
		for _, r := range reads {
			out.reads[name[i]] = append(out.reads[name[i]], name[r])
		}
	}
	return out
}

func TestEachNodeStandsAfterItsReads(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for _, s := range small() {
		inOrder := s.graph()
		mustCheck(t, inOrder)
		if !slices.IsSorted(inOrder.Order()) {
			t.Errorf("%s: nodes that stood in order were moved", s.name)
		}
		name := make([]int32, len(s.reads))
		for i, x := range random.Perm(len(name)) {
			name[i] = int32(x)
		}
		mixed := s.renamed(name)
		g := mixed.graph()
		mustCheck(t, g)
		for i := range s.reads {
			var want []int32
			for d := range inOrder.Dependents(int32(i)) {
				want = append(want, name[d])
			}
			got := slices.Collect(g.Dependents(name[i]))
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Fatalf("%s: by other names, node %d has the dependents %v, want %v", s.name, i, got, want)
			}
		}
	}
}

// A chain is as deep as it is long. Were it walked by recursion, in either
// direction, the stack allowed here would not do, and the program would end.
func TestLongChainsNeedNoStack(t *testing.T) {
	defer debug.SetMaxStack(debug.SetMaxStack(1 << 20))
	const n = 100_000
	for _, reads := range []func(node int32) int32{
		func(node int32) int32 { return node - 1 },
		func(node int32) int32 { return node + 1 },
	} {
		g, err := New(n, func(node int32, yield func(int32)) {
			if r := reads(node); r >= 0 && r < n {
				yield(r)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		if c := g.Run(always); c != (Counts{n, n, n, n, true}) {
			t.Errorf("first run: %+v", c)
		}
		head := g.Order()[0]
		g.Touch(head)
		if c := g.Run(always); c.Recomputed != n || c.Changed != n || c.Touched != 1 {
			t.Errorf("after touching %d: %+v", head, c)
		}
		last := g.Order()[n-1]
		err = g.Replace([]int32{head}, func(_ int32, yield func(int32)) { yield(last) })
		if circle, ok := err.(*Circle); !ok || len(circle.Path) != n+1 || circle.Path[0] != head || circle.Path[1] != last {
			t.Errorf("closed to a circle: %v", err)
		}
	}
}

func TestNothingTouchedNothingDone(t *testing.T) {
	s := diamond(10, 10)
	g := s.graph()
	g.Run(always)
	if c := g.Run(func(node int32) bool { t.Errorf("node %d is computed", node); return true }); c != (Counts{}) {
		t.Errorf("%+v", c)
	}
	empty, err := New(0, none)
	if err != nil {
		t.Fatal(err)
	}
	empty.TouchAll()
	if c := empty.Run(always); c != (Counts{Full: true}) {
		t.Errorf("no nodes: %+v", c)
	}
	mustCheck(t, empty)
}

func TestWhatDoesNotChangeIsTheEnd(t *testing.T) {
	s := diamond(10, 100)
	g := s.graph()
	g.Run(always)
	g.Touch(3)
	g.Touch(3)
	if c := g.Run(never); c != (Counts{Touched: 1, Recomputed: 1, Work: 1}) {
		t.Errorf("an input set to what it was: %+v", c)
	}
	// the input changes, and of its two dependents none
	g.Touch(3)
	if c := g.Run(func(node int32) bool { return node == 3 }); c != (Counts{Touched: 1, Recomputed: 3, Changed: 1, Work: 5}) {
		t.Errorf("an input whose dependents stay: %+v", c)
	}
}

// The cost of an edit, counted, is that of the nodes that hang on it. It is the
// same in a graph ten times as large.
func TestCostFollowsWhatHangsOnIt(t *testing.T) {
	for _, c := range []struct {
		small, large shape
		below, work  int
	}{
		{fans(100), fans(1000), 101, 102 + 200},        // the input tells 100, each of them 1
		{chains(100), chains(1000), 99, 100 + 99},      // each tells the next
		{tree(1 << 10), tree(1 << 10), 10, 11 + 10},    // one on each level
		{tree(1 << 15), tree(1 << 15), 15, 16 + 15},    // 32 times the leaves, 5 levels more
		{diamond(100, 20), diamond(100, 20), 55, 0},    // 10 layers from the end
		{diamond(100, 200), diamond(100, 1000), 55, 0}, // the same with more above
	} {
		for _, s := range []shape{c.small, c.large} {
			e := s.edits[len(s.edits)-1]
			work := c.work
			if work == 0 {
				work = 56 + 1 + 45*2 // the input tells 1; the 45 that are not in the last layer 2 each
			}
			g := s.graph()
			g.Run(always)
			g.Touch(e.input)
			want := Counts{Touched: 1, Recomputed: c.below + 1, Changed: c.below + 1, Work: work}
			if got := g.Run(always); got != want || e.below != c.below {
				t.Errorf("%s of %d nodes, %s: %+v, want %+v", s.name, len(s.reads), e.name, got, want)
			}
		}
	}
}

// However a run goes about it, it computes the same; and where most of a graph
// hangs on an edit it ends up asking, with no more work than to ask all nodes
// on top of the share of telling after which it turned.
func TestTurningChangesTheCostAlone(t *testing.T) {
	for _, s := range small() {
		for _, e := range s.edits {
			g := s.graph()
			g.Run(always)
			own := g.limit
			var first []int32
			for _, limit := range []int{own, -1, math.MaxInt} {
				g.limit = limit
				var computed []int32
				g.Touch(e.input)
				c := g.Run(func(node int32) bool { computed = append(computed, node); return true })
				mustCheck(t, g)
				if first == nil {
					first = computed
				}
				if !slices.Equal(computed, first) || c.Recomputed != e.below+1 {
					t.Errorf("%s, %s, limit %d: %+v, want %d computed", s.name, e.name, limit, c, e.below+1)
				}
				most := e.below > len(s.reads)/2
				if c.Full != (limit < 0 || limit == own && most) {
					t.Errorf("%s, %s, limit %d: %+v", s.name, e.name, limit, c)
				}
				all := g.Size() + len(g.reads.to)
				if limit == own && c.Work > c.Recomputed+all+all/asksPerTell {
					t.Errorf("%s, %s: %+v, and all nodes with their reads are %d", s.name, e.name, c, all)
				}
			}
		}
	}
}

// A node that very many read is not first let tell them all.
func TestWideTellingIsNotBegun(t *testing.T) {
	s := fanOut(99_000)
	g := s.graph()
	g.Run(always)
	g.Touch(0)
	n := g.Size()
	// each but the input is asked, and answers of the first read that it changed
	want := Counts{Touched: 1, Recomputed: n, Changed: n, Work: n + 2*(n-1), Full: true}
	if c := g.Run(always); c != want {
		t.Errorf("%+v, want %+v", c, want)
	}
}

func TestRunAllocatesNothing(t *testing.T) {
	for _, s := range small() {
		g := s.graph()
		g.Run(always)
		for _, e := range s.edits {
			if n := testing.AllocsPerRun(3, func() { g.Touch(e.input); g.Run(always) }); n != 0 {
				t.Errorf("%s, %s: %v allocations", s.name, e.name, n)
			}
		}
		if n := testing.AllocsPerRun(3, func() { g.TouchAll(); g.Run(always) }); n != 0 {
			t.Errorf("%s, all: %v allocations", s.name, n)
		}
	}
}

// 17 bytes a node and 8 a read, as the package comment says; 1/8 for the dirty
// set, a little for its summary, and what the allocator rounds up.
func TestMemoryIsLinear(t *testing.T) {
	list := append(shapes(), small()...)
	for reads := range 8 { // however the list of reads had to grow
		s := shape{name: "each reads the same few"}
		for range 8 {
			s.add()
		}
		for range 10_000 {
			s.add([]int32{0, 1, 2, 3, 4, 5, 6, 7}[:reads]...)
		}
		list = append(list, s)
	}
	for _, s := range list {
		g := s.graph()
		reads := len(g.reads.to)
		want := 17*g.Size() + 8*reads
		if got := g.bytes(); float64(got) > 1.03*float64(want)+1000 {
			t.Errorf("%s of %d nodes and %d reads: %d bytes, want about %d", s.name, g.Size(), reads, got, want)
		}
	}
}

func TestReplace(t *testing.T) {
	s := chain(10)
	g := s.graph()
	g.Run(always)
	g.Touch(7)
	lists := map[int32][]int32{2: {9, 9}, 3: {1}, 5: nil}
	err := g.Replace([]int32{5, 2, 3, 2}, func(node int32, yield func(int32)) {
		for _, r := range lists[node] {
			yield(r)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	mustCheck(t, g)
	for node, want := range [][]int32{{}, {0}, {9}, {1}, {3}, {}, {5}, {6}, {7}, {8}} {
		if got := slices.Collect(g.Reads(int32(node))); !slices.Equal(got, want) {
			t.Errorf("node %d reads %v, want %v", node, got, want)
		}
	}
	if got := slices.Collect(g.Dependents(9)); !slices.Equal(got, []int32{2}) {
		t.Errorf("9 is read by %v", got)
	}
	var computed []int32
	c := g.Run(func(node int32) bool { computed = append(computed, node); return node != 8 && node != 3 })
	// 5, 2, 3 are touched by being replaced, 7 was before; 8 stays as it was, so 9 is not computed
	slices.Sort(computed)
	if want := []int32{2, 3, 5, 6, 7, 8}; !slices.Equal(computed, want) || c.Touched != 4 {
		t.Errorf("computed %v, want %v; %+v", computed, want, c)
	}
	// an order that holds stays, although it is no longer that of the numbers
	order := slices.Clone(g.Order())
	if err := g.Replace([]int32{9}, func(_ int32, yield func(int32)) { yield(0) }); err != nil || !slices.Equal(order, g.Order()) {
		t.Errorf("%v; order %v, was %v", err, g.Order(), order)
	}
}

func TestReplaceBeforeTheFirstRun(t *testing.T) {
	s := chain(5)
	g := s.graph()
	if err := g.Replace([]int32{0, 1}, func(node int32, yield func(int32)) {
		if node == 0 {
			yield(1)
		}
	}); err == nil {
		mustCheck(t, g)
	} else {
		t.Fatal(err)
	}
	if c := g.Run(always); c != (Counts{5, 5, 5, 5, true}) {
		t.Errorf("%+v", c)
	}
}

func TestPanicLosesNothing(t *testing.T) {
	for _, limit := range []int{-1, math.MaxInt} {
		s := diamond(20, 300)
		g := s.graph()
		g.Run(always)
		g.limit = limit
		g.Touch(0)
		func() {
			defer func() {
				if what := recover(); what != "a node that fails" {
					t.Errorf("what comes out of Run is %v", what)
				}
			}()
			n := 0
			g.Run(func(int32) bool {
				if n++; n == 1000 {
					panic("a node that fails")
				}
				return true
			})
		}()
		mustCheck(t, g)
		if c := g.Run(always); c.Recomputed != g.Size() {
			t.Errorf("after a panic: %+v", c)
		}
	}
}

func TestMistakesOfTheCallerPanic(t *testing.T) {
	s := chain(3)
	g := s.graph()
	inside := func(f func()) func() {
		return func() { g.TouchAll(); g.Run(func(int32) bool { f(); return true }) }
	}
	for what, f := range map[string]func(){
		"a read that is no node":  func() { _, _ = New(3, func(_ int32, yield func(int32)) { yield(3) }) },
		"a read below 0":          func() { _, _ = New(3, func(_ int32, yield func(int32)) { yield(-1) }) },
		"Touch of no node":        func() { g.Touch(3) },
		"Run inside a run":        inside(func() { g.Run(always) }),
		"Touch inside a run":      inside(func() { g.Touch(0) }),
		"TouchAll inside a run":   inside(func() { g.TouchAll() }),
		"Replace inside a run":    inside(func() { _ = g.Replace([]int32{0}, none) }),
		"Replace by what is none": func() { _ = g.Replace([]int32{0}, func(_ int32, yield func(int32)) { yield(7) }) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s passes", what)
				}
			}()
			f()
		}()
		mustCheck(t, g)
	}
}
