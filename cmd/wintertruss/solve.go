package main

import (
	"fmt"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/formula"
)

// solve says what an input must be for a line to come to a value.
func (c *command) solve(words []string) int {
	if len(words) > 1 || c.make == "" || c.by == "" {
		return c.wrong(&engine.OptionError{Message: "solve takes a book, what is to be so and by which input", Hint: `wintertruss solve BOOK --make "margin_over_cold = 0 USD" --by fuel_price`})
	}
	d, err := c.open(strings.Join(words, ""))
	if err != nil {
		return c.wrong(err)
	}
	s, err := d.Solve(c.make, c.by)
	if err != nil {
		return c.wrong(err)
	}
	if c.json {
		return c.printJSON(solutionJSON(s), exitDone)
	}
	for _, line := range s.Says() {
		fmt.Fprintln(c.out, line)
	}
	return exitDone
}

// solutionJSON is a solution for programs: dates as ISO 8601 writes them.
func solutionJSON(s *engine.Solution) map[string]any {
	number := func(x float64) any {
		switch {
		case !engine.Known(x):
			return nil
		case s.ByKind == formula.Dates:
			return s.TextOf(x)
		}
		return x
	}
	at := []map[string]any{}
	for _, a := range s.At {
		one := map[string]any{"value": number(a.X), "gives": a.Y, "outside": a.Outside}
		if a.Jump {
			one["jumps_to"] = a.YAfter
		}
		at = append(at, one)
	}
	out := map[string]any{"make": s.Make, "unit": s.Unit, "target": s.Target, "by": s.By, "by_unit": s.ByUnit, "stands": number(s.Stands),
		"from": number(s.From), "to": number(s.To), "at": at, "unknown": s.Unknown, "flat": s.Flat}
	if engine.Known(s.Now) {
		out["now"] = s.Now
	}
	if len(at) == 0 && engine.Known(s.Nearest.Y) && s.Tried > s.Unknown {
		out["nearest"] = map[string]any{"value": number(s.Nearest.X), "gives": s.Nearest.Y}
	}
	return out
}
