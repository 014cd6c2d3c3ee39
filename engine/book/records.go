package book

import (
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Records is one kind of records: rows with a date each.
type Records struct {
	Name    string
	Place   syntax.Place // of the block's info string
	Page    string
	Columns []*RecordColumn // without the date; those that could be read
	Day     []week.Day      // by row, in book order; days outside the season are kept
	Places  []syntax.Place  // by row, of its date

	columns map[string]*RecordColumn
}

// RecordColumn is a column of records.
type RecordColumn struct {
	Name    string
	Records *Records
	Place   syntax.Place // of the name in the header
	Kind    Kind         // of all cells that are not blank; Blank when there is none
	Unit    *unit.Unit   // for numbers: all cells convert to it
	Refers  string       // the list its words are members of; "" for none
	Cells   []Value      // by row; Kind Blank where nothing is written
}

// Full is the column's name in formulas.
func (c *RecordColumn) Full() string { return c.Records.Name + "." + c.Name }

// Column gives a column by name; nil when there is none or it is broken.
func (r *Records) Column(name string) *RecordColumn { return r.columns[name] }

// recordsSource is what records are read from.
type recordsSource struct {
	records *Records
	header  *syntax.Header
	rows    []*syntax.Row
}

// declareRecords takes in the name and the days of one kind of records. A row
// that cannot be read breaks them: without it every sum would be wrong.
func (a *assembler) declareRecords(b *blockRows) {
	name := b.block.Name
	if name == "" {
		return // said in reading
	}
	if err := a.claim(name, "kind of records", b.block.Place); err != nil {
		a.report(err)
		return
	}
	s := &recordsSource{header: &syntax.Header{}, records: &Records{Name: name, Place: b.block.Place, Page: b.block.Page, columns: map[string]*RecordColumn{}}}
	var fault *syntax.Error
	for _, part := range b.rows {
		var err *syntax.Error
		switch item := part.Item.(type) {
		case *syntax.Header:
			s.header = item
		case *syntax.Row:
			err = a.addRow(s, item)
		default:
			if fault == nil { // rows below an unreadable header have no fault of their own
				err = a.readFault(part)
			}
		}
		if err != nil {
			a.report(err)
			if fault == nil {
				fault = err
			}
		}
	}
	if fault != nil {
		a.breakName(name, fault)
		return
	}
	a.Records, a.records[name] = append(a.Records, s.records), s.records
	a.recordsSources = append(a.recordsSources, s)
}

func (a *assembler) addRow(s *recordsSource, row *syntax.Row) *syntax.Error {
	cell := row.Cells[0]
	day, err := week.ParseDay(cell.Text)
	if err != nil {
		return noSuchDay.at(s.records.Name, cell.Place, err.Error())
	}
	s.records.Day = append(s.records.Day, day)
	s.records.Places = append(s.records.Places, cell.Place)
	s.rows = append(s.rows, row)
	return nil
}

// readRecords reads the columns. A bad cell breaks its column; in a column that
// refers to a list it breaks the records, since the row belongs nowhere then.
func (a *assembler) readRecords(s *recordsSource) {
	r := s.records
	for at := 1; at < len(s.header.Columns); at++ {
		head := &s.header.Columns[at]
		name := head.Name.Text
		c, err := a.readRecordColumn(s, head, at)
		switch {
		case err == nil:
			r.Columns, r.columns[name] = append(r.Columns, c), c
		case head.Refers != "" || a.isList(name):
			a.breakName(r.Name, err)
			delete(a.records, r.Name)
		default:
			a.breakName(r.Name+"."+name, err)
		}
	}
}

func (a *assembler) readRecordColumn(s *recordsSource, head *syntax.Column, at int) (*RecordColumn, *syntax.Error) {
	c := &RecordColumn{Name: head.Name.Text, Records: s.records, Place: head.Name.Place}
	full := c.Full()
	if head.Over != "" {
		return nil, recordsOverWeek.at(full, head.Name.Place)
	}
	refers, u, err := a.head(full, head)
	if err != nil {
		return nil, err
	}
	f := form{name: full, known: true, refers: refers, key: Key{Name: full}}
	switch {
	case refers != nil:
		f.kind, c.Refers = Word, refers.Name
	case u != nil:
		f.kind, f.unit, f.bare = Number, u, u
	default:
		if err := a.settleColumn(s.rows, at, &f); err != nil {
			return nil, err
		}
	}
	c.Cells = make([]Value, len(s.rows))
	for i, row := range s.rows {
		c.Cells[i].Member = -1
		cell := &row.Cells[at]
		if cell.Text == "" {
			continue
		}
		if cell.Values == nil {
			return nil, a.cellFault(cell, full)
		}
		pieces, _, err := a.values(cell.Values, &f)
		if err != nil {
			return nil, err
		}
		if pieces[0].Value.Spread != nil {
			return nil, noRange.at(full, cell.Place, cell.Text, recordIsOne)
		}
		c.Cells[i] = pieces[0].Value
	}
	c.Kind, c.Unit = f.kind, f.unit
	return c, nil
}

// KeepBefore takes the rows of a day and of later ones out of the records, for a
// look at the book as it stood before that day.
func (r *Records) KeepBefore(day week.Day) {
	n := 0
	for i, d := range r.Day {
		if d >= day {
			continue
		}
		r.Day[n], r.Places[n] = d, r.Places[i]
		for _, c := range r.Columns {
			c.Cells[n] = c.Cells[i]
		}
		n++
	}
	r.Day, r.Places = r.Day[:n], r.Places[:n]
	for _, c := range r.Columns {
		c.Cells = c.Cells[:n]
	}
}
