package book

import (
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"wintertruss/engine/syntax"
)

// change is what an edit comes to: whole lines of the text make way for others.
type change struct {
	line      int    // the first line that goes or, when none goes, before which the new ones stand; from 1
	old, text string // whole lines with their endings; only the book's last line may lack one
	// block is set when the lines are rows of this block, before and after.
	block *syntax.Block
	// holds checks what of live blocks now stands in the changed lines; nil when
	// anything may, or when block says it.
	holds func(inside []*syntax.Part) *syntax.Error
	// or undoes the change when all of it is no longer there; see Edit.Or.
	or *Edit
}

// apply gives the document with the change made.
func (c *change) apply(doc *syntax.Document) (*syntax.Document, *syntax.Error) {
	if c.old == c.text {
		return doc, nil
	}
	if after := c.applyToRow(doc); after != nil {
		return after, nil
	}
	before := doc.Text()
	at := offset(doc, c.line)
	text := make([]byte, 0, len(before)+len(c.text))
	text = append(append(append(text, before[:at]...), c.text...), before[at+len(c.old):]...)
	after := syntax.Read(doc.File, text)
	if isTooLarge(after) {
		return nil, grownTooLarge.at("", placeOf(c.line))
	}
	return after, c.check(doc, after)
}

func isTooLarge(doc *syntax.Document) bool {
	return len(doc.Errors) > 0 && doc.Errors[0].Code == "too-large"
}

// applyToRow makes the most frequent change, one row for one row, without reading
// the rest of the book again. It gives nil for a change that is not of that sort.
//
// It is right because a fenced block of CommonMark asks of a line inside it only
// whether it closes the block, because no row reads differently for another row
// but those below a header, and because syntax.ReadRow reads a row as syntax.Read does.
func (c *change) applyToRow(doc *syntax.Document) *syntax.Document {
	if c.block == nil || lines(c.old) != 1 || lines(c.text) != 1 || ending(c.old) != ending(c.text) {
		return nil
	}
	i := partAt(doc, c.line)
	old := doc.Parts[i]
	row := strings.TrimRight(c.text, "\r\n")
	if old.Kind == syntax.Fence || old.Text != c.old || marksFence(row) || hasBadBytes(row) ||
		slices.ContainsFunc(doc.Errors, func(e *syntax.Error) bool { return e.Code == "not-text" }) {
		return nil
	}
	var header *syntax.Header
	if c.block.Kind == "list" || c.block.Kind == "records" {
		h := i - 1
		for h >= 0 && doc.Parts[h].Block == c.block {
			if doc.Parts[h].Kind == syntax.Item { // the first one stays
				header, _ = doc.Parts[h].Item.(*syntax.Header)
			}
			h--
		}
		if header == nil {
			return nil
		}
	}
	if len(c.text) > len(c.old) {
		size := len(c.text) - len(c.old)
		for _, p := range doc.Parts {
			size += len(p.Text)
		}
		if size > syntax.MostBytes {
			return nil
		}
	}
	part, errors := syntax.ReadRow(c.block, header, c.text, old.Line)
	after := &syntax.Document{File: doc.File, Parts: slices.Clone(doc.Parts)}
	after.Parts[i] = part
	from := sort.Search(len(doc.Errors), func(n int) bool { return doc.Errors[n].Line >= old.Line })
	to := sort.Search(len(doc.Errors), func(n int) bool { return doc.Errors[n].Line > old.Line })
	after.Errors = slices.Concat(doc.Errors[:from], errors, doc.Errors[to:])
	return after
}

// check says what is wrong with the book after the change: around the changed
// lines the same rows and fences must stand and the same pages begin.
func (c *change) check(before, after *syntax.Document) *syntax.Error {
	goes, comes := lines(c.old), lines(c.text)
	was, insideBefore := outline(before, c.line, c.line+goes, comes-goes)
	is, inside := outline(after, c.line, c.line+comes, 0)
	if c.holds != nil {
		if err := c.holds(inside); err != nil {
			return err
		}
	}
	rows := c.block == nil || areRows(insideBefore, goes) && areRows(inside, comes)
	if !rows || !slices.Equal(was, is) {
		return reachesFurther.at("", placeOf(c.line))
	}
	return nil
}

// areRows says whether n lines are rows and nothing else. That they are rows of one
// block follows: between two blocks stand fences.
func areRows(inside []*syntax.Part, n int) bool {
	return len(inside) == n && !slices.ContainsFunc(inside, func(p *syntax.Part) bool { return p.Kind == syntax.Fence })
}

// mark is a part that an edit elsewhere must leave as it is.
type mark struct {
	line  int
	kind  syntax.PartKind
	title string
}

// outline gives the marks of a document outside of lines from..to, those below
// them moved by shift, and the parts of live blocks inside.
func outline(doc *syntax.Document, from, to, shift int) (outside []mark, inside []*syntax.Part) {
	for _, p := range doc.Parts {
		if p.Kind == syntax.Prose && p.Title == "" {
			continue
		}
		m := mark{p.Line, p.Kind, p.Title}
		switch {
		case p.Line >= to:
			m.line += shift
		case p.Line >= from:
			if p.Block != nil {
				inside = append(inside, p)
			}
			continue
		}
		outside = append(outside, m)
	}
	return outside, inside
}

// inverse gives the edit that takes the change back.
func (c *change) inverse(d *draft, e *Edit) Edit {
	inverse := Edit{Kind: Replace, Of: e.Kind, Name: e.Name, Address: e.Address, Line: c.line,
		Was: Verbatim(c.text), Text: Verbatim(c.old), Or: c.or}
	if e.Kind == Replace {
		inverse.Of = e.Of
	}
	if c.block != nil {
		inverse.In = label(c.block)
	}
	if c.text == "" {
		inverse.After = Verbatim(lineText(d.doc, c.line-1))
	}
	return inverse
}

// label names a block in an edit: its info string without the title.
func label(b *syntax.Block) string {
	return strings.TrimSpace(b.Kind + " " + b.Name)
}

// lines counts the lines of a text; one without an ending counts.
func lines(text string) int {
	n := strings.Count(text, "\n")
	if text != "" && !strings.HasSuffix(text, "\n") {
		n++
	}
	return n
}

// ending gives the line ending of a text's last line, "" without one.
func ending(text string) string {
	switch {
	case strings.HasSuffix(text, "\r\n"):
		return "\r\n"
	case strings.HasSuffix(text, "\n"):
		return "\n"
	}
	return ""
}

// partAt gives the part in which a line stands; the last one for lines below the book.
func partAt(doc *syntax.Document, line int) int {
	return sort.Search(len(doc.Parts), func(n int) bool { return doc.Parts[n].Line > line }) - 1
}

// offset gives the byte at which a line begins.
func offset(doc *syntax.Document, line int) int {
	i := partAt(doc, line)
	at := 0
	for _, p := range doc.Parts[:max(i, 0)] {
		at += len(p.Text)
	}
	if i < 0 {
		return 0
	}
	rest := doc.Parts[i].Text
	for n := doc.Parts[i].Line; n < line && rest != ""; n++ {
		_, rest, _ = strings.Cut(rest, "\n")
	}
	return at + len(doc.Parts[i].Text) - len(rest)
}

// lineText gives one line with its ending, "" for a line that is not there.
func lineText(doc *syntax.Document, line int) string {
	i := partAt(doc, line)
	if line < 1 || i < 0 {
		return ""
	}
	rest := doc.Parts[i].Text
	for n := doc.Parts[i].Line; n < line && rest != ""; n++ {
		_, rest, _ = strings.Cut(rest, "\n")
	}
	if end := strings.IndexByte(rest, '\n'); end >= 0 {
		rest = rest[:end+1]
	}
	return rest
}

// marksFence says whether a row begins as the fence of a block does.
func marksFence(row string) bool {
	row = strings.TrimLeft(row, " \t")
	return strings.HasPrefix(row, "```") || strings.HasPrefix(row, "~~~")
}

// hasBadBytes says whether there are bytes that belong to no character, or zeros.
func hasBadBytes(s string) bool { return !utf8.ValidString(s) || strings.IndexByte(s, 0) >= 0 }
