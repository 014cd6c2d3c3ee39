package syntax

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// message is one thing that can be wrong: a stable code, what is wrong and what
// to do, both in the grower's words. {1}, {2}, {3} stand for what was written.
type message struct{ code, says, hint string }

// at gives the error for a place.
func (m *message) at(p Place, words ...string) *Error {
	return &Error{Place: p, Code: m.code, Message: fill(m.says, words), Hint: fill(m.hint, words)}
}

func fill(s string, words []string) string {
	for i, w := range words {
		s = strings.ReplaceAll(s, numbered[i], shown(w))
	}
	return s
}

var numbered = [...]string{"{1}", "{2}", "{3}"}

// shown shortens long text and takes out what is no printing character: a message
// must not steer the screen it is shown on.
func shown(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n++; n > most {
			s = s[:i] + "…"
			break
		}
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return utf8.RuneError
	}, s)
}

// messages is every message of the package; a test has an example for each.
var messages []*message

func says(code, says, hint string) *message {
	m := &message{code, says, hint}
	messages = append(messages, m)
	return m
}

// Books and blocks.
var (
	tooLarge = says("too-large", "this book has {1}; the most is {2}. It is kept as it is, and nothing in it is computed",
		"split it: one book a season")
	notText = says("not-text", "here are bytes that are no characters",
		"save the file as plain text in UTF-8")
	unknownBlock = says("unknown-block", "there is no block called {1}; it is shown as text",
		"did you mean {2}?")
	blockName = says("block-name", "a block of {1} needs a name after the word",
		"for example: {1} {2}")
	blockTitle = says("block-title", "a title stands in quotes after {1}",
		"for example: {2}")
	blockExtra = says("block-extra", "{2} does not belong after {1}",
		"write the word alone: {3}")
	rowShape = says("row-shape", "this row of {1} does not read {2}",
		"for example: {3}")
	openQuote = says("open-quote", "a quote opens here and never closes",
		"close it with \" on the same row; for inches write in")
)

// Names.
var (
	badName = says("bad-name", "{1} cannot be a name: names are lower-case words joined by _, at most 64 characters",
		"for example: {2}")
	missingName = says("missing-name", "a name is missing here",
		"names are lower-case words joined by _, for example long_house")
	reservedName = says("reserved-name", "{1} is a word of the language and cannot be a name",
		"choose a fuller one, for example {2}")
	columnOfColumn = says("column-of-column", "{1} has more than one point: a name is a line, or list.column",
		"bring it nearer with via(planting.house, house.floor)")
	badAddress = says("bad-address", "after @ stand members or weeks, not {1}",
		"for example: harvest @ long_tomato, 2027-W16")
)

// Lists and records.
var (
	headerMember = says("header-member", "the first column of a list holds the names of its members and has no name itself, so {1} is too much",
		"begin the header with a |")
	headerDate = says("header-date", "the first column of records is date, not {1}",
		"for example: date | planting | weight lb")
	badColumn = says("bad-column", "{1} does not read as a column",
		"write: name, name unit, name over week unit, or name -> list")
	repeatedColumn = says("repeated-column", "the column {1} stands here twice",
		"give one of them another name")
	cellCount = says("cell-count", "this row has {1} cells and its header {2}",
		"part cells by |; leave a cell empty when nothing is known; no | at the ends")
	cellList = says("cell-list", "a cell holds one value, or a schedule, not several",
		"for a thousand write 1000 without a comma")
	recordDate = says("record-date", "a record begins with its day, not {1}",
		"for example: 2027-03-08")
)

// Lines.
var (
	badAxis = says("bad-axis", "{1} does not read as what the line goes over",
		"for example: over planting, or over each week keeps 60 %")
	keepsShare = says("keeps-share", "{1} is not a share that a week keeps: it lies from 0 to 100 %",
		"for example: over each week keeps 60 %")
	overComputed = says("over-computed", "a computed line goes over what its formula goes over; leave {1} out",
		"only a line with : may say over")
	badResult = says("bad-result", "{1} does not read as a unit after ->",
		"for example: -> USD, or -> USD level; sum, mean and level are the only words after the unit")
	listWithoutAxis = says("list-without-axis", "here are {1} values, but the line does not say what they go over",
		"write for example: {2} over month_of_year; for a thousand write 1000 without a comma")
)

// Values.
var (
	missingValue = says("missing-value", "a value is missing here",
		"for example: 80 %, or 3.50 USD/lb, or \"text\"")
	badValue = says("bad-value", "{1} does not read as a value",
		"numbers need a point and no comma; text stands in quotes; a kind is one lower-case word")
	badNumber = says("bad-number", "{1} is not written as a number here",
		"write digits with a point, for example 1250 or 0.75: no thousands comma, no zeros in front")
	numberSize = says("number-size", "{1} is too large or too long: numbers stay below 1,000,000,000,000,000 and 40 characters",
		"take a larger unit")
	badUnit = says("bad-unit", "{1} does not read as a unit",
		"write it without blanks, for example USD/lb, kg/m2, 1/h{2}")
	badRange = says("bad-range", "{1} does not read as a range",
		"the unit stands before it: 80 % (68..88), or after +-: 80 +- 4 %")
	rangeOrder = says("range-order", "the ends of this range are {1} and {2}: the low one stands first",
		"write {2}..{1}")
	rangeMiddle = says("range-middle", "the middle {1} does not lie between {2} and {3}",
		"a range says: in eight seasons of ten between these two")
	halfWidth = says("half-width", "after +- stands half the width of the band, above 0, not {1}",
		"for example: 80 +- 4 %")
	badForm = says("bad-form", "{1} does not read as {2}",
		"for example: {3}")
	unknownForm = says("unknown-form", "an input has no formula, and {1} is no form of a value",
		"forms are even(1..3), likely(1, 2, 4) and chance(4 %); a computed line has = and not :")
	chanceShare = says("chance-share", "{1} is no chance: it lies from 0 to 100 %",
		"for example: chance(4 %), which is 4 seasons in a hundred")
	badDate = says("bad-date", "{1} is no day and no week",
		"write a day as 2026-10-12, a week as 2026-W33")
	listUnits = says("list-units", "the values of a list share one unit, but here are {1} and {2}",
		"write the unit once, after the last value")
	listNumbers = says("list-numbers", "a list of values holds plain numbers, not {1}",
		"for anything else make it a column of the list")
	scheduleFrom = says("schedule-from", "each later value of a schedule says from when",
		"for example: 62; 64 from 2027-W09")
	scheduleFirst = says("schedule-first", "the first value of a schedule holds from the start and takes no from",
		"for example: 62; 64 from 2027-W09")
	scheduleOrder = says("schedule-order", "the weeks of a schedule rise, but {1} does not come after {2}",
		"put the earlier week first")
	scheduleKinds = says("schedule-kinds", "the values of a schedule are of one kind, but {1} is not of the kind of {2}",
		"for example: 62; 64 from 2027-W09")
)

// Observations, conditions, links.
var (
	withinShare = says("within-share", "{1} is no width of what the scale may be off: it lies above 0 and up to 100 %",
		"for example: +- 6 %")
	conditionRight = says("condition-right", "right of the comparison stands a number with its unit, or a name, not {1}",
		"give it a line of its own and name that")
	linkShare = says("link-share", "{1} does not say how two inputs move together: that lies from -1 to 1",
		"for example: outside_shift, fuel_price : -0.3")
)

// Formulas.
var (
	emptyFormula = says("empty-formula", "the formula is missing",
		"for example: plants = planting.density * planting.floor -> plant")
	longFormula = says("long-formula", "this formula has {1} bytes; the most is 2,000",
		"give parts of it lines of their own")
	deepFormula = says("deep-formula", "brackets, signs and choices are nested more than 60 deep here",
		"give the inner part a line of its own")
	strangeCharacter = says("strange-character", "{1} has no meaning in a formula",
		"{2}")
	strangeSign = says("strange-sign", "{1} is not a sign of this language",
		"{2}")
	strangeWord = says("strange-word", "{1} is not a word of this language",
		"{2}")
	percentInFormula = says("percent-in-formula", "no per cent stands in a formula",
		"name it as an input, for example: share_sound : 92 %")
	unitInFormula = says("unit-in-formula", "{1} has a unit, and a number with a unit is an input of its own",
		"name it as an input, or write measure(\"{1}\")")
	rangeInFormula = says("range-in-formula", "no range stands in a formula",
		"name it as an input, for example: set_share : 80 +- 4 %")
	commentInFormula = says("comment-in-formula", "no comment stands inside a formula",
		"put it at the end of the row, after //")
	methodCall = says("method-call", "{1} cannot be called",
		"a function stands alone: name(what it takes)")
	chainedComparison = says("chained-comparison", "only one comparison at a time",
		"write: a < b and b < c")
	notNeedsBrackets = says("not-needs-brackets", "it is not clear how far this not reaches",
		"put brackets: not (a > b)")
	textPlace = says("text-place", "quoted text stands only where a function takes it",
		"for example: at(price, \"2027-W12\")")
	missingOperand = says("missing-operand", "something is missing before {1}",
		"a name, a number, or brackets belong there")
	endsEarly = says("ends-early", "the formula ends too early: something is missing after {1}",
		"a name, a number, or brackets belong there")
	missingOperator = says("missing-operator", "a sign is missing between {1} and {2}",
		"one of + - * / ^, a comparison, and, or")
	strayBracket = says("stray-bracket", "this bracket was never opened",
		"take it out, or open one before it")
	openBracket = says("open-bracket", "this bracket is never closed",
		"close it with )")
	strayComma = says("stray-comma", "a comma stands only between what a function takes",
		"write 1000 without a comma, and 0.5 with a point")
	openChoice = says("open-choice", "this choice has no other side",
		"write: condition ? if so : if not")
	strayColon = says("stray-colon", "a : stands only in a choice, after ?",
		"write: condition ? if so : if not")
	unknownFunction = says("unknown-function", "there is no function called {1}",
		"{2}")
	unreadable = says("unreadable", "this formula cannot be read",
		"write it more simply, or give parts of it lines of their own")
)
