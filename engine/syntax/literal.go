package syntax

import (
	"strings"

	"github.com/shopspring/decimal"
)

// ParseLiteral reads one typed value, such as "80 % (68..88)", "2026-W33" or "arch".
// at is the place of the first character of text.
func ParseLiteral(text string, at Place) (*Literal, *Error) {
	c := newSource(text, at.Line, at.Col).all()
	l, e := readLiteral(c)
	if e != nil {
		return nil, e
	}
	return &l, nil
}

func readLiteral(c cut) (Literal, *Error) {
	c = c.trim()
	l := Literal{Place: c.place(), Text: c.String()}
	s := l.Text
	switch {
	case s == "":
		return l, missingValue.at(c.place())
	case s[0] == '"':
		return l, l.readQuoted(c)
	case looksLikeDate(s):
		return l, l.readDate(c)
	case isDigit(s[0]) || strings.IndexByte("+-.", s[0]) >= 0:
		return l, l.readNumber(c)
	case 'a' <= s[0] && s[0] <= 'z' || 'A' <= s[0] && s[0] <= 'Z':
		return l, l.readWord(c)
	}
	return l, badValue.at(c.place(), s)
}

func (l *Literal) readQuoted(c cut) *Error {
	end := strings.IndexByte(l.Text[1:], '"') + 1
	if end == 0 {
		return openQuote.at(c.place())
	}
	if end+1 < len(l.Text) {
		return badValue.at(c.after(end+1).trim().place(), c.after(end+1).trim().String())
	}
	l.Kind, l.Word = QuotedText, l.Text[1:end]
	return nil
}

// looksLikeDate says whether s begins like 2026-.
func looksLikeDate(s string) bool {
	return len(s) > 5 && isDigit(s[0]) && isDigit(s[1]) && isDigit(s[2]) && isDigit(s[3]) && s[4] == '-' && (isDigit(s[5]) || s[5] == 'W' || s[5] == 'w')
}

// twoDigits reads a number from 1 to most; 0 when it is none.
func twoDigits(s string, most int) int {
	if len(s) != 2 || !isDigit(s[0]) || !isDigit(s[1]) {
		return 0
	}
	n := int(s[0]-'0')*10 + int(s[1]-'0')
	if n > most {
		return 0
	}
	return n
}

// isWeek says whether s has the form 2026-W33. Which years have a week 53 is the calendar's business.
func isWeek(s string) bool {
	return len(s) == 8 && looksLikeDate(s) && s[5] == 'W' && twoDigits(s[6:], 53) > 0
}

// isDay says whether s has the form 2026-10-12. How long a month is is the calendar's business.
func isDay(s string) bool {
	return len(s) == 10 && looksLikeDate(s) && s[7] == '-' && twoDigits(s[5:7], 12) > 0 && twoDigits(s[8:], 31) > 0
}

func (l *Literal) readDate(c cut) *Error {
	switch {
	case isWeek(l.Text):
		l.Kind = WeekLiteral
	case isDay(l.Text):
		l.Kind = DateLiteral
	default:
		return badDate.at(c.place(), l.Text)
	}
	l.Word = l.Text
	return nil
}

func (l *Literal) readWord(c cut) *Error {
	n := wordLength(l.Text)
	word, rest := l.Text[:n], c.after(n).trimLeft()
	if strings.HasPrefix(rest.String(), "(") {
		return l.readForm(c, word, rest)
	}
	// Capitals pass: whoever knows the words that are meant can name the nearest.
	if !rest.empty() || !isSymbol(word) {
		return badValue.at(c.place(), l.Text)
	}
	l.Kind, l.Word = KindWord, word
	if word == "yes" || word == "no" {
		l.Kind = YesNo
	}
	return nil
}

// readNumber reads: number [unit] [range] ["open"], or number +- number [unit] ["open"].
func (l *Literal) readNumber(c cut) *Error {
	l.Kind = PlainNumber
	rest, e := readDecimal(c, &l.Number)
	if e != nil {
		return e
	}
	rest = rest.trimLeft()
	if strings.HasPrefix(rest.String(), "+-") {
		half := rest.after(2).trimLeft()
		var width decimal.Decimal
		after, e := readDecimal(half, &width)
		if e != nil {
			return e
		}
		if width.Sign() <= 0 {
			return halfWidth.at(cut{c.src, half.from, after.from}.place(), width.String())
		}
		l.HasRange, l.PlusMinus = true, true
		l.Low, l.High = l.Number.Sub(width), l.Number.Add(width)
		rest = after
	}
	if rest, e = l.readUnit(rest); e != nil {
		return e
	}
	if strings.HasPrefix(rest.String(), "(") {
		if l.HasRange {
			return badRange.at(rest.place(), rest.String())
		}
		if rest, e = l.readRange(rest); e != nil {
			return e
		}
	}
	if w, after := rest.firstWord(); w.String() == "open" {
		l.Open = true
		rest = after
	}
	if !rest.empty() {
		return leftOver(rest)
	}
	return nil
}

// leftOver names what stands after a value and does not belong to it.
func leftOver(rest cut) *Error {
	switch s := rest.String(); {
	case s[0] == '(' || strings.HasPrefix(s, "+-"):
		return badRange.at(rest.place(), s)
	case s[0] == ',':
		return badNumber.at(rest.place(), s)
	}
	return badValue.at(rest.place(), rest.String())
}

// readDecimal reads the number that c begins with and gives what follows.
func readDecimal(c cut, out *decimal.Decimal) (cut, *Error) {
	s := c.String()
	sign := 0
	if s != "" && (s[0] == '-' || s[0] == '+') {
		sign = 1
	}
	n := numberLength(s[sign:])
	if n == 0 {
		w, _ := c.firstWord()
		return c, badNumber.at(w.place(), w.String())
	}
	n += sign
	// 1.2.3, 1_000, 5., 0x1F
	if n < len(s) && (s[n] == '_' || s[n] == '.' && !strings.HasPrefix(s[n:], "..") || isBased(s[sign:n], s[n:])) {
		w, _ := c.firstWord()
		return c, badNumber.at(w.place(), w.String())
	}
	if m := numberFault(s[sign:n]); m != nil {
		return c, m.at(c.part(0, n).place(), s[:n])
	}
	d, err := decimal.NewFromString(strings.TrimPrefix(s[:n], "+"))
	if err != nil {
		return c, badNumber.at(c.part(0, n).place(), s[:n])
	}
	*out = d
	return c.after(n), nil
}

// readUnit reads a unit, if there is one, and gives what follows, trimmed.
func (l *Literal) readUnit(c cut) (cut, *Error) {
	c = c.trimLeft()
	s := c.String()
	i := 0
	for i < len(s) && !isBlankByte(s[i]) && s[i] != '(' && s[i] != ',' && !strings.HasPrefix(s[i:], "+-") {
		i++
	}
	unit := c.part(0, i)
	if i == 0 || unit.String() == "open" {
		return c, nil
	}
	if e := checkUnit(unit); e != nil {
		return c, e
	}
	l.Unit = unit.word()
	return c.after(i).trimLeft(), nil
}

// isUnit says whether s has the form of a unit: symbols with powers, joined by * and /.
func isUnit(s string) bool {
	start := 0
	for i := 0; i <= len(s); i++ {
		if i < len(s) && s[i] != '*' && s[i] != '/' {
			continue
		}
		if !isSymbol(s[start:i]) {
			return false
		}
		start = i + 1
	}
	return true
}

func isSymbol(s string) bool {
	if s == "1" || s == "%" {
		return true
	}
	for i := range len(s) {
		b := s[i]
		letter := 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z'
		if !letter && (i == 0 || !isDigit(b) && b != '_') {
			return false
		}
	}
	return s != "" && len(s) <= longestName
}

// unitSpelling gives the spelling of this language for signs seen on labels and meters.
var unitSpelling = strings.NewReplacer("°C", "degC", "°F", "degF", "°", "deg", "²", "2", "³", "3", "µ", "u", "μ", "u", "$", "USD", "€", "EUR", "£", "GBP", "·", "*", "×", "*")

func checkUnit(c cut) *Error {
	s := c.String()
	if isUnit(s) {
		return nil
	}
	advice := ""
	if better := unitSpelling.Replace(s); better != s && isUnit(better) {
		advice = "; here: " + better
	}
	return badUnit.at(c.place(), s, advice)
}

// readRange reads "(low..high)" around the number already read.
func (l *Literal) readRange(c cut) (cut, *Error) {
	inside, rest, e := brackets(c)
	if e != nil {
		return c, e
	}
	if e := readEnds(inside, c, &l.Low, &l.High); e != nil {
		return c, e
	}
	if l.Number.Cmp(l.Low) <= 0 || l.Number.Cmp(l.High) >= 0 {
		return c, rangeMiddle.at(l.Place, l.Number.String(), l.Low.String(), l.High.String())
	}
	l.HasRange = true
	return rest, nil
}

// brackets gives what stands between the bracket c begins with and the next closing one, and what follows.
func brackets(c cut) (inside, rest cut, e *Error) {
	end := strings.IndexByte(c.String(), ')')
	if end < 0 {
		return c, c, openBracket.at(c.part(0, 1).place())
	}
	return c.part(1, end).trim(), c.after(end + 1).trimLeft(), nil
}

// readEnds reads "low..high"; whole is what an error shows.
func readEnds(inside, whole cut, low, high *decimal.Decimal) *Error {
	rest, e := readDecimal(inside, low)
	if e != nil {
		return e
	}
	rest = rest.trimLeft()
	if !strings.HasPrefix(rest.String(), "..") {
		return badRange.at(whole.place(), whole.String())
	}
	if rest, e = readDecimal(rest.after(2).trimLeft(), high); e != nil {
		return e
	}
	if !rest.trim().empty() {
		return badRange.at(whole.place(), whole.String())
	}
	if low.Cmp(*high) >= 0 {
		return rangeOrder.at(inside.place(), low.String(), high.String())
	}
	return nil
}

var formExamples = map[string]string{
	"even":   "even(1..3) d",
	"likely": "likely(1, 2, 4) h",
	"chance": "chance(4 %)",
}

// readForm reads even(a..b) unit, likely(a, b, c) unit, chance(a %). c is the
// whole literal, rest begins with the bracket.
func (l *Literal) readForm(c cut, word string, rest cut) *Error {
	example, ok := formExamples[word]
	if !ok {
		return unknownForm.at(c.part(0, len(word)).place(), word)
	}
	inside, rest, e := brackets(rest)
	if e != nil {
		return e
	}
	wrong := func() *Error { return badForm.at(c.place(), l.Text, word, example) }
	switch word {
	case "even":
		l.Kind = EvenForm
		if dots, _ := inside.find(".."); dots < 0 {
			return wrong()
		}
		if e := readEnds(inside, c, &l.Low, &l.High); e != nil {
			return e
		}
	case "likely":
		l.Kind = LikelyForm
		three := inside.split(',')
		if len(three) != 3 {
			return wrong()
		}
		for i, into := range []*decimal.Decimal{&l.Low, &l.Number, &l.High} {
			after, e := readDecimal(three[i], into)
			if e != nil {
				return e
			}
			if !after.trim().empty() {
				return wrong()
			}
		}
		if l.Low.Cmp(l.High) >= 0 {
			return rangeOrder.at(inside.place(), l.Low.String(), l.High.String())
		}
		if l.Number.Cmp(l.Low) < 0 || l.Number.Cmp(l.High) > 0 {
			return rangeMiddle.at(three[1].place(), l.Number.String(), l.Low.String(), l.High.String())
		}
	case "chance":
		l.Kind = ChanceForm
		after, e := readDecimal(inside, &l.Number)
		if e != nil {
			return e
		}
		if after.trim().String() != "%" || !rest.empty() {
			return wrong()
		}
		if l.Number.Sign() < 0 || l.Number.Cmp(decimal.NewFromInt(100)) > 0 {
			return chanceShare.at(inside.place(), inside.String())
		}
		return nil
	}
	if rest, e = l.readUnit(rest); e != nil {
		return e
	}
	if !rest.empty() {
		return leftOver(rest)
	}
	return nil
}
