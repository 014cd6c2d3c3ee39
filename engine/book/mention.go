package book

import (
	"slices"

	"wintertruss/engine/syntax"
)

// readMentions checks the live numbers of the prose. They are shown from the text;
// of the book only their faults are part.
func (a *assembler) readMentions() {
	for _, part := range a.Doc.Parts {
		for i := range part.Mentions {
			if err := a.mention(part.Mentions[i].Address); err != nil {
				a.report(err)
			}
		}
	}
}

// mention says what is wrong with the address of a live number; nil when nothing is,
// or when it is said where the line stands.
func (a *assembler) mention(address syntax.Address) *syntax.Error {
	name := address.Name
	if a.Broken[name.Text] != nil || name.Text == BuiltInLine {
		return nil
	}
	cells := slices.Clone(address.Where)
	cells = slices.DeleteFunc(cells, func(w syntax.Word) bool { return w.Text == syntax.ThisWeek })
	_, err := a.address(syntax.Address{Name: name, Where: cells}, &form{})
	switch {
	case err == nil || a.said[err]:
		return nil
	case err.Code == unknownName.code || err.Code == recordsStand.code:
		return noSuchNumber.near(a.near(name.Text, a.targetNames), name.Text, name.Place, name.Text)
	}
	return err
}
