package book

import (
	"cmp"
	"slices"
	"strconv"

	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// assembler builds a book. The order of blocks and lines means nothing, so it
// goes over them several times: settings, then names, then what hangs on names.
type assembler struct {
	*Book
	literals
	blocks         []*blockRows
	readFaults     map[int][]*syntax.Error // faults of reading by line of the text
	said           map[*syntax.Error]bool
	names          map[string]claimed
	listSources    []*listSource
	recordsSources []*recordsSource
	seasonFault    *syntax.Error // why the book has no season; nil when it has one
	axes           map[string][]string
	pinned         map[string]int    // addresses pinned so far, and their lines
	linked         map[[2]string]int // pairs linked so far, and their lines
	looks          int               // names that near has looked at so far
}

// blockRows is a live block with its rows.
type blockRows struct {
	block *syntax.Block
	rows  []*syntax.Part // Item parts; Item nil where reading failed
}

// claimed is who has a name.
type claimed struct {
	kind string // "line", "list", "kind of records"
	line int
}

// Assemble checks a book that was read and gives it as data. today stands for
// as_of where the book has none.
func Assemble(doc *syntax.Document, today week.Day) *Book {
	a := newAssembler(&Book{Doc: doc, Broken: map[string]*syntax.Error{},
		lines: map[string]int{}, lists: map[string]*List{}, records: map[string]*Records{},
		scenarios: map[string]*Scenario{}, members: map[string][]Position{}})
	a.collect()
	a.settings(today)
	a.each("list", a.declareList)
	a.each("records", a.declareRecords)
	for _, s := range a.listSources {
		a.readList(s)
	}
	for _, s := range a.recordsSources {
		a.readRecords(s)
	}
	a.Records = slices.DeleteFunc(a.Records, func(r *Records) bool { return a.records[r.Name] == nil })
	a.each("lines", a.readLines)
	a.each("scenario", a.readScenario)
	a.each("pins", a.readPins)
	a.each("observe", a.readBinds)
	a.each("links", a.readLinks)
	a.each("cautions", a.readCautions)
	a.each("chart", a.readChart)
	a.each("answers", a.readAnswers)
	a.readMentions()
	slices.SortStableFunc(a.Errors, func(x, y *syntax.Error) int {
		return cmp.Or(cmp.Compare(x.Line, y.Line), cmp.Compare(x.Col, y.Col))
	})
	return a.Book
}

func newAssembler(b *Book) *assembler {
	return &assembler{Book: b, literals: literals{units: b.Units, parsed: map[string]parsedUnit{}},
		readFaults: map[int][]*syntax.Error{}, said: map[*syntax.Error]bool{}, names: map[string]claimed{},
		axes: map[string][]string{}, pinned: map[string]int{}, linked: map[[2]string]int{}}
}

// collect groups the parts of the text by block and takes over the faults of reading.
func (a *assembler) collect() {
	var last *syntax.Block
	for _, part := range a.Doc.Parts {
		if a.Title == "" {
			a.Title = part.Title
		}
		if part.Block == nil {
			continue
		}
		if part.Block != last {
			last = part.Block
			a.blocks = append(a.blocks, &blockRows{block: last})
		}
		if part.Kind == syntax.Item {
			b := a.blocks[len(a.blocks)-1]
			b.rows = append(b.rows, part)
		}
	}
	for _, err := range a.Doc.Errors {
		a.report(err)
		a.readFaults[err.Line] = append(a.readFaults[err.Line], err)
	}
}

// each calls read for every block of a kind, in book order.
func (a *assembler) each(kind string, read func(*blockRows)) {
	for _, b := range a.kind(kind) {
		read(b)
	}
}

// kind gives the blocks of a kind, in book order.
func (a *assembler) kind(kind string) []*blockRows {
	var found []*blockRows
	for _, b := range a.blocks {
		if b.block.Kind == kind {
			found = append(found, b)
		}
	}
	return found
}

// report adds a fault to the book's, once. A fault that comes back because
// another line hangs on it is not said again.
func (a *assembler) report(err *syntax.Error) {
	if !a.said[err] {
		a.said[err] = true
		a.Errors = append(a.Errors, err)
	}
}

// breakName reports why a name could not be read and keeps it; the first reason stays.
func (a *assembler) breakName(name string, err *syntax.Error) {
	a.report(err)
	if a.Broken[name] == nil {
		a.Broken[name] = err
	}
}

// readFault is the fault that reading found in a part.
func (a *assembler) readFault(part *syntax.Part) *syntax.Error {
	if faults := a.readFaults[part.Line]; len(faults) > 0 {
		return faults[0]
	}
	return unread.at("", syntax.Place{Line: part.Line, Col: 1, Len: 1})
}

// cellFault is the fault that reading found in a cell of a column.
func (a *assembler) cellFault(cell *syntax.Cell, column string) *syntax.Error {
	for _, err := range a.readFaults[cell.Place.Line] {
		if err.Name == column {
			return err
		}
	}
	return unread.at(column, cell.Place)
}

// claim takes a name for a list, a kind of records or a line.
func (a *assembler) claim(name, kind string, place syntax.Place) *syntax.Error {
	if kind != "line" && builtInAxis(name) || name == BuiltInLine || name == baseName {
		return takenName.at(name, place, name, kind)
	}
	if first, taken := a.names[name]; taken {
		return duplicateName.at(name, place, name, first.kind, strconv.Itoa(first.line))
	}
	a.names[name] = claimed{kind, place.Line}
	return nil
}

// baseName stands in a scenario for the value before it.
const baseName = "base"

func (a *assembler) isList(name string) bool { return a.names[name].kind == "list" }

// axisMembers is AxisMembers, computed once an axis.
func (a *assembler) axisMembers(axis string) []string {
	names, ok := a.axes[axis]
	if !ok {
		names = a.AxisMembers(axis)
		a.axes[axis] = names
	}
	return names
}

func (a *assembler) listNames() []string {
	names := make([]string, len(a.Lists))
	for i, l := range a.Lists {
		names[i] = l.Name
	}
	return names
}

func (a *assembler) axisNames() []string {
	return append(a.listNames(), WeekAxis, MonthAxis, MonthOfYearAxis, YearAheadAxis)
}

// lineNames gives every line.
func (a *assembler) lineNames() []string {
	names := make([]string, len(a.Lines))
	for i, l := range a.Lines {
		names[i] = l.Name
	}
	return names
}

// targetNames gives every line, and every list's column.
func (a *assembler) targetNames() []string {
	names := a.lineNames()
	for _, l := range a.Lists {
		for _, c := range l.Columns {
			names = append(names, c.Full())
		}
	}
	return names
}
