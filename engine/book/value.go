package book

import (
	"strings"

	"github.com/shopspring/decimal"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Kind says what a value is.
type Kind int

const (
	Blank Kind = iota // nothing is written
	Number
	Truth // yes or no
	Date  // a day; a week stands for its Monday
	Word  // a member of a list, or a kind that functions know
	Text
)

// Value is one typed literal.
type Value struct {
	Kind  Kind
	Place syntax.Place
	// Number is the middle, in Unit. Truth: 1 or 0. Date: days since 1970-01-01.
	// A chance is 0, its plain value.
	Number float64
	Exact  decimal.Decimal // Number as written, for a Number
	Unit   *unit.Unit      // for a Number; a plain number has Units.One()
	// Word is the word or the text; for Date and Truth what was written.
	Word string
	// Member is the index of Word in the list that its column or input refers to; -1 otherwise.
	Member int
	Spread *Spread // nil for a value that is certain
}

// Spread is the range of a number.
type Spread struct {
	Form syntax.LiteralKind // PlainNumber ("80 % (68..88)", "80 +- 4 %"), EvenForm, LikelyForm, ChanceForm
	// Low, Middle and High are in the value's unit. PlainNumber: 10th, 50th, 90th
	// percentile. EvenForm: ends, and their midpoint. LikelyForm: ends, and the mode.
	// ChanceForm: Middle is the chance as a share 0..1; Low 0, High 1.
	Low, Middle, High float64
	Open              bool // shares and positive amounts may leave their bounds
	Key               Key
}

// Key names a literal in the draws. It does not change when other lines do, and
// a scenario's literal has the key of the plan's at the same address, so the two
// draw alike. Cells that share a literal move together.
type Key struct {
	Name   string    // line, or list.column
	Member string    // the member it was written for; "" for all
	Week   week.Week // the week it was written from or for; 0 for the first piece
}

// literals turns literals into values, with each unit's text read once.
type literals struct {
	units  *unit.System
	parsed map[string]parsedUnit
	failed int             // texts that were no units
	known  map[string]bool // every symbol, once many have failed
}

// parsedUnit is what a unit's text came to.
type parsedUnit struct {
	unit *unit.Unit
	err  error
}

// read turns l into a value. A number that names no unit takes bare. The
// member of a word is not looked up here.
func (r *literals) read(l *syntax.Literal, key Key, bare *unit.Unit) (Value, *syntax.Error) {
	v := Value{Place: l.Place, Word: l.Word, Member: -1}
	switch l.Kind {
	case syntax.DateLiteral:
		day, err := week.ParseDay(l.Word)
		if err != nil {
			return v, noSuchDay.at(key.Name, l.Place, err.Error())
		}
		v.Kind, v.Number = Date, float64(day)
	case syntax.WeekLiteral:
		w, err := week.ParseWeek(l.Word)
		if err != nil {
			return v, noSuchWeek.at(key.Name, l.Place, err.Error())
		}
		v.Kind, v.Number = Date, float64(w.Monday())
	case syntax.YesNo:
		v.Kind = Truth
		if l.Word == "yes" {
			v.Number = 1
		}
	case syntax.QuotedText:
		v.Kind = Text
	case syntax.KindWord:
		v.Kind = Word
	case syntax.ChanceForm:
		v.Kind, v.Unit = Number, r.units.One()
		v.Spread = &Spread{Form: l.Kind, Middle: l.Number.InexactFloat64() / 100, High: 1, Key: key}
	default:
		return r.number(v, l, key, bare)
	}
	return v, nil
}

var half = decimal.New(5, -1)

// number reads a number, with its range where it has one. Its size and the order
// of its range were checked in reading.
func (r *literals) number(v Value, l *syntax.Literal, key Key, bare *unit.Unit) (Value, *syntax.Error) {
	v.Kind, v.Unit, v.Exact = Number, bare, l.Number
	if l.Unit.Text != "" {
		var err *syntax.Error
		if v.Unit, err = r.unit(l.Unit, key.Name); err != nil {
			return v, err
		}
	}
	if l.Kind == syntax.EvenForm {
		v.Exact = l.Low.Add(l.High).Mul(half)
	}
	v.Number = v.Exact.InexactFloat64()
	if l.Kind != syntax.PlainNumber || l.HasRange {
		v.Spread = &Spread{Form: l.Kind, Low: l.Low.InexactFloat64(), Middle: v.Number, High: l.High.InexactFloat64(), Open: l.Open, Key: key}
	}
	return v, nil
}

// unit reads a unit as written in the book.
func (r *literals) unit(w syntax.Word, name string) (*unit.Unit, *syntax.Error) {
	p, seen := r.parsed[w.Text]
	if !seen {
		p.unit, p.err = r.parse(w.Text)
		r.parsed[w.Text] = p
	}
	if p.err != nil {
		return nil, unitFault(name, w, p.err)
	}
	return p.unit, nil
}

// mostUnitHints bounds the words for which the nearest unit is looked up, which
// takes far longer than to see that there is none of the name.
const mostUnitHints = 200

func (r *literals) parse(text string) (*unit.Unit, error) {
	if r.failed >= mostUnitHints {
		if r.known == nil {
			r.known = map[string]bool{"1": true}
			for _, symbol := range r.units.Symbols() {
				r.known[symbol] = true
			}
		}
		for _, symbol := range strings.FieldsFunc(text, func(c rune) bool { return c == '*' || c == '/' }) {
			if !r.known[symbol] && !r.known[strings.TrimRight(symbol, "0123456789")] {
				return nil, &unit.UnknownError{Symbol: symbol}
			}
		}
	}
	u, err := r.units.Parse(text)
	if err != nil {
		r.failed++
	}
	return u, err
}

// fits says whether a number in unit from can stand where unit to is wanted.
func fits(from, to *unit.Unit) bool { return from.Dim == to.Dim && from.Absolute == to.Absolute }

// Literal turns a literal that stands outside an input (the text of "measure",
// of an option) into a value. bare is the unit of a number that names none; nil
// means a plain number. The error names name.
func (b *Book) Literal(l *syntax.Literal, name string, bare *unit.Unit) (Value, *syntax.Error) {
	if bare == nil {
		bare = b.Units.One()
	}
	r := literals{units: b.Units, parsed: map[string]parsedUnit{}}
	return r.read(l, Key{Name: name}, bare)
}
