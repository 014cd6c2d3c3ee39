package graph

import (
	"errors"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"testing"
)

// story is bytes that tell what to make and what to do to it; past their end
// all is 0.
type story []byte

func (s *story) next(below int) int {
	if len(*s) == 0 {
		return 0
	}
	b := int((*s)[0])
	*s = (*s)[1:]
	return b % below
}

// node takes a node out of n, which may be more than a byte tells.
func (s *story) node(n int) int32 {
	return int32((s.next(256)<<8 | s.next(256)) % n)
}

// follow makes a graph and does to it what the bytes say, for as long as they
// last, comparing it after each step with recomputing everything.
func follow(s story) error {
	n := 1 + s.next(256)
	kind := s.next(3)
	reads := make([][]int32, n)
	perm := rand.New(rand.NewPCG(uint64(s.next(256)), 0)).Perm(n)
	for i := range reads {
		for range s.next(4) {
			switch from := int32(perm[s.node(n)]); {
			case kind == 0: // may well have circles
				reads[perm[i]] = append(reads[perm[i]], from)
			case kind == 1: // near ones
				if i > 0 {
					reads[perm[i]] = append(reads[perm[i]], int32(perm[max(0, i-1-int(from)%3)]))
				}
			case i > 0: // any before
				reads[perm[i]] = append(reads[perm[i]], int32(perm[int(from)%i]))
			}
		}
	}
	circle := hasCircle(reads)
	few := s.next(3)
	r, err := newReference(reads, func(node int) int { return 1 + (node*7+few)%(2+3*few) })
	if circle {
		var c *Circle
		if !errors.As(err, &c) {
			return fmt.Errorf("no circle is found in %v: %v", reads, err)
		}
		return validCircle(err, reads, nil)
	}
	if err != nil {
		return err
	}
	for step := 0; len(s) > 0; step++ {
		what := s.next(12)
		switch what {
		case 0, 1, 2, 3:
			r.touch(s.node(n), s.next(256))
		case 4, 5, 6:
			err = r.run()
		case 7, 8, 9:
			var nodes []int32
			var lists [][]int32
			for range 1 + s.next(3) {
				var list []int32
				for range s.next(4) {
					list = append(list, s.node(n))
				}
				nodes, lists = append(nodes, s.node(n)), append(lists, list)
			}
			err = r.replace(nodes, lists)
		case 10:
			r.way = s.next(3)
			err = r.replace(nil, nil) // back to its own way
		case 11:
			if s.next(4) == 0 {
				r.touchAll()
			} else {
				r.fail(s.next(8))
			}
		}
		if err == nil {
			err = r.g.check()
		}
		if err != nil {
			return fmt.Errorf("step %d, %d: %w", step, what, err)
		}
	}
	return r.run()
}

// fail runs, and fails in the midst of it, unless fewer nodes are computed than
// the turn says.
func (r *reference) fail(turn int) {
	const wanted = "as wanted"
	defer func() {
		switch what := recover(); what {
		case nil:
			clear(r.touched)
		case wanted:
			for i := range r.touched {
				r.touched[i] = true
			}
		default:
			panic(what)
		}
	}()
	r.g.Run(func(node int32) bool {
		if turn == 0 {
			panic(wanted)
		}
		turn--
		was := r.value[node]
		r.value[node] = r.compute(node, r.value)
		return r.value[node] != was
	})
}

func FuzzGraph(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{70, 1, 3, 1, 0, 0, 1, 0, 1})
	random := rand.New(rand.NewPCG(1, 2))
	for size := 16; size <= 4096; size *= 2 {
		b := make([]byte, size)
		for i := range b {
			b[i] = byte(random.Uint32())
		}
		b[1] = byte(1 + bits.Len(uint(size))%2) // without circles at first
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if len(b) > 1<<12 {
			t.Skip("longer than it takes to say anything new")
		}
		if err := follow(b); err != nil {
			t.Fatal(err)
		}
	})
}

// The same with made-up stories, so that every test run has some.
func TestAgainstRecomputingEverything(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for i := range 60 {
		b := make([]byte, 16+random.IntN(4000))
		for j := range b {
			b[j] = byte(random.Uint32())
		}
		b[1] = byte(1 + i%2) // without circles
		if err := follow(b); err != nil {
			t.Fatalf("story %d: %v", i, err)
		}
	}
}

// Some with so many nodes that the summary has several words.
func TestLargeAgainstRecomputingEverything(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	const n = 10_000
	for _, near := range []int{3, 200, n} {
		reads := make([][]int32, n)
		for i := 100; i < n; i++ {
			for range random.IntN(4) {
				reads[i] = append(reads[i], int32(max(0, i-1-random.IntN(near))))
			}
		}
		r, err := newReference(reads, func(node int) int { return 1 + node%5 })
		if err != nil {
			t.Fatal(err)
		}
		for step := range 30 {
			r.way = step % 3
			r.g.limit = (n + len(r.g.reads.to)) / asksPerTell
			for range 1 + random.IntN(4)*random.IntN(50) {
				r.touch(int32(random.IntN(n)), random.IntN(100))
			}
			if err := r.run(); err != nil {
				t.Fatalf("reads at most %d back, step %d: %v", near, step, err)
			}
		}
	}
}
