package engine

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// Intake is what the rows of a CSV file come to as records of a book: which column of
// the file goes where, the rows that would be taken, and those that would not, each
// with the reason. Nothing is changed by it: Edit, applied, takes all rows at once.
//
// The book itself judges the rows: they are put into a copy of it, and what it says of
// them is what is said here. A figure keeps the unit that the file gave it, "1.5 degC"
// in a column of degF, so that the book shows what was read and converts it as it
// converts everything.
type Intake struct {
	Records   string
	Separator string         // of the file's cells, in words
	Columns   []IntakeColumn // by the columns of the records
	Unused    []string       // columns of the file that go nowhere
	Rows      int            // of the file, below its head
	Same      int            // rows that the book has already, left out
	Beside    int            // rows taken whose day and names the book has with other figures
	Refused   []RefusedRow
	More      bool // there may be more that are refused
	Taken     int
	Edit      book.Edit // takes the rows; empty when there is nothing to take
}

// IntakeColumn says where a column of records comes from.
type IntakeColumn struct {
	Name   string // of the records
	From   string // head in the file; "" when it stays blank
	Always string // what stands in every row instead
	Unit   string // that the file's figures are in; "" the column's own
}

// RefusedRow is a row of the file that is not taken.
type RefusedRow struct {
	Line          int // of the file, from 1
	Column        string
	Message, Hint string
}

// IntakeOptions say how a file is to be read.
type IntakeOptions struct {
	// Map says for columns of the records where they come from: "high=Tmax", the head
	// of a column in the file; "high=Tmax -> degC", with its unit; "offer:=stall_tomato",
	// the same in every row.
	Map []string
	// Dates is the order of numbers in dates that are not written as ISO 8601 has them:
	// "day-first" or "month-first"; "" takes no others.
	Dates string
	// SkipRefused takes the other rows when some are refused.
	SkipRefused bool
}

// mostRefused bounds how many rows are looked at one by one for what is wrong.
const mostRefused = 20

// Intake reads a CSV file (RFC 4180; cells apart by comma, semicolon or tab) for the
// records of a name.
func (d *Desk) Intake(records string, file []byte, o IntakeOptions) (*Intake, error) {
	r := d.Book.RecordsOf(records)
	if r == nil {
		var names []string
		for _, x := range d.Book.Records {
			if x.Name == records {
				return nil, &OptionError{Message: "the records " + records + " are in error", Hint: "wintertruss check BOOK says where"}
			}
			names = append(names, x.Name)
		}
		return nil, &OptionError{Message: "the book has no records " + records, Hint: syntax.DidYouMean(records, names)}
	}
	in := &Intake{Records: records}
	table, lines, err := in.read(file)
	if err != nil {
		return nil, err
	}
	if err := in.columns(r, table[0], o); err != nil {
		return nil, err
	}
	rows := make([]intakeRow, 0, len(table)-1)
	for i, cells := range table[1:] {
		row := intakeRow{line: lines[i+1], cells: map[string]string{}}
		if why := in.cells(d, r, &row, table[0], cells, o); why != nil {
			in.Refused = append(in.Refused, *why)
			continue
		}
		rows = append(rows, row)
	}
	in.Rows = len(table) - 1
	rows, err = in.judge(d, r, rows)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(in.Refused, func(a, b RefusedRow) int { return a.Line - b.Line })
	in.Taken = len(rows)
	if len(in.Refused) > 0 && !o.SkipRefused {
		in.Taken, in.Edit = 0, book.Edit{}
	}
	return in, nil
}

// intakeRow is a row on its way into the book.
type intakeRow struct {
	line  int
	cells map[string]string // text by column of the records
}

// read takes the file apart; lines are those of its rows in the file.
func (in *Intake) read(file []byte) (table [][]string, lines []int, err error) {
	file = bytes.TrimPrefix(file, []byte("\uFEFF"))
	if !utf8.Valid(file) {
		return nil, nil, &OptionError{Message: "the file is not written in UTF-8", Hint: "save it again as CSV in UTF-8"}
	}
	head, _, _ := bytes.Cut(file, []byte("\n"))
	comma, most := ',', -1
	for _, c := range []struct {
		sign rune
		says string
	}{{',', "comma"}, {';', "semicolon"}, {'\t', "tab"}} {
		if n := strings.Count(string(head), string(c.sign)); n > most {
			comma, most, in.Separator = c.sign, n, c.says
		}
	}
	r := csv.NewReader(bytes.NewReader(file))
	r.Comma, r.FieldsPerRecord = comma, -1
	for {
		cells, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, nil, &OptionError{Message: "the file does not read as CSV: " + err.Error()}
		}
		if len(cells) == 1 && strings.TrimSpace(cells[0]) == "" {
			continue
		}
		line, _ := r.FieldPos(0)
		table, lines = append(table, cells), append(lines, line)
	}
	if len(table) < 2 {
		return nil, nil, &OptionError{Message: "the file has no rows", Hint: "its first row names the columns, each row below is one record"}
	}
	return table, lines, nil
}

// unitOf finds the unit at the end of a head: "high (degC)", "weight [kg]".
var unitOf = regexp.MustCompile(`^(.*?)\s*[(\[]([^()\[\]]+)[)\]]$`)

// headed gives the name and the unit of a head.
func headed(head string) (name, unit string) {
	head = strings.TrimSpace(head)
	if m := unitOf.FindStringSubmatch(head); m != nil {
		return m[1], m[2]
	}
	return head, ""
}

// plainName is how heads are compared with names of columns.
func plainName(s string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(s), "_", " ")), " ")
}

// columns finds where each column of the records comes from.
func (in *Intake) columns(r *book.Records, head []string, o IntakeOptions) error {
	names := []string{"date"}
	for _, c := range r.Columns {
		names = append(names, c.Name)
	}
	for i, h := range head {
		if slices.ContainsFunc(head[:i], func(g string) bool { return strings.TrimSpace(g) == strings.TrimSpace(h) }) && strings.TrimSpace(h) != "" {
			return &OptionError{Message: "two columns of the file are named " + strings.TrimSpace(h), Hint: "give one another name"}
		}
	}
	said := map[string]IntakeColumn{}
	for _, m := range o.Map {
		name, from, ok := strings.Cut(m, "=")
		always := strings.HasSuffix(name, ":")
		name = strings.TrimSpace(strings.TrimSuffix(name, ":"))
		if !ok || !slices.Contains(names, name) {
			return &OptionError{Message: fmt.Sprintf("--map %q: %s has no column %s", m, r.Name, name), Hint: "its columns are " + strings.Join(names, ", ") + "; --map 'high=Tmax -> degC' or --map 'offer:=stall_tomato'"}
		}
		c := IntakeColumn{Name: name}
		if from = strings.TrimSpace(from); always {
			c.Always = from
		} else {
			from, unit, _ := strings.Cut(from, "->")
			c.From, c.Unit = strings.TrimSpace(from), strings.TrimSpace(unit)
			if !slices.ContainsFunc(head, func(h string) bool { return strings.TrimSpace(h) == c.From }) {
				return &OptionError{Message: fmt.Sprintf("--map %q: the file has no column %s", m, c.From), Hint: "its columns are " + strings.Join(head, ", ")}
			}
		}
		said[name] = c
	}
	used := map[string]bool{}
	for _, name := range names {
		c, mapped := said[name]
		if !mapped {
			c = IntakeColumn{Name: name}
			for _, h := range head {
				if n, _ := headed(h); plainName(n) == plainName(name) {
					c.From = strings.TrimSpace(h)
				}
			}
		}
		if c.From != "" && c.Unit == "" && name != "date" {
			_, c.Unit = headed(c.From)
		}
		used[c.From] = true
		in.Columns = append(in.Columns, c)
	}
	if c := in.Columns[0]; c.From == "" && c.Always == "" {
		return &OptionError{Message: "no column of the file is the date", Hint: "name it: --map 'date=" + strings.TrimSpace(head[0]) + "'"}
	}
	for _, h := range head {
		if !used[strings.TrimSpace(h)] {
			in.Unused = append(in.Unused, strings.TrimSpace(h))
		}
	}
	return nil
}

var (
	plainNumber  = regexp.MustCompile(`^[+-]?[0-9]+(\.[0-9]+)?([eE][+-]?[0-9]+)?$|^[+-]?\.[0-9]+$`)
	commaNumber  = regexp.MustCompile(`^[+-]?[0-9][0-9. ]*,[0-9 ]+$|^[+-]?[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?$`)
	slashedDate  = regexp.MustCompile(`^([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})$`)
	timedDate    = regexp.MustCompile(`^([0-9]{4}-[0-9]{2}-[0-9]{2})[T ][0-9]{1,2}:[0-9]{2}[0-9:.]*(Z|[+-][0-9:]+)?$`)
	guardedStart = regexp.MustCompile(`^'[=+\-@]`) // how exports keep text from being taken for a formula
)

// cells gives a row the text of its cells as the book writes them.
func (in *Intake) cells(d *Desk, r *book.Records, row *intakeRow, head, cells []string, o IntakeOptions) *RefusedRow {
	refuse := func(c *IntakeColumn, message, hint string) *RefusedRow {
		return &RefusedRow{Line: row.line, Column: c.Name, Message: message, Hint: hint}
	}
	if len(cells) > len(head) { // a decimal comma that splits a figure, most often
		return refuse(&in.Columns[0], fmt.Sprintf("the row has %d cells, its head %d", len(cells), len(head)), "a figure with a comma in it? write 12.5")
	}
	for i := range in.Columns {
		c := &in.Columns[i]
		text := c.Always
		if c.From != "" {
			at := slices.IndexFunc(head, func(h string) bool { return strings.TrimSpace(h) == c.From })
			if at >= len(cells) {
				return refuse(c, fmt.Sprintf("the row has %d cells, its head %d", len(cells), len(head)), "")
			}
			text = strings.TrimSpace(cells[at])
		}
		if guardedStart.MatchString(text) && !plainNumber.MatchString(text[1:]) { // a number needs no guard
			text = text[1:]
		}
		switch {
		case text == "":
			continue
		case c.Name == "date":
			day, why := isoDay(text, o.Dates)
			if why != "" {
				return refuse(c, text+" is no day as ISO 8601 writes it: "+why, "2027-03-08; for others say --dates day-first or --dates month-first")
			}
			text = day
		case commaNumber.MatchString(text):
			return refuse(c, text+" can be read in two ways: a comma in a number", "write 1234.5 with a point and nothing between thousands")
		case c.Unit != "" && plainNumber.MatchString(text):
			text += " " + c.Unit
		default:
			text = d.memberOf(r.Column(c.Name), text)
		}
		if strings.ContainsAny(text, "|\n\r") || strings.Contains(text, "//") {
			return refuse(c, "a cell of a book holds no | and no //, and is one line", "")
		}
		row.cells[c.Name] = text
	}
	if row.cells["date"] == "" {
		return refuse(&in.Columns[0], "the row has no date", "")
	}
	return nil
}

// isoDay gives a day as the book writes it, or why it is not known.
func isoDay(text, order string) (day, why string) {
	if m := timedDate.FindStringSubmatch(text); m != nil {
		text = m[1]
	}
	if m := slashedDate.FindStringSubmatch(text); m != nil {
		first, second := fmt.Sprintf("%02s", m[1]), fmt.Sprintf("%02s", m[2])
		switch order {
		case "day-first":
			text = m[3] + "-" + second + "-" + first
		case "month-first":
			text = m[3] + "-" + first + "-" + second
		default:
			return "", "whether day or month comes first cannot be told"
		}
	}
	if _, err := week.ParseDay(text); err != nil {
		return "", err.Error()
	}
	return text, ""
}

// memberOf gives the member of the column's list that a text names, by its name or its
// label; the text itself where it names none, or more than one.
func (d *Desk) memberOf(c *book.RecordColumn, text string) string {
	if c == nil || c.Refers == "" {
		return text
	}
	members := d.Book.List(c.Refers).Members
	if slices.ContainsFunc(members, func(m book.Member) bool { return m.Name == text }) {
		return text
	}
	named := ""
	for _, m := range members {
		if strings.EqualFold(m.Label, text) || plainName(m.Name) == plainName(text) {
			if named != "" {
				return text // which of the two is meant is the person's to say
			}
			named = m.Name
		}
	}
	return cmp.Or(named, text)
}

// judge puts the rows into a copy of the book, takes out those that it refuses and
// those that it has already, and makes the edit of the others.
func (in *Intake) judge(d *Desk, r *book.Records, rows []intakeRow) ([]intakeRow, error) {
	at := placeOf(d.Book.Doc, in.Records)
	if at.header == nil || len(at.widths) != len(at.header.Columns) {
		return nil, &OptionError{Message: "the head of the records " + in.Records + " cannot be read", Hint: "wintertruss check BOOK says why"}
	}
	if len(r.Columns)+1 != len(at.header.Columns) {
		return nil, &OptionError{Message: "a column of the records " + in.Records + " is in error", Hint: "wintertruss check BOOK says where"}
	}
	before, first := len(r.Day), at.above.Line+1
	for len(rows) > 0 {
		in.Edit = at.edit(in.Records, rows)
		doc, _, fault := in.Edit.Apply(d.Book.Doc)
		if fault != nil {
			return nil, &OptionError{Message: fault.Message, Hint: fault.Hint}
		}
		b := book.Assemble(doc, d.opts.Today)
		bad := -1
		for _, e := range b.Errors {
			if at := e.Line - first; at >= 0 && at < len(rows) {
				bad = at
				rows = in.refuse(rows, at, e)
				break
			}
		}
		if bad >= 0 {
			if len(in.Refused) >= mostRefused {
				in.More, in.Edit = true, book.Edit{}
				return nil, nil
			}
			continue
		}
		after := b.RecordsOf(in.Records)
		if after == nil {
			return nil, &OptionError{Message: "the records " + in.Records + " are in error themselves", Hint: "wintertruss check BOOK says where"}
		}
		if rows = in.known(after, before, rows); len(rows) > 0 {
			in.Edit = at.edit(in.Records, rows)
			return rows, nil
		}
	}
	in.Edit = book.Edit{}
	return nil, nil
}

// refuse takes row number at out, with what the book says of it.
func (in *Intake) refuse(rows []intakeRow, at int, e *syntax.Error) []intakeRow {
	column := e.Name
	if _, after, ok := strings.Cut(e.Name, "."); ok {
		column = after
	}
	in.Refused = append(in.Refused, RefusedRow{Line: rows[at].line, Column: column, Message: e.Message, Hint: e.Hint})
	return slices.Delete(slices.Clone(rows), at, at+1)
}

// known takes out the rows that stand among the first ones already, day and all
// cells alike, and counts those whose day and names do with other figures.
func (in *Intake) known(r *book.Records, before int, rows []intakeRow) []intakeRow {
	whole, names := map[string]int{}, map[string]bool{}
	for i := range before {
		w, n := rowKeys(r, i)
		whole[w]++
		names[n] = true
	}
	var kept []intakeRow
	in.Beside = 0
	for i, row := range rows {
		w, n := rowKeys(r, before+i)
		if whole[w] > 0 { // one row of the file for one of the book
			whole[w]--
			in.Same++
			continue
		}
		if names[n] {
			in.Beside++
		}
		kept = append(kept, row)
	}
	return kept
}

// rowKeys says what stands in a row of records: all of it, and its day and names.
func rowKeys(r *book.Records, i int) (whole, names string) {
	names = r.Day[i].String()
	whole = names
	for _, c := range r.Columns {
		v := &c.Cells[i]
		switch v.Kind {
		case book.Number:
			whole += fmt.Sprintf("|%g %v", v.Number, v.Unit)
		default:
			whole += "|" + v.Word
			names += "|" + v.Word
		}
	}
	return whole, names
}

// place is where rows go: below the last of a block of records.
type place struct {
	above  *syntax.Part // the last row, or the head
	header *syntax.Header
	widths []int // of the cells of the head, as it is written
}

func placeOf(doc *syntax.Document, records string) (at place) {
	for _, p := range doc.Parts {
		if p.Kind != syntax.Item || p.Block.Kind != "records" || p.Block.Name != records {
			continue
		}
		at.above = p
		if h, ok := p.Item.(*syntax.Header); ok {
			at.header = h
			for _, cell := range strings.Split(strings.TrimRight(p.Text, "\r\n"), "|") {
				at.widths = append(at.widths, utf8.RuneCountInString(strings.TrimSpace(cell)))
			}
		}
	}
	return at
}

// edit is the one edit that puts rows there.
func (at *place) edit(records string, rows []intakeRow) book.Edit {
	var text strings.Builder
	end := at.above.Text[len(strings.TrimRight(at.above.Text, "\r\n")):]
	if end == "" {
		end = "\n" // the row ends the book
	}
	for _, row := range rows {
		var line strings.Builder
		for i, c := range at.header.Columns {
			if i > 0 {
				line.WriteString(" | ")
			}
			cell := row.cells[c.Name.Text]
			line.WriteString(cell + strings.Repeat(" ", max(0, at.widths[i]-utf8.RuneCountInString(cell))))
		}
		text.WriteString(strings.TrimRight(line.String(), " ") + end)
	}
	return book.Edit{Kind: book.Replace, In: "records " + records, Line: at.above.Line + 1, Of: book.AddRecord,
		After: book.Verbatim(at.above.Text), Text: book.Verbatim(text.String())}
}
