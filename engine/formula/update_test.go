package formula

import (
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
)

// After other values were put into inputs, computing again what hangs on them gives
// the same bits as a new program.
func TestUpdateIsCompiledAnew(t *testing.T) {
	kept := 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBook(t)
		was := b.source()
		p := Compile(was)
		p.Plain()
		for range rapid.IntRange(1, 3).Draw(t, "edits") {
			in := b.lines[rapid.IntRange(0, 7).Draw(t, "input")].in
			for at, v := range in.cells {
				if v.k == number && in.name != "x7" {
					v.x = rapid.SampledFrom([]float64{v.x, v.x * 0.5, -v.x, v.x * 3, 0}).Draw(t, "value")
					in.cells[at] = v
				}
			}
		}
		src := b.source()
		fresh := Compile(src)
		fresh.Plain()
		var swaps []Swap
		for i := range src.Lines {
			if now := src.Lines[i].Input; now != nil {
				swaps = append(swaps, Swap{was.Lines[i].Input, now})
			}
		}
		for i := range src.Overrides {
			if now := src.Overrides[i].Input; now != nil {
				swaps = append(swaps, Swap{was.Overrides[i].Input, now})
			}
		}
		if _, ok := p.Update(swaps); !ok {
			return
		}
		kept++
		for again := true; again; { // a loop may be made of what has a higher number
			again = false
			for n := range int32(p.Nodes()) {
				again = p.Recompute(n, func(int, bool) {}) || again
			}
		}
		for i := range src.Lines {
			if p.OK(i) != fresh.OK(i) {
				t.Fatalf("%s\n%s is right in one program only", b, src.Lines[i].Name)
			}
			if p.OK(i) && !p.NeedsDraws(i) && !sameCells(p.Cells(i), fresh.Cells(i)) {
				t.Fatalf("%s\n%s: %v after the edit, %v anew", b, src.Lines[i].Name, p.Cells(i), fresh.Cells(i))
			}
		}
	})
	if kept == 0 {
		t.Error("no edit kept its program")
	}
}

// sameCells compares numbers by their bits and what holds nothing by its class:
// where a fault began is numbered anew in every program.
func sameCells(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		switch {
		case a[i] == a[i] || b[i] == b[i]:
			if !SameBits(a[i:i+1], b[i:i+1]) {
				return false
			}
		case array.IsFault(a[i]) != array.IsFault(b[i]):
			return false
		}
	}
	return true
}
