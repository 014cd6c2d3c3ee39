package ui

import (
	"math"
	"slices"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/syntax"
)

// changeMessage says what an edit changed: rows with new text or another fault,
// values of lines that moved, answers. When parts came or went, the whole book's
// text goes along.
func changeMessage(c *engine.Change, live *engine.Live, file string) *ToPage {
	m := &ToPage{Type: "change", Number: c.Number, By: c.By, What: c.What, Recomputed: c.Recomputed, Values: map[string]*Value{}, at: time.Now(), was: c.Was}
	for _, name := range c.Lines {
		now := c.After.Plain(name)
		m.Values[name] = valueView(now, live.Good(name))
		if !c.After.HangsOnDraws(name) { // the page has what the draws said of those
			m.Values[name].since(c.Was[name], now)
		}
	}
	m.Answers, m.Units = answersView(c.After, c.After.PlainAnswers(), live.Good), unitsOf(c.After, m.Values)
	if sameShape(c.Before.Doc, c.After.Book.Doc) && sameAxes(c.Before, c.After.Book) {
		m.Rows = changedRows(c)
	} else {
		m.Book = bookView(c.After, file)
	}
	return m
}

// since leaves of a value's cells those that differ from what they were before, which
// every page has: most of a season is as it was.
func (v *Value) since(was, now *engine.Value) {
	if v == nil || was == nil || was.Broken || now.Broken || was.Unit != now.Unit || was.Kind != now.Kind || len(was.Words) != len(now.Words) ||
		!slices.Equal(was.Axes, now.Axes) || !slices.Equal(was.Lengths, now.Lengths) {
		return
	}
	runs, moved := [][]any{}, 0
	for i := range now.Cells {
		if math.Float64bits(was.Cells[i]) == math.Float64bits(now.Cells[i]) {
			continue
		}
		if i == 0 || math.Float64bits(was.Cells[i-1]) == math.Float64bits(now.Cells[i-1]) {
			runs = append(runs, []any{i})
		}
		run := &runs[len(runs)-1]
		*run = append(*run, v.Cells[i])
		moved++
	}
	if 0 < moved && moved+len(runs) < len(v.Cells) {
		v.Cells, v.Moved = nil, runs
	}
}

// sameShape says whether two texts have the same parts, of which only rows of
// live blocks may read differently.
func sameShape(a, b *syntax.Document) bool {
	if len(a.Parts) != len(b.Parts) {
		return false
	}
	for i, p := range a.Parts {
		q := b.Parts[i]
		if p.Kind == syntax.Prose || p.Kind == syntax.Fence {
			if p.Kind != q.Kind || p.Text != q.Text {
				return false
			}
		} else if q.Block == nil || p.Block == nil || *p.Block != *q.Block || p.Line != q.Line {
			return false
		}
	}
	return true
}

// sameAxes says whether the axes that both books have kept their members.
func sameAxes(a, b *book.Book) bool {
	if a.Settings.Season != b.Settings.Season || a.Settings.Standing != b.Settings.Standing || a.Settings.Years != b.Settings.Years || len(a.Lists) != len(b.Lists) {
		return false
	}
	for i, l := range a.Lists {
		if l.Name != b.Lists[i].Name || !slices.EqualFunc(l.Members, b.Lists[i].Members, func(x, y book.Member) bool { return x.Name == y.Name && x.Label == y.Label }) {
			return false
		}
	}
	return true
}

// changedRows gives the rows that read differently or have another fault.
func changedRows(c *engine.Change) []Row {
	was, is := byLine(c.Faults), faultsByLine(c.After)
	var out []Row
	for i, p := range c.After.Book.Doc.Parts {
		if p.Kind != syntax.Item && p.Kind != syntax.Trivial {
			continue
		}
		if p.Text != c.Before.Doc.Parts[i].Text || !sameFault(was[p.Line], is[p.Line]) {
			out = append(out, rowView(c.After, i, p, is))
		}
	}
	return out
}

func sameFault(a, b *syntax.Error) bool {
	if a == nil || b == nil {
		return a == b
	}
	return *a == *b
}
