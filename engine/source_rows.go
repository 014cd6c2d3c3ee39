package engine

import (
	"slices"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
)

// put is an input of the source that another takes the place of.
type put struct {
	at **formula.Input
	formula.Swap
}

// renew makes the inputs again that stand in renewed rows of the book. ok is false
// when the source would differ in more than their values. Nothing is changed yet:
// take puts them in their places.
func (m *made) renew(b *book.Book, r book.Renewed) (puts []put, ok bool) {
	maker := m.maker
	if len(m.errors) > 0 { // a range in error may have been mended
		return nil, false
	}
	ok = true
	line := func(name string, make func(l *formula.Line) *formula.Input) {
		i, known := m.byName[name]
		if ok = ok && known && m.src.Lines[i].Input != nil; ok {
			l := &m.src.Lines[i]
			puts = append(puts, put{&l.Input, formula.Swap{Old: l.Input, Now: make(l)}})
		}
	}
	input := func(in *book.Input, name string) {
		if in != nil && in.Kind != book.Blank && in.Kind != book.Text {
			line(name, func(l *formula.Line) *formula.Input { return maker.input(in, name, l.Place) })
		}
	}
	for _, l := range r.Lines {
		input(l.Input, l.Name)
	}
	for _, l := range r.Lists {
		for _, c := range l.Columns {
			input(&c.Input, c.Full())
		}
	}
	for _, kind := range r.Records {
		axis := m.src.Space.Find(kind.Name)
		if axis < 0 {
			continue
		}
		at := slices.IndexFunc(m.src.Records, func(was formula.Records) bool { return was.Name == kind.Name })
		if was, now := &m.src.Records[at], maker.records(kind, axis); !slices.Equal(was.Day, now.Day) ||
			!slices.EqualFunc(was.Refers, now.Refers, func(a, b formula.Reference) bool { return a.Axis == b.Axis && slices.Equal(a.Member, b.Member) }) {
			return nil, false
		}
		for _, c := range kind.Columns {
			if c.Kind != book.Blank && c.Kind != book.Text {
				line(c.Full(), func(*formula.Line) *formula.Input { return maker.recordColumn(c, axis) })
			}
		}
	}
	for _, row := range r.Rows {
		o, at := rowOf(b, row), slices.IndexFunc(m.src.Overrides, func(was formula.Override) bool { return was.Place.Line == row && was.Layer != formula.BySet })
		if o == nil || at < 0 {
			return nil, false
		}
		if was := &m.src.Overrides[at]; o.Input != nil {
			puts = append(puts, put{&was.Input, formula.Swap{Old: was.Input, Now: maker.input(o.Input, o.Target(), o.Place)}})
		}
	}
	return puts, ok && len(maker.errors) == 0 && !slices.ContainsFunc(puts, renumbered)
}

// renumbered says whether words that functions know differ: they are numbered as
// they come in the book.
func renumbered(p put) bool {
	return p.Now.Type.Kind == formula.Words && p.Now.Type.List < 0 && !formula.SameBits(p.Old.Plain, p.Now.Plain)
}

// rowOf gives the pin, or the row of a scenario, on a line of the text.
func rowOf(b *book.Book, line int) *book.Override {
	on := func(o book.Override) bool { return o.Place.Line == line }
	if i := slices.IndexFunc(b.Pins, on); i >= 0 {
		return &b.Pins[i]
	}
	for _, s := range b.Scenarios {
		if i := slices.IndexFunc(s.Overrides, on); i >= 0 {
			return &s.Overrides[i]
		}
	}
	return nil
}

// take puts renewed inputs in their places; the source is that of b then.
func (m *made) take(b *book.Book, puts []put) {
	for _, p := range puts {
		*p.at = p.Now
	}
	m.maker.b = b
}
