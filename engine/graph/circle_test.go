package graph

import (
	"math/rand/v2"
	"slices"
	"testing"
)

func TestCirclePaths(t *testing.T) {
	for _, c := range []struct {
		name  string
		reads [][]int32
		want  string
	}{
		{"a node that reads itself", [][]int32{{}, {1}}, "nodes need each other: 1 -> 1"},
		{"two", [][]int32{{1}, {0}}, "nodes need each other: 0 -> 1 -> 0"},
		{"what leads to a circle is not part of it", [][]int32{{1}, {2}, {3}, {4}, {2}}, "nodes need each other: 2 -> 3 -> 4 -> 2"},
		{"what hangs on a circle neither", [][]int32{{}, {0, 2}, {3, 0}, {2}}, "nodes need each other: 2 -> 3 -> 2"},
		{"the short way round", [][]int32{{1}, {2}, {3, 0}, {4}, {0}}, "nodes need each other: 0 -> 1 -> 2 -> 0"},
	} {
		s := shape{reads: c.reads}
		g, err := New(len(c.reads), s.yield)
		if err == nil || err.Error() != c.want || g != nil {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// Among the circles that a search may meet the shortest through the first node is
// told, found here by trying all lengths.
func TestCircleIsShortest(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	met := 0
	for range 500 {
		n := 2 + random.IntN(12)
		s := shape{reads: make([][]int32, n)}
		for i := range s.reads {
			for range random.IntN(3) {
				s.reads[i] = append(s.reads[i], int32(random.IntN(n)))
			}
		}
		_, err := New(n, s.yield)
		if err == nil {
			continue
		}
		met++
		if wrong := validCircle(err, s.reads, nil); wrong != nil {
			t.Fatal(wrong)
		}
		path := err.(*Circle).Path
		reached := map[int32]bool{path[0]: true} // by just so many steps
		steps := 0
		for again := true; again; again = !reached[path[0]] {
			next := map[int32]bool{}
			for node := range reached {
				for _, r := range s.reads[node] {
					next[r] = true
				}
			}
			reached = next
			steps++
		}
		if len(path)-1 != steps {
			t.Errorf("%v has %d steps; from %d one is back after %d", path, len(path)-1, path[0], steps)
		}
	}
	if met < 100 {
		t.Errorf("only %d graphs had a circle", met)
	}
}

// A circle that a Replace would close is told from a node that was replaced, and
// leaves everything as it was, also what was touched and not yet computed.
func TestReplaceRefusesCircles(t *testing.T) {
	s := diamond(4, 6)
	g := s.graph()
	g.Run(always)
	g.Touch(2)
	g.Touch(9)
	last := int32(len(s.reads) - 1)
	order, reads := slices.Clone(g.Order()), slices.Clone(g.reads.to)
	err := g.Replace([]int32{1, 17, 6}, func(node int32, yield func(int32)) {
		switch node {
		case 1:
		case 17:
			yield(last)
		case 6:
			yield(0)
		}
	})
	if err == nil {
		t.Fatal("a circle passes")
	}
	s.reads[17] = []int32{last}
	if wrong := validCircle(err, s.reads, []int32{17}); wrong != nil {
		t.Error(wrong)
	}
	if !slices.Equal(g.Order(), order) || !slices.Equal(g.reads.to, reads) {
		t.Error("a Replace that was refused changed the graph")
	}
	mustCheck(t, g)
	var computed []int32
	g.Run(func(node int32) bool { computed = append(computed, node); return false })
	if !slices.Equal(computed, []int32{2, 9}) {
		t.Errorf("computed %v, touched were 2 and 9", computed)
	}
}
