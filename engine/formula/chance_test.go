package formula

import (
	"context"
	"errors"
	"testing"

	"wintertruss/engine/array"
)

const risky = `
~~~lines
x over each week : 5 (0..10)
y : 1 (0..2)
sure : 3
limit : 4
high = x > limit
often = odds(high)
edge = high_edge(x * y)
low = low_edge(x)
likely = odds(x * often > limit)
of_odds = odds(likely * y > often)
blend_all = total(x * of_odds) + y
same = odds(sure > limit)
same_edge = low_edge(sure)
plain_on_odds = often * sure
drawn_on_nothing = x + sure
gap = x > 5 ? weeks_before(x, 1) : x
gap_odds = odds(gap > 3)
none = odds(at(weeks_before(x, 1), "2027-W01") > limit)
~~~
`

func TestOddsAndEdges(t *testing.T) {
	p := compiled(t, risky)
	check(t, p, `often: blank, blank, blank, blank, blank, blank over week | plain_on_odds: blank, blank, blank, blank, blank, blank over week |
		same: 0 | same_edge: 3 | of_odds: blank, blank, blank, blank, blank, blank over week`)
	for name, want := range map[string]bool{"often": true, "plain_on_odds": true, "of_odds": true, "same": false, "x": false, "drawn_on_nothing": false} {
		if got := p.NeedsDraws(p.named(t, name)); got != want {
			t.Errorf("NeedsDraws of %s: %v", name, got)
		}
	}
	const n = 500
	names := []string{"x", "y", "high", "blend_all", "drawn_on_nothing", "often", "gap"}
	var lines []int
	for _, name := range names {
		lines = append(lines, p.named(t, name))
	}
	d, err := p.Draw(context.Background(), lines, Options{Draws: n, Block: 7, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	if d.Line(p.named(t, "often")) != nil {
		t.Error("often is the same in every draw, but has draws")
	}
	x, y := d.Line(lines[0]), d.Line(lines[1])[0]
	share := func(hold func(w, i int) bool) []float64 {
		out := make([]float64, 6)
		for w := range out {
			k := 0
			for i := range n {
				if hold(w, i) {
					k++
				}
			}
			out[w] = float64(k) / n
		}
		return out
	}
	same := func(name string, got, want []float64) {
		t.Helper()
		for w := range want {
			if got[w] != want[w] && !(got[w] != got[w] && want[w] != want[w]) {
				t.Errorf("%s in week %d: %v, want %v", name, w, got[w], want[w])
			}
		}
	}
	cells := func(name string) []float64 { return p.Cells(p.named(t, name)) }
	often := share(func(w, i int) bool { return x[w][i] > 4 })
	same("often", cells("often"), often)
	likely := share(func(w, i int) bool { return x[w][i]*often[w] > 4 })
	same("likely", cells("likely"), likely)
	ofOdds := share(func(w, i int) bool { return likely[w]*y[i] > often[w] })
	same("of_odds", cells("of_odds"), ofOdds)
	edges := make([]float64, 6)
	for w := range edges {
		products := make([]float64, n)
		for i := range products {
			products[i] = x[w][i] * y[i]
		}
		edges[w] = quantile7(products, 0.9)
	}
	same("edge", cells("edge"), edges)
	blend := make([]float64, n)
	for i := range blend {
		sum := float64(x[0][i] * ofOdds[0])
		for w := 1; w < 6; w++ {
			sum += float64(x[w][i] * ofOdds[w])
		}
		blend[i] = sum + y[i]
	}
	same("blend_all", d.Line(p.named(t, "blend_all"))[0], blend)
	same("none", cells("none"), []float64{array.Blank})
	gap := d.Line(p.named(t, "gap"))[0]
	k, known := 0, 0
	for i := range gap {
		if gap[i] == gap[i] {
			known++
			if gap[i] > 3 {
				k++
			}
		}
	}
	if got := cells("gap_odds")[0]; known == n || known == 0 || got != float64(k)/float64(known) {
		t.Errorf("gap_odds %v of %d known draws, want %d of them", got, known, k)
	}
	// Lines asked for later come from the same draws, in one run.
	later, err := p.Draw(context.Background(), []int{p.named(t, "blend_all"), p.named(t, "x")}, Options{Draws: n})
	if err != nil {
		t.Fatal(err)
	}
	same("blend_all", later.Line(p.named(t, "blend_all"))[0], blend)
	p.Plain()
	check(t, p, `often: blank, blank, blank, blank, blank, blank over week`)
}

// The first draws of a longer run are those of a shorter one.
func TestDrawsContinue(t *testing.T) {
	p := compiled(t, risky)
	line := p.named(t, "drawn_on_nothing")
	var runs [][][]float64
	for _, n := range []int{130, 1000} {
		d, err := p.Draw(context.Background(), []int{line}, Options{Draws: n})
		if err != nil {
			t.Fatal(err)
		}
		runs = append(runs, d.Line(line))
	}
	for c := range runs[0] {
		for i, x := range runs[0][c] {
			if runs[1][c][i] != x {
				t.Fatalf("cell %d draw %d: %v and %v", c, i, x, runs[1][c][i])
			}
		}
	}
}

func TestDrawStops(t *testing.T) {
	p := compiled(t, risky)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := p.Draw(ctx, []int{p.named(t, "x")}, Options{Draws: 100}); err != context.Canceled {
		t.Errorf("got %v", err)
	}
	var much *MemoryError
	if _, err := p.Draw(context.Background(), []int{p.named(t, "x")}, Options{Draws: 200_000_000}); !errors.As(err, &much) || much.Need < 6*8*200_000_000 {
		t.Errorf("got %v", err)
	}
}

// Odds cannot be looked into from where they come from.
func TestOddsInALoop(t *testing.T) {
	p := Compile(sourceOf(t, `
~~~lines
x over each week : 5 (0..10)
debt = earlier(debt, 0) + x * risk -> 1
risk = odds(earlier_debt > 3)
earlier_debt = earlier(debt, 0) -> 1
~~~
`))
	found := false
	for _, e := range p.Errors {
		found = found || e.Code == msgLoopUnit.code || e.Code == msgLoopReach.code
	}
	if !found {
		t.Errorf("errors: %v", p.Errors)
	}
}
