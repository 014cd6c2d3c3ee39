package unit

import (
	"fmt"
	"strings"
)

// All messages of the package stand here. They are shown to the person who
// wrote the book, beside the place of the mistake.

// UnknownError is a word that no unit has.
type UnknownError struct {
	Symbol  string // the word as written
	Nearest string // a unit that was probably meant; "" when none is near
}

func (e *UnknownError) Error() string {
	if e.Nearest == "" {
		return fmt.Sprintf("there is no unit %s; a thing that is counted is named under things in the settings", quote(e.Symbol))
	}
	return fmt.Sprintf("there is no unit %s; did you mean %s?", quote(e.Symbol), e.Nearest)
}

// FormError is a text that does not have the form of a unit.
type FormError struct {
	Text    string // the whole text
	Problem string // what is wrong, to be read after the text
	Hint    string // how to write it; "" when there is nothing to say
}

func (e *FormError) Error() string {
	if e.Hint == "" {
		return fmt.Sprintf("%s %s", quote(e.Text), e.Problem)
	}
	return fmt.Sprintf("%s %s: %s", quote(e.Text), e.Problem, e.Hint)
}

func formError(text, problem, hint string) error {
	return &FormError{Text: text, Problem: problem, Hint: hint}
}

// misplaced is the error of a word without a symbol: nothing, or digits.
func misplaced(text, word string) error {
	switch word {
	case "":
		return formError(text, "is not a whole unit", "a symbol is missing beside * or /")
	case "1":
		return formError(text, "has a 1 inside", "1 stands alone or first, as in 1/h")
	}
	return formError(text, "has the number "+clip(word)+" in it", "a unit has no numbers but powers, as in m2")
}

// unknown is the error of a word whose symbol is not known.
func (s *System) unknown(text, word, name string) error {
	switch {
	case strings.Contains(word, "^"):
		return formError(text, "has a ^", "the power stands straight after the symbol, as in m2")
	case strings.ContainsAny(word, "×·⋅"):
		return formError(text, "has "+clip(word)+" in it", "write * between symbols")
	case strings.ContainsAny(word, "()[]{}"):
		return formError(text, "has brackets", "each / applies to the symbol after it: BTU/h/ft2")
	}
	near := s.nearest(name)
	if near != "" && !strings.HasSuffix(near, "2") && !strings.HasSuffix(near, "3") {
		near += word[len(name):] // the power, unless the near unit brings its own
	}
	if near == "" {
		if fields := strings.Fields(word); len(fields) > 1 {
			if len(fields) == 3 && fields[1] == "per" {
				return formError(text, "says per", "write / for it, as in lb/ft2")
			}
			return formError(text, "has a space inside", "write * or / between symbols")
		}
	}
	return &UnknownError{Symbol: clip(word), Nearest: near}
}

// MismatchError is a conversion between units that measure different things.
type MismatchError struct{ From, To *Unit }

func (e *MismatchError) Error() string {
	from, to := e.From, e.To
	for _, u := range []*Unit{from, to} {
		if u.Beyond() {
			return "this multiplies units up to a power beyond 12; nothing measures that"
		}
	}
	if from.Dim == to.Dim { // one absolute, one not
		if to.Absolute {
			from, to = to, from
		}
		return fmt.Sprintf("%s is a temperature and %s a difference of temperatures: one cannot stand for the other", from, to)
	}
	a, kindA := from.Dim.single()
	b, kindB := to.Dim.single()
	switch {
	case kindA == isMoney && kindB == isMoney:
		return fmt.Sprintf("%s and %s are different money: an exchange rate in %s/%s is an input of its own", a, b, b, a)
	case kindA == isThing && kindB == isThing:
		return fmt.Sprintf("%s and %s are different things: how many %s there are to a %s is an input of its own, in %s/%s", a, b, b, a, b, a)
	}
	if x, y := describe(from), describe(to); x != "" && y != "" {
		return fmt.Sprintf("%s is %s and %s is %s: one cannot become the other", from, x, to, y)
	}
	return fmt.Sprintf("%s cannot become %s: they measure different things", from, to)
}

// describe says in words what a unit measures; "" when there is no word.
func describe(u *Unit) string {
	if u.Absolute {
		return "a temperature"
	}
	return u.Dim.words()
}

func errPower(text string, n int) error {
	return fmt.Errorf("%s to the power %d goes beyond the power 12; nothing measures that", text, n)
}

func errThingName(thing string) error {
	return fmt.Errorf("%s cannot name a thing: use lower-case letters, and _ between words, as in seed_tray", quote(thing))
}

func errThingTaken(thing string) error {
	return fmt.Errorf("%s cannot name a thing: it is a unit already", quote(thing))
}

// clip cuts a text that is too long for a message.
func clip(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

func quote(s string) string { return fmt.Sprintf("%q", clip(s)) }
