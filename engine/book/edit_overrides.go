package book

import (
	"slices"
	"strings"

	"wintertruss/engine/syntax"
)

// cellsNamed is the same for two addresses of the same cells.
func cellsNamed(a syntax.Address) string {
	words := make([]string, len(a.Where))
	for i, w := range a.Where {
		words[i] = w.Text
	}
	slices.Sort(words)
	return a.Name.Text + "@" + strings.Join(words, ",")
}

// override finds the row of an address in a block of pins or of a scenario, also
// when its right side does not read; -1 when there is none.
func (d *draft) override(s stretch, a syntax.Address) int {
	cells := cellsNamed(a)
	for _, i := range d.rows(s) {
		own, ok := addressOf(d.doc.Parts[i])
		if ok && own.Name.Text == a.Name.Text && cellsNamed(own) == cells {
			return i
		}
	}
	return -1
}

// addressOf gives what a row of pins or of a scenario names.
func addressOf(p *syntax.Part) (syntax.Address, bool) {
	if o, ok := p.Item.(*syntax.Override); ok {
		return o.Address, true
	}
	at, _, _ := unquotedAt(p.Text, ":=")
	if len(at) == 0 {
		return syntax.Address{}, false
	}
	a, err := syntax.ParseAddress(p.Text[:at[0]], nowhere)
	return a, err == nil
}

// pinned finds a pin.
func (d *draft) pinned(a syntax.Address) int {
	for _, s := range d.of("pins") {
		if i := d.override(s, a); i >= 0 {
			return i
		}
	}
	return -1
}

func (d *draft) pin(e *Edit) (*change, *syntax.Error) {
	a, err := syntax.ParseAddress(e.Address, nowhere)
	if err != nil {
		return nil, err
	}
	right := strings.TrimSpace(string(e.Text))
	if right == "" {
		return nil, noValue.at(a.Name.Text, nowhere)
	}
	if i := d.pinned(a); i >= 0 {
		return d.rewrite(i, e.Was, ":", right)
	}
	left := strings.TrimSpace(e.Address)
	on := d.definition(a.Name.Text)
	var into *stretch
	for _, s := range d.of("pins") {
		if into == nil || into.block.Page != d.doc.Parts[on].Page {
			into = &s
		}
	}
	if into == nil {
		return d.addBlock(d.pageEnd(on), "pins", left+" : "+right)
	}
	i := d.lastRow(*into)
	return d.addRow(i, keyed(d.body(i), left, ":", right))
}

// definition gives the part in which a line or a list's column is said; the last
// part of the book for a name that the book does not have.
func (d *draft) definition(name string) int {
	list, _, dotted := strings.Cut(name, ".")
	for _, s := range d.blocks {
		switch {
		case dotted && s.block.Kind == "list" && s.block.Name == list:
			return s.from
		case !dotted && s.block.Kind == "lines":
			for _, i := range d.rows(s) {
				if lineOf(d.doc.Parts[i]) == name {
					return i
				}
			}
		}
	}
	return len(d.doc.Parts) - 1
}

// rewrite is the change of a row's right side.
func (d *draft) rewrite(i int, was Verbatim, sign, right string) (*change, *syntax.Error) {
	row := d.body(i)
	at, _, _ := unquotedAt(row, ":=")
	return d.setRow(i, was, refillRight(row, at[0], sign, right))
}

func (d *draft) unpin(e *Edit) (*change, *syntax.Error) {
	a, err := syntax.ParseAddress(e.Address, nowhere)
	if err != nil {
		return nil, err
	}
	i := d.pinned(a)
	if i < 0 {
		return nil, noSuchPin.at(a.Name.Text, nowhere, e.Address)
	}
	return d.removeRow(i, e.Was)
}

func (d *draft) setOverride(e *Edit) (*change, *syntax.Error) {
	s, err := d.named("scenario", e.Name, noSuchScenario)
	if err != nil {
		return nil, err
	}
	a, err := syntax.ParseAddress(e.Address, nowhere)
	if err != nil {
		return nil, err
	}
	sign, right := ":", strings.TrimSpace(string(e.Text))
	if formula, ok := strings.CutPrefix(right, "="); ok {
		sign, right = "=", strings.TrimSpace(formula)
	}
	if right == "" {
		return nil, noValue.at(a.Name.Text, s.block.Place)
	}
	if i := d.override(s, a); i >= 0 {
		return d.rewrite(i, e.Was, sign, right)
	}
	i := d.lastRow(s)
	return d.addRow(i, keyed(d.body(i), strings.TrimSpace(e.Address), sign, right))
}

func (d *draft) removeOverride(e *Edit) (*change, *syntax.Error) {
	s, err := d.named("scenario", e.Name, noSuchScenario)
	if err != nil {
		return nil, err
	}
	a, err := syntax.ParseAddress(e.Address, nowhere)
	if err != nil {
		return nil, err
	}
	i := d.override(s, a)
	if i < 0 {
		return nil, noSuchOverride.at(a.Name.Text, s.block.Place, e.Name, e.Address)
	}
	return d.removeRow(i, e.Was)
}

// setSetting changes the value of a setting and leaves its comment.
func (d *draft) setSetting(e *Edit) (*change, *syntax.Error) {
	value := strings.TrimSpace(string(e.Text))
	if err := oneCell(value, "", e.Name, 1); err != nil {
		return nil, err
	}
	blocks := d.of("settings")
	for _, s := range blocks {
		for _, i := range d.rows(s) {
			row := d.body(i)
			at, comment, _ := unquotedAt(row, ":")
			if firstWord(row) != e.Name || e.Name == "" {
				continue
			}
			switch {
			case value == "":
				return d.removeRow(i, e.Was)
			case len(at) == 0: // "draws 1024": the row does not read
				return d.setRow(i, e.Was, e.Name+" : "+value)
			}
			return d.setRow(i, e.Was, refill(row, at[0]+1, comment, value))
		}
	}
	switch {
	case firstWord(e.Name) != e.Name || !isName(e.Name):
		return nil, noSettingName.at(e.Name, nowhere, e.Name)
	case value == "":
		return nil, noSuchSetting.at(e.Name, nowhere, e.Name)
	case len(blocks) == 0:
		return d.addBlock(len(d.doc.Parts), "settings", e.Name+" : "+value)
	}
	i := d.lastRow(blocks[0])
	return d.addRow(i, keyed(d.body(i), e.Name, ":", value))
}
