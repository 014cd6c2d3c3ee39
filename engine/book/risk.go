package book

import (
	"strconv"
	"strings"

	"wintertruss/engine/syntax"
)

// Bind ties a line to what was counted and weighed: a row of an observe block.
type Bind struct {
	Line    *Line
	Place   syntax.Place // of the line's name
	Formula *syntax.Formula
	Within  float64 // half an 8-in-10 band, as a share of the recorded value; above 0
	Label   string
	Source  string
}

// Link is a row of a links block: two inputs with a range each, and how they move
// together.
type Link struct {
	A, B  *Line
	Place syntax.Place // of the first name
	Share float64      // -1..1
}

// readBinds reads the rows of an observe block.
func (a *assembler) readBinds(b *blockRows) {
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.Bind)
		if !ok {
			a.report(a.readFault(part))
			continue
		}
		name := item.Line
		l := a.Line(name.Text)
		switch {
		case l != nil:
			a.Binds = append(a.Binds, Bind{Line: l, Place: name.Place, Formula: item.Formula, Within: item.Within, Label: item.Label, Source: item.Source})
		case a.Broken[name.Text] != nil: // said already
		case a.isColumn(name.Text):
			a.report(notALine.at(name.Text, name.Place, name.Text))
		default:
			a.report(unknownName.near(a.near(name.Text, a.lineNames), name.Text, name.Place, name.Text))
		}
	}
}

// readLinks reads the rows of a links block.
func (a *assembler) readLinks(b *blockRows) {
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.Link)
		if !ok {
			a.report(a.readFault(part))
			continue
		}
		if link, err := a.link(item); err != nil {
			a.report(err)
		} else {
			a.Links = append(a.Links, link)
		}
	}
}

func (a *assembler) link(item *syntax.Link) (Link, *syntax.Error) {
	link := Link{Place: item.A.Place, Share: item.Share}
	var err *syntax.Error
	if link.A, err = a.linkable(item.A); err != nil {
		return link, err
	}
	if link.B, err = a.linkable(item.B); err != nil {
		return link, err
	}
	if link.A == link.B {
		return link, linkToItself.at(item.B.Text, item.B.Place, item.B.Text)
	}
	pair := [2]string{link.A.Name, link.B.Name}
	if pair[0] > pair[1] {
		pair[0], pair[1] = pair[1], pair[0]
	}
	if line, twice := a.linked[pair]; twice {
		return link, repeatedLink.at(item.A.Text, item.A.Place, item.A.Text, item.B.Text, strconv.Itoa(line))
	}
	a.linked[pair] = item.A.Line
	return link, nil
}

// linkable gives an input that has a range.
func (a *assembler) linkable(w syntax.Word) (*Line, *syntax.Error) {
	l := a.Line(w.Text)
	switch {
	case l == nil && a.Broken[w.Text] != nil:
		return nil, a.Broken[w.Text]
	case l == nil && a.isColumn(w.Text):
		return nil, linkNotInput.at(w.Text, w.Place, w.Text, isOfList)
	case l == nil:
		return nil, unknownName.near(a.near(w.Text, a.lineNames), w.Text, w.Place, w.Text)
	case l.Input == nil:
		return nil, linkNotInput.at(w.Text, w.Place, w.Text, isComputed)
	}
	for _, p := range l.Input.Pieces {
		if p.Value.Spread != nil {
			return l, nil
		}
	}
	return nil, linkWithoutRange.at(w.Text, w.Place, w.Text)
}

// isColumn says whether a name is a list's column.
func (a *assembler) isColumn(name string) bool {
	list, column, dotted := strings.Cut(name, ".")
	return dotted && a.Column(list, column) != nil
}
