package formula

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// A small reader of books for the tests of this package: it turns a book's text
// into a Source as plainly as it can. The season is six weeks, 2027-W01 to W06,
// unless a settings block says otherwise.

// fataler is what a test and a property have in common.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

type bookMaker struct {
	t       fataler
	src     *Source
	byName  map[string]int
	words   map[string]int
	listAt  map[string]int
	pending []func() // what needs all axes
}

// spread is the draws of a range: uniform between its ends, from a hash of the
// cell and the number of the draw.
type spread struct {
	name      string
	low, high []float64 // of each cell; NaN for a cell that is certain
	plain     []float64
	of        []int // cells with the same number share their draws
}

func (s *spread) Sample(first, n int, dst []float64) {
	for c := range s.plain {
		for i := range n {
			x := s.plain[c]
			if s.low[c] == s.low[c] {
				x = s.low[c] + (s.high[c]-s.low[c])*share(s.name, s.of[c], first+i)
			}
			dst[c*n+i] = x
		}
	}
}

// share hashes to a number in 0..1.
func share(name string, cell, draw int) float64 {
	h := uint64(14695981039346656037)
	for _, b := range []byte(name) {
		h = (h ^ uint64(b)) * 1099511628211
	}
	for _, n := range []int{cell, draw} {
		h ^= uint64(n) + 0x9e3779b97f4a7c15
		h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
		h = (h ^ h>>27) * 0x94d049bb133111eb
		h ^= h >> 31
	}
	return float64(h>>11) / (1 << 53)
}

func mustWeek(t fataler, s string) week.Week {
	t.Helper()
	w, err := week.ParseWeek(s)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// sourceOf reads a book of blocks fenced by ~~~.
func sourceOf(t fataler, text string) *Source {
	t.Helper()
	doc := syntax.Read("book.md", []byte(text))
	for _, e := range doc.Errors {
		t.Fatalf("line %d: %v", e.Line, e)
	}
	units, err := unit.NewSystem([]string{"crate"})
	if err != nil {
		t.Fatal(err)
	}
	money, _ := units.Parse("USD")
	m := &bookMaker{t: t, byName: map[string]int{}, words: map[string]int{}, listAt: map[string]int{}}
	m.src = &Source{File: "book.md", Units: units, Money: money, Space: &array.Space{}, Functions: map[string]*Function{}, Literal: m.literal, Quantile: quantile7}
	m.season(doc)
	m.axes(doc)
	for _, p := range doc.Parts {
		switch item := p.Item.(type) {
		case *syntax.Line:
			m.line(item)
		case *syntax.Override:
			m.override(item, p.Block)
		}
	}
	for _, f := range m.pending {
		f()
	}
	return m.src
}

// quantile7 is the quantile of type 7 of Hyndman and Fan (1996, The American
// Statistician 50: 361-365): position (n-1)p, linear between its neighbours.
func quantile7(x []float64, p float64) float64 {
	s := append([]float64(nil), x...)
	for i := range s {
		for j := i; j > 0 && s[j] < s[j-1]; j-- {
			s[j], s[j-1] = s[j-1], s[j]
		}
	}
	at := float64(len(s)-1) * p
	i := int(at)
	if i+1 >= len(s) {
		return s[len(s)-1]
	}
	return s[i] + (at-float64(i))*(s[i+1]-s[i])
}

func (m *bookMaker) season(doc *syntax.Document) {
	first, last, asOf := "2027-W01", "2027-W06", ""
	for _, p := range doc.Parts {
		if s, ok := p.Item.(*syntax.Setting); ok {
			switch s.Key.Text {
			case "season":
				first, last, _ = strings.Cut(s.Value.Text, " .. ")
			case "as_of":
				asOf = s.Value.Text
			}
		}
	}
	season, err := week.NewSeason(mustWeek(m.t, first), mustWeek(m.t, last))
	if err != nil {
		m.t.Fatal(err)
	}
	day := season.First.Monday() - 7
	if asOf != "" {
		if day, err = week.ParseDay(asOf); err != nil {
			m.t.Fatal(err)
		}
	}
	m.src.Season, m.src.Standing = season, week.NewStanding(season, day, nil)
}

func (m *bookMaker) axes(doc *syntax.Document) {
	add := func(name string, members ...string) int {
		m.src.Space.Axes = append(m.src.Space.Axes, array.Axis{Name: name, Members: members})
		return len(m.src.Space.Axes) - 1
	}
	blocks := []*syntax.Block{}
	rows := map[*syntax.Block][]*syntax.Row{}
	headers := map[*syntax.Block]*syntax.Header{}
	for _, p := range doc.Parts {
		if p.Block == nil {
			continue
		}
		if p.Kind == syntax.Fence && (len(blocks) == 0 || blocks[len(blocks)-1] != p.Block) {
			blocks = append(blocks, p.Block)
		}
		switch item := p.Item.(type) {
		case *syntax.Header:
			headers[p.Block] = item
		case *syntax.Row:
			rows[p.Block] = append(rows[p.Block], item)
		}
	}
	for _, b := range blocks {
		if b.Kind == "list" {
			var members []string
			for _, r := range rows[b] {
				members = append(members, r.Member.Text)
			}
			axis := add(b.Name, members...)
			m.src.Lists = append(m.src.Lists, List{b.Name, axis})
			m.listAt[b.Name] = axis
		}
		if b.Kind == "scenario" {
			m.src.Scenarios = append(m.src.Scenarios, b.Name)
		}
	}
	for _, b := range blocks {
		if b.Kind == "records" {
			members := make([]string, len(rows[b]))
			for i := range members {
				members[i] = fmt.Sprint(i)
			}
			axis := add(b.Name, members...)
			rec := Records{Name: b.Name, Axis: axis}
			for _, r := range rows[b] {
				d, err := week.ParseDay(r.Cells[0].Text)
				if err != nil {
					m.t.Fatal(err)
				}
				rec.Day = append(rec.Day, d)
			}
			m.src.Records = append(m.src.Records, rec)
		}
	}
	m.src.YearAhead = add("year_ahead", "0", "1", "2")
	m.src.MonthOf = add("month_of_year", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12")
	var months, weeks []string
	for _, x := range m.src.Season.Months() {
		months = append(months, x.String())
	}
	for i := range m.src.Season.Len() {
		weeks = append(weeks, m.src.Season.At(i).String())
	}
	m.src.Month = add("month", months...)
	m.src.Week = add("week", weeks...)
	for _, b := range blocks {
		if b.Kind != "list" && b.Kind != "records" {
			continue
		}
		for i, c := range headers[b].Columns {
			if c.Name.Text == "label" || c.Name.Text == "date" {
				continue
			}
			var cells []*syntax.Values
			for _, r := range rows[b] {
				var v *syntax.Values
				if i < len(r.Cells) {
					v = r.Cells[i].Values
				}
				cells = append(cells, v)
			}
			m.column(b, c, cells)
		}
	}
}

func (m *bookMaker) add(l Line) {
	m.byName[l.Name] = len(m.src.Lines)
	m.src.Lines = append(m.src.Lines, l)
}

func (m *bookMaker) unit(text string) *unit.Unit {
	if text == "" {
		return m.src.Units.One()
	}
	u, err := m.src.Units.Parse(text)
	if err != nil {
		m.t.Fatal(err)
	}
	return u
}

// column makes the input of a list's or records' column.
func (m *bookMaker) column(b *syntax.Block, c syntax.Column, cells []*syntax.Values) {
	axis := m.src.Space.Find(b.Name)
	name := b.Name + "." + c.Name.Text
	in := &Input{Type: Type{Kind: Quantity, Unit: m.unit(c.Unit.Text), Axes: array.Only(axis), List: -1}}
	refers := c.Refers
	if _, isList := m.listAt[c.Name.Text]; isList {
		refers = c.Name.Text
	}
	weeks := 1
	if c.Over == "week" {
		in.Type.Axes |= array.Only(m.src.Week)
		weeks = m.src.Season.Len()
	}
	if refers != "" {
		in.Type.Kind, in.Type.List = Words, m.listAt[refers]
	}
	s := &spread{name: name}
	drawn := false
	for i, v := range cells {
		for w := range weeks {
			x, low, high := array.Blank, math.NaN(), math.NaN()
			if v != nil {
				x, low, high = m.piece(v, w, &in.Type)
			}
			drawn = drawn || low == low
			in.Plain = append(in.Plain, x)
			s.low, s.high, s.of = append(s.low, low), append(s.high, high), append(s.of, i)
		}
	}
	s.plain = in.Plain
	if drawn {
		in.Sampler = s
	}
	if b.Kind == "records" {
		r := &m.src.Records[len(m.src.Records)-1]
		for i := range m.src.Records {
			if m.src.Records[i].Name == b.Name {
				r = &m.src.Records[i]
			}
		}
		if refers != "" {
			ref := Reference{Axis: m.listAt[refers]}
			for _, x := range in.Plain {
				k := -1
				if x == x {
					k = int(x)
				}
				ref.Member = append(ref.Member, k)
			}
			r.Refers = append(r.Refers, ref)
		}
	}
	m.add(Line{Name: name, Input: in, Quiet: true})
}

// piece gives a schedule's value in a week, and the ends of its range in the unit of t.
func (m *bookMaker) piece(v *syntax.Values, w int, t *Type) (x, low, high float64) {
	l := &v.Pieces[0].Literal
	for i := 1; i < len(v.Pieces); i++ {
		if mustWeek(m.t, v.Pieces[i].From.Text) <= m.src.Season.At(w) {
			l = &v.Pieces[i].Literal
		}
	}
	return m.number(l, t)
}

// number reads a literal in the unit of t, and sets t's kind.
func (m *bookMaker) number(l *syntax.Literal, t *Type) (x, low, high float64) {
	low, high = math.NaN(), math.NaN()
	switch l.Kind {
	case syntax.DateLiteral:
		t.Kind = Dates
		d, err := week.ParseDay(l.Word)
		if err != nil {
			m.t.Fatal(err)
		}
		return float64(d), low, high
	case syntax.WeekLiteral:
		t.Kind = Dates
		return float64(mustWeek(m.t, l.Word).Monday()), low, high
	case syntax.YesNo:
		t.Kind = Truths
		return array.Truth(l.Word == "yes"), low, high
	case syntax.KindWord:
		t.Kind = Words
		if t.List >= 0 {
			for i, name := range m.src.Space.Axes[t.List].Members {
				if name == l.Word {
					return float64(i), low, high
				}
			}
			m.t.Fatalf("no member %s", l.Word)
		}
		i, ok := m.words[l.Word]
		if !ok {
			i = len(m.src.Words)
			m.words[l.Word] = i
			m.src.Words = append(m.src.Words, l.Word)
		}
		return float64(i), low, high
	}
	mul, add := 1.0, 0.0
	if l.Unit.Text != "" {
		var err error
		if mul, add, err = unit.Convert(m.unit(l.Unit.Text), t.Unit); err != nil {
			m.t.Fatal(err)
		}
	}
	x, _ = l.Number.Float64()
	if l.HasRange {
		a, _ := l.Low.Float64()
		b, _ := l.High.Float64()
		low, high = a*mul+add, b*mul+add
	}
	return x*mul + add, low, high
}

func (m *bookMaker) line(l *syntax.Line) {
	if l.Formula != nil {
		line := Line{Name: l.Name.Text, Place: l.Name.Place, Formula: l.Formula, Gather: l.Gather}
		if l.Unit.Text != "" {
			line.Unit = m.unit(l.Unit.Text)
		}
		m.add(line)
		return
	}
	axes, each := array.Axes(0), array.Axes(0)
	for _, a := range l.Over {
		i := m.src.Space.Find(a.Name.Text)
		if i < 0 {
			m.t.Fatalf("no axis %s", a.Name.Text)
		}
		axes |= array.Only(i)
		if a.Each {
			each |= array.Only(i)
		}
	}
	m.add(Line{Name: l.Name.Text, Place: l.Name.Place, Input: m.values(l.Name.Text, l.Values, axes, each, nil)})
}

// values makes an input; like, when given, says its unit and list.
func (m *bookMaker) values(name string, v *syntax.Values, axes, each array.Axes, like *Type) *Input {
	in := &Input{Type: Type{Kind: Quantity, Unit: m.src.Units.One(), Axes: axes, List: -1}}
	literals := v.Each
	if len(literals) == 0 {
		literals = []syntax.Literal{v.Pieces[0].Literal}
	}
	if text := literals[len(literals)-1].Unit.Text; text != "" {
		in.Type.Unit = m.unit(text)
	}
	if like != nil {
		in.Type.List = like.List
	}
	n := m.src.Space.Size(axes)
	s := &spread{name: name}
	drawn := false
	for c := range n {
		var x, low, high float64
		if len(v.Each) > 0 {
			x, low, high = m.number(&v.Each[c], &in.Type)
		} else {
			w := 0
			if axes.Has(m.src.Week) {
				w = c / m.src.Space.Stride(axes, m.src.Week) % m.src.Season.Len()
			}
			x, low, high = m.piece(v, w, &in.Type)
		}
		of := 0
		for _, i := range each.List() {
			of = of*1000 + c/m.src.Space.Stride(axes, i)%m.src.Space.Axes[i].Len() + 1
		}
		drawn = drawn || low == low
		in.Plain = append(in.Plain, x)
		s.low, s.high, s.of = append(s.low, low), append(s.high, high), append(s.of, of)
	}
	s.plain = in.Plain
	if drawn {
		in.Sampler = s
	}
	return in
}

func (m *bookMaker) override(item *syntax.Override, b *syntax.Block) {
	m.pending = append(m.pending, func() {
		i, ok := m.byName[item.Address.Name.Text]
		if !ok {
			m.t.Fatalf("no line %s", item.Address.Name.Text)
		}
		o := Override{Layer: ByPin, Line: i, Formula: item.Formula, Place: item.Address.Name.Place}
		if b.Kind == "scenario" {
			o.Layer, o.Scenario = ByScenario, b.Name
		}
		var like *Type
		axes := array.Axes(0)
		if in := m.src.Lines[i].Input; in != nil {
			like, axes = &in.Type, in.Type.Axes
		}
		for _, w := range item.Address.Where {
			for a := range m.src.Space.Axes {
				for c, name := range m.src.Space.Axes[a].Members {
					if name == w.Text && a != m.src.YearAhead && a != m.src.MonthOf {
						o.Where = append(o.Where, Cell{a, c})
						axes &^= array.Only(a)
					}
				}
			}
		}
		if item.Values != nil {
			if len(item.Values.Pieces) == 1 {
				axes = 0
			}
			o.Input = m.values(item.Address.Name.Text+" in "+b.Kind+b.Name, item.Values, axes, axes, like)
		}
		m.src.Overrides = append(m.src.Overrides, o)
	})
}

// literal reads the text of measure.
func (m *bookMaker) literal(text string) (float64, *unit.Unit, *syntax.Error) {
	l, err := syntax.ParseLiteral(text, syntax.Place{Line: 1, Col: 1, Len: len(text)})
	if err != nil {
		return 0, nil, err
	}
	t := Type{Kind: Quantity, Unit: m.src.Units.One(), List: -1}
	if l.Unit.Text != "" {
		t.Unit = m.unit(l.Unit.Text)
	}
	x, _, _ := m.number(l, &t)
	if t.Kind == Dates {
		return x, nil, nil
	}
	return x, t.Unit, nil
}

// compiled compiles a book that has no faults and runs its plain pass.
func compiled(t testing.TB, text string) *Program {
	t.Helper()
	p := Compile(sourceOf(t, text))
	for i, e := range p.Errors {
		t.Errorf("%s at %v: %v (%s)", p.src.Lines[i].Name, e.Place, e, e.Hint)
	}
	for _, e := range p.Others {
		t.Errorf("other at %v: %v (%s)", e.Place, e, e.Hint)
	}
	if t.Failed() {
		t.FailNow()
	}
	p.Plain()
	return p
}

func (p *Program) named(t testing.TB, name string) int {
	t.Helper()
	for i := range p.src.Lines {
		if p.src.Lines[i].Name == name {
			return i
		}
	}
	t.Fatalf("no line %s", name)
	return -1
}

// says writes the cells of a line, its unit and its axes: "3, blank kg over week".
func (p *Program) says(t testing.TB, name string) string {
	t.Helper()
	i := p.named(t, name)
	if e := p.Errors[i]; e != nil {
		return "error: " + e.Message
	}
	var cells []string
	for _, x := range p.Cells(i) {
		cells = append(cells, p.cellSays(x))
	}
	s := strings.Join(cells, ", ")
	typ := p.LineType(i)
	if typ.Kind == Quantity && typ.Unit.String() != "1" {
		s += " " + typ.Unit.String()
	}
	if names := p.src.Space.Names(typ.Axes); len(names) > 0 {
		s += " over " + strings.Join(names, ", ")
	}
	return strings.TrimSpace(s)
}

func (p *Program) cellSays(x float64) string {
	switch {
	case array.IsFault(x):
		_, _, why := p.Explain(x)
		return why
	case array.IsBlank(x):
		return "blank"
	}
	return fmt.Sprintf("%.9g", x)
}
