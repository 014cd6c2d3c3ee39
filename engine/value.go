package engine

import (
	"bytes"
	"encoding/json"
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/risk"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Value is a line as it is read: its plain cells over its axes, and what draws
// say about them.
type Value struct {
	Name, Label, Unit string
	Axes              []string
	Members           map[string][]string // axis -> names of its cells
	Kind              formula.Takes
	Cells             []float64 // plain; NaN where nothing is known
	Low, High         []float64 // 10th and 90th percentile of the draws; nil when no range reaches the line
	// InnerLow and InnerHigh are the 25th and 75th percentile, of what stands over the
	// weeks alone or over nothing: members have no room to show them.
	InnerLow, InnerHigh []float64
	// Together is the band of each week with all members together, where they add up.
	Together struct{ Low, High, InnerLow, InnerHigh []float64 }
	Odds     []float64 // for yes and no: per cent of draws in which it holds; nil without draws
	Earned   []risk.Earned
	Gather   string // sum, mean or level, for weekly lines
	Adds     bool   // members add up: an amount, not a rate or a share
	AsOf     string
	Outside  []Outside // arguments outside what was measured; only of a Value that was asked for by name
	Error    *syntax.Error
	Broken   bool // the whole line is in error, not only a cell
	Awaits   bool // draws reach it, and have not run yet
	Words    []string
	Lengths  []int
}

// Value gives one line with its band. A name that the book does not have gives
// a Value with an Error.
func (d *Desk) Value(name string) (*Value, error) {
	if d.made == nil {
		return d.brokenBook(name), nil
	}
	i, ok := d.made.byName[name]
	if !ok {
		v := &Value{Name: name, AsOf: d.Book.Settings.AsOf.String(), Broken: true}
		v.Error = &syntax.Error{Place: syntax.Place{Line: 1, Col: 1, Len: 1}, Code: "unknown-name", Name: name,
			Message: "the book has no line " + name, Hint: syntax.DidYouMean(name, d.Names())}
		return v, nil
	}
	return d.value(i)
}

// brokenBook is the value of any line of a book without a season.
func (d *Desk) brokenBook(name string) *Value {
	v := &Value{Name: name, AsOf: d.Book.Settings.AsOf.String(), Broken: true}
	if len(d.errs) > 0 {
		v.Error = d.errs[0]
	}
	return v
}

// value makes the Value of a line of the source, with its bands.
func (d *Desk) value(i int) (*Value, error) {
	if err := d.draw(i); err != nil {
		return nil, err
	}
	v := d.soFar(i)
	v.Outside = d.outsideOf(i)
	return v, nil
}

// soFar makes the Value of a line with what draws have said so far.
func (d *Desk) soFar(i int) *Value {
	v, mul, add := d.plainValue(i)
	if !v.Broken {
		d.bands(v, i, mul, add)
	}
	return v
}

// Has says whether the book has a line or column of that name.
func (d *Desk) Has(name string) bool {
	if d.made == nil {
		return false
	}
	_, ok := d.made.byName[name]
	return ok
}

// Plain gives a line without bands; nil when the book has no such line.
func (d *Desk) Plain(name string) *Value {
	if d.made == nil {
		return nil
	}
	i, ok := d.made.byName[name]
	if !ok {
		return nil
	}
	v, _, _ := d.plainValue(i)
	return v
}

// plainValue makes the Value of a line without its bands, and gives how its
// numbers were brought to the unit it is shown in.
func (d *Desk) plainValue(i int) (v *Value, mul, add float64) {
	l := &d.made.src.Lines[i]
	v = &Value{Name: l.Name, Label: l.Name, AsOf: d.Book.Settings.AsOf.String(), Axes: []string{}, Members: map[string][]string{}}
	if bl := d.Book.Line(l.Name); bl != nil && bl.Label != "" {
		v.Label = bl.Label
	}
	if !d.prog.OK(i) {
		v.Error, v.Broken = d.prog.Errors[i], true
		return v, 1, 0
	}
	t := d.prog.LineType(i)
	v.Kind = t.Kind
	space := d.made.src.Space
	for _, axis := range t.Axes.List() {
		v.Axes = append(v.Axes, space.Axes[axis].Name)
		v.Members[space.Axes[axis].Name] = space.Axes[axis].Members
		v.Lengths = append(v.Lengths, space.Axes[axis].Len())
	}
	v.Words = d.made.src.Words
	if t.Kind == formula.Words && t.List >= 0 {
		v.Words = space.Axes[t.List].Members
	}
	mul, add = 1, 0
	if t.Kind == formula.Quantity {
		u := d.shownIn(t.Unit)
		mul, add = d.convert(t.Unit, u)
		v.Unit = u.String()
		v.Gather = l.Gather
		if v.Gather == "" {
			v.Gather = unit.Gather(t.Unit)
		}
		v.Adds = unit.Gather(t.Unit) == "sum" && v.Gather != "mean"
	}
	v.Error = d.cellFault(i)
	plain := d.prog.Cells(i)
	v.Cells = make([]float64, len(plain))
	for c, x := range plain {
		v.Cells[c] = x*mul + add
		if x != x {
			v.Cells[c] = x
		}
	}
	return v, mul, add
}

// shownIn gives the unit in which numbers of a unit are shown.
func (d *Desk) shownIn(u *unit.Unit) *unit.Unit {
	if d.opts.Units == "" {
		return u
	}
	return d.prog.Units().Display(u, d.opts.Units)
}

// convert gives how numbers of a unit are brought to the one they are shown in.
func (d *Desk) convert(from, to *unit.Unit) (mul, add float64) {
	if from == to {
		return 1, 0
	}
	mul, add, err := unit.Convert(from, to)
	if err != nil {
		panic("engine: a unit to show does not measure the same: " + err.Error())
	}
	return mul, add
}

// bands fills in what the draws say.
func (d *Desk) bands(v *Value, i int, mul, add float64) {
	rows := d.drawn[i]
	v.Awaits = rows == nil && d.prog.Drawn(i)
	if rows == nil || v.Kind == formula.Words {
		return
	}
	var room []float64
	inner := len(v.Axes) == 0 || len(v.Axes) == 1 && v.Axes[0] == "week"
	ps := []float64{0.1, 0.9}
	if inner {
		ps = []float64{0.1, 0.25, 0.75, 0.9}
	}
	edges := make([]float64, len(ps))
	for _, row := range rows {
		if v.Kind == formula.Truths {
			e := risk.Earn(row)
			v.Earned = append(v.Earned, e)
			v.Odds = append(v.Odds, 100*e.Odds())
			continue
		}
		room = append(room[:0], row...)
		risk.BandsInto(edges, room, ps)
		v.Low, v.High = append(v.Low, edges[0]*mul+add), append(v.High, edges[len(edges)-1]*mul+add)
		if inner {
			v.InnerLow, v.InnerHigh = append(v.InnerLow, edges[1]*mul+add), append(v.InnerHigh, edges[2]*mul+add)
		}
	}
	v.bandsTogether(rows, room, mul, add)
}

// bandsTogether fills in what the draws say of a week's members together: their bands
// do not add up, but in each draw their numbers do.
func (v *Value) bandsTogether(rows [][]float64, room []float64, mul, add float64) {
	last := len(v.Axes) - 1
	if !v.Adds || last < 1 || v.Axes[last] != "week" || len(rows) != len(v.Cells) || len(rows) == 0 {
		return
	}
	weeks, t := v.Lengths[last], &v.Together
	edges := make([]float64, 4)
	for w := range weeks {
		room = append(room[:0], rows[w]...)
		for from := weeks; from < len(rows); from += weeks {
			for i, x := range rows[from+w] {
				room[i] += x
			}
		}
		risk.BandsInto(edges, room, []float64{0.1, 0.25, 0.75, 0.9})
		t.Low, t.InnerLow = append(t.Low, edges[0]*mul+add), append(t.InnerLow, edges[1]*mul+add)
		t.InnerHigh, t.High = append(t.InnerHigh, edges[2]*mul+add), append(t.High, edges[3]*mul+add)
	}
}

// JSON is a Value as verbs print it.
type JSON struct {
	Name    string              `json:"name"`
	Label   string              `json:"label"`
	Unit    string              `json:"unit"`
	Axes    []string            `json:"axes"`
	Members map[string][]string `json:"members"`
	Values  any                 `json:"values"`
	Band    *Band               `json:"band,omitempty"`
	Odds    any                 `json:"odds,omitempty"`
	AsOf    string              `json:"as_of"`
	Outside []Outside           `json:"outside,omitempty"`
	Error   *JSONError          `json:"error,omitempty"`
}

// Band holds the 10th and 90th percentile of the draws, in the shape of the values.
type Band struct {
	Low  any `json:"low"`
	High any `json:"high"`
}

// JSONError is what is wrong with a line.
type JSONError struct {
	Line    int    `json:"line"`
	Col     int    `json:"col"`
	Length  int    `json:"length"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

// MarshalJSON writes the value nested by its axes.
func (v *Value) MarshalJSON() ([]byte, error) {
	j := JSON{Name: v.Name, Label: v.Label, Unit: v.Unit, Axes: v.Axes, Members: v.Members, AsOf: v.AsOf, Outside: v.Outside}
	if j.Axes == nil {
		j.Axes = []string{}
	}
	if j.Members == nil {
		j.Members = map[string][]string{}
	}
	if v.Error != nil {
		e := v.Error
		j.Error = &JSONError{e.Line, e.Col, e.Len, e.Message, e.Hint}
	}
	if !v.Broken {
		j.Values = v.nest(v.Cells, v.cellJSON)
		if v.Low != nil {
			j.Band = &Band{v.nest(v.Low, v.cellJSON), v.nest(v.High, v.cellJSON)}
		}
		if v.Odds != nil {
			j.Odds = v.nest(v.Odds, number)
		}
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false) // a condition's name is its text: cover >= 1.25
	if err := enc.Encode(j); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// nest shapes cells by the axes, outermost first.
func (v *Value) nest(cells []float64, one func(float64) any) any {
	if len(v.Lengths) == 0 {
		return one(cells[0])
	}
	var shape func(cells []float64, lengths []int) any
	shape = func(cells []float64, lengths []int) any {
		out := make([]any, lengths[0])
		step := len(cells) / max(1, lengths[0])
		for i := range out {
			part := cells[i*step : (i+1)*step]
			if len(lengths) == 1 {
				out[i] = one(part[0])
			} else {
				out[i] = shape(part, lengths[1:])
			}
		}
		return out
	}
	return shape(cells, v.Lengths)
}

// number gives a number for JSON; what is not one is null.
func number(x float64) any {
	if x != x || math.IsInf(x, 0) {
		return nil
	}
	return x
}

// cellJSON gives a cell by its kind.
func (v *Value) cellJSON(x float64) any {
	if x != x {
		return nil
	}
	switch v.Kind {
	case formula.Truths:
		return x != 0
	case formula.Dates:
		return week.Day(math.Round(x)).String()
	case formula.Words:
		if i := int(x); i >= 0 && i < len(v.Words) {
			return v.Words[i]
		}
		return nil
	}
	return number(x)
}

// Known says whether a cell holds something.
func Known(x float64) bool { return !array.IsBlank(x) && !array.IsFault(x) }

// CellMembers names the cell: its member along every axis.
func (v *Value) CellMembers(cell int) []string {
	out := make([]string, len(v.Axes))
	for i := len(v.Axes) - 1; i >= 0; i-- {
		n := v.Lengths[i]
		out[i] = v.Members[v.Axes[i]][cell%n]
		cell /= n
	}
	return out
}

// CellJSON gives one cell as JSON holds it: a number, true or false, a date or a
// word as text, nil where nothing is known.
func (v *Value) CellJSON(cell int) any { return v.cellJSON(v.Cells[cell]) }

// EdgeJSON gives the edge of a band as JSON holds it, by the kind of the cells: the
// band of a date ends at dates.
func (v *Value) EdgeJSON(x float64) any { return v.cellJSON(x) }

// BandText writes the band of a cell: "$120 to $310"; "" where there is none, or
// where its two ends read alike.
func (v *Value) BandText(cell int) string {
	if v.Low == nil || v.Low[cell] != v.Low[cell] {
		return ""
	}
	low, high := v.edgeText(v.Low[cell]), v.edgeText(v.High[cell])
	if low == high {
		return ""
	}
	return low + " to " + high
}

// edgeText writes the edge of a band: the band of a date ends at dates.
func (v *Value) edgeText(x float64) string {
	if v.Kind == formula.Dates {
		return week.Day(math.Round(x)).String()
	}
	return Show(x, v.Unit)
}

// Text writes one cell as a person reads it.
func (v *Value) Text(cell int) string {
	x := v.Cells[cell]
	switch {
	case array.IsFault(x):
		return "cannot be computed"
	case array.IsBlank(x):
		return "not known"
	case v.Kind == formula.Quantity:
		return Show(x, v.Unit)
	case v.Kind == formula.Truths && x != 0:
		return "yes"
	case v.Kind == formula.Truths:
		return "no"
	}
	s, _ := v.cellJSON(x).(string)
	return s
}
