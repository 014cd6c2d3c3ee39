package engine

import (
	"fmt"
	"math"
	"strings"

	"wintertruss/engine/formula"
	"wintertruss/engine/risk"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// Answer is one of the three answers.
type Answer struct {
	Key      string // pays, charge, carries
	Question string
	// Verdict is the word that the draws earned, "" when they earned none; Of20 the
	// seasons of twenty in which the first condition holds.
	Verdict string
	Of20    int
	Entries []Entry
	// Consequence says in a sentence what follows.
	Consequence string
	AsOf        string
	Error       *syntax.Error // why the answer cannot be given
	Caution     string
}

// Entry is one figure of an answer: a condition with the value of its left side,
// or a line.
type Entry struct {
	Text      string // as the book writes it
	Name      string // the line on its left side, when that is a line's name alone
	Condition bool
	Op        string
	Limit     float64 // what the left side is compared with, in its unit; NaN when it is not one number
	Value     *Value  // the left side
	Holds     float64 // plain pass: 1, 0, or NaN
	Odds      float64 // per cent of draws in which the condition holds; NaN without draws
	Earned    *risk.Earned
}

var questions = map[string]string{
	"pays":    "Does this winter pay?",
	"charge":  "What to charge this week?",
	"carries": "Can it carry the loan?",
}

// Answers gives the answers of the book in its order.
func (d *Desk) Answers() ([]Answer, error) {
	if d.made != nil {
		if err := d.draw(d.answerLines()...); err != nil {
			return nil, err
		}
	}
	return d.PlainAnswers(), nil
}

// answerLines gives the lines that the answers are read from.
func (d *Desk) answerLines() []int {
	var lines []int
	for _, list := range d.made.answers {
		for _, c := range list {
			lines = append(lines, c.left, c.whole)
		}
	}
	return lines
}

// PlainAnswers gives the answers with what draws have said so far: without a
// verdict or bands when none have run.
func (d *Desk) PlainAnswers() []Answer {
	var out []Answer
	for i := range d.Book.Answers {
		out = append(out, d.answer(i))
	}
	return out
}

func (d *Desk) answer(i int) Answer {
	b := &d.Book.Answers[i]
	a := Answer{Key: b.Key, Question: questions[b.Key], AsOf: d.Day(), Error: b.Broken}
	if d.made == nil {
		if len(d.errs) > 0 {
			a.Error = d.errs[0]
		}
		return a
	}
	for _, c := range d.made.answers[i] {
		e := d.entry(c)
		if e.Value.Error != nil && a.Error == nil && (e.Value.Broken || len(a.Entries) == 0) {
			fault := *e.Value.Error
			fault.Name = b.Key
			a.Error = &fault
		}
		a.Entries = append(a.Entries, e)
	}
	if len(a.Entries) > 0 && a.Error == nil {
		if first := a.Entries[0]; first.Condition && first.Earned != nil {
			if word, of20, ok := first.Earned.Verdict(); ok {
				a.Verdict, a.Of20 = word, of20
			}
		}
	}
	a.Consequence, a.Caution = d.consequence(&a), cautions[b.Key]
	return a
}

// cautions stand beside the answers they concern.
var cautions = map[string]string{
	"carries": "A plan, not advice. Borrowing puts the farm at risk: the lender's own terms rule, and a licensed adviser should see them.",
}

func (d *Desk) entry(c condition) Entry {
	e := Entry{Text: c.book.Text, Condition: c.book.Op != "", Op: c.book.Op, Limit: math.NaN(), Holds: math.NaN(), Odds: math.NaN()}
	v := d.soFar(c.left)
	e.Value = v
	name := strings.TrimSpace(c.book.Left.Text)
	v.Name, v.Label = e.Text, name
	if l := d.Book.Line(name); l != nil {
		e.Name = name
		if l.Label != "" {
			v.Label = l.Label
		}
		v.Gather = l.Gather
	} else if _, column, ok := strings.Cut(name, "."); ok && d.Has(name) { // a column of a list
		column = strings.ReplaceAll(column, "_", " ")
		e.Name, v.Label = name, strings.ToUpper(column[:1])+column[1:]
	}
	if !e.Condition || !d.prog.OK(c.whole) {
		if e.Condition && v.Error == nil {
			v.Error, v.Broken = d.prog.Errors[c.whole], true
		}
		return e
	}
	if t := d.prog.LineType(c.whole); t.Axes != 0 {
		v.Error = &syntax.Error{Place: c.book.Place, Code: "answer-axes", Name: e.Text,
			Message: "an answer's condition is one yes or no, but this has one for every " + d.made.src.Space.Names(t.Axes)[0],
			Hint:    "put them together with total, smallest or largest"}
		v.Broken = true
		return e
	}
	e.Holds = d.prog.Cells(c.whole)[0]
	if right := d.made.byName[d.made.src.Lines[c.left].Name+" right"]; d.prog.OK(right) {
		e.Limit = d.limit(c.left, right)
	}
	if rows := d.drawn[c.whole]; rows != nil {
		earned := risk.Earn(rows[0])
		e.Earned, e.Odds = &earned, 100*earned.Odds()
		v.Odds = []float64{e.Odds}
	}
	return e
}

// limit gives the right side of a condition in the unit that the left is shown in.
func (d *Desk) limit(left, right int) float64 {
	cells, t := d.prog.Cells(right), d.prog.LineType(right)
	if len(cells) != 1 {
		return math.NaN()
	}
	if t.Kind != formula.Quantity {
		return cells[0]
	}
	mul, add, err := unit.Convert(t.Unit, d.shownIn(d.prog.LineType(left).Unit))
	if err != nil { // a bare 0 is compared with anything
		return cells[0]
	}
	return cells[0]*mul + add
}

// consequence says in a sentence what an answer's figures mean for the person who asks.
func (d *Desk) consequence(a *Answer) string {
	if a.Error != nil || len(a.Entries) == 0 {
		return ""
	}
	first := &a.Entries[0]
	switch a.Key {
	case "pays":
		return d.paysConsequence(a, first)
	case "charge":
		return d.chargeConsequence(a)
	case "carries":
		return d.carriesConsequence(a, first)
	}
	return ""
}

func single(v *Value) bool {
	return v != nil && len(v.Lengths) == 0 && len(v.Cells) == 1 && Known(v.Cells[0])
}

func (d *Desk) paysConsequence(a *Answer, first *Entry) string {
	if !first.Condition || !single(first.Value) {
		return ""
	}
	v := first.Value
	var s string
	switch {
	case a.Verdict != "" && v.Low != nil && v.Low[0] == v.Low[0]:
		s = fmt.Sprintf("One winter in ten ends below %s, one in ten above %s.", Show(v.Low[0], v.Unit), Show(v.High[0], v.Unit))
	case v.Awaits, v.Low != nil: // too few draws to speak of winters in ten
	default:
		s = "No range reaches this figure: it says what happens if every guess is right."
	}
	switch first.Holds {
	case 0:
		s += " As the guesses stand, the answer is no."
	case 1:
		s += " As the guesses stand, the answer is yes."
	}
	for i := range a.Entries[1:] {
		if e := &a.Entries[i+1]; single(e.Value) && e.Value.Unit == v.Unit && (e.Value.Cells[0] < 0) == (first.Holds == 1) {
			joint := " But"
			if first.Holds == 0 {
				joint = " And yet"
			}
			s += fmt.Sprintf("%s %s: %s.", joint, lowerFirst(e.Value.Label), Show(e.Value.Cells[0], v.Unit))
		}
	}
	return strings.TrimSpace(s)
}

func lowerFirst(s string) string {
	if len(s) > 1 && strings.ToUpper(s[:2]) != s[:2] {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func (d *Desk) chargeConsequence(a *Answer) string {
	if len(a.Entries) < 3 {
		return ""
	}
	advised, floor := a.Entries[1].Value, a.Entries[2].Value
	prices, floors := d.NowCells(advised), d.NowCells(floor)
	if advised.Unit != floor.Unit || len(prices) != len(floors) {
		return ""
	}
	below, known := 0, 0
	room := math.Inf(1)
	for i := range prices {
		p, f := advised.Cells[prices[i]], floor.Cells[floors[i]]
		if !Known(p) || !Known(f) {
			continue
		}
		known++
		room = math.Min(room, p-f)
		if p < f {
			below++
		}
	}
	switch {
	case known == 0:
		return "No price is known for this week."
	case below > 0:
		return fmt.Sprintf("%d of %d prices lie below what picking and selling cost: better left on the vine, or sold elsewhere.", below, known)
	}
	return fmt.Sprintf("Every price covers what picking and selling cost, by %s at the least.", Show(room, advised.Unit))
}

func (d *Desk) carriesConsequence(a *Answer, first *Entry) string {
	if !first.Condition || !single(first.Value) {
		return ""
	}
	var s string
	v := first.Value
	if a.Verdict != "" && v.Low != nil && v.Low[0] == v.Low[0] {
		s = fmt.Sprintf("In the worst winter of ten it is %s", Show(v.Low[0], v.Unit))
		if first.Limit == first.Limit {
			s += fmt.Sprintf(", where %s is asked for", Show(first.Limit, v.Unit))
		}
		s += "."
	}
	if len(a.Entries) > 1 && single(a.Entries[1].Value) {
		low := a.Entries[1].Value
		if low.Cells[0] < 0 {
			s += fmt.Sprintf(" Cash runs short by %s: the money has to come from somewhere before then.", Show(-low.Cells[0], low.Unit))
		} else {
			s += fmt.Sprintf(" Cash never falls below %s.", Show(low.Cells[0], low.Unit))
		}
	}
	return strings.TrimSpace(s)
}

// NowCells gives the cells of a value that speak of the open week: all of them
// for a value without weeks.
func (d *Desk) NowCells(v *Value) []int {
	var out []int
	now := d.made.src.Standing.Now()
	for c := range v.Cells {
		n := len(v.Lengths)
		if n > 0 && v.Axes[n-1] == "week" && c%v.Lengths[n-1] != now {
			continue
		}
		out = append(out, c)
	}
	return out
}

// Now is the index of the week that "now" means.
func (d *Desk) Now() int {
	if d.made == nil {
		return 0
	}
	return d.made.src.Standing.Now()
}

// CellLabel names a cell by the shown names of its members, without the week.
func (d *Desk) CellLabel(v *Value, cell int) string {
	var words []string
	for i, name := range v.CellMembers(cell) {
		if v.Axes[i] == "week" {
			continue
		}
		if l := d.Book.List(v.Axes[i]); l != nil {
			if at, ok := l.MemberIndex(name); ok {
				name = l.Members[at].Label
			}
		}
		words = append(words, name)
	}
	return strings.Join(words, ", ")
}

// Axes gives the names of the cells of every axis but those of records.
func (d *Desk) Axes() map[string][]string {
	out := map[string][]string{}
	if d.made == nil {
		return out
	}
	for _, a := range d.made.src.Space.Axes {
		if d.Book.RecordsOf(a.Name) == nil {
			out[a.Name] = a.Members
		}
	}
	return out
}

// Labels gives the shown names of the members of every list.
func (d *Desk) Labels() map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, l := range d.Book.Lists {
		out[l.Name] = map[string]string{}
		for _, m := range l.Members {
			out[l.Name][m.Name] = m.Label
		}
	}
	return out
}

// Title is the book's title.
func (d *Desk) Title() string { return d.Book.Title }

// ScenarioTitle names the scenario the book is looked at under; "" for the plan.
func (d *Desk) ScenarioTitle() string {
	s := d.Book.Scenario(d.opts.Scenario)
	if s == nil {
		return ""
	}
	if s.Title != "" {
		return s.Title
	}
	return s.Name
}
