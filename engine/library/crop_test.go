package library

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// cropSeason is 53 weeks from 2026-W33, closed up to 2027-03-10.
func cropSeason(t testing.TB) (week.Season, week.Standing) {
	t.Helper()
	first, err := week.ParseWeek("2026-W33")
	if err != nil {
		t.Fatal(err)
	}
	s, err := week.NewSeason(first, first+52)
	if err != nil {
		t.Fatal(err)
	}
	return s, week.NewStanding(s, cropDay(t, "2027-03-10"), nil)
}

func cropDay(t testing.TB, date string) week.Day {
	t.Helper()
	d, err := week.ParseDay(date)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func at(s week.Season, name string, t testing.TB) int {
	t.Helper()
	w, err := week.ParseWeek(name)
	if err != nil {
		t.Fatal(err)
	}
	i, in := s.Index(w)
	if !in {
		t.Fatalf("%s lies outside the season", name)
	}
	return i
}

// steady is x in every week.
func steady(x float64) []float64 {
	y := make([]float64, 53)
	for i := range y {
		y[i] = x
	}
	return y
}

// cropCall runs a function's kernel on arguments in the units of its parameters
// and gives the output that the function stands for, and what was refused. Words
// are given as indexes into words.
func cropCall(t testing.TB, name string, words []string, in ...[]float64) ([]float64, string) {
	t.Helper()
	for _, f := range append(append(cropFunctions(), ripeningFunctions()...), countsFunctions()...) {
		if f.Name != name {
			continue
		}
		s, standing := cropSeason(t)
		for i := len(in); i < len(f.Params); i++ {
			p := f.Params[i]
			if !p.Optional {
				t.Fatalf("%s: argument %s is left out", name, p.Name)
			}
			given := one(p.Default)
			if len(p.Whole) > 0 { // as the caller repeats it
				given = steady(p.Default)
			}
			in = append(in, given)
		}
		out := make([][]float64, len(f.Kernel.Results))
		for i, r := range f.Kernel.Results {
			out[i] = []float64{array.Blank}
			if len(r.Whole) > 0 {
				out[i] = steady(array.Blank)
			}
		}
		c := formula.NewCall(s, standing, in, nil, out)
		c.Word = func(x float64) string { return words[int(x)] }
		f.Kernel.Run(c)
		return out[f.Output], c.Refused()
	}
	t.Fatalf("there is no %s", name)
	return nil, ""
}

func one(x float64) []float64 { return []float64{x} }

func closeTo(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, tolerance)
	}
}

func TestCropCards(t *testing.T) {
	seen := map[string]bool{}
	kernels := map[*formula.Kernel]int{}
	for _, f := range append(append(cropFunctions(), ripeningFunctions()...), countsFunctions()...) {
		c := f.Card
		for what, text := range map[string]string{"name": f.Name, "family": c.Family, "says": c.Says, "gives": c.Gives, "valid": c.Valid, "source": c.Source, "question": c.Example.Ask} {
			if text == "" {
				t.Errorf("%s has no %s", f.Name, what)
			}
		}
		if seen[f.Name] {
			t.Errorf("%s is there twice", f.Name)
		}
		seen[f.Name] = true
		book := c.Example.Book + strings.Join(c.Example.Lines, "\n")
		if !strings.Contains(book, f.Name+"(") || !strings.Contains(book, c.Example.Ask+" = ") || len(c.Example.Want) == 0 {
			t.Errorf("the example of %s does not show it", f.Name)
		}
		for _, p := range f.Params {
			if p.Name == "" || p.Says == "" {
				t.Errorf("%s: parameter %q is not explained", f.Name, p.Name)
			}
		}
		if f.Kernel.Run == nil || f.Output >= len(f.Kernel.Results) {
			t.Errorf("%s has no output %d", f.Name, f.Output)
		}
		if n, shared := kernels[f.Kernel]; shared && n != len(f.Params) {
			t.Errorf("%s shares a kernel with other parameters", f.Name)
		}
		kernels[f.Kernel] = len(f.Params)
	}
}

func TestTrussPaceFunction(t *testing.T) {
	kinds := []string{"large", "cluster", "cherry", "plum"}
	// de Koning 1994, equation 3.2.3, mean cultivar: 1.017 trusses a week at 20 degC.
	got, _ := cropCall(t, "truss_pace", kinds, one(20), one(1))
	closeTo(t, "cluster", 7*got[0], 1.017, 0.002)
	large, _ := cropCall(t, "truss_pace", kinds, one(20), one(0))
	cherry, _ := cropCall(t, "truss_pace", kinds, one(20), one(2))
	if !(large[0] < got[0] && got[0] < cherry[0]) {
		t.Errorf("large %v, cluster %v, cherry %v", large[0], got[0], cherry[0])
	}
	// An own offset goes before the type's, whatever the type; a blank one does not.
	own, _ := cropCall(t, "truss_pace", kinds, one(20), one(array.Blank), one(-0.2))
	closeTo(t, "own", own[0]-got[0], 0.0903, 1e-9)
	same, _ := cropCall(t, "truss_pace", kinds, one(20), one(1), one(array.Blank))
	closeTo(t, "own, blank", same[0], got[0], 0)
	if _, why := cropCall(t, "truss_pace", kinds, one(20), one(3)); !strings.Contains(why, "plum") || !strings.Contains(why, "cherry") {
		t.Errorf("plum: %q", why)
	}
	if got, _ := cropCall(t, "truss_pace", kinds, one(20), one(array.Blank)); !array.IsBlank(got[0]) {
		t.Errorf("no type: %v", got[0])
	}
	if got, _ := cropCall(t, "truss_pace", kinds, one(array.Blank), one(1)); !array.IsBlank(got[0]) {
		t.Errorf("no air: %v", got[0])
	}
	// There and back.
	offset, _ := cropCall(t, "pace_offset", nil, one(cherry[0]), one(20))
	closeTo(t, "offset", offset[0], -0.267, 1e-12)
	counted := steady(array.Blank)
	if offset, _ = cropCall(t, "own_offset", kinds, counted, steady(20), one(2)); offset[0] != -0.267 {
		t.Errorf("own offset without counts: %v", offset[0])
	}
	for w := 10; w < 14; w++ {
		counted[w] = cherry[0] - 0.032
	}
	offset, _ = cropCall(t, "own_offset", kinds, counted, steady(20), one(2))
	closeTo(t, "own offset", offset[0], -0.267-0.032*4/7, 1e-12)
	if _, why := cropCall(t, "own_offset", kinds, counted, steady(20), one(3)); why == "" {
		t.Error("own offset of a plum")
	}
	if offset, _ = cropCall(t, "pace_offset", nil, one(0.05), one(12)); !array.IsBlank(offset[0]) {
		t.Errorf("an offset in the cold: %v", offset[0])
	}
}

func TestFirstFlowerFunction(t *testing.T) {
	// Calvert 1959 (abstract): 287 mol/m2 from spread cotyledons, 40 days at least.
	sown := cropDay(t, "2026-11-10")
	got, _ := cropCall(t, "first_flower", nil, one(float64(sown)), steady(4.1))
	closeTo(t, "winter", got[0]-float64(sown), 8+70, 0)
	got, _ = cropCall(t, "first_flower", nil, one(float64(sown)), steady(20))
	closeTo(t, "bright", got[0]-float64(sown), 8+40, 0)
	// The book may begin after the sowing.
	before := cropDay(t, "2026-07-01")
	got, _ = cropCall(t, "first_flower", nil, one(float64(before)), steady(10))
	closeTo(t, "before the book", got[0]-float64(before), 8+40, 0)

	s, _ := cropSeason(t)
	gap := steady(4.1)
	for w := 0; w < at(s, "2026-W46", t); w++ { // the week of 10 November
		gap[w] = array.Blank
	}
	got, _ = cropCall(t, "first_flower", nil, one(float64(sown)), gap)
	closeTo(t, "known from sowing on", got[0]-float64(sown), 78, 0)
	gap[at(s, "2027-W02", t)] = array.Blank
	if got, _ = cropCall(t, "first_flower", nil, one(float64(sown)), gap); !array.IsBlank(got[0]) {
		t.Errorf("a gap before the flower: %v", got[0])
	}
	gap = steady(4.1)
	gap[at(s, "2027-W05", t)] = array.Blank
	got, _ = cropCall(t, "first_flower", nil, one(float64(sown)), gap)
	closeTo(t, "not known after the flower", got[0]-float64(sown), 78, 0)
	if got, _ = cropCall(t, "first_flower", nil, one(array.Blank), steady(4)); !array.IsBlank(got[0]) {
		t.Errorf("not sown: %v", got[0])
	}
	if _, why := cropCall(t, "first_flower", nil, one(float64(sown)), steady(0)); why == "" {
		t.Error("flowers in the dark")
	}
}

func TestWordFunctions(t *testing.T) {
	// Al-Attal, Kasrawi & Nazer 2003: 99.1, 76.7, 65.7 %; ours near them, in that order.
	words := []string{"bees", "vibrator", "none", "wind", "large", "cluster", "cherry"}
	for i, want := range []float64{0.991, 0.767, 0.657} {
		got, _ := cropCall(t, "pollinated", words, one(float64(i)))
		closeTo(t, words[i], got[0], want, 0.1)
	}
	if _, why := cropCall(t, "pollinated", words, one(3)); !strings.Contains(why, "wind") || !strings.Contains(why, "vibrator") {
		t.Errorf("wind: %q", why)
	}
	// Open crop record, the Netherlands 2019: large 119 to 147 g, cherry 14 to 24 g.
	for word, bounds := range map[int][2]float64{4: {119, 147}, 5: {84, 150}, 6: {14, 24}} {
		got, _ := cropCall(t, "usual_weight", words, one(float64(word)))
		if got[0] < bounds[0] || got[0] > bounds[1] {
			t.Errorf("%s weighs %v g", words[word], got[0])
		}
		factor, _ := cropCall(t, "days_factor", words, one(float64(word)))
		if factor[0] < 1 || factor[0] > 1.25 {
			t.Errorf("%s takes %v times the days", words[word], factor[0])
		}
	}
	for _, name := range []string{"usual_weight", "days_factor", "pollinated"} {
		if got, _ := cropCall(t, name, words, one(array.Blank)); !array.IsBlank(got[0]) {
			t.Errorf("%s of nothing: %v", name, got[0])
		}
	}
}

func TestPollinatingFunctions(t *testing.T) {
	// Morandin et al. 2001: 7 to 15 a hectare; Hanna 2007: 16.27 h for 640 plants, 18 weeks.
	got, _ := cropCall(t, "hives_needed", nil, one(10_000))
	closeTo(t, "a hectare", got[0], 11, 4)
	got, _ = cropCall(t, "vibrating_time", nil, one(640))
	closeTo(t, "vibrating", 18*got[0], 16.27, 0.1)
	if _, why := cropCall(t, "hives_needed", nil, one(-1)); why == "" {
		t.Error("a floor below nothing")
	}
	for _, name := range []string{"hives_needed", "vibrating_time"} {
		if got, _ = cropCall(t, name, nil, one(array.Blank)); !array.IsBlank(got[0]) {
			t.Errorf("%s of what is not known: %v", name, got[0])
		}
	}
}

func TestLightFunctions(t *testing.T) {
	s, _ := cropSeason(t)
	dark := at(s, "2027-W01", t)
	light := steady(16)
	for w := dark; w < len(light); w++ {
		light[w] = 8
	}
	// With a response of 1, per cent for per cent; nothing before the third week and
	// all from the seventh (Gent 2007, HortScience 42:514-520, abstract).
	got, _ := cropCall(t, "filled", nil, steady(120), light, one(16), one(1))
	for w, want := range map[int]float64{0: 120, dark - 1: 120, dark + 2: 120, dark + 3: 108, dark + 5: 84, dark + 7: 60, 52: 60} {
		closeTo(t, "weight", got[w], want, 1e-9)
	}
	gap := steady(16)
	gap[10] = array.Blank
	got, _ = cropCall(t, "filled", nil, steady(120), gap, one(16))
	for w := range got {
		if blank := w >= 13 && w <= 17; array.IsBlank(got[w]) != blank {
			t.Errorf("light not known in week 10 makes week %d %v", w, got[w])
		}
	}
	if _, why := cropCall(t, "filled", nil, steady(120), light, one(0)); why == "" {
		t.Error("a reference in the dark")
	}

	// 7 x 10 x 0.41 g of dry matter, by hand: 0.319 kg at 9 %.
	got, _ = cropCall(t, "light_ceiling", nil, steady(10), one(0.09))
	for w := range got {
		closeTo(t, "ceiling", got[w], 0.319, 0.001)
	}
	if _, why := cropCall(t, "light_ceiling", nil, steady(10), one(0)); why == "" {
		t.Error("fruit of nothing but water")
	}
	// Vanthoor et al. 2011, appendix C.
	got, _ = cropCall(t, "set_limit", nil, one(15))
	closeTo(t, "set limit", got[0], 0.5, 1e-12)
}

func TestRipeningFunctions(t *testing.T) {
	s, _ := cropSeason(t)
	set := steady(0)
	w40 := at(s, "2026-W40", t)
	set[w40] = 70
	// 65 days at 18 degC (Adams et al. 2001): 9 weeks and 2 days.
	ripe, _ := cropCall(t, "ripening", nil, set, steady(18))
	left, _ := cropCall(t, "hanging", nil, set, steady(18))
	closeTo(t, "first week", ripe[w40+9], 50, 1e-9)
	closeTo(t, "second week", ripe[w40+10], 20, 1e-9)
	closeTo(t, "left", left[w40+9], 20, 1e-9)
	// A factor of 1.2 makes 78 days, 11 weeks and 1 day.
	ripe, _ = cropCall(t, "ripening", nil, set, steady(18), one(1.2))
	closeTo(t, "whole trusses", ripe[w40+11], 60, 1e-9)
	// Spread over 14 days, nothing is early, and all is there two weeks after.
	loose, _ := cropCall(t, "ripening", nil, set, steady(18), one(1), one(14))
	closeTo(t, "loose, first week", loose[w40+9], 70*12.5/98, 1e-9)

	days, _ := cropCall(t, "ripening_days", nil, one(22), one(1))
	closeTo(t, "days", days[0], 46, 1e-9)
	if _, why := cropCall(t, "ripening_days", nil, one(11)); why == "" {
		t.Error("ripens in the cold")
	}
	flowered := float64(cropDay(t, "2026-12-01"))
	day, _ := cropCall(t, "ripe_on", nil, one(flowered), steady(18))
	closeTo(t, "ripe on", day[0]-flowered, 65, 0)
	day, _ = cropCall(t, "ripe_on", nil, one(float64(cropDay(t, "2027-08-01"))), steady(14))
	closeTo(t, "ripe after the book", day[0]-float64(cropDay(t, "2027-08-01")), 95, 0)
	if _, why := cropCall(t, "ripe_on", nil, one(flowered), steady(5)); why == "" {
		t.Error("ripe in the cold")
	}
}

// What is not known spoils only what rests on it.
func TestRipeningOfTheUnknown(t *testing.T) {
	set, air := steady(0), steady(20)
	set[10], set[30] = 70, 70
	whole, _ := cropCall(t, "ripening", nil, set, air)

	// No crop yet, no set known: as no fruit.
	gap := append([]float64(nil), set...)
	for w := range 10 {
		gap[w] = array.Blank
	}
	got, _ := cropCall(t, "ripening", nil, gap, air)
	for w := range got {
		closeTo(t, "set not known before the crop", got[w], whole[w], 0)
	}
	if got, _ = cropCall(t, "ripening", nil, steady(array.Blank), air); !array.IsBlank(got[20]) {
		t.Errorf("no set known at all: %v", got[20])
	}
	// Air not known while nothing hangs does not matter; while fruit hang it does, from
	// that week on.
	for w := range 10 {
		gap[w] = 0
	}
	cold := append([]float64(nil), air...)
	cold[5], cold[25] = array.Blank, array.Blank
	got, _ = cropCall(t, "ripening", nil, gap, cold)
	closeTo(t, "air not known before the crop and between", got[39], whole[39], 1e-9)
	cold[12] = array.Blank
	got, _ = cropCall(t, "ripening", nil, gap, cold)
	if got[11] != 0 || !array.IsBlank(got[12]) || !array.IsBlank(got[52]) {
		t.Errorf("air not known while fruit hang: %v, %v, %v", got[11], got[12], got[52])
	}
	for _, in := range [][]float64{one(0), one(-1), one(0.001)} {
		if _, why := cropCall(t, "ripening", nil, set, air, in); why == "" {
			t.Errorf("a factor of %v passes", in)
		}
	}
	if got, _ = cropCall(t, "ripening", nil, set, air, one(array.Blank)); !array.IsBlank(got[0]) {
		t.Errorf("factor not known: %v", got[0])
	}
	if _, why := cropCall(t, "ripening", nil, set, air, one(1), one(-1)); why == "" {
		t.Error("a spread below 0 passes")
	}
}

func BenchmarkRipeningKernel(b *testing.B) {
	s, standing := cropSeason(b)
	r := rand.New(rand.NewPCG(1, 1))
	set, air := steady(0), steady(18)
	for w := range set {
		set[w], air[w] = 100*r.Float64(), 17+3*r.Float64()
	}
	in := [][]float64{set, air, one(1.1), one(0)}
	out := [][]float64{steady(0), steady(0)}
	c := formula.NewCall(s, standing, in, nil, out)
	for b.Loop() {
		ripeningKernel.Run(c)
	}
}
