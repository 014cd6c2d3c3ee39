package engine_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/sheets"
)

const solveBook = "# Small\n```settings\nseason : 2027-W01 .. 2027-W12\ncurrency : USD\n```\n```list bed\n     | label | stems plant\nnear | Near  | 10\nfar  | Far   | 20\n```\n```lines\n" +
	"rate : 20 %\nnow : 350 USD\nafter : 950 USD\nlast : 620 USD\nworth = after / (1 + rate) - now - last / (1 + rate) ^ 2 -> USD\n" +
	"kilos : 3000 kg\nshrink : 8 %\nprice : 4 USD/kg (3.2..4.6)\nvariable : 0.90 USD/kg\nfixed : 6200 USD\nnet = kilos * (1 - shrink) * price - kilos * variable - fixed -> USD\n" +
	"step : 0.25 USD/kg\nboard = to_step(price, step) -> USD/kg\n" +
	"hump = 100 - (price / (1 * one) - 3.333) ^ 2 -> 1\none : 1 USD/kg\n" +
	"known = price > 2 * one ? price : gone -> USD/kg\ngone : 1 USD/kg\nall = total(bed.stems) -> plant\n" +
	"sown : 2027-01-11\nlong = at(share_of_week(sown, sown + measure(\"7 d\")), \"2027-W03\") -> %\n```\n"

func solved(t *testing.T, want, by string) *engine.Solution {
	t.Helper()
	s, err := openIntake(t, solveBook).Solve(want, by)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSolve holds answers against published ones and closed forms.
func TestSolve(t *testing.T) {
	for _, c := range []struct {
		want, by string
		at       []float64
		within   float64
	}{
		// Two internal rates of -350, 950, -620: 9.180 and 62.249 % (OpenStax, Principles of
		// Finance, 2nd edition, internal rate of return).
		{"worth = 0", "rate", []float64{9.180, 62.249}, 0.0006},
		// Break-even price and yield of a budget: (fixed + variable kilos) / sold kilos, and
		// fixed / (price sold share - variable); definitions.
		{"net = 0 USD", "price", []float64{(6200 + 0.90*3000) / (0.92 * 3000)}, 1e-6},
		{"net = 0 USD", "kilos", []float64{6200 / (4*0.92 - 0.90)}, 1e-3},
		{"net = 2140.00 USD", "fixed", []float64{6200}, 1e-3},
		// The top of a hump lies in one mesh: two answers close to each other.
		{"hump = 99.9999", "price", []float64{3.323, 3.343}, 1e-5},
		// A cell of a list, and a target in another unit.
		{"all = 25", "bed.stems @ far", []float64{15}, 1e-6},
	} {
		s := solved(t, c.want, c.by)
		if len(s.At) != len(c.at) {
			t.Errorf("%s by %s: %+v, want %v", c.want, c.by, s.At, c.at)
			continue
		}
		for i, x := range c.at {
			if got := s.At[i]; math.Abs(got.X-x) > c.within || got.Jump || math.Abs(got.Y-s.Target) > 1e-6*max(1, math.Abs(s.Target)) {
				t.Errorf("%s by %s: %+v, want %v", c.want, c.by, got, x)
			}
		}
	}
}

// TestSolveSaysWhatItCannot: none, a jump, what is not known, and what is asked wrongly.
func TestSolveSaysWhatItCannot(t *testing.T) {
	if s := solved(t, "hump = 101", "price"); len(s.At) != 0 || math.Abs(s.Nearest.Y-100) > 0.01 || !strings.Contains(strings.Join(s.Says(), "\n"), "no value of price does it") {
		t.Errorf("%+v", s)
	}
	if s := solved(t, "net = 0 USD", "step"); !s.Flat || !strings.Contains(strings.Join(s.Says(), "\n"), "it does not hang on step") {
		t.Errorf("%+v", s)
	}
	// Some 79,000 kg would do: beyond twenty times what is there, and not looked for.
	if s := solved(t, "net = 214000 USD", "kilos"); len(s.At) != 0 || s.To != 60000 || s.Nearest.X != 60000 {
		t.Errorf("%+v", s)
	}
	if s := solved(t, "board = 4.10 USD/kg", "price"); len(s.At) != 1 || !s.At[0].Jump || s.At[0].Y != 4 || s.At[0].YAfter != 4.25 {
		t.Errorf("%+v", s)
	}
	if s := solved(t, "net = 2140 USD", "price"); len(s.At) != 1 || s.At[0].Outside {
		t.Errorf("its own price lies outside its range: %+v", s)
	}
	if s := solved(t, "net = 20000 USD", "price"); len(s.At) != 1 || !s.At[0].Outside {
		t.Errorf("a price of ten dollars lies within 3.20 to 4.60: %+v", s)
	}
	d := openIntake(t, solveBook)
	for _, c := range [][3]string{
		{"net", "price", "there is no ="}, {"nett = 0", "price", "no line nett"}, {"net = 0 kg", "price", "does not measure"},
		{"net = x", "price", "no number"}, {"net = 0", "net", "no input"}, {"net = 0", "nobody", "no input"}, {"net = 0", "bed.stems @ gone", "no value there"},
	} {
		if _, err := d.Solve(c[0], c[1]); err == nil || !strings.Contains(err.Error(), c[2]) {
			t.Errorf("%v: %v", c, err)
		}
	}
}

// TestSolveIsTheBook: what solve says, put into the starter book with --set, gives the
// target; a bracket of the book's own break-even line agrees.
func TestSolveIsTheBook(t *testing.T) {
	_, text, _ := sheets.Book("tern_hollow")
	today := openIntake(t, solveBook).Book.Settings.AsOf
	d, err := engine.Open("tern_hollow.md", text, engine.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	s, err := d.Solve("cover = 1.25", "living")
	if err != nil || len(s.At) != 1 {
		t.Fatalf("%+v, %v", s, err)
	}
	d, err = engine.Open("tern_hollow.md", text, engine.Options{Today: today, Sets: []string{"living=" + strconv.FormatFloat(s.At[0].X, 'f', -1, 64) + " USD"}})
	if err != nil {
		t.Fatal(err)
	}
	if v := d.Plain("cover"); math.Abs(v.Cells[0]-1.25) > 1e-6 {
		t.Errorf("cover %v with %+v", v.Cells[0], s.At[0])
	}
}
