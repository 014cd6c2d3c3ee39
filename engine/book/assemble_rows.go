package book

import (
	"maps"
	"slices"

	"wintertruss/engine/syntax"
)

// Renewed names what of a book was read again when some of its rows said something
// else: the lines and columns, and the overrides by the line of the text.
type Renewed struct {
	Lines   []*Line
	Lists   []*List
	Records []*Records
	Rows    []int // lines of the text on which pins and scenarios say something else
}

// With gives the book of a document that says other values in some rows of b's and
// nothing else: the figure of an input, a cell of a list, a pin, a label. It costs
// what those rows cost; all else is b's own. What nothing can hang on without its
// name may differ: a value and its range, a label, a source. Names, axes, units,
// kinds and places stay.
//
// ok is false where more differs, or where a fault comes or goes: then the book has
// to be assembled. The law: what With gives is what Assemble gives.
func (b *Book) With(doc *syntax.Document) (after *Book, renewed Renewed, ok bool) {
	if len(doc.Parts) != len(b.Doc.Parts) || !slices.Equal(doc.Errors, b.Doc.Errors) {
		return nil, renewed, false
	}
	r := newRenewal(b, doc)
	for i, part := range doc.Parts {
		if was := b.Doc.Parts[i]; part != was && !r.row(i, was, part) {
			return nil, renewed, false
		}
	}
	if len(r.after.Errors) != len(b.Errors) { // something was said on the way
		return nil, renewed, false
	}
	r.point()
	return r.after, r.renewed, true
}

// renewal reads rows again into a book that shares all else with the one before.
type renewal struct {
	before, after *Book
	a             *assembler
	renewed       Renewed
	block         *syntax.Block // the list or records that was read last
}

func newRenewal(b *Book, doc *syntax.Document) *renewal {
	after := *b
	after.Doc, after.Errors = doc, slices.Clip(b.Errors)
	a := newAssembler(&after)
	for _, l := range b.Lists {
		a.names[l.Name] = claimed{"list", l.Place.Line}
	}
	return &renewal{before: b, after: &after, a: a}
}

// row takes in one row that reads differently; false when that reaches further.
func (r *renewal) row(i int, was, part *syntax.Part) bool {
	if part.Kind != was.Kind || part.Block != was.Block || part.Line != was.Line ||
		slices.ContainsFunc(r.before.Errors, func(e *syntax.Error) bool { return e.Line == part.Line }) {
		return false
	}
	switch part.Kind {
	case syntax.Trivial:
		return true
	case syntax.Item:
	default:
		return false
	}
	switch now := part.Item.(type) {
	case *syntax.Line:
		old, ok := was.Item.(*syntax.Line)
		return ok && old.Name == now.Name && r.line(part, old, now)
	case *syntax.Override:
		old, ok := was.Item.(*syntax.Override)
		return ok && old.Address.Name == now.Address.Name && r.override(part, now)
	case *syntax.Row:
		old, ok := was.Item.(*syntax.Row)
		return ok && old.Member == now.Member && len(r.before.Broken) == 0 && r.table(i, part.Block)
	}
	return false
}

// line reads a line of a lines block again.
func (r *renewal) line(part *syntax.Part, old, now *syntax.Line) bool {
	at, ok := r.before.lines[now.Name.Text]
	if !ok {
		return false
	}
	was := r.before.Lines[at]
	l, err := r.a.readLine(now, part)
	if err != nil || l.Unit != was.Unit || l.Gather != was.Gather || (l.Input == nil) != (was.Input == nil) {
		return false
	}
	if l.Formula != nil {
		if l.Formula.Text != was.Formula.Text || l.Formula.Place != was.Formula.Place {
			return false
		}
		l.Formula = was.Formula
	} else if !sameForm(l.Input, was.Input) || l.Input.ranged() != was.Input.ranged() { // a link wants a range
		return false
	}
	l.Block, l.Page = was.Block, was.Page
	if len(r.renewed.Lines) == 0 {
		r.after.Lines = slices.Clone(r.before.Lines)
	}
	r.after.Lines[at] = l
	r.renewed.Lines = append(r.renewed.Lines, l)
	return true
}

// override reads a pin or a row of a scenario again.
func (r *renewal) override(part *syntax.Part, item *syntax.Override) bool {
	o, err := r.a.override(item, nil)
	if err != nil {
		return false
	}
	put := func(all []Override) ([]Override, bool) {
		at := slices.IndexFunc(all, func(was Override) bool { return was.Place == o.Place })
		if at < 0 || all[at].address() != o.address() || (all[at].Input == nil) != (o.Input == nil) {
			return nil, false
		}
		if o.Formula != nil && o.Formula.Text != all[at].Formula.Text {
			return nil, false
		}
		all = slices.Clone(all)
		all[at] = o
		return all, true
	}
	var ok bool
	switch part.Block.Kind {
	case "pins":
		if o.Input.ranged() {
			return false
		}
		r.after.Pins, ok = put(r.after.Pins)
	case "scenario":
		was := r.after.scenarios[part.Block.Name]
		if was == nil || was.Place != part.Block.Place {
			return false
		}
		now := *was
		now.Overrides, ok = put(was.Overrides)
		r.scenario(was, &now)
	}
	r.renewed.Rows = append(r.renewed.Rows, part.Line)
	return ok
}

// scenario puts one scenario in the place of another of its name.
func (r *renewal) scenario(was, now *Scenario) {
	r.after.Scenarios, r.after.scenarios = slices.Clone(r.after.Scenarios), maps.Clone(r.after.scenarios)
	r.after.Scenarios[slices.Index(r.after.Scenarios, was)] = now
	r.after.scenarios[now.Name] = now
}

// table reads the list or the records of row i again, all of it: they are short,
// and a cell's meaning is settled by the cells above it.
func (r *renewal) table(i int, block *syntax.Block) bool {
	if r.block == block {
		return true // two rows of one table
	}
	r.block = block
	rows := &blockRows{block: block}
	parts := r.after.Doc.Parts
	for i > 0 && parts[i-1].Block == block {
		i--
	}
	for ; i < len(parts) && parts[i].Block == block; i++ {
		if parts[i].Kind == syntax.Item {
			rows.rows = append(rows.rows, parts[i])
		}
	}
	r.after.Broken = map[string]*syntax.Error{} // as it was: see row
	if block.Kind == "list" {
		return r.list(rows)
	}
	return r.records(rows)
}

func (r *renewal) list(rows *blockRows) bool {
	b := r.after
	was := b.lists[rows.block.Name]
	if was == nil {
		return false
	}
	lists, members := b.Lists, b.members
	b.Lists, b.lists, b.members = nil, maps.Clone(b.lists), map[string][]Position{}
	delete(r.a.names, was.Name)
	r.a.declareList(rows)
	for _, s := range r.a.listSources {
		r.a.readList(s)
	}
	r.a.listSources = nil
	now := b.lists[was.Name]
	b.Lists, b.members = slices.Clone(lists), members
	b.Lists[slices.Index(lists, was)] = now
	same := func(a, b *Column) bool {
		return a.Name == b.Name && a.Place == b.Place && sameForm(&a.Input, &b.Input)
	}
	member := func(a, b Member) bool { return a.Name == b.Name && a.Place == b.Place }
	r.renewed.Lists = append(r.renewed.Lists, now)
	return len(b.Broken) == 0 && now != nil && slices.EqualFunc(was.Members, now.Members, member) && slices.EqualFunc(was.Columns, now.Columns, same)
}

func (r *renewal) records(rows *blockRows) bool {
	b := r.after
	was := b.records[rows.block.Name]
	if was == nil {
		return false
	}
	all := b.Records
	b.Records, b.records = nil, maps.Clone(b.records)
	r.a.declareRecords(rows)
	for _, s := range r.a.recordsSources {
		r.a.readRecords(s)
	}
	r.a.recordsSources = nil
	now := b.records[was.Name]
	b.Records = slices.Clone(all)
	b.Records[slices.Index(all, was)] = now
	same := func(a, b *RecordColumn) bool {
		return a.Name == b.Name && a.Place == b.Place && a.Kind == b.Kind && a.Unit == b.Unit && a.Refers == b.Refers
	}
	r.renewed.Records = append(r.renewed.Records, now)
	return len(b.Broken) == 0 && now != nil && slices.EqualFunc(was.Columns, now.Columns, same)
}

// point turns what pointed at a line or column as it was to what took its place.
func (r *renewal) point() {
	b := r.after
	if len(r.renewed.Lines)+len(r.renewed.Lists) == 0 {
		return
	}
	turned := func(o Override) bool {
		return o.Line != nil && b.Line(o.Line.Name) != o.Line || o.Column != nil && b.Column(o.Column.List.Name, o.Column.Name) != o.Column
	}
	turn := func(all []Override) []Override {
		all = slices.Clone(all)
		for i := range all {
			if o := &all[i]; o.Line != nil {
				o.Line = b.Line(o.Line.Name)
			} else {
				o.Column = b.Column(o.Column.List.Name, o.Column.Name)
			}
		}
		return all
	}
	if slices.ContainsFunc(b.Pins, turned) {
		b.Pins = turn(b.Pins)
	}
	for _, s := range b.Scenarios {
		if slices.ContainsFunc(s.Overrides, turned) {
			now := *s
			now.Overrides = turn(s.Overrides)
			r.scenario(s, &now)
		}
	}
	b.Binds = slices.Clone(b.Binds)
	for i := range b.Binds {
		b.Binds[i].Line = b.Line(b.Binds[i].Line.Name)
	}
	b.Links = slices.Clone(b.Links)
	for i := range b.Links {
		b.Links[i].A, b.Links[i].B = b.Line(b.Links[i].A.Name), b.Line(b.Links[i].B.Name)
	}
}

// sameForm says whether what hangs on an input's name finds the same in two of
// them: everything but the values.
func sameForm(a, b *Input) bool {
	return slices.Equal(a.Axes, b.Axes) && slices.Equal(a.Each, b.Each) && a.Kind == b.Kind && a.Unit == b.Unit && a.Refers == b.Refers
}

// ranged says whether a value of an input has a range.
func (in *Input) ranged() bool {
	return in != nil && slices.ContainsFunc(in.Pieces, func(p Piece) bool { return p.Value.Spread != nil })
}
