package book

import (
	"strconv"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// List is a list of the book: an axis, and inputs over it.
type List struct {
	Name    string
	Place   syntax.Place // of the block's info string
	Page    string
	Members []Member
	Columns []*Column // those that could be read

	index   map[string]int // of Members by name
	columns map[string]*Column
}

// Member is one member of a list.
type Member struct {
	Name  string
	Label string // the shown name: the column "label", else Name
	Place syntax.Place
}

// Column is a column of a list: an input over the list, and over week where its header says so.
type Column struct {
	Name  string
	List  *List
	Place syntax.Place // of the name in the header
	Input Input
}

// Full is the column's name in formulas.
func (c *Column) Full() string { return c.List.Name + "." + c.Name }

// Column gives a column by name; nil when there is none or it is broken.
func (l *List) Column(name string) *Column { return l.columns[name] }

// MemberIndex gives the index of a member.
func (l *List) MemberIndex(name string) (int, bool) {
	i, ok := l.index[name]
	return i, ok
}

func (l *List) memberNames() []string {
	names := make([]string, len(l.Members))
	for i, m := range l.Members {
		names[i] = m.Name
	}
	return names
}

// labelColumn is the column that holds shown names.
const labelColumn = "label"

// listSource is what a list is read from: its header and the rows that became members.
type listSource struct {
	list   *List
	header *syntax.Header
	rows   []*syntax.Row // by member; nil for a row that could not be read
	fault  *syntax.Error // the first row that could not be read
}

// declareList takes in a list's name and members, so that everything can refer to them.
func (a *assembler) declareList(b *blockRows) {
	name := b.block.Name
	if name == "" {
		return // said in reading
	}
	if err := a.claim(name, "list", b.block.Place); err != nil {
		a.report(err)
		return
	}
	s := &listSource{header: &syntax.Header{}, list: &List{Name: name, Place: b.block.Place, Page: b.block.Page,
		index: map[string]int{}, columns: map[string]*Column{}}}
	for i, part := range b.rows {
		switch item := part.Item.(type) {
		case *syntax.Header:
			s.header = item
		case *syntax.Row:
			a.addMember(s, item.Member, item)
		default:
			if s.fault == nil { // rows below an unreadable header have no fault of their own
				s.fault = a.readFault(part)
			}
			if i == 0 {
				a.breakName(name, s.fault) // the header: no column is known
			} else if member := firstWord(part.Text); isName(member) {
				// The member stays known, so that no other row is blamed for naming it.
				a.addMember(s, syntax.Word{Text: member, Place: syntax.Place{Line: part.Line, Col: 1, Len: len(member)}}, nil)
			}
		}
	}
	if len(s.list.Members) == 0 {
		if s.fault == nil {
			s.fault = emptyList.at(name, b.block.Place)
		}
		a.breakName(name, s.fault)
		return
	}
	a.Lists, a.lists[name] = append(a.Lists, s.list), s.list
	a.listSources = append(a.listSources, s)
}

func (a *assembler) addMember(s *listSource, member syntax.Word, row *syntax.Row) {
	l := s.list
	if first, twice := l.index[member.Text]; twice {
		err := duplicateMember.at(l.Name, member.Place, member.Text, strconv.Itoa(l.Members[first].Place.Line))
		if s.fault == nil {
			s.fault = err
		}
		a.report(err)
		return
	}
	i := len(l.Members)
	l.index[member.Text] = i
	l.Members = append(l.Members, Member{Name: member.Text, Label: member.Text, Place: member.Place})
	s.rows = append(s.rows, row)
	a.members[member.Text] = append(a.members[member.Text], Position{l.Name, i})
}

// readList reads a list's columns.
func (a *assembler) readList(s *listSource) {
	for i := range s.header.Columns {
		head := &s.header.Columns[i]
		name := head.Name.Text
		c, err := a.readColumn(s, head, i)
		if err == nil && s.fault != nil && name != labelColumn {
			err = s.fault // a row is missing: the column would be wrong
		}
		if err != nil {
			a.breakName(s.list.Name+"."+name, err)
			continue
		}
		s.list.Columns, s.list.columns[name] = append(s.list.Columns, c), c
	}
}

// readColumn reads the cells below one head.
func (a *assembler) readColumn(s *listSource, head *syntax.Column, at int) (*Column, *syntax.Error) {
	l := s.list
	c := &Column{Name: head.Name.Text, List: l, Place: head.Name.Place}
	in := &c.Input
	in.Axes, in.Along = []string{l.Name}, l.Name
	full := c.Full()
	if head.Over != "" {
		in.Axes = append(in.Axes, head.Over)
	}
	f := form{name: full, axes: in.Axes, known: true}
	refers, u, err := a.head(full, head)
	if err != nil {
		return nil, err
	}
	switch {
	case refers != nil:
		f.refers, f.kind, in.Refers = refers, Word, refers.Name
	case u != nil:
		f.kind, f.unit, f.bare = Number, u, u
	default:
		if err := a.settleColumn(s.rows, at, &f); err != nil {
			return nil, err
		}
	}
	for i, row := range s.rows {
		if row == nil || row.Cells[at].Text == "" {
			continue
		}
		cell := &row.Cells[at]
		if cell.Values == nil {
			return nil, a.cellFault(cell, full)
		}
		f.key = Key{Name: full, Member: l.Members[i].Name}
		pieces, _, err := a.values(cell.Values, &f)
		if err != nil {
			return nil, err
		}
		for j := range pieces {
			pieces[j].Member = i
		}
		if c.Name == labelColumn {
			l.Members[i].Label = pieces[0].Value.Word
		}
		in.Pieces = append(in.Pieces, pieces...)
	}
	in.Kind, in.Unit = f.kind, f.unit
	return c, nil
}

// settleColumn settles the unit of a column whose header has none by the first
// cell that names one, so that a bare 0 above it fits.
func (a *assembler) settleColumn(rows []*syntax.Row, at int, f *form) *syntax.Error {
	f.bare = a.Units.One()
	for _, row := range rows {
		if row == nil || row.Cells[at].Values == nil {
			continue
		}
		for _, piece := range row.Cells[at].Values.Pieces {
			if piece.Literal.Unit.Text != "" {
				var err *syntax.Error
				f.unit, err = a.unit(piece.Literal.Unit, f.name)
				return err
			}
		}
	}
	return nil
}

// head reads what a head says of its column: the list that it refers to, or its
// unit, or neither.
func (a *assembler) head(full string, head *syntax.Column) (*List, *unit.Unit, *syntax.Error) {
	name := head.Refers
	if name == "" && a.isList(head.Name.Text) {
		name = head.Name.Text
	}
	if name == "" {
		if head.Unit.Text == "" {
			return nil, nil, nil
		}
		u, err := a.unit(head.Unit, full)
		return nil, u, err
	}
	switch {
	case head.Unit.Text != "":
		return nil, nil, unitOfReference.at(full, head.Unit.Place, head.Unit.Text, name)
	case a.lists[name] != nil:
		return a.lists[name], nil, nil
	case a.Broken[name] != nil:
		return nil, nil, a.Broken[name]
	}
	return nil, nil, unknownList.near(a.near(name, a.listNames), full, head.Name.Place, name)
}
