package library

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// blank stands in tables for a cell of which nothing is known.
var blank = array.Blank

// seasonOf gives the season from the text of its weeks.
func seasonOf(t testing.TB, first, last string) week.Season {
	t.Helper()
	a, err := week.ParseWeek(first)
	if err != nil {
		t.Fatal(err)
	}
	b, err := week.ParseWeek(last)
	if err != nil {
		t.Fatal(err)
	}
	s, err := week.NewSeason(a, b)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func dayAt(t testing.TB, text string) week.Day {
	t.Helper()
	d, err := week.ParseDay(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// kernelOf finds a function among those of a family.
func kernelOf(t testing.TB, functions []formula.Function, name string) *formula.Function {
	t.Helper()
	i := slices.IndexFunc(functions, func(f formula.Function) bool { return f.Name == name })
	if i < 0 || functions[i].Kernel == nil {
		t.Fatalf("no kernel for %s", name)
	}
	return &functions[i]
}

// alongWeeks runs the kernel of a weekly function and gives its output.
func alongWeeks(t testing.TB, name string, season week.Season, in ...[]float64) (out []float64, refused string) {
	t.Helper()
	f := kernelOf(t, weeksFunctions(), name)
	if len(in) != len(f.Params) {
		t.Fatalf("%s takes %d arguments, given %d", name, len(f.Params), len(in))
	}
	var outs [][]float64
	for _, r := range f.Kernel.Results {
		n := 1
		for _, axis := range r.Whole {
			switch axis {
			case "week":
				n *= season.Len()
			case "month":
				n *= len(season.Months())
			}
		}
		o := make([]float64, n)
		for i := range o {
			o[i] = blank // what the engine hands out
		}
		outs = append(outs, o)
	}
	c := formula.NewCall(season, week.NewStanding(season, season.Last.Monday(), nil), in, nil, outs)
	f.Kernel.Run(c)
	return outs[f.Output], c.Refused()
}

// same compares cells: blanks with blanks, numbers to 12 digits (a sum of a few
// floats).
func same(got, want []float64) bool {
	return slices.EqualFunc(got, want, func(a, b float64) bool {
		switch {
		case array.IsBlank(b):
			return array.IsBlank(a)
		case array.IsFault(b):
			return math.Float64bits(a) == math.Float64bits(b)
		}
		return math.Abs(a-b) <= 1e-12*math.Max(1, math.Abs(b))
	})
}

func row(x ...float64) []float64 { return x }

func TestWeeklyFunctions(t *testing.T) {
	season := seasonOf(t, "2026-W40", "2026-W44")
	fault := array.Fault(array.DividedByZero, 7)
	zero, one := row(0, 0, 0, 0, 0), row(1, 1, 1, 1, 1)
	for _, c := range []struct {
		about, name string
		in          [][]float64
		want        []float64
	}{
		{"adds up", "running", [][]float64{row(1, 2, 3, 4, 5)}, row(1, 3, 6, 10, 15)},
		{"blank until something is known, then passed over", "running", [][]float64{row(blank, 2, blank, 4, 0)}, row(blank, 2, 2, 6, 6)},
		{"a fault stays in every later total", "running", [][]float64{row(1, fault, blank, 4, 5)}, row(1, fault, fault, fault, fault)},

		{"looks ahead", "weeks_after", [][]float64{row(1, 2, 3, 4, 5), row(2, 2, 2, 2, 2), row(9, 9, 9, 9, 9)}, row(3, 4, 5, 9, 9)},
		{"nearest whole week", "weeks_after", [][]float64{row(1, 2, 3, 4, 5), row(1.4, 0.6, 0.4, -1, 0), zero}, row(2, 3, 3, 3, 5)},
		{"blank outside, when not said", "weeks_after", [][]float64{row(1, 2, 3, 4, 5), one, row(blank, blank, blank, blank, blank)}, row(2, 3, 4, 5, blank)},
		{"blank where how far is not known", "weeks_after", [][]float64{row(1, 2, 3, 4, 5), row(blank, fault, 1, 1, 1e18), zero}, row(blank, fault, 4, 5, 0)},

		{"no days: the same", "later_days", [][]float64{row(7, blank, 0, 14, 1), zero}, row(7, blank, 0, 14, 1)},
		{"a week", "later_days", [][]float64{row(7, 14, 0, 0, 21), row(7, 7, 7, 7, 7)}, row(0, 7, 14, 0, 0)},
		// Sold evenly over Monday to Sunday and paid ten days later: the first four
		// days' sales come in from the Thursday of the next week on.
		{"ten days", "later_days", [][]float64{row(70, 0, 0, 0, 0), row(10, 10, 10, 10, 10)}, row(0, 40, 30, 0, 0)},
		{"earlier", "later_days", [][]float64{row(0, 0, 70, 0, 0), row(-2, -2, -2, -2, -2)}, row(0, 20, 50, 0, 0)},
		{"terms that change", "later_days", [][]float64{row(7, 7, 7, 7, 7), row(14, 7, 0, 0, 0)}, row(0, 0, 21, 7, 7)},
		{"past either end is dropped", "later_days", [][]float64{row(7, 7, 7, 7, 7), row(-7, 1e17, -1e17, 0, 7)}, row(0, 0, 0, 7, 0)},
		{"only blanks fall", "later_days", [][]float64{row(blank, blank, 7, 0, 0), row(3, 3, 3, 3, 3)}, row(blank, blank, 4, 3, 0)},
		{"blank days", "later_days", [][]float64{row(1, 2, 3, 4, 5), row(0, 0, blank, 0, 0)}, row(blank, blank, blank, blank, blank)},
		{"a fault falls where it falls", "later_days", [][]float64{row(0, fault, 0, 0, 7), row(7, 7, 7, 0, 0)}, row(0, 0, fault, 0, 7)},

		{"mean of the weeks so far, then of three", "smooth_weeks", [][]float64{row(3, 6, 9, 12, 0), row(3, 3, 3, 3, 3)}, row(3, 4.5, 6, 9, 7)},
		{"one week: the same", "smooth_weeks", [][]float64{row(3, blank, 9, fault, 0), one}, row(3, blank, 9, fault, 0)},
		{"blanks are passed over", "smooth_weeks", [][]float64{row(blank, 6, blank, 12, 3), row(2, 2, 2, 3, 9)}, row(blank, 6, 6, 9, 7)},
		{"how many is not known", "smooth_weeks", [][]float64{row(1, 2, 3, 4, 5), row(1, blank, fault, 1, 1)}, row(1, blank, fault, 4, 5)},
	} {
		t.Run(c.name+": "+c.about, func(t *testing.T) {
			got, refused := alongWeeks(t, c.name, season, c.in...)
			if refused != "" || !same(got, c.want) {
				t.Errorf("%v, want %v (refused: %q)", got, c.want, refused)
			}
		})
	}
}

func TestStore(t *testing.T) {
	season := seasonOf(t, "2026-W40", "2026-W44")
	fault := array.Fault(array.TooLarge, 3)
	for _, c := range []struct {
		about                string
		inflow, wanted, kept []float64
		start                float64
		left, out, lost      []float64
	}{
		// By hand: 100 in, 60 out, 40 left; a tenth of it goes bad: 36, 15 out, 21
		// left; 18.9, all of it wanted; empty; 10 in, 10 out.
		{"carried over, a tenth lost a week", row(100, 0, 0, 0, 10), row(60, 15, 40, 5, 10), row(0.9, 0.9, 0.9, 0.9, 0.9), 0,
			row(40, 21, 0, 0, 0), row(60, 15, 18.9, 0, 10), row(0, 4, 2.1, 0, 0)},
		{"what lies there at the start is whole in the first week", row(0, 0, 0, 0, 0), row(10, 0, 0, 0, 0), row(0.5, 0.5, 0.5, 0.5, 0.5), 30,
			row(20, 10, 5, 2.5, 1.25), row(10, 0, 0, 0, 0), row(0, 10, 5, 2.5, 1.25)},
		{"nothing keeps: each week by itself", row(1, 2, 3, 4, 5), row(5, 0, 1, 1, 1), row(0, 0, 0, 0, 0), 0,
			row(0, 2, 2, 3, 4), row(1, 0, 1, 1, 1), row(0, 0, 2, 2, 3)},
		{"less than nothing wanted is nothing", row(1, 1, 1, 1, 1), row(-3, 0, 0, 0, 0), row(1, 1, 1, 1, 1), 0,
			row(1, 2, 3, 4, 5), row(0, 0, 0, 0, 0), row(0, 0, 0, 0, 0)},
		{"less than nothing comes in: shown, and nothing goes out", row(-2, 0, 5, 0, 0), row(1, 1, 1, 1, 1), row(0.5, 0.5, 0.5, 0.5, 0.5), 0,
			row(-2, -2, 2, 0, 0), row(0, 0, 1, 1, 0), row(0, 0, 0, 1, 0)},
		{"blank from a blank on", row(1, 1, blank, 1, 1), row(0, 0, 0, 0, 0), row(1, 1, 1, 1, 1), 0,
			row(1, 2, blank, blank, blank), row(0, 0, blank, blank, blank), row(0, 0, 0, blank, blank)},
		{"what is wanted is not known", row(1, 1, 1, 1, 1), row(0, blank, 0, 0, 0), row(1, 1, 1, 1, 1), 0,
			row(1, blank, blank, blank, blank), row(0, blank, blank, blank, blank), row(0, 0, blank, blank, blank)},
		{"a fault stays", row(1, fault, 1, 1, 1), row(0, 0, 0, 0, 0), row(1, 1, 1, 1, 1), 0,
			row(1, fault, fault, fault, fault), row(0, fault, fault, fault, fault), row(0, 0, fault, fault, fault)},
	} {
		t.Run(c.about, func(t *testing.T) {
			for _, o := range []struct {
				name string
				want []float64
			}{{"left_in_store", c.left}, {"out_of_store", c.out}, {"lost_in_store", c.lost}} {
				got, refused := alongWeeks(t, o.name, season, c.inflow, c.wanted, c.kept, row(c.start))
				if refused != "" || !same(got, o.want) {
					t.Errorf("%s: %v, want %v (refused: %q)", o.name, got, o.want, refused)
				}
			}
		})
	}
}

func TestWeeklyFunctionsRefuse(t *testing.T) {
	season := seasonOf(t, "2026-W40", "2026-W41")
	if _, why := alongWeeks(t, "left_in_store", season, row(1, 1), row(0, 0), row(1, 1.01), row(0)); why == "" {
		t.Error("a kept share above 100 % is not refused")
	}
	if _, why := alongWeeks(t, "left_in_store", season, row(1, 1), row(0, 0), row(1, -0.01), row(0)); why == "" {
		t.Error("a kept share below 0 is not refused")
	}
	if _, why := alongWeeks(t, "smooth_weeks", season, row(1, 1), row(0, 0)); why == "" {
		t.Error("a mean over no week is not refused")
	}
}

// What is moved and does not leave the season is all there, whatever the days.
func TestLaterDaysKeepsTheSum(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	rapid.Check(t, func(r *rapid.T) {
		x, days := make([]float64, season.Len()), make([]float64, season.Len())
		want := 0.0
		for i := range 20 {
			x[i] = rapid.Float64Range(0, 1e6).Draw(r, "amount")
			want += x[i]
		}
		late := rapid.Float64Range(0, 7*30).Draw(r, "days")
		for i := range days {
			days[i] = late
		}
		out, _ := alongWeeks(t, "later_days", season, x, days)
		got := 0.0
		for _, v := range out {
			got += v
		}
		if math.Abs(got-want) > 1e-9*want { // some fifty roundings
			r.Fatalf("%v of %v are there", got, want)
		}
	})
}

// What was there and came in is what went out, was lost and is left.
func TestStoreKeepsTheBalance(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	rapid.Check(t, func(r *rapid.T) {
		n := season.Len()
		amounts := rapid.SliceOfN(rapid.Float64Range(0, 1e5), n, n)
		inflow, wanted := amounts.Draw(r, "inflow"), amounts.Draw(r, "wanted")
		kept := rapid.SliceOfN(rapid.Float64Range(0, 1), n, n).Draw(r, "kept")
		start := rapid.Float64Range(0, 1e5).Draw(r, "start")
		in := [][]float64{inflow, wanted, kept, row(start)}
		left, _ := alongWeeks(t, "left_in_store", season, in...)
		out, _ := alongWeeks(t, "out_of_store", season, in...)
		lost, _ := alongWeeks(t, "lost_in_store", season, in...)
		came, went := start, left[n-1]
		for i := range n {
			if left[i] < 0 || out[i] < 0 || lost[i] < 0 || out[i] > wanted[i] {
				r.Fatalf("week %d: left %v, out %v of %v wanted, lost %v", i, left[i], out[i], wanted[i], lost[i])
			}
			came += inflow[i]
			went += out[i] + lost[i]
		}
		if math.Abs(came-went) > 1e-9*math.Max(1, came) { // a few hundred roundings
			r.Fatalf("%v came in, %v is accounted for", came, went)
		}
	})
}

func TestWeeklyFamiliesAreComplete(t *testing.T) {
	lowered := formula.Lowered()
	for _, f := range append(weeksFunctions(), recordsFunctions()...) {
		if (f.Kernel == nil) != slices.Contains(lowered, f.Name) {
			t.Errorf("%s has to be either lowered by the compiler or have a kernel", f.Name)
		}
		c := f.Card
		if c.Family == "" || c.Says == "" || c.Gives == "" || c.Valid == "" || c.Source == "" ||
			c.Example.Ask == "" || len(c.Example.Want) == 0 || (len(c.Example.Lines) == 0) == (c.Example.Book == "") {
			t.Errorf("the card of %s is incomplete", f.Name)
		}
		for _, p := range f.Params {
			if p.Name == "" || p.Says == "" {
				t.Errorf("a parameter of %s has no name or does not say what it is", f.Name)
			}
		}
		if f.Kernel != nil && f.Output >= len(f.Kernel.Results) {
			t.Errorf("%s names an output that its kernel does not have", f.Name)
		}
	}
}
