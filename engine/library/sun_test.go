package library

import (
	"math"
	"strings"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// The climate functions under test, by name.
func climateFunctions() map[string]formula.Function {
	byName := map[string]formula.Function{}
	for _, family := range [][]formula.Function{sunFunctions(), airFunctions(), houseFunctions(), fuelFunctions()} {
		for _, f := range family {
			byName[f.Name] = f
		}
	}
	return byName
}

// climateRun is one call of a function's kernel over a season of whole years.
type climateRun struct {
	call *formula.Call
	run  func()
}

// prepare lines up a call: numbers for the arguments and columns in the kernel's
// units, repeated along the weeks where the kernel wants them so. A column not
// named takes its default.
func prepare(t testing.TB, name string, season week.Season, arguments []float64, columns map[string]any) climateRun {
	t.Helper()
	f, ok := climateFunctions()[name]
	if !ok {
		t.Fatalf("no function %s", name)
	}
	long := func(whole []string) int {
		if len(whole) > 0 {
			return season.Len()
		}
		return 1
	}
	row := func(x float64, whole []string) []float64 {
		cells := make([]float64, long(whole))
		for i := range cells {
			cells[i] = x
		}
		return cells
	}
	var words []string
	var in, cols, out [][]float64
	next := 0
	for _, p := range f.Params {
		switch {
		case p.Takes == formula.ListName:
			in = append(in, nil)
			continue
		case next < len(arguments):
			in = append(in, row(arguments[next], p.Whole))
		case p.Optional:
			in = append(in, row(p.Default, p.Whole))
		default:
			t.Fatalf("%s: argument %s is missing", name, p.Name)
		}
		next++
	}
	for _, c := range f.Kernel.Columns {
		switch x := columns[c.Name].(type) {
		case nil:
			if c.Default == nil {
				t.Fatalf("%s: column %s is missing", name, c.Name)
			}
			cols = append(cols, row(*c.Default, c.Whole))
		case string:
			cols = append(cols, row(float64(len(words)), c.Whole))
			words = append(words, x)
		case float64:
			cols = append(cols, row(x, c.Whole))
		}
	}
	for _, r := range f.Kernel.Results {
		out = append(out, row(math.NaN(), r.Whole))
	}
	call := formula.NewCall(season, week.Standing{}, in, cols, out)
	call.Word = func(x float64) string {
		if array.IsBlank(x) {
			return ""
		}
		return words[int(x)]
	}
	return climateRun{call, func() { f.Kernel.Run(call) }}
}

// results runs a function and gives the cells of its output, or what it refused.
func results(t testing.TB, name string, season week.Season, arguments []float64, columns map[string]any) (cells []float64, refused string) {
	t.Helper()
	r := prepare(t, name, season, arguments, columns)
	r.run()
	return r.call.Out[climateFunctions()[name].Output], r.call.Refused()
}

// single is results for one cell that is not refused: the first week's, or the only one.
func single(t testing.TB, name string, arguments ...float64) float64 {
	t.Helper()
	cells, refused := results(t, name, testSeason(t, "2026-W40", "2027-W39"), arguments, nil)
	if refused != "" {
		t.Fatalf("%s refused: %s", name, refused)
	}
	return cells[0]
}

func testSeason(t testing.TB, first, last string) week.Season {
	t.Helper()
	from, err := week.ParseWeek(first)
	if err != nil {
		t.Fatal(err)
	}
	to, err := week.ParseWeek(last)
	if err != nil {
		t.Fatal(err)
	}
	season, err := week.NewSeason(from, to)
	if err != nil {
		t.Fatal(err)
	}
	return season
}

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, within)
	}
}

// Every card is whole, every unit is one the language reads, and functions that
// share a kernel have the same parameters.
func TestClimateCards(t *testing.T) {
	units, err := unit.NewSystem(nil)
	if err != nil {
		t.Fatal(err)
	}
	reads := func(name, text string) {
		if text == "" {
			return
		}
		if _, err := units.Parse(text); err != nil {
			t.Errorf("%s: unit %q: %v", name, text, err)
		}
	}
	for name, f := range climateFunctions() {
		c := f.Card
		if name != f.Name || c.Family == "" || c.Says == "" || c.Gives == "" || c.Valid == "" || c.Source == "" || c.Example.Ask == "" || len(c.Example.Want) == 0 {
			t.Errorf("%s: the card has a gap: %+v", name, c)
		}
		if len(c.Example.Lines) == 0 && c.Example.Book == "" {
			t.Errorf("%s: no example", name)
		}
		if f.Output >= len(f.Kernel.Results) {
			t.Errorf("%s: output %d of %d", name, f.Output, len(f.Kernel.Results))
		}
		for _, p := range f.Params {
			if p.Name == "" || p.Says == "" {
				t.Errorf("%s: parameter %+v", name, p)
			}
			reads(name, p.Unit)
		}
		for _, col := range f.Kernel.Columns {
			reads(name, col.Unit)
		}
		for _, r := range f.Kernel.Results {
			reads(name, r.Unit)
		}
		for _, other := range climateFunctions() {
			if other.Kernel.Name == f.Kernel.Name && len(other.Params) != len(f.Params) {
				t.Errorf("%s and %s share a kernel, not their parameters", name, other.Name)
			}
		}
		if strings.Contains(name, "heat") && c.Family == heatFamily && !strings.Contains(c.Says, "carbon monoxide") {
			t.Errorf("%s: no caution about burners", name)
		}
	}
	for _, name := range []string{"fuel_volume", "fuel_weight", "house_heat", "house_heat_no_sun", "heat_loss"} {
		if !strings.Contains(climateFunctions()[name].Card.Says, "licensed") {
			t.Errorf("%s: the caution does not name licensed work", name)
		}
	}
}

// FAO 56, tables 2.6 and 2.7, 40 degrees north: weeks in the middle of January,
// April, June and October against the table's mid-month figures. Mean days lie up
// to three days from the table's, hence 0.5 MJ and 0.15 h in months when light changes fast.
func TestSkyByWeek(t *testing.T) {
	season := testSeason(t, "2026-W40", "2027-W39")
	sky, _ := results(t, "sky_light", season, []float64{40}, nil)
	hours, _ := results(t, "day_length", season, []float64{40}, nil)
	for _, c := range []struct {
		week       string
		sky, hours float64
	}{{"2027-W02", 15.0, 9.5}, {"2027-W15", 34.7, 13.1}, {"2027-W24", 41.9, 14.8}, {"2026-W42", 22.5, 10.9}} {
		w, err := week.ParseWeek(c.week)
		if err != nil {
			t.Fatal(err)
		}
		i, ok := season.Index(w)
		if !ok {
			t.Fatal(c.week)
		}
		near(t, c.week+" sky light", sky[i], c.sky, 0.5)
		near(t, c.week+" day length", hours[i], c.hours, 0.15)
	}
	// A season of one year meets the sun's year: its mean day is twelve hours
	// and the shortest week is the one of the solstice.
	sum, shortest := 0.0, 0
	for i := range hours {
		sum += hours[i]
		if hours[i] < hours[shortest] {
			shortest = i
		}
	}
	near(t, "mean day", sum/float64(len(hours)), 12, 0.1)
	if got := season.At(shortest).String(); got != "2026-W52" && got != "2026-W51" {
		t.Errorf("shortest week %s", got)
	}
}

// FAO 56, examples 10, 15 and 18.
func TestSunEstimates(t *testing.T) {
	near(t, "example 10", single(t, "sun_from_sunshine", 25.1, 7.1, 10.9), 14.5, 0.06)
	near(t, "example 15", single(t, "sun_from_air", 40.6, 26.6, 14.8, 0.16), 22.3, 0.05)
	near(t, "example 18", single(t, "clear_sun", 41.09, 100), 30.90, 0.005)
}

func TestSunGaps(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	fault := array.Fault(array.DividedByZero, 7)
	for _, gap := range []float64{array.Blank, fault} {
		for name, arguments := range map[string][]float64{
			"sky_light": {gap}, "day_length": {gap}, "clear_sun": {gap, 0},
			"sun_from_air": {20, 10, gap, 0.16}, "sun_from_sunshine": {20, 5, gap},
		} {
			cells, refused := results(t, name, season, arguments, nil)
			for _, x := range cells {
				if refused != "" || math.Float64bits(x) != math.Float64bits(gap) {
					t.Errorf("%s of %v: %v, refused %q", name, gap, x, refused)
				}
			}
		}
	}
	for _, latitude := range []float64{-91, 90.5} {
		if _, refused := results(t, "sky_light", season, []float64{latitude}, nil); refused == "" {
			t.Errorf("latitude %v is not refused", latitude)
		}
	}
}
