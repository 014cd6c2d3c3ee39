package book

import "wintertruss/engine/syntax"

// readLines reads the rows of a lines block.
func (a *assembler) readLines(b *blockRows) {
	for _, part := range b.rows {
		item, ok := part.Item.(*syntax.Line)
		if !ok {
			a.keepName(part)
			continue
		}
		if err := a.claim(item.Name.Text, "line", item.Name.Place); err != nil {
			a.report(err)
			continue
		}
		l, err := a.readLine(item, part)
		if err != nil {
			a.breakName(item.Name.Text, err)
			continue
		}
		l.Block, l.Page = b.block, b.block.Page
		a.lines[l.Name] = len(a.Lines)
		a.Lines = append(a.Lines, l)
	}
}

func (a *assembler) readLine(item *syntax.Line, part *syntax.Part) (*Line, *syntax.Error) {
	name := item.Name.Text
	l := &Line{Name: name, Place: item.Name.Place, Gather: item.Gather, Label: item.Label, Source: item.Source}
	var err *syntax.Error
	if item.Unit.Text != "" {
		if l.Unit, err = a.unit(item.Unit, name); err != nil {
			return nil, err
		}
	}
	switch {
	case item.Values != nil:
		if l.Input, err = a.input(item); err != nil {
			return nil, err
		}
		l.Unit = l.Input.Unit
	case item.Formula != nil && item.Formula.Tree != nil:
		l.Formula = item.Formula
	default:
		return nil, a.readFault(part)
	}
	return l, nil
}

// keepName keeps the name of a line that could not be read, so that lines which
// use it wait for it instead of calling it unknown.
func (a *assembler) keepName(part *syntax.Part) {
	err := a.readFault(part)
	name := firstWord(part.Text)
	if !isName(name) {
		a.report(err)
		return
	}
	if a.claim(name, "line", syntax.Place{Line: part.Line, Col: 1, Len: len(name)}) == nil {
		a.breakName(name, err)
	} else {
		a.report(err)
	}
}
