package formula

import (
	"fmt"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// msg is one thing that can be wrong with a formula. Text and hint are formatted
// with the same arguments, taken by number.
type msg struct{ code, text, hint string }

// All messages of the package stand here; an example of each is run by messages_test.go.
var (
	msgNoName          = msg{"unknown-name", "there is no line %[1]s", "%[2]s"}
	msgNoFunction      = msg{"unknown-function", "there is no function %[1]s", "%[2]s"}
	msgBareList        = msg{"bare-list", "%[1]s is a list; a formula needs one of its columns", "write %[1]s.column"}
	msgNoColumn        = msg{"unknown-column", "%[1]s has no column %[2]s", "%[3]s"}
	msgText            = msg{"quoted-text", "quoted text has no meaning here", "a number with its unit is written measure(\"15 degC\")"}
	msgNotNumber       = msg{"not-a-number", "%[1]s needs numbers on both sides, not %[2]s", ""}
	msgTwoAbsolutes    = msg{"absolute-sum", "two temperatures cannot be added", "their difference, or a mean by blend(a, b, share), has a meaning"}
	msgFromAbsolute    = msg{"absolute-from", "a temperature cannot be taken from a difference", "turn the two around"}
	msgAbsolutePlus    = msg{"absolute-plus", "%[2]s cannot be added to %[1]s", "a temperature takes a difference: measure(\"5 degF_diff\")"}
	msgAbsoluteProduct = msg{"absolute-product", "%[1]s is a point on a scale and cannot be multiplied or negated", "take a difference of two temperatures first"}
	msgDateSum         = msg{"date-sum", "%[1]s %[2]s %[3]s has no meaning", "a date takes a time: measure(\"21 d\"); two dates have a difference"}
	msgUnitsDiffer     = msg{"units-differ", "%[1]s and %[2]s do not go together", "both sides must measure the same thing"}
	msgUnitTooHigh     = msg{"unit-power", "the unit of this product has a power that is too high", "powers from -12 to 12"}
	msgPowerUnit       = msg{"power-unit", "a number with a unit takes a whole power written as a number, from -4 to 4", "(x) ^ 2"}
	msgPlainOnly       = msg{"plain-only", "%[1]s needs a plain number, not %[2]s", "divide by a line in the same unit first"}
	msgNotSquare       = msg{"not-a-square", "%[1]s has no square root", "the unit must be a square, such as m2"}
	msgNotTruth        = msg{"not-yes-no", "%[1]s needs yes or no, not %[2]s", "compare something: x > 0"}
	msgBranches        = msg{"branches-differ", "the two branches do not go together: %[1]s and %[2]s", ""}
	msgCompare         = msg{"cannot-compare", "%[1]s cannot be compared with %[2]s", ""}
	msgArity           = msg{"arguments", "%[1]s takes %[2]s, not %[3]d", "%[4]s"}
	msgArgUnit         = msg{"argument-unit", "%[1]s wants %[2]s in %[3]s, but gets %[4]s", ""}
	msgArgKind         = msg{"argument-kind", "%[1]s wants %[2]s as %[3]s, but gets %[4]s", ""}
	msgArgMember       = msg{"argument-member", "%[1]s wants a kind as %[2]s, but gets members of the list %[3]s", "take a column of kinds that stands in that list, such as %[3]s.kind"}
	msgArgList         = msg{"argument-list", "%[1]s wants the name of a list as %[2]s", "a list's name alone, without a column"}
	msgArgText         = msg{"argument-text", "%[1]s wants quoted text as %[2]s", "%[3]s"}
	msgArgAxis         = msg{"argument-axis", "%[1]s wants one value of %[2]s for the whole %[3]s, but it changes along it", "take a mean, or one week of it with at(x, \"2027-W12\")"}
	msgArgRecords      = msg{"argument-records", "%[1]s wants a column of records as %[2]s", "such as picks.weight"}
	msgMixedRecords    = msg{"mixed-records", "%[1]s gets columns of different records", "all of them must be of one kind of record"}
	msgListColumn      = msg{"list-column", "%[1]s reads the column %[2]s of the list, and %[3]s has none", "add the column %[2]s to the list %[3]s"}
	msgColumnUnit      = msg{"column-unit", "%[1]s reads %[2]s in %[3]s, but it is %[4]s", ""}
	msgColumnRefers    = msg{"column-refers", "%[1]s needs the column %[2]s to name members of a list", "name the column after the list, or write %[2]s -> list in the header"}
	msgNoAxis          = msg{"no-such-axis", "this has no axis %[1]s", "%[2]s"}
	msgNoAxes          = msg{"no-axes", "there is nothing to put together: this is one value", ""}
	msgAxisName        = msg{"axis-name", "%[1]s wants the name of an axis here", "week, month, or a list"}
	msgNoMember        = msg{"unknown-member", "no member %[1]s here", "%[2]s"}
	msgTwoMembers      = msg{"ambiguous-member", "%[1]s is a member of more than one of its lists", ""}
	msgNoWeek          = msg{"no-such-week", "%[1]s is not a week of the season", "%[2]s"}
	msgNotWeekly       = msg{"not-weekly", "%[1]s needs a weekly line", ""}
	msgWeeksNumber     = msg{"weeks-number", "%[1]s wants a whole number of weeks, written as a number from 0 to 260", ""}
	msgNoScenario      = msg{"unknown-scenario", "there is no scenario %[1]s", "%[2]s"}
	msgNotReference    = msg{"not-a-reference", "%[1]s wants a column that names members of a list, not %[2]s", "such as planting.house"}
	msgViaAxis         = msg{"via-axis", "this is not over %[1]s, which the column refers to", ""}
	msgGroupAxis       = msg{"group-axis", "this is not over the list that the column stands in", ""}
	msgLineUnit        = msg{"line-unit", "the line is in %[1]s, but its formula gives %[2]s", "%[3]s"}
	msgLineNoUnit      = msg{"line-no-unit", "the formula gives %[1]s, which has no unit", "leave out -> %[2]s"}
	msgLineRecords     = msg{"line-records", "this still has a value for every row of %[1]s", "put the rows together with week_sum, week_mean or week_last"}
	msgLoop            = msg{"loop", "these lines need each other in the same week: %[1]s", "read one of them a week earlier: earlier(line, start)"}
	msgLoopUnit        = msg{"loop-unit", "%[1]s leans on its own earlier weeks, so its unit must be written", "= ... -> unit"}
	msgLoopEarlier     = msg{"loop-earlier", "in a loop, earlier takes a line by its name", "make this a line of its own"}
	msgLoopReach       = msg{"loop-reach", "%[1]s looks at other weeks of a line that is still being computed", "inside a loop only earlier may do that"}
	msgWaits           = msg{"waits", "waits for %[1]s", ""}
	msgLiteral         = msg{"literal", "%[1]s", "%[2]s"}
	msgBase            = msg{"base", "base has a meaning only in a scenario", ""}
	msgOverrideAxes    = msg{"override-axes", "this changes along %[1]s, and %[2]s does not", ""}
	msgOverrideWhere   = msg{"override-where", "%[1]s has no cells of its own along %[2]s", "leave out what follows @"}
	msgOverrideUnit    = msg{"override-unit", "%[1]s is %[2]s, but this is %[3]s", ""}
	msgTooLarge        = msg{"too-large", "this would have %[1]s cells; the most is %[2]s", "fewer axes at once"}
	msgBookTooLarge    = msg{"book-too-large", "with this line the book would have more than %[1]s cells", "fewer lines over so many axes"}
	msgEmptyAxis       = msg{"empty-axis", "%[1]s has no members", ""}
)

func (m msg) fill(place syntax.Place, name string, args ...any) *syntax.Error {
	return &syntax.Error{Place: place, Code: m.code, Name: name, Message: format(m.text, args), Hint: format(m.hint, args)}
}

// format is Sprintf that does not complain of arguments left unused: a verb with
// a number at the end tells fmt that they are taken by number.
func format(text string, args []any) string {
	if len(args) == 0 || text == "" {
		return text
	}
	return fmt.Sprintf(text+fmt.Sprintf("%%[%d]s", len(args)+1), append(args[:len(args):len(args)], "")...)
}

// faultText says in words why a cell could not be computed.
var faultText = map[array.FaultCode]string{
	array.DividedByZero: "divided by zero",
	array.TooLarge:      "too large a number",
	array.OutsideDomain: "a root or logarithm of a number that has none",
	array.ModelRefused:  "values the model cannot work with",
}
