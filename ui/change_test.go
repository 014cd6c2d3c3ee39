package ui

import (
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"testing"

	"wintertruss/engine"
)

// TestSince: the cells that a page has, with those that moved put among them, are the
// cells of the value.
func TestSince(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	kept := 0
	for range 2000 {
		n := 1 + r.IntN(8)
		was, now := &engine.Value{Lengths: []int{n}, Axes: []string{"week"}}, &engine.Value{Lengths: []int{n}, Axes: []string{"week"}}
		for range n {
			x := []float64{0, 1.5, math.NaN(), -2}[r.IntN(4)]
			was.Cells, now.Cells = append(was.Cells, x), append(now.Cells, x)
			if r.IntN(3) == 0 {
				now.Cells[len(now.Cells)-1] = []float64{7, math.NaN(), 0.1}[r.IntN(3)]
			}
		}
		page, v := valueView(was, nil).Cells, valueView(now, nil)
		want := v.Cells
		v.since(was, now)
		if v.Moved == nil {
			if !reflect.DeepEqual(v.Cells, want) {
				t.Fatalf("%v to %v: no runs, and cells %v", was.Cells, now.Cells, v.Cells)
			}
			continue
		}
		kept++
		for _, run := range v.Moved {
			copy(page[run[0].(int):], run[1:])
		}
		if v.Cells != nil || !reflect.DeepEqual(page, want) {
			t.Fatalf("%v to %v: a page shows %v", was.Cells, now.Cells, page)
		}
	}
	if kept < 100 {
		t.Errorf("only %d values were sent as what moved", kept)
	}
	for _, now := range []*engine.Value{{Cells: []float64{1, 3}, Unit: "lb", Lengths: []int{2}}, {Cells: []float64{1, 3}, Lengths: []int{2, 1}}, {Broken: true}} {
		v := valueView(now, nil)
		if v.since(&engine.Value{Cells: []float64{1, 2}, Lengths: []int{2}}, now); v.Moved != nil {
			t.Errorf("%+v is sent as what moved of another value", now)
		}
	}
}

// TestShort: a number goes to a page with nine digits, rounded as printing rounds it.
func TestShort(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20_000 {
		x := (r.Float64() - 0.5) * math.Pow10(r.IntN(24)-12)
		got := short(x).(float64)
		if math.Abs(got-x) > math.Abs(x)*1e-8 {
			t.Fatalf("%v goes as %v", x, got)
		}
		if text := strconv.FormatFloat(got, 'e', -1, 64); math.Abs(x) > 1e-12 && math.Abs(x) < 1e8 && len(text) > len("-1.23456789e-12") {
			t.Fatalf("%v goes as %s", x, text)
		}
	}
	for _, x := range []any{nil, true, "2027-03-10", 0.0, 42000.0, 0.1, -7.25} {
		if got := short(x); got != x {
			t.Errorf("%v goes as %v", x, got)
		}
	}
}
