package book

import (
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
)

// lineOf gives the name of the line that a row of a lines block says, also when
// the rest of it does not read; "" when there is none.
func lineOf(p *syntax.Part) string {
	if line, ok := p.Item.(*syntax.Line); ok {
		return line.Name.Text
	}
	if name := firstWord(p.Text); isName(name) {
		return name
	}
	return ""
}

// line finds the row of a line by its name, by the text that it had, or by both.
func (d *draft) line(name string, was Verbatim) (int, *syntax.Error) {
	text := strings.TrimRight(string(was), "\r\n")
	found := -1 // by name alone
	for i, p := range d.doc.Parts {
		if p.Kind != syntax.Item || p.Block.Kind != "lines" {
			continue
		}
		if name != "" && lineOf(p) != name || name == "" && was == "" {
			continue
		}
		if was == "" || d.body(i) == text { // of two with a name the first one has it
			return i, nil
		}
		found = i
	}
	switch {
	case found >= 0 && name != "":
		return 0, changedSince.at(name, placeOf(d.doc.Parts[found].Line), name)
	case name == "" && was != "":
		return 0, changedSince.at(name, nowhere, "this row")
	}
	return 0, noSuchLine.near(syntax.Nearest(name, d.lineNames()), name, nowhere, name)
}

// lineNames gives the names of all lines.
func (d *draft) lineNames() []string {
	var names []string
	for _, s := range d.of("lines") {
		for _, i := range d.rows(s) {
			names = append(names, lineOf(d.doc.Parts[i]))
		}
	}
	return names
}

func (d *draft) setLine(e *Edit) (*change, *syntax.Error) {
	i, err := d.line(e.Name, e.Was)
	if err != nil {
		return nil, err
	}
	return d.setRow(i, e.Was, string(e.Text))
}

func (d *draft) removeLine(e *Edit) (*change, *syntax.Error) {
	i, err := d.line(e.Name, e.Was)
	if err != nil {
		return nil, err
	}
	return d.removeRow(i, e.Was)
}

func (d *draft) addLine(e *Edit) (*change, *syntax.Error) {
	if e.After != "" {
		i, err := d.line(string(e.After), "")
		if err != nil {
			return nil, err
		}
		return d.addRow(i, string(e.Text))
	}
	blocks := d.of("lines")
	number := e.Block
	switch {
	case number < 0 || number > len(blocks):
		return nil, noSuchBlock.at("", nowhere, strconv.Itoa(number), strconv.Itoa(len(blocks)))
	case len(blocks) == 0:
		return d.addBlock(len(d.doc.Parts), "lines", string(e.Text))
	case number == 0:
		number = len(blocks)
	}
	return d.addRow(d.lastRow(blocks[number-1]), string(e.Text))
}

// writeProse changes a part of prose. The text may hold blocks, whole ones: it may
// not open what it does not close.
func (d *draft) writeProse(e *Edit) (*change, *syntax.Error) {
	text := string(e.Text)
	if hasBadBytes(text) {
		return nil, noCharacters.at("", nowhere)
	}
	if e.Was == "" {
		if text == "" {
			return &change{line: 1}, nil
		}
		text = inEndings(text, d.lineEnd(len(d.doc.Parts)))
		c := d.insert(len(d.doc.Parts), text)
		c.holds = wholeBlocks(c.line)
		return c, leftOpen(text, c.line)
	}
	i := d.prose(string(e.Was), e.Part)
	if i < 0 {
		return nil, changedSince.at("", nowhere, "this text")
	}
	p := d.doc.Parts[i]
	end := d.lineEnd(i)
	if at := strings.IndexByte(p.Text, '\n'); at >= 0 {
		end = ending(p.Text[:at+1])
	}
	text = inEndings(text, end)
	if text != "" && ending(text) == "" && (i+1 < len(d.doc.Parts) || ending(p.Text) != "") {
		text += end
	}
	return &change{line: p.Line, old: p.Text, text: text, holds: wholeBlocks(p.Line)}, leftOpen(text, p.Line)
}

// prose finds the part of prose that reads text, whatever its line endings (a
// browser changes them), the nearest to number n; -1 when there is none.
func (d *draft) prose(text string, n int) int {
	text = inEndings(text, "\n")
	best, far, number := -1, 0, 0
	for i, p := range d.doc.Parts {
		if p.Kind != syntax.Prose {
			continue
		}
		away := max(number-n, n-number)
		if (best < 0 || away < far) && inEndings(p.Text, "\n") == text {
			best, far = i, away
		}
		number++
	}
	return best
}

func inEndings(text, end string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if end == "\r\n" {
		text = strings.ReplaceAll(text, "\n", end)
	}
	return text
}

// wholeBlocks checks that what prose holds of live blocks begins in it.
func wholeBlocks(line int) func([]*syntax.Part) *syntax.Error {
	return func(inside []*syntax.Part) *syntax.Error {
		if len(inside) > 0 && inside[0].Kind != syntax.Fence {
			return openEnd.at("", placeOf(line), label(inside[0].Block))
		}
		return nil
	}
}

// leftOpen says whether a text opens a block, a remark or the like that it does not
// close: a block below it, even after an empty line, is then no block.
func leftOpen(text string, line int) *syntax.Error {
	if ending(text) == "" {
		text += "\n"
	}
	text += "\n"
	doc := syntax.Read("", []byte(text+"```answers\n```\n"))
	if isTooLarge(doc) {
		return grownTooLarge.at("", placeOf(line))
	}
	below := doc.Parts
	n := len(below)
	if n < 2 || below[n-1].Kind != syntax.Fence || below[n-2].Kind != syntax.Fence || below[n-2].Line != lines(text)+1 {
		return opensBlock.at("", placeOf(line))
	}
	return nil
}
