package graph

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"
)

// BenchmarkEdit sets one input anew and recomputes, beside the floor in the same
// run, in turns. Reported are the best of each, in nanoseconds an edit, and how
// many times the floor the graph takes.
func BenchmarkEdit(b *testing.B) {
	for _, s := range shapes() {
		for _, e := range s.edits {
			b.Run(s.name+"/"+e.name, func(b *testing.B) {
				g, m, f := s.graph(), s.means(), s.floor()
				compute := m.compute()
				g.Run(compute)
				var c Counts
				best := inTurns(b, 1+50_000/e.below, func() {
					m.value[e.input]++
					g.Touch(e.input)
					c = g.Run(compute)
				}, func() {
					f.set(e.input, f.value[e.input]+1)
				})
				if !slices.Equal(m.value, f.value) {
					b.Fatal("the graph and the floor have other values")
				}
				// rounding may leave a few values as they were
				if c.Recomputed != f.ran+1 || f.ran > e.below || f.ran < e.below*9/10 {
					b.Fatalf("the graph computed %d nodes and the input, the floor %d; %d hang on the input", c.Recomputed-1, f.ran, e.below)
				}
				b.ReportMetric(best[0], "ns/edit")
				b.ReportMetric(best[1], "floor-ns/edit")
				b.ReportMetric(best[0]/best[1], "x-floor")
			})
		}
	}
}

// inTurns runs each function a few times on end, then the next, and so on for as
// long as the benchmark lasts, and gives the shortest time of each, in
// nanoseconds a call: on a machine that others use too, the shortest is what
// says most.
func inTurns(b *testing.B, each int, functions ...func()) []float64 {
	best := slices.Repeat([]float64{math.Inf(1)}, len(functions))
	for b.Loop() {
		for i, f := range functions {
			start := time.Now()
			for range each {
				f()
			}
			best[i] = min(best[i], float64(time.Since(start).Nanoseconds())/float64(each))
		}
	}
	b.ReportMetric(0, "ns/op") // says nothing: an op is many edits of all contenders
	return best
}

// BenchmarkBuild makes the graph, beside the floor, which is given its order and
// computes all once.
func BenchmarkBuild(b *testing.B) {
	for _, s := range shapes() {
		b.Run(s.name, func(b *testing.B) {
			best := inTurns(b, 1, func() { s.graph() }, func() { s.floor() })
			b.ReportMetric(best[0]/1e6, "ms")
			b.ReportMetric(best[1]/1e6, "floor-ms")
		})
	}
}

// BenchmarkTurn is where asksPerTell comes from: the same edits with telling
// alone, with asking from the first change on, and as a run does it, while more
// and more hangs on them.
func BenchmarkTurn(b *testing.B) {
	measure := func(b *testing.B, s shape, inputs []int32) {
		g, m := s.graph(), s.means()
		compute := m.compute()
		g.Run(compute)
		own := g.limit
		var c Counts
		way := func(limit int) func() {
			return func() {
				g.limit = limit
				for _, i := range inputs {
					m.value[i]++
					g.Touch(i)
				}
				c = g.Run(compute)
			}
		}
		best := inTurns(b, 3, way(math.MaxInt), way(-1), way(own))
		b.ReportMetric(100*float64(c.Recomputed)/float64(g.Size()), "%-computed")
		b.ReportMetric(best[0]/1000, "tell-µs")
		b.ReportMetric(best[1]/1000, "ask-µs")
		b.ReportMetric(best[2]/1000, "run-µs")
	}
	for _, s := range []shape{fans(1000), chains(1000)} {
		for _, share := range []int{1, 10, 30, 50, 70, 100} {
			b.Run(fmt.Sprintf("%s/%d%%", s.name, share), func(b *testing.B) {
				var inputs []int32
				for i, input := range s.inputs() {
					if i%100 < share {
						inputs = append(inputs, input)
					}
				}
				measure(b, s, inputs)
			})
		}
	}
	for _, s := range []shape{chain(100_000), fanOut(99_000), diamond(100, 1000)} {
		b.Run(s.name, func(b *testing.B) { measure(b, s, []int32{0}) })
	}
}

// BenchmarkAll computes every node, beside a bare loop.
func BenchmarkAll(b *testing.B) {
	for _, s := range shapes() {
		b.Run(s.name, func(b *testing.B) {
			g, m, f := s.graph(), s.means(), s.floor()
			compute := m.compute()
			best := inTurns(b, 3, func() { g.TouchAll(); g.Run(compute) }, f.full)
			b.ReportMetric(best[0]/1000, "µs")
			b.ReportMetric(best[1]/1000, "floor-µs")
		})
	}
}

// BenchmarkReplace gives one node other reads: back and forth in an order that
// holds, and in one that has to be sorted again each time.
func BenchmarkReplace(b *testing.B) {
	s := diamond(100, 1000)
	n := int32(len(s.reads))
	for _, c := range []struct {
		name string
		a, b [][2]int32 // nodes with what each reads
	}{
		{"the order holds", [][2]int32{{n / 2, 0}}, [][2]int32{{n / 2, 1}}},
		{"sorted again", [][2]int32{{0, 50}, {50, 50}}, [][2]int32{{0, 0}, {50, 0}}}, // one reads the other, by turns
	} {
		b.Run(c.name, func(b *testing.B) {
			g := s.graph()
			replace := func(with [][2]int32) func() {
				return func() {
					var nodes []int32
					for _, w := range with {
						nodes = append(nodes, w[0])
					}
					if err := g.Replace(nodes, func(node int32, yield func(int32)) {
						for _, w := range with {
							if w[0] == node && w[1] != node {
								yield(w[1])
							}
						}
					}); err != nil {
						b.Fatal(err)
					}
				}
			}
			best := inTurns(b, 1, replace(c.a), replace(c.b))
			b.ReportMetric(max(best[0], best[1])/1000, "µs")
		})
	}
}
