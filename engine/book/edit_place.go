package book

import (
	"slices"
	"strings"

	"wintertruss/engine/syntax"
)

// draft is a document in which an edit looks for its place.
type draft struct {
	doc    *syntax.Document
	blocks []stretch
}

// stretch is a live block: parts from..to, its fences included.
type stretch struct {
	block    *syntax.Block
	from, to int
}

func newDraft(doc *syntax.Document) *draft {
	d := &draft{doc: doc}
	for i, p := range doc.Parts {
		if p.Block == nil {
			continue
		}
		if n := len(d.blocks); n > 0 && d.blocks[n-1].block == p.Block {
			d.blocks[n-1].to = i + 1
		} else {
			d.blocks = append(d.blocks, stretch{p.Block, i, i + 1})
		}
	}
	return d
}

// nowhere is the place of an error that is about no place of the book.
var nowhere = syntax.Place{Line: 1, Col: 1, Len: 1}

func placeOf(line int) syntax.Place { return syntax.Place{Line: max(1, line), Col: 1, Len: 1} }

// of gives the blocks of a kind.
func (d *draft) of(kind string) []stretch {
	var out []stretch
	for _, s := range d.blocks {
		if s.block.Kind == kind {
			out = append(out, s)
		}
	}
	return out
}

// named gives the block of a kind and a name; missing is the error without one.
func (d *draft) named(kind, name string, missing *message) (stretch, *syntax.Error) {
	var names []string
	for _, s := range d.of(kind) {
		if s.block.Name == name && name != "" {
			return s, nil
		}
		names = append(names, s.block.Name)
	}
	return stretch{}, missing.near(syntax.Nearest(name, names), name, nowhere, name)
}

// rows gives the rows of a block, as indices of parts: neither fences nor empty
// lines and comments.
func (d *draft) rows(s stretch) []int {
	var out []int
	for i := s.from; i < s.to; i++ {
		if d.doc.Parts[i].Kind == syntax.Item {
			out = append(out, i)
		}
	}
	return out
}

// body gives a row's text without its line ending.
func (d *draft) body(i int) string { return strings.TrimRight(d.doc.Parts[i].Text, "\r\n") }

// closed says whether a block has its closing fence.
func (d *draft) closed(s stretch) bool {
	return s.to-s.from > 1 && d.doc.Parts[s.to-1].Kind == syntax.Fence
}

// lastRow gives the part below which a new row of the block stands: its last one
// that is not empty; the opening fence when there is none.
func (d *draft) lastRow(s stretch) int {
	i := s.to - 1
	if d.closed(s) {
		i--
	}
	for i > s.from && strings.TrimSpace(d.doc.Parts[i].Text) == "" {
		i--
	}
	return i
}

// lineEnd gives the line ending in use at or above a part, else the book's first.
func (d *draft) lineEnd(i int) string {
	for i = min(i, len(d.doc.Parts)-1); i >= 0; i-- {
		if at := strings.IndexByte(d.doc.Parts[i].Text, '\n'); at >= 0 {
			return ending(d.doc.Parts[i].Text[:at+1])
		}
	}
	for _, p := range d.doc.Parts {
		if at := strings.IndexByte(p.Text, '\n'); at >= 0 {
			return ending(p.Text[:at+1])
		}
	}
	return "\n"
}

// setRow is the change of one row to another.
func (d *draft) setRow(i int, was Verbatim, row string) (*change, *syntax.Error) {
	c, err := d.removeRow(i, was)
	if err == nil {
		err = oneRow(row, c.line)
	}
	if err != nil {
		return nil, err
	}
	c.text = row + ending(c.old)
	return c, nil
}

// removeRow is the change that takes a row away.
func (d *draft) removeRow(i int, was Verbatim) (*change, *syntax.Error) {
	p := d.doc.Parts[i]
	if was != "" && strings.TrimRight(string(was), "\r\n") != d.body(i) {
		return nil, changedSince.at("", placeOf(p.Line), "this row")
	}
	return &change{line: p.Line, old: p.Text, block: p.Block}, nil
}

// addRow is the change that puts a row below part i of a block.
func (d *draft) addRow(i int, row string) (*change, *syntax.Error) {
	if err := oneRow(row, d.doc.Parts[i].Line+1); err != nil {
		return nil, err
	}
	return d.addRows(i, row)
}

// addRows is addRow for any rows, the last one without its ending.
func (d *draft) addRows(i int, rows string) (*change, *syntax.Error) {
	p := d.doc.Parts[i]
	end := ending(p.Text)
	c := &change{line: p.Line + 1, text: rows + end, block: p.Block}
	if end == "" { // the book's last line, in a block that never closes
		if p.Kind == syntax.Fence {
			return nil, openEnd.at("", placeOf(p.Line), label(p.Block))
		}
		c.line, c.old, c.text = p.Line, p.Text, p.Text+d.lineEnd(i)+rows
	}
	return c, nil
}

// addBlock is the change that makes a new block with one row, before part i.
func (d *draft) addBlock(i int, info, row string) (*change, *syntax.Error) {
	if err := oneRow(row, 1); err != nil {
		return nil, err
	}
	end := d.lineEnd(i - 1)
	row += end
	block := "```" + info + end + row + "```" + end
	c := d.insert(i, block)
	c.holds = func(inside []*syntax.Part) *syntax.Error {
		kinds := make([]syntax.PartKind, len(inside))
		for n, p := range inside {
			kinds[n] = p.Kind
		}
		if !slices.Equal(kinds, []syntax.PartKind{syntax.Fence, syntax.Item, syntax.Fence}) {
			return openEnd.at("", placeOf(c.line), info)
		}
		return nil
	}
	c.or = &Edit{Kind: Replace, In: info, Line: c.line + lines(c.text[:strings.Index(c.text, block)]) + 1, Was: Verbatim(row)}
	return c, nil
}

// insert is the change that puts text before part i, with an empty line above and,
// when anything follows, below.
func (d *draft) insert(i int, text string) *change {
	end := d.lineEnd(i - 1)
	c := &change{line: 1, text: text}
	if i < len(d.doc.Parts) {
		c.line = d.doc.Parts[i].Line
		c.text += end
	}
	if i == 0 {
		return c
	}
	above := d.doc.Parts[i-1]
	last := above.Line + lines(above.Text) - 1
	c.line = last + 1
	switch lastLine := lineText(d.doc, last); {
	case ending(lastLine) == "": // the book's last line gets its ending
		c.line, c.old, c.text = last, lastLine, lastLine+end+end+c.text
	case strings.TrimSpace(lastLine) != "":
		c.text = end + c.text
	}
	return c
}

// pageEnd gives the part before which a page ends: where the next page begins, or
// the end of the book.
func (d *draft) pageEnd(on int) int {
	for i := on + 1; i < len(d.doc.Parts); i++ {
		if d.doc.Parts[i].Title != "" {
			return i
		}
	}
	return len(d.doc.Parts)
}

// oneRow says what is wrong with a row that is to stand in a block.
func oneRow(row string, line int) *syntax.Error {
	switch {
	case strings.ContainsAny(row, "\r\n"):
		return twoRows.at("", placeOf(line))
	case hasBadBytes(row):
		return noCharacters.at("", placeOf(line))
	case strings.TrimSpace(row) == "":
		return emptyRow.at("", placeOf(line))
	case marksFence(row):
		return endsBlock.at("", placeOf(line), strings.TrimSpace(row)[:3])
	}
	return nil
}
