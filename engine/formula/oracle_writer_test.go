package formula

import (
	"fmt"

	"pgregory.net/rapid"

	"wintertruss/engine/syntax"
)

// writer writes random formulas.
type writer struct {
	t    *rapid.T
	b    *randomBook
	o    *oracle
	odds bool // odds may stand here
}

func (w *writer) pick(n int) int { return rapid.IntRange(0, n-1).Draw(w.t, "n") }

func (w *writer) oneOf(s ...string) string { return s[w.pick(len(s))] }

// unitsOf gives the units of a dimension.
var unitsOf = map[string][]string{"": {"1", "%"}, "m": {"kg", "lb", "oz", "g"}, "$": {"USD"}, "$/m": {"USD/kg", "USD/lb"}, "t": {"degC", "degF"}, "dt": {"K", "degF_diff"}}

// leaf gives a name of that dimension, or a number.
func (w *writer) leaf(dim string) string {
	var names []string
	for i := range w.b.lines {
		if l := &w.b.lines[i]; !l.unit.truth && l.unit.dim == dim && dim != "yes" || l.unit.truth && dim == "yes" {
			names = append(names, l.name, l.name)
		}
	}
	switch dim {
	case "":
		names = append(names, "0", "1", "2.5", "-3")
	case "t":
		names = append(names, `measure("20 degC")`)
	case "yes":
		names = append(names, "("+w.leaf("m")+w.oneOf("<", "<=", ">", ">=", "==", "!=")+w.leaf("m")+")")
	default:
		names = append(names, `measure("3 `+w.oneOf(unitsOf[dim]...)+`")`)
	}
	return w.oneOf(names...)
}

// axesOf gives the axes of a formula's text.
func (w *writer) axesOf(text string) int {
	e, err := syntax.ParseFormula(text, syntax.Place{Line: 1, Col: 1}, nil)
	if err != nil {
		w.t.Fatalf("%s: %v", text, err)
	}
	return w.o.span(e, under{})
}

// formula gives the text of a formula of a dimension ("yes" for a condition).
func (w *writer) formula(dim string, depth int) string {
	if depth == 0 || w.pick(6) == 0 {
		return w.leaf(dim)
	}
	f := func(d string) string { return w.formula(d, depth-1) }
	switch n := w.pick(12); {
	case n < 3:
		return w.around(dim, f(dim))
	case n < 5:
		return w.choice(dim, depth)
	}
	switch dim {
	case "yes":
		if d := w.oneOf("", "m", "$", "t", "dt"); w.pick(3) > 0 {
			right := f(d)
			if d != "t" && w.pick(3) == 0 {
				right = "0"
			}
			return "(" + f(d) + w.oneOf("<", "<=", ">", ">=", "==", "!=") + right + ")"
		}
		return w.oneOf("("+f("yes")+w.oneOf(" and ", " or ", " == ", " != ")+f("yes")+")", "(not "+f("yes")+")", "is_known("+f(w.oneOf("m", "yes"))+")", `is(crop.bed, "`+w.oneOf(w.b.members[bed]...)+`")`)
	case "t":
		return w.oneOf("("+f("t")+" + "+f2(w, "dt", depth)+")", "("+f2(w, "dt", depth)+" + "+f("t")+")", "("+f("t")+" - "+f2(w, "dt", depth)+")")
	}
	sum := w.oneOf("("+f(dim)+w.oneOf(" + ", " - ")+f(dim)+")", "("+f(dim)+" + 0)", "(0 - "+f(dim)+")")
	product := map[string][]string{
		"":    {"(" + f("") + " * " + f("") + ")", "(" + f("") + " / " + f("") + ")", "(" + f("m") + " / " + f("m") + ")", "(" + f("$") + " / " + f("$") + ")", w.power(depth)},
		"m":   {"(" + f("") + " * " + f("m") + ")", "(" + f("m") + " / " + f("") + ")", "(" + f("$") + " / " + f("$/m") + ")"},
		"$":   {"(" + f("m") + " * " + f("$/m") + ")", "(" + f("$") + " * " + f("") + ")"},
		"$/m": {"(" + f("$") + " / " + f("m") + ")", "(" + f("") + " * " + f("$/m") + ")"},
		"dt":  {"(" + f("t") + " - " + f("t") + ")", "(" + f("dt") + " * " + f("") + ")", "(" + f("dt") + " / " + f("") + ")"},
	}[dim]
	if w.pick(3) == 0 {
		return sum
	}
	return w.oneOf(product...)
}

// f2 is a difference that is no literal 0, which a temperature does not take.
func f2(w *writer, dim string, depth int) string {
	return "(" + w.formula(dim, depth-1) + ` + measure("1 K"))`
}

func (w *writer) power(depth int) string {
	x := w.formula("", depth-1)
	return w.oneOf("("+x+") ^ 2", "("+x+") ^ 3", "("+x+") ^ -1", "("+x+") ^ 0.5", "("+x+") ^ 1", "2 ^ ("+x+")", "root("+x+")", "exponential("+x+")", "logarithm("+x+")")
}

// choice gives one of several values of a dimension.
func (w *writer) choice(dim string, depth int) string {
	a, b := w.formula(dim, depth-1), w.formula(dim, depth-1)
	if dim == "t" || dim == "yes" || w.pick(2) == 0 {
		if dim == "t" && w.pick(2) == 0 {
			return "blend(" + a + ", " + b + ", " + w.formula("", depth-1) + ")"
		}
		return "(" + w.formula("yes", depth-1) + " ? " + a + " : " + b + ")"
	}
	c := w.formula(dim, depth-1)
	if w.pick(4) == 0 {
		a = "0"
	}
	return w.oneOf("("+w.formula("yes", depth-1)+" ? "+a+" : "+b+")", "smaller_of("+a+", "+b+")", "larger_of("+a+", "+b+", "+c+")", "clamp("+a+", "+b+", "+c+")", "clamp("+a+", 0, "+w.leaf(dim)+")",
		w.oneOf("rounded", "rounded_up", "rounded_down")+"("+a+", absolute("+b+"))", "blend("+a+", "+b+", "+w.formula("", 0)+")", "absolute("+c+")", "(-"+b+")")
}

// around puts something that looks along axes around a formula.
func (w *writer) around(dim, x string) string {
	axes := w.axesOf(x)
	var forms []string
	var over []string
	for i, name := range axisNames {
		if axes>>i&1 == 1 {
			over = append(over, name)
		}
	}
	if len(over) > 0 && dim != "yes" {
		args := x
		for _, name := range over[w.pick(len(over)):] {
			args += ", " + name
		}
		if w.pick(2) == 0 {
			args = x
		}
		forms = append(forms, "mean_over("+args+")", "largest("+args+")", "smallest("+args+")")
		switch dim {
		case "":
			forms = append(forms, "total("+args+")", "share_of("+args+")", "how_many("+args+")")
		case "t":
		default:
			forms = append(forms, "total("+args+")")
		}
	}
	if axes&weekBit != 0 {
		start := w.leaf(dim)
		if dim != "t" && dim != "yes" && w.pick(3) == 0 {
			start = "0"
		}
		forms = append(forms, "earlier("+x+", "+start+")", fmt.Sprintf("weeks_before(%s, %d, %s)", x, 1+w.pick(3), start), fmt.Sprintf("weeks_before(%s, %d)", x, w.pick(3)),
			fmt.Sprintf(`at(%s, "2027-W0%d")`, x, 1+w.pick(w.b.size[weeks])), "this_week("+x+")")
	}
	if axes&bedBit != 0 {
		forms = append(forms, "via(crop.bed, "+x+")", `only(`+x+`, "`+w.oneOf(w.b.members[bed]...)+`")`)
	}
	if axes&cropBit != 0 {
		forms = append(forms, `only(`+x+`, "`+w.oneOf(w.b.members[crop]...)+`")`)
		if axes&bedBit == 0 && dim != "t" && dim != "yes" {
			forms = append(forms, "grouped("+x+", crop.bed)")
		}
	}
	if len(w.b.scenarios) > 0 {
		forms = append(forms, `under("`+w.oneOf(w.b.scenarios...)+`", `+x+")")
	}
	if w.odds && w.pick(3) == 0 && dim != "yes" {
		forms = append(forms, "low_edge("+x+")", "high_edge("+x+")")
		if dim == "" {
			forms = append(forms, "odds("+w.formula("yes", 1)+")")
		}
	}
	if len(forms) == 0 {
		return x
	}
	return w.oneOf(forms...)
}

// input draws the cells of an input.
func (w *writer) input(name string, axes int, dim string) *randomInput {
	in := &randomInput{name: name, axes: axes, cells: map[spot]cellValue{}}
	in.drawn = dim != "yes" && w.pick(3) == 0
	for x := range w.b.extent(axes, bed) {
		for y := range w.b.extent(axes, crop) {
			for z := range w.b.extent(axes, weeks) {
				v := cellValue{[]float64{0, 1, -1, 2, 0.1, 3.7, -2.25, 1000, 7, 12.5}[w.pick(10)], number}
				if dim == "yes" {
					v.x = float64(w.pick(2))
				}
				if w.pick(8) == 0 {
					v = cellValue{0, nothing}
				}
				in.cells[spot{x, y, z}] = v
			}
		}
	}
	return in
}

// computed adds a line; its formula may name lines that come with add only later.
func (w *writer) computed(name, dim, text string) {
	l := randomLine{name: name, text: text, unit: truth}
	if dim != "yes" {
		l.unitText = w.oneOf(unitsOf[dim]...)
		l.unit = measures[l.unitText]
	}
	w.b.add(l)
	w.parse(len(w.b.lines) - 1)
	w.o.reach()
}

func (w *writer) parse(i int) {
	l := &w.b.lines[i]
	if l.tree != nil {
		return
	}
	e, err := syntax.ParseFormula(l.text, syntax.Place{Line: i + 1, Col: 1}, nil)
	if err != nil {
		w.t.Fatalf("%s: %v", l.text, err)
	}
	l.tree = e
}

// loop adds a line that leans on its own earlier weeks, or two that do on each
// other's, also over more axes than one of them has.
func (w *writer) loop(dim string) {
	n := len(w.b.lines)
	a, c := fmt.Sprint("y", n), fmt.Sprint("y", n+1)
	start, share := w.leaf(dim), w.oneOf("0.5", "1", "-1", w.formula("", 1))
	before := "earlier(" + a + ", " + start + ")"
	switch w.pick(4) {
	case 0:
		w.computed(a, dim, "("+before+" * "+share+" + "+w.formula(dim, 2)+")")
	case 1:
		w.computed(a, dim, "("+w.formula("yes", 1)+" ? "+before+" : smaller_of("+before+" + "+w.formula(dim, 1)+", "+w.formula(dim, 1)+"))")
	default:
		// a may have more axes than c, which puts it together again.
		x := w.formula(dim, 1)
		again := "earlier(" + a + ", 0)"
		axes := w.axesOf(x) | weekBit
		switch {
		case axes&cropBit != 0 && axes&bedBit == 0 && w.pick(2) == 0:
			again = "grouped(" + again + ", crop.bed)"
		case axes&cropBit != 0:
			again = "total(" + again + ", crop)"
		case axes&bedBit != 0:
			again = "via(crop.bed, " + again + ")"
		}
		// Their names refer to each other: both stand before either is read.
		unitA, unitC := w.oneOf(unitsOf[dim]...), w.oneOf(unitsOf[dim]...)
		w.b.add(randomLine{name: a, unitText: unitA, unit: measures[unitA], text: "(" + x + " + " + w.oneOf("", "earlier("+c+", "+w.leaf(dim)+") * 0.5 - ") + w.weekly(dim) + ")"})
		w.b.add(randomLine{name: c, unitText: unitC, unit: measures[unitC], text: "(" + again + " * 0.25 + " + w.oneOf(w.leaf(dim), a) + ")"})
		w.parse(n)
		w.parse(n + 1)
		w.o.reach()
	}
}

// weekly gives something of that dimension that is surely over weeks.
func (w *writer) weekly(dim string) string {
	x := w.leaf(dim)
	return "(x7 ? " + x + " : " + x + ")"
}

// override adds a row of a scenario, or a pin.
func (w *writer) override(scenario string) {
	b := w.b
	ov := randomOverride{scenario: scenario, line: w.pick(len(b.lines)), where: map[int]int{}}
	l := &b.lines[ov.line]
	dim := l.unit.dim
	if l.unit.truth {
		dim = "yes"
	}
	axes := l.axes
	if l.tree != nil {
		axes = w.o.lineAxes(lineUnder{ov.line, ""})
	}
	for i := range axisNames {
		if axes>>i&1 == 1 && w.pick(3) == 0 {
			ov.where[i] = w.pick(b.size[i])
		}
	}
	if scenario != "" && w.pick(2) == 0 {
		// Only inputs are read, so that no new circles come up.
		all := b.lines
		b.lines = all[:min(8, ov.line)]
		if dim == "t" {
			ov.text = w.oneOf("base", "blend(base, "+w.leaf(dim)+", 0.25)", "("+w.leaf(dim)+` + measure("2 K"))`)
		} else if dim == "yes" {
			ov.text = w.oneOf("(not base)", w.leaf("yes"))
		} else {
			ov.text = w.oneOf("base * 2", "(base + "+w.leaf(dim)+")", w.leaf(dim), "smaller_of("+w.leaf(dim)+", base)")
		}
		b.lines = all
		e, err := syntax.ParseFormula(ov.text, syntax.Place{Line: 100, Col: 1}, nil)
		if err != nil {
			w.t.Fatalf("%s: %v", ov.text, err)
		}
		if w.o.span(e, under{baseAxes: axes})&^axes != 0 {
			return
		}
		ov.tree = e
	} else {
		ov.unit = truth
		if dim != "yes" {
			ov.unitText = w.oneOf(unitsOf[dim]...)
			ov.unit = measures[ov.unitText]
		}
		ov.in = w.input(fmt.Sprint("o", len(b.overrides)), axes&w.pick(8), dim)
		if scenario == "" {
			ov.in.drawn = false
		}
	}
	b.overrides = append(b.overrides, ov)
}
