package engine_test

import (
	"math"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/week"
)

// linearBook: y = 3 a - 2 b + c, of three inputs that have nothing to do with each
// other, d with no part in it, and e of which it takes nothing.
const linearBook = "# Plan\n\n```settings\nseason : 2026-W40 .. 2027-W30\ncurrency : USD\nas_of : 2026-10-01\ndraws : 4096\n```\n\n```lines\n" +
	"a : even(10..20) kg\nb : even(10..20) kg\nc : even(0..1) kg\nd : even(10..20) kg\ne : even(10..20) kg\nthree : 3\ntwo : 2\n" +
	"y = three * a - two * b + c + 0 * e -> kg\nz = two * d -> kg\nsure = three * two\nlost : chance(10 %)\nkept = a * (1 - lost) -> kg\n```\n"

func openBook(t *testing.T, text string) *engine.Desk {
	t.Helper()
	d, err := engine.Open("book.md", []byte(text), engine.Options{Today: week.Day(20700)})
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range d.Errors() {
		t.Fatalf("the book: %v", e)
	}
	return d
}

func drivers(t *testing.T, d *engine.Desk, name string, cells ...int) map[string]engine.Driver {
	t.Helper()
	if _, err := d.Value(name); err != nil {
		t.Fatal(err)
	}
	for _, input := range d.Names() {
		if _, err := d.Value(input); err != nil {
			t.Fatal(err)
		}
	}
	list, drawn := d.Drivers(name, cells)
	if !drawn {
		t.Fatalf("%s has no draws", name)
	}
	out := map[string]engine.Driver{}
	for i, one := range list {
		if i > 0 && one.Moves() > list[i-1].Moves() {
			t.Errorf("%s moves %s by %v and stands below one that moves it by %v", one.Name, name, one.Moves(), list[i-1].Moves())
		}
		out[one.Name+one.Cell] = one
	}
	return out
}

// TestDriversLinear: of a weighted sum of independent uniform inputs everything is
// known. With y = 3a - 2b + c, a and b even over 10 kg and c over 1 kg, the standard
// deviations go as 30 : 20 : 1, so Pearson's correlations are 30/sqrt(1301), -20/sqrt(1301)
// and 1/sqrt(1301) = 0.028; a's 10th to 90th percentile, 8 kg, moves y by 24 kg. For
// sums this near to a normal Spearman's lies below Pearson's by at most a fiftieth
// (6/pi asin(r/2) of Pearson 1907 is 0.02 lower at most), which the tolerance allows.
func TestDriversLinear(t *testing.T) {
	d := openBook(t, linearBook)
	got := drivers(t, d, "y", 0)
	if len(got) != 2 {
		t.Errorf("y hangs on %v; c is too small to tell, d and e have no part", got)
	}
	root := math.Sqrt(30*30 + 20*20 + 1)
	for name, want := range map[string]struct{ rank, moves, atLow float64 }{
		"a": {30 / root, 24, 15.5 - 12}, "b": {-20 / root, 16, 15.5 + 8},
	} {
		one := got[name]
		if math.Abs(one.Rank-want.rank) > 0.03 {
			t.Errorf("y follows %s by %.3f, want %.3f", name, one.Rank, want.rank)
		}
		if math.Abs(one.Moves()-want.moves) > 0.04*want.moves || math.Abs(one.AtLow-want.atLow) > 0.6 {
			t.Errorf("%s moves y by %.2f from %.2f, want %.0f from %.1f", name, one.Moves(), one.AtLow, want.moves, want.atLow)
		}
		if math.Abs(one.Low-11) > 0.05 || math.Abs(one.High-19) > 0.05 || one.Unit != "kg" {
			t.Errorf("%s goes from %v to %v %s, want 11 to 19 kg", name, one.Low, one.High, one.Unit)
		}
	}
	if one := drivers(t, d, "z", 0)["d"]; math.Abs(one.Rank-1) > 1e-9 || math.Abs(one.AtHigh-38) > 0.2 {
		t.Errorf("z is d alone: %+v", one)
	}
	if got := drivers(t, d, "sure", 0); len(got) != 0 {
		t.Errorf("a sure line hangs on %v", got)
	}
	// A chance of 1 in 10 to lose 15 kg on average: with it nothing is left.
	if one := drivers(t, d, "kept", 0)["lost"]; !one.Chance || math.Abs(one.AtHigh-one.AtLow+15) > 0.5 {
		t.Errorf("kept, by lost: %+v", one)
	}
}

// TestDriversBeforeDraws: without draws nothing is said, and none are made.
func TestDriversBeforeDraws(t *testing.T) {
	d := openBook(t, linearBook)
	if list, drawn := d.Drivers("y", []int{0}); drawn || list != nil {
		t.Errorf("before any draw: %v, %v", list, drawn)
	}
	if _, err := d.Value("y"); err != nil {
		t.Fatal(err)
	}
	if list, drawn := d.Drivers("y", []int{7}); !drawn || list != nil {
		t.Errorf("a cell that is not there: %v, %v", list, drawn)
	}
	if list, drawn := d.Drivers("nothing", []int{0}); !drawn || list != nil {
		t.Errorf("a line that is not there: %v, %v", list, drawn)
	}
}
