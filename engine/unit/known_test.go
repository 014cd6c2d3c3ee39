package unit

import (
	"math"
	"math/big"
	"testing"
)

func system(t testing.TB, things ...string) *System {
	t.Helper()
	s, err := NewSystem(things)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t testing.TB, s *System, text string) *Unit {
	t.Helper()
	u, err := s.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

// Sizes that definitions fix exactly: NIST SP 811 (2008), appendix B.8 (there
// to seven digits) and the definitions file of GNU units 2.22 (the digits
// here).
func TestExactSizes(t *testing.T) {
	s := system(t)
	for _, c := range []struct{ from, to, want string }{
		{"lb", "g", "453.59237"}, {"oz", "g", "28.349523125"}, {"ton", "lb", "2000"}, {"t", "kg", "1000"},
		{"in", "m", "0.0254"}, {"ft2", "m2", "0.09290304"}, {"ft3", "L", "28.316846592"},
		{"acre", "m2", "4046.8564224"}, {"ha", "m2", "10000"},
		{"gal", "L", "3.785411784"}, {"pint", "L", "0.473176473"}, {"gal", "in3", "231"},
		{"cord", "m3", "3.624556363776"}, {"mL", "L", "1/1000"}, {"cm", "mm", "10"},
		{"BTU", "J", "1055.05585262"}, {"BTU/lb/degF", "J/g/K", "4.1868"}, {"kWh", "MJ", "3.6"}, {"kW*h", "kWh", "1"}, {"Wh", "J", "3600"},
		{"therm", "BTU", "100000"}, {"therm", "MJ", "105.505585262"},
		{"year", "d", "365.25"}, {"year", "month", "12"}, {"week", "h", "168"}, {"d", "min", "1440"},
		{"%", "1", "0.01"}, {"deg", "1", "1"}, {"ppm", "mg/L", "1"}, {"ppm", "g/m3", "1"},
		{"S", "mS", "1000"}, {"mol", "umol", "1000000"}, {"mol", "mmol", "1000"},
		{"degF_diff", "K", "5/9"}, {"degC_diff", "K", "1"}, {"1/degF", "1/degC", "9/5"}, {"W", "J/s", "1"},
	} {
		want, _ := new(big.Rat).SetString(c.want)
		if got := Ratio(parse(t, s, c.from), parse(t, s, c.to)); got == nil || got.Cmp(want) != 0 {
			t.Errorf("1 %s is %v %s, want %s", c.from, got, c.to, c.want)
		}
	}
}

// Products, as GNU units 2.22 prints them with 15 digits; where NIST SP 811
// (2008), appendix B.8, has the line it agrees to its seven digits: 5.678263
// for BTU/(h ft2 degF), 4.882428 for lb/ft2. The tolerance is the last digit
// printed.
func TestProductsAgreeWithGNUUnits(t *testing.T) {
	s := system(t)
	for _, c := range []struct {
		from, to string
		want     float64
	}{
		{"kWh", "BTU", 3412.14163312794},
		{"BTU/h/ft2/degF", "W/m2/K", 5.67826334111349},
		{"lb/ft2", "kg/m2", 4.88242763638305},
		{"lb/acre", "kg/ha", 1.12085115619446},
		{"MJ/m2", "BTU/ft2", 88.0550918411529},
		{"oz/gal", "mg/L", 7489.15170730604},
	} {
		mul, add, err := Convert(parse(t, s, c.from), parse(t, s, c.to))
		if err != nil || add != 0 || math.Abs(mul/c.want-1) > 5e-15 {
			t.Errorf("1 %s is %.15g %s (+ %v, %v), want %.15g", c.from, mul, c.to, add, err, c.want)
		}
	}
}

// The heat loss of a double cover, 0.70 BTU/(h ft2 degF), is 3.97478 W/(m2 K)
// (GNU units 2.22: 3.97478433877944).
func TestHeatLoss(t *testing.T) {
	s := system(t)
	mul, _, err := Convert(parse(t, s, "BTU/h/ft2/degF"), parse(t, s, "W/m2/K"))
	if err != nil || math.Abs(0.70*mul-3.97478433877944) > 1e-14 {
		t.Errorf("0.70 is %v, %v", 0.70*mul, err)
	}
}

// Fixed points of the scales: NIST SP 811 (2008), section 8.5 and appendix
// B.8 (water freezes at 32 degF, boils at 212 degF; both scales meet at -40);
// GNU units 2.22 for 62 degF.
func TestTemperatures(t *testing.T) {
	s := system(t)
	f, c := parse(t, s, "degF"), parse(t, s, "degC")
	for _, x := range []struct{ f, c float64 }{{62, 16.6666666666667}, {32, 0}, {212, 100}, {-40, -40}, {70, 190.0 / 9}} {
		mul, add, err := Convert(f, c)
		if err != nil || math.Abs(x.f*mul+add-x.c) > 5e-14 {
			t.Errorf("%v degF is %v degC, %v", x.f, x.f*mul+add, err)
		}
		mul, add, err = Convert(c, f)
		if err != nil || math.Abs(x.c*mul+add-x.f) > 1e-13 {
			t.Errorf("%v degC is %v degF, %v", x.c, x.c*mul+add, err)
		}
	}
	if mul, add, err := Convert(f, f); mul != 1 || add != 0 || err != nil {
		t.Errorf("degF to itself: %v, %v, %v", mul, add, err)
	}
	if s.Difference(f) != parse(t, s, "degF_diff") || s.Difference(c) != parse(t, s, "degC_diff") || s.Difference(s.Kelvin()) != s.Kelvin() {
		t.Error("differences are not in the degree of their scale")
	}
	for _, text := range []string{"K", "degF_diff", "1/degF", "degF2", "%*degF", "h*degF"} {
		if parse(t, s, text).Absolute {
			t.Errorf("%s is absolute", text)
		}
	}
	if f.Dim != s.Kelvin().Dim || !f.Absolute || !c.Absolute {
		t.Error("degF and degC alone are absolute temperatures")
	}
}

// ISO 4217, list one of 2026-01-01: 178 codes, without XTS and XXX.
func TestMoney(t *testing.T) {
	s := system(t)
	seen := map[Dim]bool{}
	for _, name := range s.Symbols() {
		if s.isMoney(name) {
			u := parse(t, s, name)
			if seen[u.Dim] || u.Float() != 1 || Gather(u) != "sum" {
				t.Errorf("%s: dimension %v, factor %v", name, u.Dim, u.Float())
			}
			seen[u.Dim] = true
		}
	}
	if len(seen) != 178-2 {
		t.Errorf("%d codes", len(seen))
	}
	for _, code := range []string{"USD", "CAD", "EUR", "MXN", "XCG", "ZWG"} {
		parse(t, s, code)
	}
	for _, gone := range []string{"DEM", "HRK", "ANG", "BGN", "XXX", "XTS"} {
		if _, err := s.Parse(gone); err == nil {
			t.Errorf("%s is money", gone)
		}
	}
}

// Every symbol of the language's page can be written, and no other measure.
func TestSymbolsOfTheLanguage(t *testing.T) {
	s := system(t, "sachet", "crate", "plant")
	const measures = `m cm mm ft in m2 ft2 ha acre m3 ft3 L mL gal pint kg g mg lb oz t ton s min h d week month year
		W kW Wh kWh J MJ BTU therm cord degC degF K mol mmol umol meq S mS deg % ppm degC_diff degF_diff
		plant stem truss node flower fruit bag hive card piece sachet crate 1`
	written := map[string]bool{"1": true, "m2": true, "ft2": true, "m3": true, "ft3": true}
	for _, name := range s.Symbols() {
		written[name] = written[name] || !s.isMoney(name)
	}
	for _, name := range fields(measures) {
		if u := parse(t, s, name); u.String() != name {
			t.Errorf("%s is written %s", name, u)
		}
		delete(written, name)
	}
	for name, extra := range written {
		if extra {
			t.Errorf("%s is not on the page", name)
		}
	}
}

// Every size says where it is fixed.
func TestDefinitionsHaveSources(t *testing.T) {
	for _, d := range definitions {
		if d.source == "" {
			t.Errorf("%s has no source", d.symbol)
		}
	}
	for _, c := range scales {
		if c.source == "" {
			t.Errorf("%s has no source", c.symbol)
		}
	}
}
