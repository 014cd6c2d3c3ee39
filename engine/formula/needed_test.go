package formula

import (
	"context"
	"math"
	"sync/atomic"
	"testing"

	"wintertruss/engine/array"
)

// TestNeeded: a model in a branch of a choice is run for the cells that take it and no
// others, and what was asked has the same bits as when the model's own lines are asked
// for too, which has them run in every cell.
func TestNeeded(t *testing.T) {
	text := kernelBook + `
~~~lines
small = y < 3
luck over each house : 1 (0..2)
back = backwards(drawn * y)
forth = backwards(back * 2)
of_small = small ? forth : x * y
of_large = small ? x * luck : forth + 1 * back
of_none = y > 9 ? forth : drawn * y
sums = total(small ? forth : drawn * y, week)
by_luck = luck > 1 ? forth : drawn * y
both = small ? (y < 2 ? forth : back) : drawn * y
~~~
`
	for _, c := range []struct {
		ask  string
		runs int32 // of backwards in a draw: at the outer cells, back and forth
	}{
		{"of_small", 4}, // two houses, back before forth
		{"of_large", 2}, // the third
		{"of_none", 0},
		{"sums", 4},
		{"by_luck", 6}, // hangs on the draw
		{"both", 3},    // forth of the first house, back of the first and second
	} {
		var runs atomic.Int32
		of := func(more ...string) [][]float64 {
			src := sourceOf(t, text)
			src.Functions = kernels()
			inner := src.Functions["backwards"].Kernel.Run
			kernel := *src.Functions["backwards"].Kernel
			kernel.Run = func(c *Call) { runs.Add(1); inner(c) }
			src.Functions["backwards"].Kernel = &kernel
			p := Compile(src)
			for _, e := range p.Errors {
				t.Fatalf("%v: %v", e.Place, e)
			}
			p.Plain()
			runs.Store(0)
			ask := []int{p.named(t, c.ask)}
			for _, name := range more {
				ask = append(ask, p.named(t, name))
			}
			d, err := p.Draw(context.Background(), ask, Options{Draws: 20, Block: 8, Workers: 2})
			if err != nil {
				t.Fatal(err)
			}
			return d.Line(ask[0])
		}
		alone := of()
		if runs.Load() != 20*c.runs {
			t.Errorf("%s: the model ran %d times in 20 draws, want %d", c.ask, runs.Load(), 20*c.runs)
		}
		whole := of("back", "forth")
		if runs.Load() != 20*6 {
			t.Errorf("%s: with its own lines asked for it ran %d times, want %d", c.ask, runs.Load(), 20*6)
		}
		for cell := range whole {
			for i := range whole[cell] {
				if math.Float64bits(alone[cell][i]) != math.Float64bits(whole[cell][i]) || array.IsFault(alone[cell][i]) {
					t.Fatalf("%s, cell %d, draw %d: %v alone, %v with all", c.ask, cell, i, alone[cell][i], whole[cell][i])
				}
			}
		}
	}
}
