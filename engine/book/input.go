package book

import (
	"slices"
	"strconv"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Input is the right side of "name : values", a list's column, or the values of
// an override.
type Input struct {
	// Axes names the axes the input is over, as written; a column's list comes first.
	// For an override, the axes of its target that its address leaves; nil when the
	// target is computed, since those axes come out of its formula.
	Axes []string
	Each []Each // axes over which every cell draws for itself
	// Along is the axis that Piece.Member counts on; "" when every piece is for all members.
	Along string
	Kind  Kind // of all pieces; Blank when there is none
	// Unit is the unit of the input, for numbers: all pieces convert to it.
	Unit   *unit.Unit
	Refers string // the list that the words are members of; "" for none
	// Pieces stand by member, then by week. The last one whose week has begun holds;
	// a member's first holds from the beginning. A member without pieces is blank.
	Pieces []Piece
}

// Each is an axis with "each" before it.
type Each struct {
	Axis  string
	Keeps float64 // share 0..1 of last week's departure that stays; only along week
}

// Piece is a value for one member, or all, from a week on.
type Piece struct {
	Member int  // index along Input.Along; -1 for all
	First  bool // holds from the beginning; From says nothing then
	From   week.Week
	Value  Value
}

// form is what the values of an input, a column or an override must look like.
// Empty fields are settled by the first value.
type form struct {
	name   string // line, or list.column
	axes   []string
	known  bool // axes are known; false for a computed line
	kind   Kind
	unit   *unit.Unit // every number converts to it
	bare   *unit.Unit // unit of a number that names none; nil: as Values says
	refers *List
	key    Key // of literals for all members from the beginning
}

// values reads the pieces of v and settles the open fields of f. Along is the
// axis that the pieces' members count on, "" for none.
func (a *assembler) values(v *syntax.Values, f *form) (pieces []Piece, along string, err *syntax.Error) {
	bare, err := a.bareUnit(v, f)
	if err != nil {
		return nil, "", err
	}
	if len(v.Each) > 0 {
		return a.oneForEach(v.Each, f, bare)
	}
	pieces = make([]Piece, 0, len(v.Pieces))
	for i := range v.Pieces {
		written := &v.Pieces[i]
		p := Piece{Member: -1, First: i == 0}
		key := f.key
		if i > 0 {
			if f.known && !slices.Contains(f.axes, WeekAxis) {
				return nil, "", scheduleWithoutWeek.at(f.name, written.Literal.Place)
			}
			from, fault := week.ParseWeek(written.From.Text)
			if fault != nil {
				return nil, "", noSuchWeek.at(f.name, written.From.Place, fault.Error())
			}
			p.From, key.Week = from, from
		}
		if p.Value, err = a.value(&written.Literal, f, key, bare); err != nil {
			return nil, "", err
		}
		pieces = append(pieces, p)
	}
	return pieces, "", nil
}

// bareUnit is the unit that numbers of v take when they name none: the one that
// f gives; else, of a schedule, the first piece's, and of one number a member,
// the one they end with. It settles f.unit by the first unit that v names.
func (a *assembler) bareUnit(v *syntax.Values, f *form) (*unit.Unit, *syntax.Error) {
	bare := f.bare
	settle := func(l *syntax.Literal, takes bool) *syntax.Error {
		if l.Unit.Text == "" || f.unit != nil && (bare != nil || !takes) {
			return nil
		}
		u, err := a.unit(l.Unit, f.name)
		if err != nil {
			return err
		}
		if f.unit == nil {
			f.unit = u
		}
		if bare == nil && takes {
			bare = u
		}
		return nil
	}
	for i := range v.Pieces {
		if err := settle(&v.Pieces[i].Literal, i == 0); err != nil {
			return nil, err
		}
	}
	for i := range v.Each {
		if err := settle(&v.Each[i], true); err != nil {
			return nil, err
		}
	}
	if bare == nil {
		bare = a.Units.One()
	}
	return bare, nil
}

// oneForEach reads comma-separated values: one a cell of the input's only axis,
// or of its only axis beside week.
func (a *assembler) oneForEach(each []syntax.Literal, f *form, bare *unit.Unit) ([]Piece, string, *syntax.Error) {
	place := spanned(each[0].Place, each[len(each)-1].Place)
	axes := f.axes
	if len(axes) > 1 {
		axes = slices.DeleteFunc(slices.Clone(axes), func(axis string) bool { return axis == WeekAxis })
	}
	if len(axes) != 1 {
		return nil, "", commasNeedOneAxis.at(f.name, place, strconv.Itoa(len(each)))
	}
	axis := axes[0]
	members := a.axisMembers(axis)
	if members == nil {
		return nil, "", a.noSeason(place)
	}
	if len(members) != len(each) {
		return nil, "", wrongCount.at(f.name, place, axis, counted(len(members)), strconv.Itoa(len(each)))
	}
	pieces := make([]Piece, len(each))
	for i := range each {
		p, key := Piece{Member: i, First: true}, f.key
		if axis == WeekAxis { // a schedule with a step every week
			p = Piece{Member: -1, First: i == 0, From: a.Settings.Season.At(i)}
			key.Week = p.From
		} else {
			key.Member = joined(key.Member, members[i])
		}
		var err *syntax.Error
		if p.Value, err = a.value(&each[i], f, key, bare); err != nil {
			return nil, "", err
		}
		pieces[i] = p
	}
	if axis == WeekAxis {
		axis = ""
	}
	return pieces, axis, nil
}

// value reads one literal and holds it against f.
func (a *assembler) value(l *syntax.Literal, f *form, key Key, bare *unit.Unit) (Value, *syntax.Error) {
	v, err := a.read(l, key, bare)
	if err != nil {
		return v, err
	}
	if f.refers != nil && v.Kind != Word {
		return v, a.notOfList(f.name, l, f.refers)
	}
	if f.kind == Blank {
		f.kind = v.Kind
	}
	if v.Kind != f.kind {
		return v, wrongKind.at(f.name, l.Place, l.Text, kindWords[v.Kind], kindWords[f.kind])
	}
	switch v.Kind {
	case Word:
		if f.refers == nil {
			break
		}
		i, ok := f.refers.MemberIndex(v.Word)
		if !ok {
			return v, a.notOfList(f.name, l, f.refers)
		}
		v.Member = i
	case Number:
		if f.unit == nil {
			f.unit = v.Unit
		}
		if fits(v.Unit, f.unit) {
			break
		}
		// A bare 0 fits every unit, except a temperature: there 0 is a degree like any other.
		if l.Unit.Text == "" && v.Number == 0 && v.Spread == nil && !f.unit.Absolute {
			v.Unit = f.unit
			break
		}
		return v, mismatch(f.name, l, v.Unit, f.unit)
	}
	return v, nil
}

// input reads the values of an input line.
func (a *assembler) input(line *syntax.Line) (*Input, *syntax.Error) {
	name := line.Name.Text
	in := &Input{}
	for _, axis := range line.Over {
		if err := a.axis(name, axis.Name); err != nil {
			return nil, err
		}
		if slices.Contains(in.Axes, axis.Name.Text) {
			return nil, repeatedAxis.at(name, axis.Name.Place, axis.Name.Text)
		}
		if axis.Keeps != 0 && axis.Name.Text != WeekAxis {
			return nil, keepsWithoutWeek.at(name, axis.Name.Place, axis.Name.Text)
		}
		in.Axes = append(in.Axes, axis.Name.Text)
		if axis.Each {
			in.Each = append(in.Each, Each{axis.Name.Text, axis.Keeps})
		}
	}
	f := form{name: name, axes: in.Axes, known: true, key: Key{Name: name}}
	var err *syntax.Error
	if in.Pieces, in.Along, err = a.values(line.Values, &f); err != nil {
		return nil, err
	}
	in.Kind, in.Unit = f.kind, f.unit
	return in, nil
}

// axis checks that an axis is there.
func (a *assembler) axis(name string, axis syntax.Word) *syntax.Error {
	if builtInAxis(axis.Text) || a.lists[axis.Text] != nil {
		return nil
	}
	if err := a.Broken[axis.Text]; err != nil {
		return err // a broken list: said once already
	}
	return unknownAxis.near(a.near(axis.Text, a.axisNames), name, axis.Place, axis.Text)
}

// counted says how many members there are.
func counted(n int) string {
	if n == 1 {
		return "1 member"
	}
	return strconv.Itoa(n) + " members"
}
