package book

import (
	"strings"

	"wintertruss/engine/syntax"
)

// replace puts lines in the place of others, or between two.
func (d *draft) replace(e *Edit) (*change, *syntax.Error) {
	text := string(e.Text)
	if e.Was == "" {
		return d.putBack(text, e)
	}
	line := d.find(string(e.Was), e.Line, e.In)
	if line == 0 {
		if e.Or != nil {
			return d.replace(e.Or)
		}
		return nil, changedSince.at(e.Name, placeOf(e.Line), "this")
	}
	c := &change{line: line, old: string(e.Was)}
	c.text = d.ended(text, line+lines(c.old))
	if e.In != "" {
		c.block = d.doc.Parts[partAt(d.doc, line)].Block
	}
	return c, nil
}

// putBack puts lines where they were: below a line that is known by its text.
func (d *draft) putBack(text string, e *Edit) (*change, *syntax.Error) {
	if text == "" {
		return &change{line: 1}, nil
	}
	line := 0
	if e.After != "" && ending(string(e.After)) != "" {
		line = d.find(string(e.After), e.Line-1, e.In)
	}
	switch {
	case line > 0 || e.In == "" && e.After == "":
		c := &change{line: line + 1, text: d.ended(text, line+1)}
		if e.In != "" {
			c.block = d.doc.Parts[partAt(d.doc, line)].Block
		}
		return c, nil
	case e.In == "":
		return nil, changedSince.at(e.Name, placeOf(e.Line), "what stood around it")
	}
	best, far := stretch{}, -1
	for _, s := range d.blocks {
		away := d.doc.Parts[s.from].Line - e.Line
		away = max(away, -away)
		if label(s.block) == e.In && (far < 0 || away < far) {
			best, far = s, away
		}
	}
	if far < 0 {
		return nil, changedSince.at(e.Name, placeOf(e.Line), "what stood around it")
	}
	return d.addRows(d.lastRow(best), strings.TrimSuffix(text, ending(text)))
}

// ended gives text its line ending where it is not the end of the book.
func (d *draft) ended(text string, below int) string {
	if text == "" || ending(text) != "" || lineText(d.doc, below) == "" {
		return text
	}
	return text + d.lineEnd(partAt(d.doc, below))
}

// find gives the line at which whole lines stand that read text, the nearest to a
// line; 0 when there is none. in keeps it to blocks of that label, "" to nothing.
func (d *draft) find(text string, near int, in string) int {
	all := string(d.doc.Text())
	whole := func(at, line int) bool {
		end := at + len(text)
		if !strings.HasPrefix(all[at:], text) || all[end-1] != '\n' && end < len(all) {
			return false
		}
		p := d.doc.Parts[partAt(d.doc, line)]
		return in == "" || p.Block != nil && label(p.Block) == in
	}
	if near > 0 && near <= lines(all) && whole(offset(d.doc, near), near) {
		return near // where it was, in a book that is as it was
	}
	best, line := 0, 1
	for at := 0; at < len(all); line++ {
		if whole(at, line) && (best == 0 || max(line-near, near-line) < max(best-near, near-best)) {
			best = line
		}
		next := strings.IndexByte(all[at:], '\n')
		if next < 0 {
			break
		}
		at += next + 1
	}
	return best
}
