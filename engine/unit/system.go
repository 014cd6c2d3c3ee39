package unit

import (
	"math/big"
	"slices"
	"strings"
	"sync"
)

// maxAtoms bounds the symbols of one unit; far more than a person writes, it
// keeps exact factors small when symbols pile up without cancelling.
const maxAtoms = 24

// System is the units of one book.
type System struct {
	symbols map[string]*symbol // by name
	order   []*symbol          // those a person may write, in the order near words are offered
	scales  map[string]*Unit   // absolute temperatures, by symbol

	one, percent, kelvin, beyond *Unit

	mu         sync.RWMutex
	units      map[string]*Unit   // guarded by mu: every product made, by its text
	products   map[[2]*Unit]*Unit // guarded by mu
	quotients  map[[2]*Unit]*Unit // guarded by mu
	simplified map[*Unit]*Unit    // guarded by mu
}

// NewSystem gives the built-in units and the book's own things. A thing is a
// lower-case word, or several joined by "_"; naming a built-in thing again
// changes nothing, naming a unit is an error.
func NewSystem(things []string) (*System, error) {
	s := &System{
		symbols:    map[string]*symbol{},
		scales:     map[string]*Unit{},
		units:      map[string]*Unit{},
		products:   map[[2]*Unit]*Unit{},
		quotients:  map[[2]*Unit]*Unit{},
		simplified: map[*Unit]*Unit{},
	}
	s.one = s.intern(nil)
	s.beyond = &Unit{Dim: beyondDim, factor: big.NewRat(1, 1), float: 1, text: "(a power beyond 12)"}
	for _, d := range definitions {
		s.define(d)
	}
	s.forget("A")
	for _, c := range scales {
		degree := s.symbols[c.degree]
		degree.inProduct = c.symbol
		u := *s.intern([]atom{{degree, 1}})
		u.Absolute, u.offset, u.text = true, rational(c.zero), c.symbol
		s.scales[c.symbol] = &u
	}
	for _, thing := range builtThings {
		s.add(base(thing, thing))
	}
	for _, thing := range things {
		if err := s.addThing(thing); err != nil {
			return nil, err
		}
	}
	for code := range strings.FieldsSeq(moneyCodes) {
		s.add(base(code, code))
	}
	s.percent, s.kelvin = s.intern([]atom{{s.symbols["%"], 1}}), s.intern([]atom{{s.symbols["K"], 1}})
	return s, nil
}

// base is a symbol that measures a dimension of its own.
func base(name, letter string) *symbol {
	of := powers{{letter, 1}}
	dim, _ := of.dim()
	return &symbol{name: name, inProduct: name, of: of, dim: dim, factor: big.NewRat(1, 1)}
}

// define adds a symbol of the table.
func (s *System) define(d definition) {
	if d.base != "" {
		s.add(base(d.symbol, d.base))
		return
	}
	in, err := s.product(d.unit)
	if err != nil {
		panic(err) // a slip in the table; every test would meet it
	}
	factor, of, _ := size(in)
	dim, _ := of.dim()
	s.add(&symbol{name: d.symbol, inProduct: d.symbol, of: of, dim: dim, factor: factor.Mul(factor, rational(d.size))})
}

func (s *System) add(x *symbol) {
	s.symbols[x.name] = x
	s.order = append(s.order, x)
}

// forget takes back a symbol that only served to define others.
func (s *System) forget(name string) {
	s.order = slices.DeleteFunc(s.order, func(x *symbol) bool { return x.name == name })
	delete(s.symbols, name)
}

// addThing adds a thing of the book.
func (s *System) addThing(thing string) error {
	if !isThingName(thing) {
		return errThingName(thing)
	}
	if s.scales[thing] != nil {
		return errThingTaken(thing)
	}
	if x := s.symbols[thing]; x != nil {
		if base, kind := x.dim.single(); kind != isThing || base != thing {
			return errThingTaken(thing)
		}
		return nil
	}
	s.add(base(thing, thing))
	return nil
}

// isThingName says whether a word can name a thing: lower-case letters, with
// single "_" between words. Digits would read as powers.
func isThingName(thing string) bool {
	if len(thing) > 40 {
		return false
	}
	for word := range strings.SplitSeq(thing, "_") {
		if word == "" || strings.Trim(word, "abcdefghijklmnopqrstuvwxyz") != "" {
			return false
		}
	}
	return true
}

// intern gives the one Unit of canonical atoms.
func (s *System) intern(atoms []atom) *Unit {
	if len(atoms) > maxAtoms {
		return s.beyond
	}
	text := write(atoms)
	s.mu.RLock()
	u := s.units[text]
	s.mu.RUnlock()
	if u != nil {
		return u
	}
	factor, of, ok := size(atoms)
	if !ok {
		return s.beyond
	}
	dim, ok := of.dim()
	if !ok {
		return s.beyond
	}
	u = &Unit{Dim: dim, factor: factor, atoms: atoms, text: text}
	u.float, _ = factor.Float64()
	s.mu.Lock()
	defer s.mu.Unlock()
	if first := s.units[text]; first != nil { // another goroutine was quicker
		return first
	}
	s.units[text] = u
	return u
}

// Mul multiplies two units. Only equal symbols merge, so the factor is exactly
// the product of the factors. An absolute temperature counts as its degree (the
// caller refuses such products first, as the language does). The result is
// Beyond when a power passes 12.
func (s *System) Mul(a, b *Unit) *Unit { return s.combine(s.products, a, b, 1) }

// Div divides a by b, by the rules of Mul.
func (s *System) Div(a, b *Unit) *Unit { return s.combine(s.quotients, a, b, -1) }

func (s *System) combine(known map[[2]*Unit]*Unit, a, b *Unit, n int) *Unit {
	if a.Beyond() || b.Beyond() {
		return s.beyond
	}
	key := [2]*Unit{a, b}
	s.mu.RLock()
	u := known[key]
	s.mu.RUnlock()
	if u == nil {
		u = s.intern(join(a.atoms, b.atoms, n))
		s.mu.Lock()
		known[key] = u
		s.mu.Unlock()
	}
	return u
}

// Pow gives u to the power n, by the rules of Mul; n is 0 for a plain number.
// A power past 12 of a symbol or a dimension is an error.
func (s *System) Pow(u *Unit, n int) (*Unit, error) {
	if n == 1 {
		return u, nil
	}
	// The bound on n keeps its products with powers small numbers.
	if n < -maxPower || n > maxPower || u.Beyond() {
		return nil, errPower(u.text, n)
	}
	p := s.intern(join(nil, u.atoms, n))
	if p.Beyond() {
		return nil, errPower(u.text, n)
	}
	return p, nil
}

// Root gives the square root of u: the unit whose Pow 2 is u. It is false when
// a symbol's power is odd, as in acre or ft*m, and for absolute temperatures.
func (s *System) Root(u *Unit) (*Unit, bool) {
	if u.Absolute || u.Beyond() {
		return nil, false
	}
	half := slices.Clone(u.atoms)
	for i := range half {
		if half[i].n%2 != 0 {
			return nil, false
		}
		half[i].n /= 2
	}
	return s.intern(half), true
}

// One is the unit of a plain number.
func (s *System) One() *Unit { return s.one }

// Percent is %.
func (s *System) Percent() *Unit { return s.percent }

// Kelvin is K, the unit of the difference of two absolute temperatures.
func (s *System) Kelvin() *Unit { return s.kelvin }

// Difference gives, for an absolute temperature, the unit of differences with
// the same size of degree: degF_diff for degF. Any other unit is its own.
func (s *System) Difference(u *Unit) *Unit {
	if !u.Absolute {
		return u
	}
	return s.intern(u.atoms)
}

// Symbols lists every symbol that may be written, things and money last.
func (s *System) Symbols() []string {
	names := make([]string, 0, len(s.order)+len(scales))
	for _, c := range scales {
		names = append(names, c.symbol)
	}
	for _, x := range s.order {
		names = append(names, x.name)
	}
	return names
}
