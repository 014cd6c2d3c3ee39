package engine

import (
	"math"
	"slices"
	"strings"

	"wintertruss/engine/formula"
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
	Table     *CardTable  `json:"table,omitempty"`
	Example   []string    `json:"example"`
	Ask       string      `json:"ask"`  // the line of the example to look at
	Want      []float64   `json:"want"` // what it holds
}

// CardParam is one argument of a function.
type CardParam struct {
	Name     string         `json:"name"`
	Says     string         `json:"says"`
	Unit     string         `json:"unit,omitempty"`
	Whole    []string       `json:"whole,omitempty"` // axes of which all is read at once
	Optional bool           `json:"optional,omitempty"`
	Measured []CardMeasured `json:"measured,omitempty"`
}

// CardMeasured is the range of an argument that was measured, in the argument's unit.
type CardMeasured struct {
	For  string   `json:"for,omitempty"` // the kind that it holds for; "" for all others
	Low  *float64 `json:"low"`           // null where nothing bounds it
	High *float64 `json:"high"`          // likewise
	Then string   `json:"then"`          // what the function does outside
}

// CardTable is the published table that a function came from.
type CardTable struct {
	Title  string     `json:"title"`
	Heads  []CardHead `json:"heads"`
	Rows   [][]any    `json:"rows"` // a word, where the first column holds words, and numbers; null where the source has none
	Words  bool       `json:"words"`
	Source string     `json:"source"`
}

// CardHead is the head of a column.
type CardHead struct {
	Name string `json:"name"`
	Unit string `json:"unit,omitempty"`
}

// Cards gives the cards of all functions, by name.
func Cards() []Card {
	var out []Card
	for _, f := range library.All() {
		c := Card{Name: f.Name, Signature: f.Signature(), Family: f.Card.Family, Says: f.Card.Says, Gives: f.Card.Gives,
			Valid: f.Card.Valid, Source: f.Card.Source, Table: cardTable(f.Card.Table), Example: f.Card.Example.Lines,
			Ask: f.Card.Example.Ask, Want: f.Card.Example.Want}
		for _, p := range f.Params {
			takes := CardParam{Name: p.Name, Says: p.Says, Unit: p.Unit, Whole: p.Whole, Optional: p.Optional}
			for _, m := range p.Measured {
				takes.Measured = append(takes.Measured, CardMeasured{m.For, edge(m.Low), edge(m.High), m.Outside})
			}
			c.Takes = append(c.Takes, takes)
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Card) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// edge gives an end of a range; nil where nothing bounds it.
func edge(x float64) *float64 {
	if math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func cardTable(t *formula.Table) *CardTable {
	if t == nil {
		return nil
	}
	out := &CardTable{Title: t.Title, Words: t.Of != nil, Source: t.Source}
	for _, h := range t.Heads {
		name, unit, _ := strings.Cut(h, ", ")
		out.Heads = append(out.Heads, CardHead{name, unit})
	}
	for i, numbers := range t.Rows {
		var row []any
		if t.Of != nil {
			row = append(row, t.Of[i])
		}
		for _, x := range numbers {
			row = append(row, number(x))
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
