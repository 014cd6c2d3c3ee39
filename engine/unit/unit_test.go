package unit

import (
	"errors"
	"strings"
	"sync"
	"testing"
)

func fields(s string) []string { return strings.Fields(s) }

func TestParseWrites(t *testing.T) {
	s := system(t)
	for _, c := range []struct{ text, want string }{
		{"USD/gal", "USD/gal"}, {"kg/m2", "kg/m2"}, {"BTU/h/ft2/degF", "BTU/h/ft2/degF"}, {"min/stem", "min/stem"},
		{"1/h", "1/h"}, {"%/year", "%/year"}, {"1", "1"}, {"%", "%"}, {" kg / m2 ", "kg/m2"}, {"kg * m", "kg*m"},
		{"1*lb", "lb"}, {"1/h*lb", "lb/h"}, {"m*m", "m2"}, {"ft2/ft", "ft"}, {"lb/lb", "1"}, {"ft2*plant/m2", "ft2*plant/m2"},
		{"kg/m/s*m", "kg/s"}, {"BTU/h/ft2/degF_diff", "BTU/h/ft2/degF"}, {"h*degF", "h*degF"}, {"degF_diff", "degF_diff"},
		{"degF", "degF"}, {" degC ", "degC"}, {"m1", "m"}, {"m12", "m12"}, {"mS/cm", "mS/cm"},
	} {
		u, err := s.Parse(c.text)
		if err != nil {
			t.Error(err)
			continue
		}
		if u.String() != c.want {
			t.Errorf("%q is written %q, want %q", c.text, u, c.want)
		}
		if back := parse(t, s, u.String()); back != u {
			t.Errorf("%q read back is another unit", u)
		}
	}
}

func TestMistakes(t *testing.T) {
	s := system(t, "sachet", "seed_tray")
	unknown := func(word, nearest string) {
		t.Helper()
		_, err := s.Parse(word)
		var e *UnknownError
		if !errors.As(err, &e) || e.Nearest != nearest {
			t.Errorf("%q: got %v, want %q", word, err, nearest)
		}
	}
	for word, nearest := range map[string]string{
		"Kg": "kg", "KG": "kg", "Lb": "lb", "usd": "USD", "btu": "BTU", "kwh": "kWh", "ML": "mL", "l": "L", "Plant": "plant",
		"pounds": "lb", "pound": "lb", "lbs": "lb", "gallon": "gal", "gallons": "gal", "ounces": "oz", "feet": "ft", "inches": "in",
		"hours": "h", "hr": "h", "weeks": "week", "years": "year", "minutes": "min", "sec": "s",
		"°F": "degF", "ºC": "degC", "Fahrenheit": "degF", "$": "USD", "€": "EUR", "percent": "%", "litres": "L",
		"sqft": "ft2", "sq ft": "ft2", "ft²": "ft2", "m³": "m3", "µmol": "umol", "Kg2": "kg2",
		"trusses": "truss", "plants": "plant", "sachets": "sachet", "seed_trays": "seed_tray",
		"galons": "gal", "thermm": "therm", "flwoer": "flower", "USE": "USD", "degf_dif": "degF_diff",
		"xq": "", "wheelbarrow": "", "furlongs": "", "A": "",
	} {
		unknown(word, nearest)
	}
	unknown("USD/pound", "lb")
	for text, want := range map[string]string{
		"":                           "is empty where a unit should stand",
		"   ":                        "a plain number has the unit 1",
		"kg/":                        "a symbol is missing",
		"/kg":                        "a symbol is missing",
		"kg//m2":                     "a symbol is missing",
		"kg/1":                       "1 stands alone or first",
		"100*kg":                     "no numbers but powers",
		"kg/2":                       "no numbers but powers",
		"m0":                         "powers are 1 to 12",
		"m13":                        "powers are 1 to 12",
		"m99999999999999999999":      "powers are 1 to 12",
		"m02":                        "powers are 1 to 12",
		"m12*m":                      "has a power beyond 12",
		"gal5":                       "has a power beyond 12", // volume to the fifth is length to the fifteenth
		"m^2":                        "straight after the symbol",
		"kg m2":                      "write * or /",
		"lb per ft2":                 "write / for it",
		"BTU/(h*ft2)":                "has brackets",
		"ft2×plant":                  "write * between",
		strings.Repeat("m*", 150):    "is too long",
		"kg/m2\x00":                  "there is no unit",
		"\xff\xfe":                   "there is no unit",
		strings.Repeat("parsnip", 9): "there is no unit",
	} {
		_, err := s.Parse(text)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func TestThings(t *testing.T) {
	s := system(t, "sachet", "crate", "crate", "plant")
	sachet, crate := parse(t, s, "sachet"), parse(t, s, "crate")
	if sachet.Dim == crate.Dim || sachet.Dim == s.One().Dim {
		t.Error("a thing is not a dimension of its own")
	}
	for name, want := range map[string]string{
		"h": "unit already", "degF_diff": "lower-case", "min": "unit already", "Crate": "lower-case", "crate2": "lower-case", "": "lower-case",
		"a__b": "lower-case", "_a": "lower-case", "two words": "lower-case", "kg": "unit already", "month": "unit already",
		strings.Repeat("a", 41): "lower-case",
	} {
		if _, err := NewSystem([]string{name}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("thing %q: %v", name, err)
		}
	}
	if _, err := system(t).Parse("sachet"); err == nil {
		t.Error("a thing of one book is known in another")
	}
	// The same thing in two systems is the same dimension.
	if other := parse(t, system(t, "sachet"), "sachet"); other.Dim != sachet.Dim {
		t.Error("a thing changes its dimension with the book")
	}
}

func TestProducts(t *testing.T) {
	s := system(t)
	u := s.Mul(parse(t, s, "ft2"), parse(t, s, "plant/m2"))
	if u != parse(t, s, "ft2*plant/m2") || u.Factor().FloatString(8) != "0.09290304" || u.Dim != parse(t, s, "plant").Dim {
		t.Errorf("floor times density is %v of %v", u.Factor(), u)
	}
	for _, c := range []struct{ a, b, product, quotient string }{
		{"USD/lb", "lb", "USD", "USD/lb2"}, {"lb", "1", "lb", "lb"}, {"1", "lb", "lb", "1/lb"}, {"%", "USD", "%*USD", "%/USD"},
		{"BTU/h/ft2/degF", "K", "BTU*K/h/ft2/degF", "BTU/h/ft2/degF/K"}, {"BTU/h/ft2/degF", "degF_diff", "BTU/h/ft2", "BTU/h/ft2/degF2"},
		{"degF_diff*h", "1/h", "degF_diff", "degF*h2"}, {"L/m2/d", "d", "L/m2", "L/m2/d2"},
	} {
		a, b := parse(t, s, c.a), parse(t, s, c.b)
		if got := s.Mul(a, b); got != parse(t, s, c.product) {
			t.Errorf("%s times %s is %s, want %s", a, b, got, c.product)
		}
		if got := s.Div(a, b); got != parse(t, s, c.quotient) {
			t.Errorf("%s by %s is %s, want %s", a, b, got, c.quotient)
		}
	}
	lb := parse(t, s, "lb")
	for n, want := range map[int]string{0: "1", 1: "lb", 2: "lb2", -1: "1/lb", -12: "1/lb12"} {
		if p, err := s.Pow(lb, n); err != nil || p != parse(t, s, want) {
			t.Errorf("lb to %d is %v, %v", n, p, err)
		}
	}
	if _, err := s.Pow(lb, 13); err == nil {
		t.Error("lb to the power 13 is a unit")
	}
	if _, err := s.Pow(parse(t, s, "gal2"), 3); err == nil {
		t.Error("length to the power 18 is a dimension")
	}
	if r, ok := s.Root(parse(t, s, "ft2/h4")); !ok || r != parse(t, s, "ft/h2") {
		t.Errorf("root of ft2/h4 is %v", r)
	}
	if r, ok := s.Root(s.One()); !ok || r != s.One() {
		t.Errorf("root of 1 is %v", r)
	}
	for _, odd := range []string{"acre", "ft*m", "lb", "%", "degF", "ft2/h"} {
		if r, ok := s.Root(parse(t, s, odd)); ok {
			t.Errorf("root of %s is %s", odd, r)
		}
	}
}

// Past the bound a product is Beyond, swallows what it meets and converts to
// nothing.
func TestBeyond(t *testing.T) {
	s := system(t)
	u := parse(t, s, "lb12")
	over := s.Mul(u, parse(t, s, "lb"))
	if !over.Beyond() || over.IsPlain() || !s.Div(over, u).Beyond() || !s.Mul(s.One(), over).Beyond() {
		t.Error("lb to the power 13 does not stay beyond")
	}
	// Powers that cancel in the dimension, not in the symbols.
	if x := s.Div(parse(t, s, "lb12"), parse(t, s, "kg12")); x.Beyond() || !s.Mul(x, parse(t, s, "lb/kg")).Beyond() {
		t.Error("symbols pile up without a bound")
	}
	var mismatch *MismatchError
	if _, _, err := Convert(over, over); !errors.As(err, &mismatch) || !strings.Contains(err.Error(), "beyond 12") {
		t.Errorf("converts: %v", err)
	}
	if s.Simplify(over) != over || s.Display(over, "metric") != over || s.Difference(over) != over || Gather(over) != "mean" {
		t.Error("a unit beyond the bound changes")
	}
	if _, err := s.Pow(over, 2); err == nil {
		t.Error("has a power")
	}
	if _, ok := s.Root(over); ok {
		t.Error("has a root")
	}
	many := s.One()
	for _, name := range s.Symbols() { // more symbols than a unit may have
		many = s.Mul(many, parse(t, s, name))
	}
	if !many.Beyond() {
		t.Errorf("%d symbols make a unit", len(s.Symbols()))
	}
}

func TestSimplify(t *testing.T) {
	s := system(t)
	for text, want := range map[string]string{
		// Step 1: one symbol a dimension, the first met.
		"ft2*plant/m2": "plant", "lb*USD/kg": "USD", "in*ft": "in2", "h*USD/min": "USD", "lb*oz/kg": "lb", "USD/lb*kg": "USD",
		"BTU/h/ft2/degF*m2*K*d": "BTU", "USD/gal*L": "USD", "BTU*USD/kWh": "USD", "plant/ft2*acre": "plant",
		// Step 2: powers of one dimension.
		"gal/ft3": "1", "ft*acre/gal": "1", "lb/ft2*acre": "lb", "acre2/ft2": "acre", "L/m2/d": "L/m2/d", "gal/ft2": "gal/ft2",
		"acre*ft": "acre*ft", "L/m2*ha": "L", "ft4/gal": "ft",
		// Step 3: the whole measures nothing, or what one symbol measures.
		"kW*h/kWh": "1", "USD*kW*h/kWh": "USD", "BTU/h/W": "1",
		// Step 4: taken apart.
		"kW*d": "kWh", "W*h": "J", "ppm*gal": "mg", "ppm*L/m2": "mg/m2", "ppm": "ppm", "W/m2": "W/m2", "ppm/h": "ppm/h", "kW/h": "kW/h",
		// Step 5: plain symbols.
		"%*USD": "USD", "%/year": "%/year", "%*%": "%", "%*lb/kg": "%", "1/%": "1", "%*deg": "%", "USD/%": "USD", "%/h*min": "%",
		// Simple already.
		"lb": "lb", "%": "%", "deg": "deg", "1": "1", "degF": "degF", "degF_diff": "degF_diff", "kg/m2": "kg/m2", "USD/CAD": "USD/CAD",
		"BTU/h/ft2/degF": "BTU/h/ft2/degF", "mol/m2/d": "mol/m2/d", "h*degF": "h*degF", "ft3": "ft3",
	} {
		u := parse(t, s, text)
		got := s.Simplify(u)
		if got.String() != want {
			t.Errorf("%s simplifies to %s, want %s", text, got, want)
		}
		if got.Dim != u.Dim || s.Simplify(got) != got {
			t.Errorf("%s changes dimension, or %s is not simple", text, got)
		}
	}
}

func TestGather(t *testing.T) {
	s := system(t, "crate")
	for _, text := range fields("lb kg t gal L m3 ft3 cord kWh BTU USD EUR h d min week fruit crate") {
		if Gather(parse(t, s, text)) != "sum" {
			t.Errorf("%s does not add up", text)
		}
	}
	for _, text := range fields("1 % deg degF degC K ft2 acre ft W kW lb/ft2 USD/lb %/year 1/h mS mol meq ppm fruit2 lb*d crate/h") {
		if Gather(parse(t, s, text)) != "mean" {
			t.Errorf("%s adds up", text)
		}
	}
}

func TestDisplay(t *testing.T) {
	s := system(t)
	for _, c := range []struct{ us, metric string }{
		{"lb", "kg"}, {"oz", "g"}, {"ton", "t"}, {"gal", "L"}, {"ft2", "m2"}, {"ft", "m"}, {"acre", "ha"}, {"BTU", "MJ"}, {"in", "cm"},
		{"degF", "degC"}, {"degF_diff", "K"}, {"USD", "USD"}, {"USD/gal", "USD/L"}, {"plant/ft2", "plant/m2"}, {"kWh", "kWh"},
		{"BTU/h/ft2/degF", "W/m2/K"}, {"lb/ft2", "kg/m2"}, {"%", "%"}, {"h*degF", "h*K"}, {"gal/ft2/d", "L/m2/d"}, {"BTU/ft2", "MJ/m2"},
		{"mol/m2/d", "mol/m2/d"}, {"mS/cm", "mS/cm"}, {"mg/L", "mg/L"}, {"meq/L", "meq/L"}, {"lb/plant", "kg/plant"}, {"ft3", "m3"},
	} {
		us, metric := parse(t, s, c.us), parse(t, s, c.metric)
		if got := s.Display(us, "metric"); got != metric {
			t.Errorf("%s is shown in %s, want %s", us, got, metric)
		}
		if got := s.Display(metric, "us"); got != us {
			t.Errorf("%s is shown in %s, want %s", metric, got, us)
		}
		if s.Display(us, "us") != us || s.Display(metric, "metric") != metric || s.Display(us, "naval") != us {
			t.Errorf("%s or %s changes at home", us, metric)
		}
	}
	for us, metric := range map[string]string{"pint": "L", "cord": "m3", "therm": "MJ", "BTU/h": "kW", "USD/therm": "USD/MJ", "USD/cord": "USD/m3"} {
		if got := s.Display(parse(t, s, us), "metric"); got.String() != metric {
			t.Errorf("%s is shown in %s, want %s", us, got, metric)
		}
	}
	for metric, us := range map[string]string{"mm": "in", "degC_diff": "degF_diff", "kW": "kW", "W/ft2": "W/ft2"} {
		if got := s.Display(parse(t, s, metric), "us"); got.String() != us {
			t.Errorf("%s is shown in %s, want %s", metric, got, us)
		}
	}
}

func TestMismatch(t *testing.T) {
	s := system(t)
	for _, c := range []struct{ from, to, want string }{
		{"lb", "gal", "lb is a mass and gal is a volume: one cannot become the other"},
		{"lb", "1", "1 is a plain number"},
		{"USD", "CAD", "different money: an exchange rate in CAD/USD"},
		{"fruit", "truss", "fruit and truss are different things"},
		{"fruit", "lb", "fruit is a count of fruit and lb is a mass"},
		{"degF", "K", "degF is a temperature and K a difference"},
		{"degC_diff", "degC", "degC is a temperature and degC_diff a difference"},
		{"degF", "lb", "degF is a temperature and lb is a mass"},
		{"lb/stem", "USD/gal", "lb/stem cannot become USD/gal"},
		{"BTU/h", "BTU", "BTU/h is a power and BTU is an energy"},
	} {
		from, to := parse(t, s, c.from), parse(t, s, c.to)
		_, _, err := Convert(from, to)
		var e *MismatchError
		if !errors.As(err, &e) || e.From != from || e.To != to || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s to %s: got %v, want %q", from, to, err, c.want)
		}
		if Ratio(from, to) != nil {
			t.Errorf("%s to %s has a ratio", from, to)
		}
	}
}

// What a caller does to a factor stays with the caller.
func TestFactorIsACopy(t *testing.T) {
	s := system(t)
	lb := parse(t, s, "lb")
	lb.Factor().SetInt64(7)
	if lb.Factor().FloatString(8) != "0.45359237" || lb.Float() != 0.45359237 {
		t.Errorf("lb is %v kg", lb.Factor())
	}
}

// Many goroutines meet the same new units at once and get the same pointers;
// run with -race.
func TestConcurrentUse(t *testing.T) {
	s := system(t)
	const workers = 8
	results := make([][]*Unit, workers)
	var wait sync.WaitGroup
	for k := range workers {
		wait.Go(func() {
			for _, text := range fields("ft2*plant/m2 lb*USD/kg BTU/h/ft2/degF kW*d ppm*gal USD/gal") {
				u, err := s.Parse(text)
				if err != nil {
					t.Error(err)
					return
				}
				results[k] = append(results[k], u, s.Simplify(u), s.Mul(u, u), s.Div(s.One(), u), s.Display(u, "metric"))
			}
		})
	}
	wait.Wait()
	for k := range results {
		for i := range results[k] {
			if results[k][i] != results[0][i] {
				t.Fatalf("%v came twice", results[k][i])
			}
		}
	}
}
