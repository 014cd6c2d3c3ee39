package formula

import (
	"fmt"
	"strings"

	"pgregory.net/rapid"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// randomBook is a book over beds, crops and weeks. Every crop refers to a bed, or
// to none, in some books another one each week.
type randomBook struct {
	size      [3]int
	members   [3][]string
	refs      [][]int // by crop, by week or only one
	refAxes   int
	now       int
	draws     int
	lines     []randomLine
	at        map[string]int
	scenarios []string
	chosen    string
	overrides []randomOverride // scenarios' before pins
	units     *unit.System
}

type randomLine struct {
	name, unitText string
	unit           measure
	axes           int // of an input
	in             *randomInput
	text           string
	tree           syntax.Expr
}

type randomOverride struct {
	scenario string // "" for a pin
	line     int
	where    map[int]int // axis -> cell
	in       *randomInput
	unitText string
	unit     measure
	text     string
	tree     syntax.Expr
}

func (ov *randomOverride) holds(at spot) bool {
	for axis, cell := range ov.where {
		if at[axis] != cell {
			return false
		}
	}
	return true
}

type randomInput struct {
	name  string
	axes  int
	cells map[spot]cellValue
	drawn bool
}

func (in *randomInput) cell(at spot, draw int) cellValue {
	for i := range at {
		if in.axes>>i&1 == 0 {
			at[i] = 0
		}
	}
	v := in.cells[at]
	if draw >= 0 && in.drawn && v.k == number {
		v.x += 4*share(in.name, at[0]*100+at[1]*10+at[2], draw) - 2
	}
	return v
}

// extent is the number of cells along an axis, 1 when the set lacks it.
func (b *randomBook) extent(set, axis int) int {
	if set>>axis&1 == 0 {
		return 1
	}
	return b.size[axis]
}

// cellsOf is extent, for a reducer.
func (b *randomBook) cellsOf(set, axis int, _ spot) int { return b.extent(set, axis) }

func (b *randomBook) ref(at spot) cellValue {
	row := b.refs[at[crop]]
	r := row[0]
	if b.refAxes&weekBit != 0 {
		r = row[at[weeks]]
	}
	if r < 0 {
		return cellValue{0, nothing}
	}
	return cellValue{float64(r), number}
}

// measured reads the few texts of measure that the books use.
func (b *randomBook) measured(text string) (cellValue, measure) {
	var x float64
	var u string
	fmt.Sscan(text, &x, &u)
	return num(x), measures[u]
}

func (b *randomBook) String() string {
	var s strings.Builder
	fmt.Fprintf(&s, "sizes %v, references %v, now %d, draws %d, looked at under %q\n", b.size, b.refs, b.now, b.draws, b.chosen)
	for _, l := range b.lines {
		if l.in != nil {
			fmt.Fprintf(&s, "%s over %03b drawn %v: %v %s\n", l.name, l.axes, l.in.drawn, l.in.cells, l.unitText)
		} else {
			fmt.Fprintf(&s, "%s = %s -> %s\n", l.name, l.text, l.unitText)
		}
	}
	for _, ov := range b.overrides {
		fmt.Fprintf(&s, "%q: %s @ %v = %s", ov.scenario, b.lines[ov.line].name, ov.where, ov.text)
		if ov.in != nil {
			fmt.Fprintf(&s, "%v drawn %v %s", ov.in.cells, ov.in.drawn, ov.unitText)
		}
		s.WriteString("\n")
	}
	return s.String()
}

func drawBook(t *rapid.T) *randomBook {
	b := &randomBook{at: map[string]int{}}
	w := &writer{t: t, b: b, o: &oracle{b: b, axes: map[lineUnder]int{}}}
	for i, most := range []int{3, 3, 4} {
		b.size[i] = 1 + w.pick(most)
		for k := range b.size[i] {
			b.members[i] = append(b.members[i], fmt.Sprint(axisNames[i], "_", k+1))
		}
	}
	b.draws, b.now = 1+w.pick(5), w.pick(b.size[weeks])
	b.refAxes = cropBit
	if w.pick(4) == 0 {
		b.refAxes |= weekBit
	}
	for range b.size[crop] {
		var row []int
		for range b.extent(b.refAxes, weeks) {
			row = append(row, w.pick(b.size[bed]+1)-1)
		}
		b.refs = append(b.refs, row)
	}
	for i := range w.pick(3) {
		b.scenarios = append(b.scenarios, fmt.Sprint("s", i))
	}
	for i, dim := range []string{"", "m", "m", "$", "$/m", "t", "dt", "yes"} {
		l := randomLine{name: fmt.Sprint("x", i), axes: w.pick(8), unit: truth}
		if dim == "yes" {
			l.axes |= weekBit
		} else {
			l.unitText = w.oneOf(unitsOf[dim]...)
			l.unit = measures[l.unitText]
		}
		l.in = w.input(l.name, l.axes, dim)
		b.add(l)
	}
	for n := 1 + w.pick(5); n > 0; n-- {
		dim := w.oneOf("", "m", "m", "$", "$/m", "t", "dt", "yes")
		if dim != "yes" && dim != "t" && w.pick(3) == 0 {
			w.loop(dim)
			continue
		}
		w.odds = true
		w.computed(fmt.Sprint("y", len(b.lines)), dim, w.formula(dim, 3))
		w.odds = false
	}
	for _, s := range append(append([]string{}, b.scenarios...), "") {
		for range w.pick(3) {
			w.override(s)
		}
	}
	if k := w.pick(len(b.scenarios) + 1); k > 0 {
		b.chosen = b.scenarios[k-1]
	}
	return b
}

func (b *randomBook) add(l randomLine) {
	b.at[l.name] = len(b.lines)
	b.lines = append(b.lines, l)
}

// source makes the compiler's source of the book.
func (b *randomBook) source() *Source {
	units, err := unit.NewSystem(nil)
	if err != nil {
		panic(err)
	}
	b.units = units
	space := &array.Space{Axes: []array.Axis{{Name: "bed", Members: b.members[bed]}, {Name: "crop", Members: b.members[crop]},
		{Name: "year_ahead", Members: []string{"0"}}, {Name: "month_of_year", Members: make([]string, 12)}, {Name: "month", Members: []string{"m"}}, {Name: "week", Members: b.members[weeks]}}}
	first, _ := week.ParseWeek("2027-W01")
	season, _ := week.NewSeason(first, first+week.Week(b.size[weeks]-1))
	money, _ := units.Parse("USD")
	s := &Source{File: "book.md", Units: units, Money: money, Season: season, Standing: week.NewStanding(season, season.At(b.now).Monday()+2, nil),
		Space: space, YearAhead: 2, MonthOf: 3, Month: 4, Week: 5, Lists: []List{{"bed", 0}, {"crop", 1}},
		Scenarios: b.scenarios, Chosen: b.chosen, Functions: map[string]*Function{}, Quantile: quantile7,
		Literal: func(text string) (float64, *unit.Unit, *syntax.Error) {
			var x float64
			var u string
			fmt.Sscan(text, &x, &u)
			parsed, err := units.Parse(u)
			if err != nil {
				panic(err)
			}
			return x, parsed, nil
		}}
	for i := range b.lines {
		l := &b.lines[i]
		line := Line{Name: l.name, Place: syntax.Place{Line: i + 1, Col: 1, Len: 1}}
		if l.in != nil {
			line.Input = b.sourceInput(l.in, l.unitText)
		} else {
			line.Formula = &syntax.Formula{Text: l.text, Place: line.Place, Tree: l.tree}
			if l.unitText != "" {
				line.Unit, _ = units.Parse(l.unitText)
			}
		}
		s.Lines = append(s.Lines, line)
	}
	refs := &Input{Type: Type{Kind: Words, List: 0, Axes: b.sourceAxes(b.refAxes)}}
	for _, row := range b.refs {
		for _, r := range row {
			if r < 0 {
				refs.Plain = append(refs.Plain, array.Blank)
			} else {
				refs.Plain = append(refs.Plain, float64(r))
			}
		}
	}
	s.Lines = append(s.Lines, Line{Name: "crop.bed", Input: refs, Quiet: true})
	for i := range b.overrides {
		ov := &b.overrides[i]
		o := Override{Layer: ByPin, Line: ov.line, Place: syntax.Place{Line: 200 + i, Col: 1, Len: 1}}
		if ov.scenario != "" {
			o.Layer, o.Scenario = ByScenario, ov.scenario
		}
		for axis, cell := range ov.where {
			o.Where = append(o.Where, Cell{map[int]int{bed: 0, crop: 1, weeks: 5}[axis], cell})
		}
		if ov.in != nil {
			o.Input = b.sourceInput(ov.in, ov.unitText)
		} else {
			o.Formula = &syntax.Formula{Text: ov.text, Place: o.Place, Tree: ov.tree}
		}
		s.Overrides = append(s.Overrides, o)
	}
	return s
}

func (b *randomBook) sourceAxes(set int) array.Axes {
	var axes array.Axes
	for i, at := range []int{0, 1, 5} {
		if set>>i&1 == 1 {
			axes |= array.Only(at)
		}
	}
	return axes
}

func (b *randomBook) sourceInput(in *randomInput, unitText string) *Input {
	out := &Input{Type: Type{Kind: Truths, Axes: b.sourceAxes(in.axes), List: -1}}
	if unitText != "" {
		out.Type.Kind = Quantity
		out.Type.Unit, _ = b.units.Parse(unitText)
	}
	var spots []spot
	for x := range b.extent(in.axes, bed) {
		for y := range b.extent(in.axes, crop) {
			for z := range b.extent(in.axes, weeks) {
				at := spot{x, y, z}
				spots = append(spots, at)
				v := array.Blank
				if c := in.cells[at]; c.k == number {
					v = c.x
				}
				out.Plain = append(out.Plain, v)
			}
		}
	}
	if in.drawn {
		out.Sampler = sampling(func(first, n int, dst []float64) {
			for c, at := range spots {
				for i := range n {
					v := in.cell(at, first+i)
					if v.k != number {
						v.x = array.Blank
					}
					dst[c*n+i] = v.x
				}
			}
		})
	}
	return out
}

type sampling func(first, n int, dst []float64)

func (s sampling) Sample(first, n int, dst []float64) { s(first, n, dst) }
