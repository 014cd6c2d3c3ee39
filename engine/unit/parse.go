package unit

import (
	"strconv"
	"strings"
)

// maxText bounds the text of a unit, in bytes.
const maxText = 200

// Parse reads a unit:
//
//	unit = ( symbol [ power ] | "1" ) { ("*" | "/") symbol [ power ] }
//
// A power is 1 to 12, written straight after its symbol (m2); each "/" applies
// to the symbol after it and to no other. Spaces around symbols are allowed.
// degC and degF alone are absolute temperatures. A word that is not known gives
// *UnknownError, any other mistake *FormError.
func (s *System) Parse(text string) (*Unit, error) {
	if u := s.scales[strings.TrimSpace(text)]; u != nil {
		return u, nil
	}
	atoms, err := s.product(text)
	if err != nil {
		return nil, err
	}
	u := s.intern(atoms)
	if u.Beyond() {
		return nil, formError(text, "has a power beyond 12", "")
	}
	return u, nil
}

// product reads the text into canonical atoms.
func (s *System) product(text string) ([]atom, error) {
	switch {
	case len(text) > maxText:
		return nil, formError(text, "is too long for a unit", "")
	case strings.TrimSpace(text) == "":
		return nil, formError(text, "is empty where a unit should stand", "a plain number has the unit 1")
	}
	var atoms []atom
	sign, rest := 1, text
	for first := true; ; first = false {
		end := strings.IndexAny(rest, "*/")
		word := rest
		if end >= 0 {
			word = rest[:end]
		}
		word = strings.TrimSpace(word)
		if !first || word != "1" {
			x, err := s.atom(text, word)
			if err != nil {
				return nil, err
			}
			atoms = join(atoms, []atom{x}, sign)
		}
		if end < 0 {
			return atoms, nil
		}
		sign = 1
		if rest[end] == '/' {
			sign = -1
		}
		rest = rest[end+1:]
	}
}

// atom reads one word of the text: a symbol and its power.
func (s *System) atom(text, word string) (atom, error) {
	name := strings.TrimRight(word, "0123456789")
	digits := word[len(name):]
	if name == "" {
		return atom{}, misplaced(text, word)
	}
	x := s.symbols[name]
	if c := s.scales[name]; c != nil { // beside others a scale is its degree
		x = c.atoms[0].symbol
	}
	if x == nil {
		return atom{}, s.unknown(text, word, name)
	}
	n := 1
	if digits != "" {
		var err error
		if n, err = strconv.Atoi(digits); err != nil || n < 1 || n > maxPower || digits[0] == '0' {
			return atom{}, formError(text, "has the power "+clip(digits), "powers are 1 to 12")
		}
	}
	return atom{x, n}, nil
}
