package syntax

import "strconv"

// readTable reads the header or a row of a list or of records.
func (r *rowReader) readTable(c cut) any {
	cells := c.split('|')
	if !r.past {
		r.past = true
		r.header = r.readHeader(cells)
		if r.header == nil {
			return nil
		}
		return r.header
	}
	if row := r.readRow(c, cells); row != nil {
		return row
	}
	return nil
}

func (r *rowReader) isList() bool { return r.block.Kind == "list" }

// readHeader reads the columns; nil when one of them is in error.
func (r *rowReader) readHeader(cells []cut) *Header {
	name := r.block.title()
	good := true
	refuse := func(e *Error) {
		r.fail(e, name)
		good = false
	}
	first := cells[0]
	if r.isList() {
		if !first.empty() {
			refuse(headerMember.at(first.place(), first.String()))
		}
		cells = cells[1:]
	} else if first.String() != "date" {
		refuse(headerDate.at(first.place(), first.String()))
	}
	h := &Header{Columns: make([]Column, 0, len(cells))}
	seen := make(map[string]bool, len(cells))
	for _, c := range cells {
		column, e := readColumn(c)
		if e != nil {
			refuse(e)
			continue
		}
		if seen[column.Name.Text] {
			refuse(repeatedColumn.at(column.Name.Place, column.Name.Text))
			continue
		}
		seen[column.Name.Text] = true
		h.Columns = append(h.Columns, column)
	}
	if !good {
		return nil
	}
	return h
}

// readColumn reads: name [over week] [unit], or name -> list.
func readColumn(c cut) (Column, *Error) {
	wrong := func() (Column, *Error) { return Column{}, badColumn.at(c.place(), c.String()) }
	name, rest := c.firstWord()
	if name.empty() {
		return wrong()
	}
	if e := checkName(name); e != nil {
		return Column{}, e
	}
	column := Column{Name: name.word()}
	word, after := rest.firstWord()
	switch word.String() {
	case "->":
		list, more := after.firstWord()
		if list.empty() || !more.empty() {
			return wrong()
		}
		if e := checkName(list); e != nil {
			return Column{}, e
		}
		column.Refers = list.String()
		return column, nil
	case "over":
		week, more := after.firstWord()
		if week.String() != "week" {
			return wrong()
		}
		column.Over = "week"
		word, after = more.firstWord()
	}
	if word.empty() {
		return column, nil
	}
	if !after.empty() {
		return wrong()
	}
	if e := checkUnit(word); e != nil {
		return Column{}, e
	}
	column.Unit = word.word()
	return column, nil
}

// readRow reads one member or one record. A cell that cannot be read gives an
// error under "list.column" and keeps its text; the member stays.
func (r *rowReader) readRow(whole cut, cells []cut) *Row {
	row := &Row{}
	if r.isList() {
		member := cells[0]
		if e := checkName(member); e != nil {
			r.fail(e, r.block.title())
			return nil
		}
		row.Member = member.word()
		cells = cells[1:]
	}
	if r.header == nil {
		return nil // the header's error says it all
	}
	columns := r.header.Columns
	if len(cells) != len(columns) {
		given, wanted := len(cells), len(columns)
		if r.isList() { // the member counts as a person counts
			given, wanted = given+1, wanted+1
		}
		r.fail(cellCount.at(whole.place(), strconv.Itoa(given), strconv.Itoa(wanted)), r.block.title())
		return nil
	}
	row.Cells = make([]Cell, len(cells))
	for i, c := range cells {
		row.Cells[i] = r.readCell(c, columns[i])
	}
	if r.isList() {
		return row
	}
	if day := row.Cells[0]; day.Values == nil || day.Values.Pieces[0].Literal.Kind != DateLiteral {
		if day.Text == "" || day.Values != nil {
			r.fail(recordDate.at(day.Place, day.Text), r.block.title())
		}
		return nil
	}
	return row
}

func (r *rowReader) readCell(c cut, column Column) Cell {
	cell := Cell{Text: c.String(), Place: c.place()}
	if cell.Text == "" {
		return cell
	}
	if column.Name.Text == "label" && cell.Text[0] != '"' {
		// A label is text without quotes.
		cell.Values = single(Literal{Kind: QuotedText, Place: cell.Place, Text: cell.Text, Word: cell.Text})
		return cell
	}
	v, e := readValues(c)
	if e == nil && v.Each != nil {
		e = cellList.at(cell.Place)
	}
	if e != nil {
		r.fail(e, r.block.title()+"."+column.Name.Text)
		return cell
	}
	cell.Values = v
	return cell
}
