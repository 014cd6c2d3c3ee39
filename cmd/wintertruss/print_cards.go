package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
)

// cards prints the functions of the language, or those named.
func (c *command) cards(words []string) int {
	all := engine.Cards()
	var chosen []engine.Card
	for _, name := range words {
		i := slices.IndexFunc(all, func(k engine.Card) bool { return k.Name == name })
		if i < 0 {
			var known []string
			for _, k := range all {
				known = append(known, k.Name)
			}
			return c.wrong(&engine.OptionError{Message: "there is no function " + name, Hint: syntax.DidYouMean(name, known)})
		}
		chosen = append(chosen, all[i])
	}
	switch {
	case c.json && len(chosen) == 1:
		return c.printJSON(chosen[0], exitDone)
	case c.json && len(chosen) > 1:
		return c.printJSON(chosen, exitDone)
	case c.json:
		return c.printJSON(all, exitDone)
	case len(chosen) == 0:
		c.printCards(all)
	}
	for i := range chosen {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		c.printCard(&chosen[i])
	}
	return exitDone
}

// printCards lists functions by family.
func (c *command) printCards(all []engine.Card) {
	slices.SortStableFunc(all, func(a, b engine.Card) int { return strings.Compare(a.Family, b.Family) })
	for i, k := range all {
		if i == 0 || k.Family != all[i-1].Family {
			if i > 0 {
				fmt.Fprintln(c.out)
			}
			fmt.Fprintln(c.out, k.Family)
		}
		fmt.Fprintln(c.out, wrap(fmt.Sprintf("  %-20s %s", k.Name, k.Says), 100, strings.Repeat(" ", 23)))
	}
}

// printCard prints one card.
func (c *command) printCard(k *engine.Card) {
	row := func(head, text string) {
		fmt.Fprintln(c.out, wrap(fmt.Sprintf("  %-8s %s", head, text), 90, strings.Repeat(" ", 11)))
	}
	fmt.Fprintln(c.out, k.Signature)
	row("", k.Says)
	for _, p := range k.Takes {
		text := p.Name + ": " + p.Says
		if p.Unit != "" && p.Unit != "1" {
			text += ", in " + p.Unit
		}
		if len(p.Whole) > 0 {
			text += " (all of " + strings.Join(p.Whole, ", ") + " at once)"
		}
		if p.Optional {
			text += "; may be left out"
		}
		row("takes", text)
		for _, m := range p.Measured {
			text := p.Name + ", " + engine.MeasuredText(m.Low, m.High, p.Unit)
			if m.For != "" {
				text = m.For + ": " + text
			}
			if m.Then != "" {
				text += "; outside: " + m.Then
			}
			row("measured", text)
		}
	}
	row("gives", k.Gives)
	row("valid", k.Valid)
	row("source", k.Source)
	if k.Table != nil {
		c.printTable(k.Table)
	}
	for i, l := range k.Example {
		head := ""
		if i == 0 {
			head = "example"
		}
		row(head, l)
	}
	if len(k.Want) > 0 {
		row("gives", k.Ask+": "+strings.Trim(fmt.Sprint(k.Want), "[]"))
	}
}

// barWidth is how long the longest bar of a table is.
const barWidth = 24

// printTable prints a published table, its second column drawn beside it.
func (c *command) printTable(t *engine.CardTable) {
	columns := make([][]string, len(t.Heads))
	width := make([]int, len(t.Heads))
	for j, h := range t.Heads {
		columns[j] = append([]string{strings.TrimSpace(h.Name + " " + h.Unit)}, tableColumn(t, j)...)
		for _, text := range columns[j] {
			width[j] = max(width[j], len([]rune(text)))
		}
	}
	drawn := func(i int) float64 {
		x, _ := t.Rows[i][1].(float64)
		return math.Abs(x)
	}
	most := 0.0
	for i := range t.Rows {
		most = max(most, drawn(i))
	}
	fmt.Fprintln(c.out, wrap("  table    "+t.Title+" ["+t.Source+"]", 90, strings.Repeat(" ", 11)))
	for i := range len(t.Rows) + 1 {
		line := strings.Repeat(" ", 10)
		for j := range columns {
			if j == 0 && t.Words {
				line += fmt.Sprintf(" %-*s ", width[j], columns[j][i])
			} else {
				line += fmt.Sprintf(" %*s ", width[j], columns[j][i])
			}
		}
		if i > 0 && most > 0 {
			line += " " + strings.Repeat("▪", int(math.Round(barWidth*drawn(i-1)/most)))
		}
		fmt.Fprintln(c.out, strings.TrimRight(line, " "))
	}
}

// tableColumn writes the cells of a column, numbers with as many places as the one
// that has most.
func tableColumn(t *engine.CardTable, j int) []string {
	places := 0
	for _, row := range t.Rows {
		if x, ok := row[j].(float64); ok {
			_, rest, _ := strings.Cut(strconv.FormatFloat(x, 'f', -1, 64), ".")
			places = max(places, len(rest))
		}
	}
	var out []string
	for _, row := range t.Rows {
		switch x := row[j].(type) {
		case float64:
			out = append(out, strconv.FormatFloat(x, 'f', places, 64))
		case string:
			out = append(out, x)
		default:
			out = append(out, "-")
		}
	}
	return out
}
