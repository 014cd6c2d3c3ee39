package book

import (
	"errors"
	"strings"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// message is one thing that can be wrong: a stable code, what is wrong and what
// to do, both in the grower's words. {1}, {2} and so on stand for what was written.
type message struct{ code, says, hint string }

// messages is every message of the package; a test has an example for each.
var messages []*message

func says(code, says, hint string) *message {
	m := &message{code, says, hint}
	messages = append(messages, m)
	return m
}

// at gives the error of name at a place.
func (m *message) at(name string, p syntax.Place, words ...string) *syntax.Error {
	return &syntax.Error{Place: p, Code: m.code, Name: name, Message: fill(m.says, words), Hint: fill(m.hint, words)}
}

// near is at, with the word that was probably meant as the hint, where there is one.
func (m *message) near(nearest, name string, p syntax.Place, words ...string) *syntax.Error {
	e := m.at(name, p, words...)
	if nearest != "" {
		e.Hint = "did you mean " + nearest + "?"
	}
	return e
}

func fill(s string, words []string) string {
	for i, w := range words {
		const most = 200 // longer than any text of our own, so that only what was written is cut
		if r := []rune(w); len(r) > most {
			w = string(r[:most]) + "…"
		}
		s = strings.ReplaceAll(s, "{"+string(rune('1'+i))+"}", w)
	}
	return s
}

// Settings.
var (
	unknownSetting = says("unknown-setting", "there is no setting called {1}",
		"settings are title, season, currency, latitude, elevation, things, as_of, closed, draws, seed, years")
	repeatedKey = says("repeated-key", "{1} is given twice; the first stands on line {2}",
		"take one of them out")
	missingSeason = says("missing-season", "the book does not say its season, so nothing can go over week",
		"in a settings block: season : 2026-W33 .. 2027-W32")
	badSeason = says("bad-season", "{1}",
		"first week .. last week, for example: season : 2026-W33 .. 2027-W32")
	missingCurrency = says("missing-currency", "the book does not say its money",
		"in a settings block: currency : USD")
	unknownCurrency = says("unknown-currency", "{1} is no money code of ISO 4217",
		"three capital letters, for example USD")
	outsideLimits = says("outside-limits", "{1} lies from {2} to {3}, not at {4}",
		"for example: {1} : {5}")
	badCount = says("bad-count", "{1} is a whole number from {2} to {3}, not {4}",
		"for example: {1} : {5}")
	badThing = says("bad-thing", "{1}",
		"for example: things : sachet, crate")
	mostThings = says("most-things", "{1} things are more than a book can add; the most is {2}",
		"take the ones out that nothing is counted in")
)

// Names.
var (
	takenName = says("taken-name", "{1} has a meaning of its own in every book, so it cannot name a {2}",
		"choose a fuller name")
	duplicateName = says("duplicate-name", "{1} already names a {2}, on line {3}",
		"a name stands once in a book: give one of them another")
	duplicateMember = says("duplicate-member", "{1} is a member already, on line {2}",
		"give one of them another name")
	unknownName = says("unknown-name", "there is no line and no column called {1}",
		"write the name of a line, or list.column")
)

// Lists and records.
var (
	emptyList = says("empty-list", "the list has no members, so nothing can go over it",
		"write a row for each member, for example: long | Long house | 2880")
	unknownList = says("unknown-list", "there is no list called {1}",
		"add one, or leave the -> out")
	unitOfReference = says("unit-of-reference", "the column holds members of the list {2}, so it has no unit {1}",
		"leave the unit out, or give the column a name that no list has")
	recordsOverWeek = says("records-over-week", "records have a day each, so no column of theirs goes over week",
		"leave over week out")
)

// Values.
var (
	unknownUnit = says("unknown-unit", "there is no unit called {1}",
		"a thing that is counted is named under things in the settings")
	badUnit       = says("bad-unit", "{1}", "for example: USD/lb, kg/m2, 1/h")
	differentUnit = says("different-unit", "{1}",
		"write the value in {2}")
	missingUnit = says("missing-unit", "{1} has no unit here, and {2} is wanted",
		"write {1} {2}")
	noUnitWanted = says("no-unit-wanted", "{1} has a unit, and a plain number is wanted",
		"write the unit once: in the column's header, or with the line's first value")
	wrongKind = says("wrong-kind", "{1} is {2}, and {3} is wanted",
		"all values of a line or column are of one kind")
	unknownMember = says("unknown-member", "{1} is no member of the list {2}",
		"its members are {3}")
	noSuchDay  = says("no-such-day", "{1}", "for example: 2026-10-12")
	noSuchWeek = says("no-such-week", "{1}", "for example: 2026-W33")
	noRange    = says("no-range", "{1} has a range; {2}",
		"write one value")
	scheduleWithoutWeek = says("schedule-without-week", "a value holds from a week on only where the line or column goes over week",
		"write over week after its name; in a column, before the unit")
	wrongCount = says("wrong-count", "{1} has {2}, and here are {3} values",
		"write one value for each, in order; for a thousand write 1000 without a comma")
	commasNeedOneAxis = says("commas-need-one-axis", "it is not clear which axis these {1} values go along",
		"values with commas between go with one axis beside week; else make them columns of a list")
)

// Axes.
var (
	unknownAxis = says("unknown-axis", "there is no list and no other axis called {1}",
		"beside the lists there are week, month, month_of_year and year_ahead")
	repeatedAxis = says("repeated-axis", "{1} stands twice after over",
		"name each axis once")
	keepsWithoutWeek = says("keeps-without-week", "only a week keeps a share of the one before it, not {1}",
		"for example: over each week keeps 60 %, each planting")
)

// Pins, scenarios, observations.
var (
	noSuchNumber = says("no-such-number", "the text shows the number of {1}, and there is no line and no column called so",
		"braces around a name show its number; a backslash before them leaves them braces")
	recordsStand = says("records-stand", "records cannot be overridden: {1} says what was counted",
		"override the line that uses them")
	unknownPlace = says("unknown-place", "{1} is no member of what {2} goes over",
		"after @ stand members and weeks")
	outsideSeason = says("outside-season", "{1} lies outside the season, {2} to {3}",
		"choose a week of the season")
	axisNotInLine = says("axis-not-in-line", "{1} is a cell of {2}, and {3} does not go over {2}",
		"take {1} out")
	repeatedPlace = says("repeated-place", "{1} is a second cell of {2}",
		"an override is of one cell along each axis, or of all")
	repeatedOverride = says("repeated-override", "the same cells of {1} are overridden on line {2}",
		"take one of the rows out")
	notALine = says("not-a-line", "{1} is a list's column; only a line is observed",
		"observe the line that uses it")
)

// Links.
var (
	linkNotInput = says("link-not-input", "{1} {2}; only input lines are linked",
		"link the input lines it hangs on")
	linkWithoutRange = says("link-without-range", "{1} has no range, so there is nothing to move together",
		"give it one, for example: 80 % (68..88)")
	linkToItself = says("link-to-itself", "{1} always moves with itself",
		"name two different inputs")
	repeatedLink = says("repeated-link", "{1} and {2} are linked already, on line {3}",
		"take one of the rows out")
)

// Answers and charts.
var (
	unknownAnswer = says("unknown-answer", "there is no answer called {1}",
		"answers are pays, charge, carries")
	unknownChartKey = says("unknown-chart-key", "a chart has nothing called {1}",
		"a chart says kind, lines, split")
	unknownChartKind = says("unknown-chart-kind", "there is no chart of the kind {1}",
		"kinds are fan, columns, level, stack, waterfall, tornado, phases, table")
	missingChartKey = says("missing-chart-key", "the chart does not say its {1}",
		"write: {1} : {2}")
)

// Words that the messages above are filled with.
const (
	seasonForm  = "a season runs from one week to another, with .. between"
	aPin        = "a pin"
	pinIsOne    = "it is one value in every draw"
	recordIsOne = "a record says what was counted"
	bookHasOne  = "a book has one "
	isComputed  = "is computed"
	isOfList    = "is a list's column"
)

// unread stands for a fault that reading did not give; there is no row of a book that meets it.
var unread = says("unread", "this row cannot be read", "write it again")

// unitFault says what is wrong with a unit, at the symbol that is not known.
func unitFault(name string, w syntax.Word, err error) *syntax.Error {
	var unknown *unit.UnknownError
	if !errors.As(err, &unknown) {
		return badUnit.at(name, w.Place, err.Error())
	}
	place := w.Place
	if from := strings.Index(w.Text, unknown.Symbol); from >= 0 {
		place = within(w, from, from+len(unknown.Symbol)).Place
	}
	return unknownUnit.near(unknown.Nearest, name, place, unknown.Symbol)
}

// mismatch says that a number in unit from does not fit where to is wanted.
func mismatch(name string, l *syntax.Literal, from, to *unit.Unit) *syntax.Error {
	switch {
	case l.Unit.Text == "" && l.Kind != syntax.ChanceForm && from.String() == "1":
		return missingUnit.at(name, l.Place, l.Text, to.String())
	case to.String() == "1":
		return noUnitWanted.at(name, l.Place, l.Text)
	}
	_, _, err := unit.Convert(from, to)
	return differentUnit.at(name, l.Place, err.Error(), to.String())
}

// kindWords says what a value of a kind is.
var kindWords = map[Kind]string{Number: "a number", Truth: "yes or no", Date: "a day", Word: "a word", Text: "a text"}

// notOfList says that a word, or another value, is no member of a list.
func (a *assembler) notOfList(name string, l *syntax.Literal, list *List) *syntax.Error {
	names := list.memberNames()
	const most = 8
	shown := strings.Join(names[:min(len(names), most)], ", ")
	if len(names) > most {
		shown += ", ..."
	}
	near := a.near(l.Text, func() []string { return names })
	return unknownMember.near(near, name, l.Place, l.Text, list.Name, shown)
}

// notInSeason says that a week or month lies outside the season.
func notInSeason(name string, w syntax.Word, s week.Season) *syntax.Error {
	return outsideSeason.at(name, w.Place, w.Text, s.First.String(), s.Last.String())
}
