package ui

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestCharts: each kind of chart is drawn and has its numbers as a table. A waterfall
// adds up from its first total to its last; a stack has five parts at most; nought is
// always in the picture of what moves an amount.
func TestCharts(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, someDraws)
	w := openWindow(t, "owner", s.url("money"))
	w.drawn()
	at := func(kind string) string { return fmt.Sprintf(`[data-kind=%s]`, kind) }
	table := func(kind string) [][]string {
		t.Helper()
		w.click(at(kind) + ` details.of-chart summary`)
		w.until(fmt.Sprintf(`document.querySelectorAll(%s).length > 1`, quoted(at(kind)+` details.of-chart tbody tr`)))
		return get[[][]string](w, fmt.Sprintf(`[...document.querySelectorAll(%s)].map((r) => [...r.cells].map((c) => c.innerText))`, quoted(at(kind)+` details.of-chart tr`)))
	}

	var sum, last float64
	steps := table("waterfall")[1:]
	for i, row := range steps {
		switch {
		case row[1] != "":
			sum += dollars(t, strings.TrimPrefix(row[1], "+"))
		case i == 0:
			sum = dollars(t, row[2])
		default:
			last = dollars(t, row[2])
		}
	}
	left := dollars(t, w.line("margin_over_cash").Value)
	if math.Abs(sum-left) > float64(len(steps)) || math.Abs(last-left) > 1 { // each is rounded to the dollar
		t.Errorf("the waterfall ends at %v after steps to %v, want %v: %q", last, sum, left, steps)
	}
	if n := get[int](w, `document.querySelectorAll('[data-kind=waterfall] .bar-at').length`); n != len(steps) {
		t.Errorf("the waterfall draws %d bars for %d steps", n, len(steps))
	}

	if n := get[int](w, `document.querySelectorAll('[data-kind=stack] .legend li').length`); n < 3 || n > 5 {
		t.Errorf("the stack has %d parts", n)
	}
	// What the parts of this week come to is what the bills of the week come to.
	var parts float64
	for _, text := range get[[]string](w, `[...document.querySelectorAll('[data-kind=stack] .vals dd:not(.sum)')].map((e) => e.innerText)`) {
		parts += dollars(t, text)
	}
	if bills := dollars(t, w.line("bills").Value); math.Abs(parts-bills) > 3 {
		t.Errorf("the parts of this week come to %v, the bills to %v", parts, bills)
	}
	if rows := table("stack"); len(rows[0]) < 4 || len(rows) < 30 {
		t.Errorf("the table of the stack has %d columns and %d rows", len(rows[0]), len(rows))
	}

	w.until(`document.querySelector('[data-kind=tornado] li')`)
	if got := get[string](w, `document.querySelector('[data-kind=tornado] .scale').innerText`); !strings.Contains(got, "$0") {
		t.Errorf("the scale of what moves it says %q", got)
	}
	widths := get[[]float64](w, `[...document.querySelectorAll('[data-kind=tornado] li')].map((e) => [...e.querySelectorAll('.loss, .gain')].reduce((a, b) => a + b.getBoundingClientRect().width, 0))`)
	for i := 1; i < len(widths); i++ {
		if widths[i] > widths[i-1]+1 {
			t.Errorf("what moves it most does not stand first: %v", widths)
		}
	}
	if rows := table("tornado"); len(rows) != len(widths)+1 {
		t.Errorf("%d guesses are drawn, the table has %d rows", len(widths), len(rows)-1)
	}
	w.scan("charts with their tables", allRules, frame)
	w.light("dark")
	w.scan("charts in the dark", colourRules, frame)
}
