package syntax

import (
	"strconv"
	"strings"

	"github.com/shopspring/decimal"
)

// gathers are the words after a computed line's unit.
var gathers = map[string]bool{"sum": true, "mean": true, "level": true}

// readLine reads a row of a lines block. A line whose name can be read is kept
// even when the rest cannot; it then has neither Values nor Formula.
func (r *rowReader) readLine(c, comment cut) any {
	i, sign := c.find(":", "=")
	if i < 0 {
		r.wrongShape(c)
		return nil
	}
	left, right := c.part(0, i).trim(), c.after(i+1).trim()
	name, over := left.firstWord()
	if name.empty() || strings.HasPrefix(right.String(), "=") {
		r.wrongShape(c)
		return nil
	}
	if e := checkName(name); e != nil {
		r.fail(e, shown(name.String()))
		return nil
	}
	line := &Line{Name: name.word()}
	line.Label, line.Source = labelAndSource(comment.String())
	if sign == "=" {
		if !over.empty() {
			r.fail(overComputed.at(over.place(), over.String()), line.Name.Text)
			return line
		}
		r.readComputed(right, line)
		return line
	}
	var e *Error
	if line.Over, e = readAxes(over); e != nil {
		r.fail(e, line.Name.Text)
		return line
	}
	v, e := readValues(right)
	if e == nil && v.Each != nil && len(line.Over) == 0 {
		e = listWithoutAxis.at(right.place(), strconv.Itoa(len(v.Each)), line.Name.Text)
	}
	if e != nil {
		r.fail(e, line.Name.Text)
		return line
	}
	line.Values = v
	return line
}

// readComputed reads: formula ["->" unit] ["sum" | "mean" | "level"].
func (r *rowReader) readComputed(c cut, line *Line) {
	formula := c
	if i, _ := c.find("->"); i >= 0 {
		formula = c.part(0, i).trim()
		result := c.after(i + 2).trim()
		unit, gather := result.firstWord()
		g := gather.String()
		if unit.empty() || gathers[unit.String()] || g != "" && !gathers[g] {
			shown := result
			if result.empty() {
				shown = c.part(i, i+2)
			}
			r.fail(badResult.at(shown.place(), shown.String()), line.Name.Text)
			return
		}
		if e := checkUnit(unit); e != nil {
			r.fail(e, line.Name.Text)
			return
		}
		line.Unit, line.Gather = unit.word(), g
	} else if rest, word := c.lastWord(); gathers[word.String()] && !rest.empty() {
		formula, line.Gather = rest, word.String()
	}
	line.Formula = r.readFormula(formula, line.Name.Text)
}

// readFormula reads a formula and files its error under name.
func (r *rowReader) readFormula(c cut, name string) *Formula {
	f, e := readFormula(c)
	if e != nil {
		r.fail(e, name)
		return nil
	}
	return f
}

func readFormula(c cut) (*Formula, *Error) {
	c = c.trim()
	f := &Formula{Text: c.String(), Place: c.place()}
	var e *Error
	if f.Tree, e = ParseFormula(f.Text, f.Place, nil); e != nil {
		return nil, e
	}
	return f, nil
}

// readAxes reads: "over" ["each"] axis ["keeps" number "%"] { "," ... }.
func readAxes(c cut) ([]Axis, *Error) {
	if c.empty() {
		return nil, nil
	}
	over, rest := c.firstWord()
	if over.String() != "over" {
		return nil, badAxis.at(c.place(), c.String())
	}
	var out []Axis
	for _, item := range rest.split(',') {
		a, e := readAxis(item)
		if e != nil {
			return nil, e
		}
		out = append(out, a)
	}
	return out, nil
}

func readAxis(item cut) (Axis, *Error) {
	var a Axis
	wrong := func() (Axis, *Error) { return a, badAxis.at(item.place(), item.String()) }
	word, rest := item.firstWord()
	if word.String() == "over" { // it may be said again for each
		word, rest = rest.firstWord()
	}
	if word.String() == "each" {
		a.Each = true
		word, rest = rest.firstWord()
	}
	if word.empty() {
		return wrong()
	}
	if e := checkName(word); e != nil {
		return a, e
	}
	a.Name = word.word()
	if rest.empty() {
		return a, nil
	}
	keeps, share := rest.firstWord()
	if keeps.String() != "keeps" || !a.Each || share.empty() {
		return wrong()
	}
	percent, e := readPercent(share)
	if e != nil {
		return wrong()
	}
	if percent < 0 || percent > 100 {
		return a, keepsShare.at(share.place(), share.String())
	}
	a.Keeps = percent / 100
	return a, nil
}

// readPercent reads "60 %" as 60.
func readPercent(c cut) (float64, *Error) {
	var d decimal.Decimal
	rest, e := readDecimal(c, &d)
	if e != nil {
		return 0, e
	}
	if rest.trim().String() != "%" {
		return 0, badValue.at(c.place(), c.String())
	}
	return d.InexactFloat64(), nil
}
