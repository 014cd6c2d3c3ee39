package engine

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/library"
	"wintertruss/engine/risk"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// sourceMaker turns a book into what the compiler reads: axes by number, inputs
// as cells, words as numbers, conditions as lines of their own.
type sourceMaker struct {
	b      *book.Book
	seed   uint64
	src    *formula.Source
	listAt map[string]int // list -> axis
	words  map[string]int
	links  map[string]*linked // line -> the line it follows
	errors []*syntax.Error
}

// condition is one condition of the book, as the numbers of its lines in the source.
type condition struct {
	book  book.Condition
	left  int // its left side
	whole int // the condition itself; left when it has no comparison
}

// made is a source and where the book's conditions stand in it.
type made struct {
	maker    *sourceMaker
	src      *formula.Source
	cautions []condition
	answers  [][]condition
	byName   map[string]int
	errors   []*syntax.Error
}

// makeSource assembles the source of a book; sets are overrides of options.
func makeSource(b *book.Book, seed uint64, scenario string, sets []book.Override) *made {
	m := &sourceMaker{b: b, seed: seed, listAt: map[string]int{}, words: map[string]int{}}
	set := b.Settings
	money := b.Units.One()
	if u, err := b.Units.Parse(set.Currency); err == nil {
		money = u
	}
	m.src = &formula.Source{File: b.Doc.File, Units: b.Units, Money: money, Season: set.Season, Standing: set.Standing,
		Space: &array.Space{}, Functions: library.All(), Chosen: scenario, Literal: m.literal, Quantile: risk.Quantile}
	m.axes()
	m.links = m.linkOrder()
	out := &made{maker: m, src: m.src, byName: map[string]int{}}
	m.lines()
	for i := range b.Cautions {
		out.cautions = append(out.cautions, m.condition(b.Cautions[i].Condition, "caution "+strconv.Itoa(i+1)))
	}
	for i := range b.Answers {
		var list []condition
		for j, c := range b.Answers[i].Entries {
			list = append(list, m.condition(c, b.Answers[i].Key+" "+strconv.Itoa(j+1)))
		}
		out.answers = append(out.answers, list)
	}
	for i := range m.src.Lines {
		out.byName[m.src.Lines[i].Name] = i
	}
	for _, s := range b.Scenarios {
		m.src.Scenarios = append(m.src.Scenarios, s.Name)
		for i := range s.Overrides {
			m.override(&s.Overrides[i], formula.ByScenario, s.Name, out.byName)
		}
	}
	for i := range b.Pins {
		m.override(&b.Pins[i], formula.ByPin, "", out.byName)
	}
	for i := range sets {
		m.override(&sets[i], formula.BySet, "", out.byName)
	}
	out.errors = m.errors
	return out
}

// axes numbers the axes: lists in book order, records, then those every book has.
func (m *sourceMaker) axes() {
	add := func(name string, members []string) int {
		m.src.Space.Axes = append(m.src.Space.Axes, array.Axis{Name: name, Members: members})
		return len(m.src.Space.Axes) - 1
	}
	room := array.MaxAxes - 4
	for _, l := range m.b.Lists {
		if room--; room < 0 {
			m.errors = append(m.errors, tooManyAxes(l.Name, l.Place))
			continue
		}
		m.listAt[l.Name] = add(l.Name, m.b.AxisMembers(l.Name))
		m.src.Lists = append(m.src.Lists, formula.List{Name: l.Name, Axis: m.listAt[l.Name]})
	}
	for _, r := range m.b.Records {
		if room--; room < 0 {
			m.errors = append(m.errors, tooManyAxes(r.Name, r.Place))
			continue
		}
		rows := make([]string, len(r.Day))
		for i := range rows {
			rows[i] = strconv.Itoa(i + 1)
		}
		m.src.Records = append(m.src.Records, m.records(r, add(r.Name, rows)))
	}
	m.src.YearAhead = add(book.YearAheadAxis, m.b.AxisMembers(book.YearAheadAxis))
	m.src.MonthOf = add(book.MonthOfYearAxis, m.b.AxisMembers(book.MonthOfYearAxis))
	m.src.Month = add(book.MonthAxis, m.b.AxisMembers(book.MonthAxis))
	m.src.Week = add(book.WeekAxis, m.b.AxisMembers(book.WeekAxis))
}

// records says of one kind of records on which days they are and whom they speak of.
func (m *sourceMaker) records(r *book.Records, axis int) formula.Records {
	out := formula.Records{Name: r.Name, Axis: axis, Day: r.Day}
	for _, l := range m.b.Lists { // in book order
		for _, c := range r.Columns {
			axis, ok := m.listAt[l.Name]
			if c.Refers != l.Name || !ok {
				continue
			}
			ref := formula.Reference{Axis: axis}
			for _, v := range c.Cells {
				ref.Member = append(ref.Member, v.Member)
			}
			out.Refers = append(out.Refers, ref)
			break
		}
	}
	return out
}

// lines makes the source's lines: the built-in one, the columns of lists and of
// records, the book's lines, what could not be read, and where the farm lies
// unless a line of that name says it.
func (m *sourceMaker) lines() {
	days, _ := m.b.Units.Parse("d")
	seven := make([]float64, m.src.Season.Len())
	for i := range seven {
		seven[i] = 7
	}
	m.add(formula.Line{Name: book.BuiltInLine, Quiet: true, Input: &formula.Input{
		Type: formula.Type{Kind: formula.Quantity, Unit: days, Axes: array.Only(m.src.Week), List: -1}, Plain: seven}})
	have := map[string]bool{}
	for _, l := range m.b.Lists {
		for _, c := range l.Columns {
			if c.Input.Kind == book.Blank || c.Input.Kind == book.Text {
				continue
			}
			have[c.Full()] = true
			m.add(formula.Line{Name: c.Full(), Place: c.Place, Quiet: true, Input: m.input(&c.Input, c.Full(), c.Place), Unit: c.Input.Unit})
		}
	}
	for _, r := range m.b.Records {
		axis := m.src.Space.Find(r.Name)
		for _, c := range r.Columns {
			if axis < 0 || c.Kind == book.Blank || c.Kind == book.Text {
				continue
			}
			have[c.Full()] = true
			m.add(formula.Line{Name: c.Full(), Place: c.Place, Quiet: true, Input: m.recordColumn(c, axis)})
		}
	}
	for _, l := range m.b.Lines {
		have[l.Name] = true
		line := formula.Line{Name: l.Name, Place: l.Place, Unit: l.Unit, Gather: l.Gather}
		if l.Input != nil {
			if l.Input.Kind == book.Text {
				continue
			}
			line.Input = m.input(l.Input, l.Name, l.Place)
		} else {
			line.Formula = l.Formula
		}
		m.add(line)
	}
	for _, name := range slices.Sorted(maps.Keys(m.b.Broken)) {
		if err := m.b.Broken[name]; !have[name] {
			have[name] = true
			m.add(formula.Line{Name: name, Place: err.Place, Broken: err})
		}
	}
	set := &m.b.Settings
	place := func(name, unit string, x float64, known bool) {
		if u, err := m.b.Units.Parse(unit); err == nil && known && !have[name] {
			m.add(formula.Line{Name: name, Quiet: true, Input: &formula.Input{
				Type: formula.Type{Kind: formula.Quantity, Unit: u, List: -1}, Plain: []float64{x}}})
		}
	}
	place("latitude", "deg", set.Latitude, set.HasLatitude)
	place("elevation", "m", set.Elevation, set.HasElevation)
}

func (m *sourceMaker) add(l formula.Line) int {
	m.src.Lines = append(m.src.Lines, l)
	return len(m.src.Lines) - 1
}

// axesOf gives the axes of an input as numbers.
func (m *sourceMaker) axesOf(in *book.Input) array.Axes {
	var set array.Axes
	for _, name := range in.Axes {
		if i := m.src.Space.Find(name); i >= 0 {
			set |= array.Only(i)
		}
	}
	if in.Along != "" {
		set |= array.Only(m.src.Space.Find(in.Along))
	}
	for _, p := range in.Pieces {
		if !p.First {
			set |= array.Only(m.src.Week)
		}
	}
	return set
}

// typeOf gives the type of an input.
func (m *sourceMaker) typeOf(in *book.Input) formula.Type {
	t := formula.Type{Axes: m.axesOf(in), List: -1, Unit: in.Unit}
	switch in.Kind {
	case book.Truth:
		t.Kind = formula.Truths
	case book.Date:
		t.Kind = formula.Dates
	case book.Word:
		t.Kind = formula.Words
		if axis, ok := m.listAt[in.Refers]; ok && in.Refers != "" {
			t.List = axis
		}
	default:
		if t.Unit == nil {
			t.Unit = m.b.Units.One()
		}
	}
	return t
}

// input turns an input's pieces into cells, and its ranges into draws.
func (m *sourceMaker) input(in *book.Input, name string, place syntax.Place) *formula.Input {
	out := &formula.Input{Type: m.typeOf(in)}
	space := m.src.Space
	cells := space.Size(out.Type.Axes)
	out.Plain = make([]float64, cells)
	s := &sampler{seed: m.seed, plain: out.Plain, stream: make([]int, cells), follow: m.links[name]}
	along := -1
	if in.Along != "" {
		along = space.Find(in.Along)
	}
	week := m.src.Week
	for cell := range out.Plain {
		member, w := -1, 0
		if along >= 0 {
			member = m.coordinate(cell, out.Type.Axes, along)
		}
		if out.Type.Axes.Has(week) {
			w = m.coordinate(cell, out.Type.Axes, week)
		}
		p := pieceFor(in.Pieces, member, m.src.Season.At(w))
		out.Plain[cell], s.stream[cell] = array.Blank, -1
		if p == nil {
			continue
		}
		out.Plain[cell] = m.cell(&p.Value, out.Type)
		if p.Value.Spread != nil {
			key, at := m.key(p.Value.Spread.Key, in.Each, cell, out.Type.Axes)
			i, err := s.streamOf(&p.Value, key, at, out.Type.Unit)
			if err != nil {
				m.errors = append(m.errors, badRange(name, p.Value.Place, err))
			}
			s.stream[cell] = i
		}
	}
	for _, e := range in.Each {
		if e.Axis == book.WeekAxis {
			s.keeps = e.Keeps
		}
	}
	if len(s.streams) > 0 {
		s.arrange()
		out.Sampler = s
	}
	return out
}

// pieceFor gives the last piece whose week has begun; a member's first holds from the beginning.
func pieceFor(pieces []book.Piece, member int, w week.Week) *book.Piece {
	var found *book.Piece
	for i := range pieces {
		p := &pieces[i]
		if (p.Member < 0 || p.Member == member) && (p.First || p.From <= w) {
			found = p
		}
	}
	return found
}

// coordinate gives the place of a cell along an axis.
func (m *sourceMaker) coordinate(cell int, axes array.Axes, axis int) int {
	return cell / m.src.Space.Stride(axes, axis) % m.src.Space.Axes[axis].Len()
}

// cell turns a value into a number of the input's unit, a day, a truth or a word's number.
func (m *sourceMaker) cell(v *book.Value, t formula.Type) float64 {
	switch v.Kind {
	case book.Blank:
		return array.Blank
	case book.Number:
		mul, add, err := unit.Convert(v.Unit, t.Unit)
		if err != nil {
			return array.Blank
		}
		return v.Number*mul + add
	case book.Word:
		if t.List >= 0 {
			return float64(v.Member)
		}
		i, ok := m.words[v.Word]
		if !ok {
			i = len(m.src.Words)
			m.words[v.Word] = i
			m.src.Words = append(m.src.Words, v.Word)
		}
		return float64(i)
	}
	return v.Number
}

// key names the draws of one cell: what the literal's place in the book says,
// and the cell itself along every axis that draws for itself.
func (m *sourceMaker) key(k book.Key, each []book.Each, cell int, axes array.Axes) (risk.Key, int) {
	out := risk.Key{Seed: m.seed, Name: k.Name, Member: k.Member, Week: int(k.Week)}
	at := -1
	for _, e := range each {
		axis := m.src.Space.Find(e.Axis)
		i := m.coordinate(cell, axes, axis)
		if e.Axis == book.WeekAxis {
			at = i
			out.Week = int(m.src.Season.At(i))
			continue
		}
		if name := m.src.Space.Axes[axis].Members[i]; out.Member != name {
			out.Member = strings.TrimPrefix(out.Member+","+name, ",")
		}
	}
	return out, at
}

func (m *sourceMaker) recordColumn(c *book.RecordColumn, axis int) *formula.Input {
	in := &book.Input{Kind: c.Kind, Unit: c.Unit, Refers: c.Refers}
	t := m.typeOf(in)
	t.Axes = array.Only(axis)
	out := &formula.Input{Type: t, Plain: make([]float64, len(c.Cells))}
	for i := range c.Cells {
		out.Plain[i] = m.cell(&c.Cells[i], t)
	}
	return out
}

// condition makes the lines of a condition: its sides, and the comparison.
func (m *sourceMaker) condition(c book.Condition, name string) condition {
	out := condition{book: c}
	out.left = m.add(formula.Line{Name: name, Place: c.Place, Formula: c.Left, Quiet: true})
	out.whole = out.left
	if c.Op == "" {
		return out
	}
	right := &syntax.Formula{Text: c.Text, Place: c.Place}
	if c.Literal != nil {
		right.Place = c.Literal.Place
		right.Tree = &syntax.Call{Name: "measure", Args: []syntax.Expr{&syntax.Text{Value: m.text(c)}}}
	} else {
		right = c.Right
	}
	m.add(formula.Line{Name: name + " right", Place: c.Place, Formula: right, Quiet: true})
	tree := &syntax.Binary{Op: c.Op, L: &syntax.Name{Base: name}, R: &syntax.Name{Base: name + " right"}}
	if c.Literal != nil && c.Literal.Kind == book.Number && c.Literal.Number == 0 && c.Literal.Unit == m.b.Units.One() {
		tree.R = &syntax.Number{Text: "0"} // 0 fits every unit
	}
	out.whole = m.add(formula.Line{Name: name + " holds", Place: c.Place, Quiet: true,
		Formula: &syntax.Formula{Text: c.Text, Place: c.Place, Tree: tree}})
	return out
}

// text gives the literal of a condition as it was written.
func (m *sourceMaker) text(c book.Condition) string {
	if i := strings.LastIndex(c.Text, c.Op); i >= 0 {
		return strings.TrimSpace(c.Text[i+len(c.Op):])
	}
	return ""
}

// override turns a row of a scenario, a pin or an option into the compiler's.
func (m *sourceMaker) override(o *book.Override, layer formula.Layer, scenario string, byName map[string]int) {
	line, ok := byName[o.Target()]
	if !ok {
		return // broken, and said so already
	}
	out := formula.Override{Layer: layer, Scenario: scenario, Line: line, Formula: o.Formula, Place: o.Place}
	if o.Input != nil {
		out.Input, out.Formula = m.input(o.Input, o.Target(), o.Place), nil
	}
	for _, s := range o.Where {
		if i := m.src.Space.Find(s.Axis); i >= 0 {
			out.Where = append(out.Where, formula.Cell{Axis: i, Index: s.Index})
		}
	}
	out.ForecastOnly = layer == formula.ByPin && m.fromRecords(o.Line)
	m.src.Overrides = append(m.src.Overrides, out)
}

// fromRecords says whether records fill a line's closed weeks.
func (m *sourceMaker) fromRecords(l *book.Line) bool {
	if l == nil || l.Formula == nil || l.Formula.Tree == nil {
		return false
	}
	for _, bind := range m.b.Binds {
		if bind.Line == l {
			return true
		}
	}
	found := false
	syntax.Walk(l.Formula.Tree, func(e syntax.Expr) {
		if c, ok := e.(*syntax.Call); ok && library.FillsWeeks(m.src.Functions[c.Name]) {
			found = true
		}
	})
	return found
}

// literal reads the text of measure.
func (m *sourceMaker) literal(text string) (float64, *unit.Unit, *syntax.Error) {
	values, err := syntax.ParseValues(text, syntax.Place{Line: 1, Col: 1, Len: len(text)})
	if err != nil {
		return 0, nil, err
	}
	if len(values.Pieces) != 1 || values.Pieces[0].From.Text != "" {
		return 0, nil, notOneMeasure(text)
	}
	v, err := m.b.Literal(&values.Pieces[0].Literal, "measure", nil)
	if err != nil {
		return 0, nil, err
	}
	switch {
	case v.Spread != nil:
		return 0, nil, notOneMeasure(text)
	case v.Kind == book.Number:
		return v.Number, v.Unit, nil
	case v.Kind == book.Date:
		return v.Number, nil, nil
	}
	return 0, nil, notOneMeasure(text)
}
