package unit

import (
	"math/big"
	"strconv"
	"strings"
)

// Unit is a product of powers of symbols, or an absolute temperature. Units
// come from a System and are used through their pointer.
type Unit struct {
	Dim      Dim
	Absolute bool // degC or degF standing alone: a reading, not a difference

	factor *big.Rat // size in base units
	float  float64  // factor, rounded once
	offset *big.Rat // absolute only: base = (value + offset) * factor
	atoms  []atom   // canonical; of an absolute, its degree
	text   string
}

// atom is a symbol and its power, never 0.
type atom struct {
	*symbol
	n int
}

// String is the canonical text, as a person writes it: "USD/gal", "kg/m2", "1".
func (u *Unit) String() string { return u.text }

// Factor is the exact size in base units; of an absolute temperature, the size
// of its degree. The caller may change what it gets.
func (u *Unit) Factor() *big.Rat { return new(big.Rat).Set(u.factor) }

// Float is Factor as the nearest float64.
func (u *Unit) Float() float64 { return u.float }

// IsPlain says whether the unit has no dimension: 1, %, deg, and products
// such as ft2/m2.
func (u *Unit) IsPlain() bool { return u.Dim == Dim{} }

// Beyond says whether the unit came from Mul or Div with a power past the
// bound. Such a unit converts to nothing, not even to itself.
func (u *Unit) Beyond() bool { return u.Dim == beyondDim }

// Gather says how weekly values of the unit gather over time when the line does
// not say: "sum" for a single symbol of mass, volume, energy, money, time or a
// thing, else "mean".
func Gather(u *Unit) string {
	if u.Absolute || len(u.atoms) != 1 {
		return "mean"
	}
	switch u.Dim {
	case Dim{"M1"}, Dim{"L3"}, Dim{"L2 M1 T-2"}, Dim{"T1"}:
		return "sum"
	}
	if _, kind := u.Dim.single(); kind == isMoney || kind == isThing {
		return "sum"
	}
	return "mean"
}

// join multiplies a by b to the power n, in canonical order. Symbols are
// compared by name, so units of two systems may meet.
func join(a, b []atom, n int) []atom {
	product := make([]atom, len(a), len(a)+len(b))
	copy(product, a)
next:
	for _, x := range b {
		for i := range product {
			if product[i].name == x.name {
				product[i].n += x.n * n
				continue next
			}
		}
		product = append(product, atom{x.symbol, x.n * n})
	}
	return canonical(product)
}

// canonical puts positive powers first, keeps the order otherwise, and drops
// powers of 0.
func canonical(atoms []atom) []atom {
	ordered := make([]atom, 0, len(atoms))
	for _, x := range atoms {
		if x.n > 0 {
			ordered = append(ordered, x)
		}
	}
	for _, x := range atoms {
		if x.n < 0 {
			ordered = append(ordered, x)
		}
	}
	return ordered
}

// write gives the text of canonical atoms.
func write(atoms []atom) string {
	switch {
	case len(atoms) == 0:
		return "1"
	case len(atoms) == 1 && atoms[0].n == 1:
		return atoms[0].name
	}
	var b strings.Builder
	if atoms[0].n < 0 {
		b.WriteByte('1')
	}
	for i, x := range atoms {
		n := x.n
		switch {
		case n < 0:
			b.WriteByte('/')
			n = -n
		case i > 0:
			b.WriteByte('*')
		}
		b.WriteString(x.inProduct)
		if n > 1 {
			b.WriteString(strconv.Itoa(n))
		}
	}
	return b.String()
}

// size gives the factor and dimension of atoms; false when a power passes the
// bound.
func size(atoms []atom) (*big.Rat, powers, bool) {
	var of powers
	for _, x := range atoms {
		if x.n > maxPower || x.n < -maxPower {
			return nil, nil, false
		}
		of = of.times(x.of, x.n)
	}
	factor := big.NewRat(1, 1)
	for _, x := range atoms {
		f := x.factor
		n := x.n
		if n < 0 {
			f, n = new(big.Rat).Inv(f), -n
		}
		for range n {
			factor.Mul(factor, f)
		}
	}
	return factor, of, true
}
