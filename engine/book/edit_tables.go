package book

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
)

// table is a list's or records' block with its header.
type table struct {
	stretch
	header  *syntax.Header
	rows    []int // parts, below the header
	pattern string
}

// table finds the block of a list or of records.
func (d *draft) table(kind, name string, missing *message) (*table, *syntax.Error) {
	s, err := d.named(kind, name, missing)
	if err != nil {
		return nil, err
	}
	t := &table{stretch: s, rows: d.rows(s)}
	if len(t.rows) > 0 {
		t.header, _ = d.doc.Parts[t.rows[0]].Item.(*syntax.Header)
	}
	if t.header == nil {
		return nil, unreadHeader.at(name, s.block.Place, name)
	}
	t.pattern = d.body(t.rows[0])
	t.rows = t.rows[1:]
	for _, i := range t.rows { // the last whole row shows how the next one looks
		if row := d.body(i); len(cellsOf(row)) == t.width() {
			t.pattern = row
		}
	}
	return t, nil
}

// width is how many cells a row has, the member's included.
func (t *table) width() int {
	if t.block.Kind == "list" {
		return len(t.header.Columns) + 1
	}
	return len(t.header.Columns)
}

// column gives the place of a column among the cells of a row.
func (t *table) column(name string) (int, *syntax.Error) {
	names := make([]string, len(t.header.Columns))
	for i, c := range t.header.Columns {
		names[i] = c.Name.Text
		if names[i] == name {
			return i + t.width() - len(names), nil
		}
	}
	full := t.block.Name + "." + name
	return 0, noSuchColumn.near(syntax.Nearest(name, names), full, t.block.Place, t.block.Name, name)
}

// texts gives cells by their place in a row; line is where an error of theirs stands.
func (t *table) texts(cells map[string]string, line int) (map[int]string, *syntax.Error) {
	texts := make(map[int]string, len(cells))
	for _, name := range slices.Sorted(maps.Keys(cells)) {
		i, err := t.column(name)
		if err != nil {
			return nil, err
		}
		texts[i] = strings.TrimSpace(cells[name])
		if err := oneCell(texts[i], "|", t.block.Name+"."+name, line); err != nil {
			return nil, err
		}
	}
	return texts, nil
}

// fill writes cells into a row, by column.
func (t *table) fill(row string, cells map[string]string, line int) (string, *syntax.Error) {
	if n := len(cellsOf(row)); n != t.width() {
		return "", unreadRow.at(t.block.Name, placeOf(line), strconv.Itoa(n), strconv.Itoa(t.width()))
	}
	texts, err := t.texts(cells, line)
	for i, text := range texts {
		cell := cellsOf(row)[i]
		row = refill(row, cell.from, cell.to, text)
	}
	return row, err
}

// newRow is a row that looks like its neighbours, with what is written by column;
// member is the first cell of a list's row.
func (t *table) newRow(member string, written map[string]string) (string, *syntax.Error) {
	texts, err := t.texts(written, t.block.Place.Line)
	if err != nil {
		return "", err
	}
	if t.block.Kind == "list" {
		texts[0] = member
	}
	cells := cellsOf(t.pattern)
	row := t.pattern[:cells[len(cells)-1].to]
	for i, cell := range slices.Backward(cells) { // so that what is to come stands where it stood
		row = refill(row, cell.from, cell.to, texts[i])
	}
	return row, nil
}

// member finds the row of a member.
func (d *draft) member(t *table, name string) (int, *syntax.Error) {
	var names []string
	for _, i := range t.rows {
		row := d.body(i)
		first := cellsOf(row)[0]
		n := strings.TrimSpace(row[first.from:first.to])
		if n == name && name != "" {
			return i, nil
		}
		names = append(names, n)
	}
	return -1, noSuchMember.near(syntax.Nearest(name, names), t.block.Name, t.block.Place, t.block.Name, name)
}

func (d *draft) setCell(e *Edit) (*change, *syntax.Error) {
	t, err := d.table("list", e.Name, noSuchList)
	if err != nil {
		return nil, err
	}
	i, err := d.member(t, e.Member)
	if err != nil {
		return nil, err
	}
	return d.correct(t, i, e.Was, map[string]string{e.Column: string(e.Text)})
}

// correct is the change of cells of one row.
func (d *draft) correct(t *table, i int, was Verbatim, cells map[string]string) (*change, *syntax.Error) {
	row, err := t.fill(d.body(i), cells, d.doc.Parts[i].Line)
	if err != nil {
		return nil, err
	}
	return d.setRow(i, was, row)
}

func (d *draft) addMember(e *Edit) (*change, *syntax.Error) {
	t, err := d.table("list", e.Name, noSuchList)
	if err != nil {
		return nil, err
	}
	if i, _ := d.member(t, e.Member); i >= 0 {
		return nil, memberTaken.at(e.Name, placeOf(d.doc.Parts[i].Line), e.Name, e.Member)
	}
	if firstWord(e.Member) != e.Member || !isName(e.Member) {
		return nil, noMemberName.at(e.Name, t.block.Place, e.Member)
	}
	row, err := t.newRow(e.Member, e.Cells)
	if err != nil {
		return nil, err
	}
	return d.addRow(d.lastRow(t.stretch), row)
}

func (d *draft) removeMember(e *Edit) (*change, *syntax.Error) {
	t, err := d.table("list", e.Name, noSuchList)
	if err != nil {
		return nil, err
	}
	i, err := d.member(t, e.Member)
	if err != nil {
		return nil, err
	}
	return d.removeRow(i, e.Was)
}

func (d *draft) addRecord(e *Edit) (*change, *syntax.Error) {
	t, err := d.table("records", e.Name, noSuchRecords)
	if err != nil {
		return nil, err
	}
	if strings.TrimSpace(e.Cells["date"]) == "" {
		return nil, noDay.at(e.Name, t.block.Place)
	}
	row, err := t.newRow("", e.Cells)
	if err != nil {
		return nil, err
	}
	return d.addRow(d.lastRow(t.stretch), row)
}

// record finds row number n of records.
func (d *draft) record(e *Edit) (*table, int, *syntax.Error) {
	t, err := d.table("records", e.Name, noSuchRecords)
	if err != nil {
		return nil, 0, err
	}
	if e.Record < 1 || e.Record > len(t.rows) {
		return nil, 0, noSuchRecord.at(e.Name, t.block.Place, e.Name, strconv.Itoa(e.Record), strconv.Itoa(len(t.rows)))
	}
	return t, t.rows[e.Record-1], nil
}

func (d *draft) correctRecord(e *Edit) (*change, *syntax.Error) {
	t, i, err := d.record(e)
	if err != nil {
		return nil, err
	}
	if day, given := e.Cells["date"]; given && strings.TrimSpace(day) == "" {
		return nil, noDay.at(e.Name, placeOf(d.doc.Parts[i].Line))
	}
	return d.correct(t, i, e.Was, e.Cells)
}

func (d *draft) removeRecord(e *Edit) (*change, *syntax.Error) {
	_, i, err := d.record(e)
	if err != nil {
		return nil, err
	}
	return d.removeRow(i, e.Was)
}
