package book

import (
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Override replaces cells of a line or of a list's column by values or a formula.
type Override struct {
	Place  syntax.Place // of the name
	Line   *Line        // the target is this line,
	Column *Column      // or this column
	// Where holds the words after "@", in order; none: every cell of the target.
	Where   []Spot
	Input   *Input          // nil when Formula is set
	Formula *syntax.Formula // may use "base"; only in a scenario
	Label   string
	Source  string
}

// Target is the name of the line or column.
func (o *Override) Target() string {
	if o.Line != nil {
		return o.Line.Name
	}
	return o.Column.Full()
}

// Position is a cell of an axis.
type Position struct {
	Axis  string
	Index int
}

// Spot is one word after "@" and the cell that it names.
type Spot struct {
	Text  string
	Place syntax.Place
	Position
	// Others are further cells that the word may name: a member of two lists, say,
	// where the target is computed and its axes are not known here. The first cell
	// along an axis that the target has is meant.
	Others []Position
}

// readScenario reads a scenario's rows.
func (a *assembler) readScenario(b *blockRows) {
	name := b.block.Name
	if name == "" {
		return // said in reading
	}
	if first := a.scenarios[name]; first != nil {
		a.report(duplicateName.at(name, b.block.Place, name, "scenario", strconv.Itoa(first.Place.Line)))
		return
	}
	s := &Scenario{Name: name, Title: b.block.Title, Place: b.block.Place, Page: b.block.Page}
	a.Scenarios, a.scenarios[name] = append(a.Scenarios, s), s
	seen := map[string]int{}
	for _, part := range b.rows {
		o, err := a.overrideRow(part, seen, true)
		if err != nil {
			a.report(err)
			if s.Broken == nil {
				s.Broken = err
			}
			continue
		}
		s.Overrides = append(s.Overrides, o)
	}
}

// readPins reads the rows of a pins block.
func (a *assembler) readPins(b *blockRows) {
	for _, part := range b.rows {
		o, err := a.overrideRow(part, a.pinned, false)
		if err != nil {
			a.report(err)
			continue
		}
		a.Pins = append(a.Pins, o)
	}
}

// overrideRow reads one row. seen holds the addresses before it and their lines.
func (a *assembler) overrideRow(part *syntax.Part, seen map[string]int, scenario bool) (Override, *syntax.Error) {
	item, ok := part.Item.(*syntax.Override)
	if !ok {
		return Override{}, a.readFault(part)
	}
	name := item.Address.Name
	o, err := a.override(item, nil)
	if err != nil {
		return o, err
	}
	if !scenario && o.Input != nil {
		for _, p := range o.Input.Pieces {
			if p.Value.Spread != nil {
				return o, noRange.at(name.Text, p.Value.Place, aPin, pinIsOne)
			}
		}
	}
	if line, twice := seen[o.address()]; twice {
		return o, repeatedOverride.at(name.Text, name.Place, name.Text, strconv.Itoa(line))
	}
	seen[o.address()] = name.Line
	return o, nil
}

// address is the same for two overrides of the same cells.
func (o *Override) address() string {
	words := make([]string, len(o.Where))
	for i, s := range o.Where {
		words[i] = s.Text
	}
	slices.Sort(words)
	return o.Target() + "@" + strings.Join(words, ",")
}

// Override resolves an override that does not stand in the book: the option of
// a verb. With bareTakesUnit a number that names no unit takes the target's.
func (b *Book) Override(item *syntax.Override, bareTakesUnit bool) (Override, *syntax.Error) {
	a := newAssembler(b)
	var bare *unit.Unit
	if bareTakesUnit {
		bare = a.targetUnit(item.Address.Name.Text)
	}
	return a.override(item, bare)
}

// targetUnit is the unit of a line or column; nil when it has none that is known here.
func (a *assembler) targetUnit(name string) *unit.Unit {
	if list, column, dotted := strings.Cut(name, "."); dotted {
		if c := a.Column(list, column); c != nil {
			return c.Input.Unit
		}
		return nil
	}
	if l := a.Line(name); l != nil {
		return l.Unit
	}
	return nil
}

// override resolves the address and reads the values. bare is the unit of a
// number that names none; nil leaves it a plain number.
func (a *assembler) override(item *syntax.Override, bare *unit.Unit) (Override, *syntax.Error) {
	f := form{bare: bare}
	o, err := a.address(item.Address, &f)
	o.Formula, o.Label, o.Source = item.Formula, item.Label, item.Source
	if err != nil || item.Values == nil {
		return o, err
	}
	if f.known { // the axes that the address leaves
		f.axes = slices.DeleteFunc(f.axes, func(axis string) bool {
			return slices.ContainsFunc(o.Where, func(s Spot) bool { return s.Axis == axis })
		})
	}
	in := &Input{Axes: f.axes}
	if target := o.input(); target != nil {
		in.Each, in.Refers = target.Each, target.Refers
	}
	if in.Pieces, in.Along, err = a.values(item.Values, &f); err != nil {
		return o, err
	}
	in.Kind, in.Unit = f.kind, f.unit
	o.Input = in
	return o, nil
}

// input is the input that an override takes the place of; nil for a computed line.
func (o *Override) input() *Input {
	if o.Column != nil {
		return &o.Column.Input
	}
	return o.Line.Input
}

// address finds the line or column and the cells that an address names, and fills
// in the form that values there have.
func (a *assembler) address(address syntax.Address, f *form) (Override, *syntax.Error) {
	name := address.Name
	o := Override{Place: name.Place}
	list, column, dotted := strings.Cut(name.Text, ".")
	if dotted {
		o.Column = a.Column(list, column)
	} else {
		o.Line = a.Line(name.Text)
	}
	if o.Line == nil && o.Column == nil {
		return o, a.noTarget(name, list)
	}
	f.name, f.key = name.Text, Key{Name: name.Text}
	if target := o.input(); target != nil {
		f.axes, f.known, f.kind, f.unit, f.refers = slices.Clone(target.Axes), true, target.Kind, target.Unit, a.lists[target.Refers]
	} else {
		f.unit = o.Line.Unit
	}
	for _, w := range address.Where {
		spot, err := a.spot(w, f)
		if err != nil {
			return o, err
		}
		for _, before := range o.Where {
			if before.Axis == spot.Axis && len(before.Others)+len(spot.Others) == 0 {
				return o, repeatedPlace.at(name.Text, w.Place, w.Text, spot.Axis)
			}
		}
		o.Where = append(o.Where, spot)
		if spot.Axis == WeekAxis {
			f.key.Week = a.Settings.Season.At(spot.Index)
		} else {
			f.key.Member = joined(f.key.Member, w.Text)
		}
	}
	return o, nil
}

// noTarget says why an address names nothing that can be overridden.
func (a *assembler) noTarget(name syntax.Word, before string) *syntax.Error {
	if err := a.Broken[name.Text]; err != nil {
		return err
	}
	if err := a.Broken[before]; err != nil {
		return err
	}
	if a.records[before] != nil {
		return recordsStand.at(name.Text, name.Place, before)
	}
	return unknownName.near(a.near(name.Text, a.targetNames), name.Text, name.Place, name.Text)
}

// spot finds the cell that a word of an address names.
func (a *assembler) spot(w syntax.Word, f *form) (Spot, *syntax.Error) {
	spot := Spot{Text: w.Text, Place: w.Place}
	found, err := a.positions(w, f)
	if err != nil {
		return spot, err
	}
	var has []Position
	for _, p := range found {
		if !f.known || slices.Contains(f.axes, p.Axis) {
			has = append(has, p)
		}
	}
	switch {
	case len(has) > 0:
		spot.Position, spot.Others = has[0], has[1:]
		return spot, nil
	case len(found) > 0:
		return spot, axisNotInLine.at(f.name, w.Place, w.Text, found[0].Axis, f.name)
	}
	near := a.near(w.Text, func() (words []string) {
		for _, axis := range f.axes {
			words = append(words, a.axisMembers(axis)...)
		}
		if !f.known {
			for _, l := range a.Lists {
				words = append(words, l.memberNames()...)
			}
		}
		return words
	})
	return spot, unknownPlace.near(near, f.name, w.Place, w.Text, f.name)
}

// positions gives every cell that a word may name, whatever the line.
func (a *assembler) positions(w syntax.Word, f *form) ([]Position, *syntax.Error) {
	season := a.Settings.Season
	if day, err := week.ParseWeek(w.Text); err == nil {
		if !a.Settings.HasSeason {
			return nil, a.noSeason(w.Place)
		}
		i, ok := season.Index(day)
		if !ok {
			return nil, notInSeason(f.name, w, season)
		}
		return []Position{{WeekAxis, i}}, nil
	} else if looksLikeWeek(w.Text) {
		return nil, noSuchWeek.at(f.name, w.Place, err.Error())
	}
	if month, err := week.ParseMonth(w.Text); err == nil {
		if !a.Settings.HasSeason {
			return nil, a.noSeason(w.Place)
		}
		if i := int(month - season.First.Month()); i >= 0 && i < len(season.Months()) {
			return []Position{{MonthAxis, i}}, nil
		}
		return nil, notInSeason(f.name, w, season)
	}
	var found []Position
	if i := slices.Index(monthNames[:], w.Text); i >= 0 {
		found = append(found, Position{MonthOfYearAxis, i})
	}
	if n, err := strconv.Atoi(w.Text); err == nil && n >= 1 && n <= a.Settings.Years && w.Text[0] != '0' {
		found = append(found, Position{YearAheadAxis, n - 1})
	}
	return append(found, a.members[w.Text]...), nil
}

// noSeason is why a week cannot be found: what was said about the season.
func (a *assembler) noSeason(place syntax.Place) *syntax.Error {
	if a.seasonFault != nil {
		return a.seasonFault
	}
	return missingSeason.at("season", place)
}

// looksLikeWeek says whether a word can only be meant as a week.
func looksLikeWeek(s string) bool { return len(s) > 6 && s[4] == '-' && s[5] == 'W' }
