package engine

import (
	"slices"
	"strings"

	"wintertruss/engine/library"
)

// Card is a function of the language as screens show it.
type Card struct {
	Name      string      `json:"name"`
	Signature string      `json:"signature"`
	Family    string      `json:"family"`
	Says      string      `json:"says"`
	Takes     []CardParam `json:"takes"`
	Gives     string      `json:"gives"`
	Valid     string      `json:"valid"`
	Source    string      `json:"source"`
	Example   []string    `json:"example"`
}

// CardParam is one argument of a function.
type CardParam struct {
	Name     string `json:"name"`
	Says     string `json:"says"`
	Unit     string `json:"unit,omitempty"`
	Optional bool   `json:"optional,omitempty"`
}

// Cards gives the cards of all functions, by name.
func Cards() []Card {
	var out []Card
	for _, f := range library.All() {
		c := Card{Name: f.Name, Signature: f.Signature(), Family: f.Card.Family, Says: f.Card.Says, Gives: f.Card.Gives,
			Valid: f.Card.Valid, Source: f.Card.Source, Example: f.Card.Example.Lines}
		for _, p := range f.Params {
			c.Takes = append(c.Takes, CardParam{p.Name, p.Says, p.Unit, p.Optional})
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Card) int { return strings.Compare(a.Name, b.Name) })
	return out
}
