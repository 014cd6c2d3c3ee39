package syntax

import (
	"strings"

	"github.com/shopspring/decimal"
)

// readKey reads "key : value" of settings and charts.
func (r *rowReader) readKey(c cut) any {
	i, _ := c.find(":")
	if i < 0 {
		r.wrongShape(c)
		return nil
	}
	key, value := c.part(0, i).trim(), c.after(i+1).trim()
	if e := checkName(key); e != nil {
		r.fail(e, r.block.title())
		return nil
	}
	if value.empty() {
		r.fail(missingValue.at(value.place()), key.String())
		return nil
	}
	if r.block.Kind == "chart" {
		return &ChartKey{key.word(), value.word()}
	}
	return &Setting{key.word(), value.word()}
}

// readBind reads "line ~ formula +- number %".
func (r *rowReader) readBind(c, comment cut) any {
	i, _ := c.find("~")
	if i < 0 {
		r.wrongShape(c)
		return nil
	}
	name, right := c.part(0, i).trim(), c.after(i+1).trim()
	if e := checkFullName(name); e != nil {
		r.fail(e, r.block.title())
		return nil
	}
	j, _ := right.find("+-")
	if j < 0 {
		r.wrongShape(c)
		return nil
	}
	width := right.after(j + 2).trim()
	percent, e := readPercent(width)
	if e != nil || percent <= 0 || percent > 100 {
		r.fail(withinShare.at(width.place(), width.String()), name.String())
		return nil
	}
	bind := &Bind{Line: name.word(), Within: percent / 100}
	bind.Label, bind.Source = labelAndSource(comment.String())
	if bind.Formula = r.readFormula(right.part(0, j), name.String()); bind.Formula == nil {
		return nil
	}
	return bind
}

// ParseAddress reads "name" or "name @ member, week". at is the place of the
// first character of text.
func ParseAddress(text string, at Place) (Address, *Error) {
	return readAddress(newSource(text, at.Line, at.Col).all())
}

// String writes the address, as ParseAddress reads it.
func (a Address) String() string {
	words := make([]string, len(a.Where))
	for i, w := range a.Where {
		words[i] = w.Text
	}
	if len(words) == 0 {
		return a.Name.Text
	}
	return a.Name.Text + " @ " + strings.Join(words, ", ")
}

func readAddress(c cut) (Address, *Error) {
	c = c.trim()
	name, where := c, cut{}
	i, _ := c.find("@")
	if i >= 0 {
		name, where = c.part(0, i).trim(), c.after(i+1).trim()
	}
	if e := checkFullName(name); e != nil {
		return Address{}, e
	}
	a := Address{Name: name.word()}
	if i < 0 {
		return a, nil
	}
	for _, w := range where.split(',') {
		if !isAddressWord(w.String()) {
			return a, badAddress.at(w.place(), w.String())
		}
		a.Where = append(a.Where, w.word())
	}
	return a, nil
}

// isAddressWord accepts members, weeks and the members of the other calendar axes
// (2027-03, 04, 1): names, or digits with - and W in them.
func isAddressWord(s string) bool {
	if isName(s) {
		return true
	}
	if s == "" || len(s) > 10 || !isDigit(s[0]) {
		return false
	}
	for i := range len(s) {
		if !isDigit(s[i]) && s[i] != '-' && s[i] != 'W' {
			return false
		}
	}
	return true
}

// readOverride reads a row of pins or of a scenario.
func (r *rowReader) readOverride(c, comment cut) any {
	i, sign := c.find(":", "=")
	if i < 0 || sign == "=" && r.block.Kind == "pins" {
		r.wrongShape(c)
		return nil
	}
	address, e := readAddress(c.part(0, i))
	if e != nil {
		r.fail(e, r.block.title())
		return nil
	}
	name := address.Name.Text
	o := &Override{Address: address}
	o.Label, o.Source = labelAndSource(comment.String())
	right := c.after(i + 1).trim()
	if sign == "=" {
		if o.Formula = r.readFormula(right, name); o.Formula == nil {
			return nil
		}
		return o
	}
	if o.Values, e = readValues(right); e != nil {
		r.fail(e, name)
		return nil
	}
	return o
}

// readLink reads "input, input : number".
func (r *rowReader) readLink(c cut) any {
	i, _ := c.find(":")
	if i < 0 {
		r.wrongShape(c)
		return nil
	}
	pair, share := c.part(0, i).split(','), c.after(i+1).trim()
	if len(pair) != 2 {
		r.wrongShape(c)
		return nil
	}
	for _, p := range pair {
		if e := checkFullName(p); e != nil {
			r.fail(e, r.block.title())
			return nil
		}
	}
	var d decimal.Decimal
	rest, e := readDecimal(share, &d)
	if e != nil || !rest.trim().empty() || d.Abs().Cmp(decimal.NewFromInt(1)) > 0 {
		r.fail(linkShare.at(share.place(), share.String()), r.block.title())
		return nil
	}
	return &Link{pair[0].word(), pair[1].word(), d.InexactFloat64()}
}

// readCaution reads: condition ":" "message". The condition may hold quoted text
// and a choice, so the message is the last quoted text and the : before it.
func (r *rowReader) readCaution(c cut) any {
	s := c.String()
	if !strings.HasSuffix(s, "\"") || len(s) < 2 {
		r.wrongShape(c)
		return nil
	}
	quote := strings.LastIndexByte(s[:len(s)-1], '"')
	before := c.part(0, max(quote, 0)).trim()
	if quote < 0 || !strings.HasSuffix(before.String(), ":") {
		r.wrongShape(c)
		return nil
	}
	message := strings.TrimSpace(s[quote+1 : len(s)-1])
	condition, e := readCondition(before.part(0, before.len()-1))
	if e == nil && message == "" {
		e = missingValue.at(c.after(quote).place())
	}
	if e != nil {
		r.fail(e, r.block.title())
		return nil
	}
	return &Caution{condition, message}
}

// readAnswer reads: key ":" condition { "," condition }.
func (r *rowReader) readAnswer(c cut) any {
	i, _ := c.find(":")
	if i < 0 {
		r.wrongShape(c)
		return nil
	}
	key := c.part(0, i).trim()
	if e := checkName(key); e != nil {
		r.fail(e, r.block.title())
		return nil
	}
	answer := &Answer{Key: key.word()}
	for _, entry := range c.after(i + 1).splitTop(',') {
		condition, e := readCondition(entry)
		if e != nil {
			r.fail(e, key.String())
			return nil
		}
		answer.Entries = append(answer.Entries, condition)
	}
	return answer
}
