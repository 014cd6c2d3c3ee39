package unit

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// anyUnit draws a product of up to four symbols to powers of up to two.
func anyUnit(s *System) *rapid.Generator[*Unit] {
	symbols := fields("m cm ft in ha acre L gal cord kg g lb oz t ton s min h d week year month W kW kWh J MJ BTU therm " +
		"K degF_diff degC_diff mol umol meq S mS deg % ppm USD EUR plant fruit")
	return rapid.Custom(func(t *rapid.T) *Unit {
		text := "1"
		for range rapid.IntRange(0, 4).Draw(t, "symbols") {
			text += rapid.SampledFrom([]string{"*", "/"}).Draw(t, "sign") + rapid.SampledFrom(symbols).Draw(t, "symbol") +
				strconv.Itoa(rapid.IntRange(1, 2).Draw(t, "power"))
		}
		u, err := s.Parse(text)
		if err != nil {
			t.Skip(err)
		}
		return u
	})
}

func TestLaws(t *testing.T) {
	s := system(t)
	same := func(a, b *Unit) bool { return a.Dim == b.Dim && a.factor.Cmp(b.factor) == 0 }
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyUnit(s).Draw(t, "a"), anyUnit(s).Draw(t, "b")
		if back, err := s.Parse(a.String()); err != nil || back != a {
			t.Fatalf("%v read back is %v, %v", a, back, err)
		}
		product, quotient := s.Mul(a, b), s.Div(a, b)
		if !product.Beyond() {
			if want := new(big.Rat).Mul(a.factor, b.factor); product.factor.Cmp(want) != 0 {
				t.Fatalf("%v times %v has the factor %v", a, b, product.factor)
			}
			if !same(s.Div(product, b), a) || !same(s.Mul(b, a), product) {
				t.Fatalf("%v times %v does not come back", a, b)
			}
		}
		if !quotient.Beyond() && !same(s.Mul(quotient, b), a) {
			t.Fatalf("%v by %v does not come back", a, b)
		}
		if square, err := s.Pow(a, 2); err == nil {
			if root, ok := s.Root(square); !ok || root != a || !same(square, s.Mul(a, a)) {
				t.Fatalf("the root of %v is %v", square, root)
			}
		}
		if one := s.Div(a, a); one != s.One() {
			t.Fatalf("%v by itself is %v", a, one)
		}
	})
}

// Simplify and the display of another habit keep the value: what goes there and
// back is the same, and the exact ratio is the ratio of the factors.
func TestValueStays(t *testing.T) {
	s := system(t)
	rapid.Check(t, func(t *rapid.T) {
		u := anyUnit(s).Draw(t, "u")
		simple := s.Simplify(u)
		if s.Simplify(simple) != simple {
			t.Fatalf("%v simplifies to %v, that to %v", u, simple, s.Simplify(simple))
		}
		if len(simple.atoms) > len(u.atoms) {
			t.Fatalf("%v simplifies to %v", u, simple)
		}
		for _, v := range []*Unit{simple, s.Display(u, "us"), s.Display(u, "metric")} {
			there, _, err := Convert(u, v)
			if err != nil {
				t.Fatal(err)
			}
			back, _, err := Convert(v, u)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(there*back-1) > 4e-16 { // each is rounded once, to half of 2.2e-16
				t.Fatalf("%v to %v and back multiplies by %v", u, v, there*back)
			}
			if exact, _ := new(big.Rat).Quo(u.factor, v.factor).Float64(); exact != there {
				t.Fatalf("%v to %v multiplies by %v, want %v", u, v, there, exact)
			}
		}
	})
}

// Absolute temperatures come back from the other scale.
func TestTemperatureComesBack(t *testing.T) {
	s := system(t)
	f, c := parse(t, s, "degF"), parse(t, s, "degC")
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-100, 300).Draw(t, "degF")
		mul, add, _ := Convert(f, c)
		mulBack, addBack, _ := Convert(c, f)
		if got := (x*mul+add)*mulBack + addBack; math.Abs(got-x) > 1e-12 { // four roundings of numbers below 600
			t.Fatalf("%v degF comes back as %v", x, got)
		}
	})
}

// Whatever is written, nothing crashes, and what can be read keeps its
// promises.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"kg/m2", "1/h", "%/year", "BTU/h/ft2/degF", "degF", "degF_diff", "ft2*plant/m2", "gal/ft3", "ppm*L", "kW*h", "m13", "Kg", "°F",
		"sq ft", "", "1", "/", "lb per ft2", "USD/CAD*EUR", "gal4*L4/m12", "\xff", "m^2", "pounds", strings.Repeat("m/", 90) + "s",
	} {
		f.Add(text)
	}
	s, err := NewSystem([]string{"sachet"})
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		u, err := s.Parse(text)
		if err != nil {
			if len(err.Error()) > 500 {
				t.Errorf("a message of %d bytes", len(err.Error()))
			}
			return
		}
		if back, err := s.Parse(u.String()); err != nil || back != u {
			t.Errorf("%q is written %q, read back as %v, %v", text, u, back, err)
		}
		for _, v := range []*Unit{s.Simplify(u), s.Display(u, "us"), s.Display(u, "metric")} {
			if v.Dim != u.Dim || v.Beyond() {
				t.Errorf("%v turns to %v", u, v)
			}
		}
		if s.Simplify(s.Simplify(u)) != s.Simplify(u) {
			t.Errorf("%v simplifies to %v, that to %v", u, s.Simplify(u), s.Simplify(s.Simplify(u)))
		}
		s.Mul(u, u)
		s.Div(s.One(), u)
		s.Root(u)
		Gather(u)
		if _, _, err := Convert(u, s.One()); err != nil && len(err.Error()) > 1000 {
			t.Errorf("a message of %d bytes", len(err.Error()))
		}
	})
}
