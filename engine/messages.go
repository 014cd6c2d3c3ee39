package engine

import (
	"fmt"

	"wintertruss/engine/syntax"
)

func tooManyAxes(name string, place syntax.Place) *syntax.Error {
	return &syntax.Error{Place: place, Code: "too-many-axes", Name: name,
		Message: "this is one list or kind of records too many", Hint: "a book holds 60 of them"}
}

func badRange(name string, place syntax.Place, err error) *syntax.Error {
	return &syntax.Error{Place: place, Code: "bad-range", Name: name, Message: "this range cannot be drawn: " + err.Error(),
		Hint: "the middle lies strictly between the ends: 80 % (68..88)"}
}

func badLinks(place syntax.Place, err error) *syntax.Error {
	return &syntax.Error{Place: place, Code: "bad-links", Message: "these links cannot all hold: " + err.Error()}
}

func notOneMeasure(text string) *syntax.Error {
	return &syntax.Error{Code: "measure", Message: fmt.Sprintf("%q is not one number, date or week", text), Hint: `measure("15 degC"), measure("2027-03-10")`}
}

// OptionError is a fault in an option of a verb.
type OptionError struct{ Message, Hint string }

func (e *OptionError) Error() string {
	if e.Hint == "" {
		return e.Message
	}
	return e.Message + "\nhint: " + e.Hint
}
