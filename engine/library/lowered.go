package library

import (
	"strings"

	"wintertruss/engine/formula"
)

const (
	numbersFamily = "numbers and choice"
	riskFamily    = "risk"
)

// loweredFunctions gives the cards of the functions that the compiler lowers
// itself, as what they do depends on the axes, the names or the scenario of their
// arguments. They have no kernel here; see formula.Lowered.
func loweredFunctions() []formula.Function {
	var all []formula.Function
	for _, part := range [][]formula.Function{
		arithmeticCards(), choiceCards(), reducerCards(), weekCards(), memberCards(), riskCards(),
	} {
		all = append(all, part...)
	}
	return all
}

// card makes a function of which there is only a card. All of these are plain
// mathematics: what they mean is their definition.
func card(family, name, says, gives, valid string, example formula.Example, params ...formula.Param) formula.Function {
	return formula.Function{
		Name:   name,
		Card:   formula.Card{Family: family, Says: says, Gives: gives, Valid: valid, Source: "definition", Example: example},
		Params: params,
	}
}

// lines makes the example of rows of a lines block.
func lines(ask string, want float64, rows ...string) formula.Example {
	return formula.Example{Lines: rows, Ask: ask, Want: []float64{want}}
}

// twoHouses makes the example of rows of a lines block in a book that has two
// lists, one referring to the other, and a scenario.
func twoHouses(ask string, want float64, rows ...string) formula.Example {
	return formula.Example{Book: strings.ReplaceAll(`'''settings
title    : Two houses
season   : 2026-W33 .. 2027-W32
currency : USD
as_of    : 2027-03-10
'''
'''list house
      | label       | floor ft2
long  | Long house  | 2880
short | Short house | 2160
'''
'''list planting
             | label        | crop   | house | area ft2
long_tomato  | Tomato, long | tomato | long  | 2600
short_pepper | Pepper       | pepper | short | 500
short_tomato | Tomato, short| tomato | short | 1400
'''
'''scenario dear "Dearer fuel"
fuel_price : 3 USD/gal
'''
'''lines
fuel_price : 2 USD/gal
`+strings.Join(rows, "\n")+"\n'''\n", "'''", "```"), Ask: ask, Want: []float64{want}}
}

var (
	anyNumber = formula.Param{Name: "x", Says: "any number"}
	plainX    = formula.Param{Name: "x", Says: "a plain number", Unit: "1"}
	weeklyX   = formula.Param{Name: "x", Says: "a value over weeks", Whole: []string{"week"}}
	anyValue  = formula.Param{Name: "x", Says: "any value"}
	stepSize  = formula.Param{Name: "step", Says: "the step, above 0", Unit: "like x"}
	axesOver  = formula.Param{Name: "axes", Says: "the names of one axis or more, such as week or a list; all of them when left out", Takes: formula.ListName, Optional: true}
	outsideX  = formula.Param{Name: "outside", Says: "what stands for the weeks before the season's first", Unit: "like x"}
)

func arithmeticCards() []formula.Function {
	const stepValid = "The step is above 0; at any other the cell cannot be computed. What is a whole number of steps but for the last digits of a division stays as it is. Temperatures have no steps; take a difference first."
	return []formula.Function{
		card(numbersFamily, "absolute", "The size of a number, whether above or below zero.",
			"the unit and axes of x", "Every number, but no temperature: that is a point on a scale.",
			lines("gap", 12.5, "counted : 87.5 lb", "forecast : 100 lb", "gap = absolute(counted - forecast) -> lb"), anyNumber),
		card(numbersFamily, "root", "The square root.",
			"the root of the unit of x, over the axes of x", "Below 0 the cell cannot be computed. The unit must be a square, such as m2.",
			lines("side", 12, "plot : 144 ft2", "side = root(plot) -> ft"),
			formula.Param{Name: "x", Says: "a number of 0 or above, plain or in a squared unit"}),
		card(numbersFamily, "exponential", "e (2.71828...) to the power x: growth that goes on at a steady rate.",
			"a plain number, over the axes of x", "Above about 138 the result is too large and the cell cannot be computed.",
			lines("grown", 2, "growth : 0.693147180559945", "grown = exponential(growth) -> 1"), plainX),
		card(numbersFamily, "logarithm", "The natural logarithm: the power of e that gives x.",
			"a plain number, over the axes of x", "At 0 and below the cell cannot be computed.",
			lines("doublings", 3, "more : 8", "doublings = logarithm(more) / logarithm(2) -> 1"), plainX),
		card(numbersFamily, "rounded", "To the nearest multiple of a step; from the middle between two, away from zero.",
			"the unit of x, over the axes of both", stepValid,
			lines("shown", 2.5, "price : 2.38 USD", "coin : 0.25 USD", "shown = rounded(price, coin) -> USD"), anyNumber, stepSize),
		card(numbersFamily, "rounded_up", "Up to a multiple of a step: cases to order, coins that cover a cost.",
			"the unit of x, over the axes of both", stepValid,
			lines("ordered", 1200, "needed : 1010 bag", "pallet_of : 300 bag", "ordered = rounded_up(needed, pallet_of) -> bag"), anyNumber, stepSize),
		card(numbersFamily, "rounded_down", "Down to a multiple of a step: full crates from a harvest.",
			"the unit of x, over the axes of both", stepValid,
			lines("packed", 100, "picked : 117 lb", "crate_of : 25 lb", "packed = rounded_down(picked, crate_of) -> lb"), anyNumber, stepSize),
		card(numbersFamily, "blend", "A point between two values: a + (b - a) x share. With temperatures it makes their mean.",
			"the unit of a, over the axes of all", "Every share: below 0 and above 100 % the line through a and b is carried on.",
			lines("mean_air", 18, "night : 16 degC", "day : 24 degC", "day_share : 25 %", "mean_air = blend(night, day, day_share) -> degC"),
			formula.Param{Name: "a", Says: "the value at a share of 0"},
			formula.Param{Name: "b", Says: "the value at a share of 100 %", Unit: "like a"},
			formula.Param{Name: "share", Says: "how far from a to b", Unit: "1"}),
		card(numbersFamily, "measure", "A number with its unit, a date or a week, written into a formula: for the limits of a scale and for scenarios. What has a source is an input line of its own.",
			"what is written", "One number without a range, one date or one week (its Monday).",
			lines("below", 4, "air : 11 degC", `below = measure("15 degC") - air -> K`),
			formula.Param{Name: "text", Says: `the measure in quotes, such as "15 degC"`, Takes: formula.QuotedWords}),
	}
}

func choiceCards() []formula.Function {
	pair := []formula.Param{
		{Name: "x", Says: "a number or a date"},
		{Name: "y", Says: "another", Unit: "like x"},
		{Name: "more", Says: "up to six more", Unit: "like x", Optional: true},
	}
	const pairGives = "the unit of the first, over the axes of all"
	const pairValid = "Blank when any of them is blank; to pass over blanks, take it along an axis."
	return []formula.Function{
		card(numbersFamily, "smaller_of", "The smallest of two to eight values, of dates the earliest.", pairGives, pairValid,
			lines("sold", 80, "picked : 100 lb", "wanted : 80 lb", "sold = smaller_of(picked, wanted) -> lb"), pair...),
		card(numbersFamily, "larger_of", "The largest of two to eight values, of dates the latest.", pairGives, pairValid,
			lines("missing", 0, "stock : 40 bag", "needed : 25 bag", "missing = larger_of(needed - stock, 0) -> bag"), pair...),
		card(numbersFamily, "clamp", "x, but not below the least and not above the most.",
			"the unit of x, over the axes of all", "Where the least lies above the most, the most holds.",
			lines("share", 100, "planted : 3100 ft2", "floor : 2880 ft2", "share = clamp(planted / floor, 0, 1) -> %"),
			formula.Param{Name: "x", Says: "any number"},
			formula.Param{Name: "least", Says: "the least it may be", Unit: "like x"},
			formula.Param{Name: "most", Says: "the most it may be", Unit: "like x"}),
		card(numbersFamily, "is", "Whether a column names this member or this kind.",
			"yes or no, over the axes of the column", "A word that the column cannot hold is an error. Blank where the column is blank.",
			twoHouses("tomatoes", 4000, `tomatoes = total(is(planting.crop, "tomato") ? planting.area : 0) -> ft2`),
			formula.Param{Name: "column", Says: "a column, or line, that holds members of a list or kinds", Takes: formula.Words},
			formula.Param{Name: "word", Says: "the word in quotes", Takes: formula.QuotedWords}),
		card(recordsFamily, "is_known", "Whether there is a value at all: yes where x is not blank.",
			"yes or no, over the axes of x", "0 is a value. A cell that could not be computed gives no answer.",
			formula.Example{
				Book: picksBook(`shown = total(is_known(only(week_sum(picks.weight), "long"))) -> 1`),
				// Records were kept up to the open week, the 31st.
				Ask: "shown", Want: []float64{31}}, anyValue),
	}
}

func reducerCards() []formula.Function {
	const reduced = "the unit of x, over the axes that are left"
	const passedOver = " Blanks are passed over; over blanks only it is blank. An axis that x does not have is an error."
	weekly := []string{"picked over week : 10 lb; 40 lb from 2027-W29"} // 49 weeks of 10 lb, 4 of 40 lb
	ofPicked := func(formula string, want float64) formula.Example {
		return lines("figure", want, append(weekly[:1:1], "figure = "+formula)...)
	}
	return []formula.Function{
		card(weeksFamily, "total", "Adds up along axes. Of yes and no it counts the yes.", reduced+"; a plain number of yes and no",
			"Temperatures have no total; take mean_over."+passedOver,
			ofPicked("total(picked, week) -> lb", 49*10+4*40), anyNumber, axesOver),
		card(weeksFamily, "mean_over", "The mean along axes, every known cell counting alike.", reduced,
			"Temperatures have a mean."+passedOver,
			ofPicked("mean_over(picked, week) -> lb", 650.0/53), anyNumber, axesOver),
		card(weeksFamily, "largest", "The largest cell along axes, of dates the latest.", reduced, "Numbers and dates."+passedOver,
			ofPicked("largest(picked, week) -> lb", 40), anyNumber, axesOver),
		card(weeksFamily, "smallest", "The smallest cell along axes, of dates the earliest.", reduced, "Numbers and dates."+passedOver,
			ofPicked("smallest(picked, week) -> lb", 10), anyNumber, axesOver),
		card(weeksFamily, "how_many", "How many cells along axes are known.", "a plain number, over the axes that are left",
			"0 where nothing is known. 0 and no are known. With a cell that could not be computed there is no count. An axis that x does not have is an error.",
			twoHouses("plantings", 3, "plantings = how_many(planting.area) -> 1"), anyValue, axesOver),
		card(weeksFamily, "share_of", "What part each cell is of the total along axes.", "a share, over the axes of x",
			"Where the total is 0, a cell of 0 is blank and any other cannot be computed."+passedOver,
			twoHouses("part", 400.0/7, `part = only(share_of(house.floor, house), "long") -> %`), anyNumber, axesOver),
	}
}

func weekCards() []formula.Function {
	return []formula.Function{
		card(weeksFamily, "earlier", "The value of the week before. A line may read its own week before so, directly or through others: that is how cash and debt are carried on.",
			"the unit of x, over week", "The season's first week reads outside. A line that reads its own earlier weeks must say its unit.",
			lines("after_three", 180,
				"opening : 90 USD", "paid_in over week : 30 USD",
				"cash = earlier(cash, opening) + paid_in -> USD level", `after_three = at(cash, "2026-W35") -> USD`), weeklyX, outsideX),
		card(weeksFamily, "weeks_before", "The value that stood so many whole weeks earlier: what was set then is picked now.",
			"the unit of x, over week", "The number of weeks is written as a whole number from 0 to 260. Weeks before the season's first are blank, or what outside says.",
			lines("then", 25, "opened over week : 10 truss; 25 truss from 2026-W40", `then = at(weeks_before(opened, 3), "2026-W43") -> truss`),
			weeklyX, formula.Param{Name: "weeks", Says: "how many weeks, written as a number", Unit: "1"},
			formula.Param{Name: "outside", Says: "what stands for the weeks before the season's first; blank when left out", Unit: "like x", Optional: true}),
		card(weeksFamily, "at", "The value in one week.", "the unit of x, over its other axes",
			"A week outside the season is an error.",
			lines("price_then", 3.5, "price over week : 4 USD/lb; 3.5 USD/lb from 2027-W20", `price_then = at(price, "2027-W24") -> USD/lb`),
			weeklyX, formula.Param{Name: "week", Says: `the week in quotes, such as "2027-W12"`, Takes: formula.QuotedWords}),
		card(weeksFamily, "this_week", "The value in the open week, the one that holds the day the book stands at.", "the unit of x, over its other axes",
			"On a day outside the season, its first or its last week.",
			// The book of the example stands at 2027-03-10, a day of 2027-W10.
			lines("price_now", 4.25, "price over week : 4 USD/lb; 4.25 USD/lb from 2027-W10; 3 USD/lb from 2027-W11", "price_now = this_week(price) -> USD/lb"), weeklyX),
	}
}

func memberCards() []formula.Function {
	column := formula.Param{Name: "column", Says: "a column that names members of a list, such as planting.house", Takes: formula.Words}
	return []formula.Function{
		card(weeksFamily, "only", "The value of one member of a list.", "the unit of x, over its other axes",
			"A word that is no member, or one of two lists of x, is an error.",
			twoHouses("long_floor", 2880, `long_floor = only(house.floor, "long") -> ft2`),
			anyValue, formula.Param{Name: "member", Says: "the member in quotes", Takes: formula.QuotedWords}),
		card(weeksFamily, "via", "Brings a value along a reference: what is true of a house becomes true of each planting in it.",
			"the unit of x, over the column's list in place of the one it refers to", "Blank where the column is blank.",
			twoHouses("filled", 2600.0/2880*100, `filled = only(planting.area / via(planting.house, house.floor), "long_tomato") -> %`),
			column, formula.Param{Name: "x", Says: "a value over the list that the column refers to"}),
		card(weeksFamily, "grouped", "Adds back up along a reference: what all plantings in a house make together.",
			"the unit of x, over the list that the column refers to, in place of the column's", "0 for a member that nothing refers to; where the column is blank, the value belongs to none. Temperatures have no total.",
			twoHouses("in_short", 1900, `in_short = only(grouped(planting.area, planting.house), "short") -> ft2`),
			formula.Param{Name: "x", Says: "a number over the list that the column stands in"}, column),
		card(weeksFamily, "under", "The value as the plan with one scenario gives it, whatever scenario is chosen, with the pins and on the same draws.",
			"the unit and axes of x", "A scenario that the book does not have is an error.",
			twoHouses("dearer_by", 500, "gallons : 500 gal", "fuel = gallons * fuel_price -> USD", `dearer_by = under("dear", fuel) - fuel -> USD`),
			formula.Param{Name: "scenario", Says: "the scenario's name in quotes", Takes: formula.QuotedWords}, anyValue),
	}
}

func riskCards() []formula.Function {
	const drawn = "Blank until the draws are made. A season that could not be computed is left out. What is certain has one value in all of them."
	// In a quarter of all seasons 400 of 900 USD are lost: so at both edges of the
	// inner eight tenths the draws stand still, and the example is exact.
	season := []string{"income : 900 USD", "loss : 400 USD", "frozen : chance(25 %)", "left = income - frozen * loss -> USD"}
	ofSeason := func(row, ask string, want float64) formula.Example {
		return lines(ask, want, append(season[:len(season):len(season)], row)...)
	}
	edgeParam := formula.Param{Name: "x", Says: "a number that depends on ranges"}
	return []formula.Function{
		card(riskFamily, "odds", "In how many of the drawn seasons a condition holds.", "a share, over the axes of the condition",
			drawn+" No finer than the number of draws allows.",
			ofSeason("short = odds(left < income) -> %", "short", 25),
			formula.Param{Name: "condition", Says: "a comparison, or what is made of several", Takes: formula.Truths}),
		card(riskFamily, "low_edge", "The lower edge of the inner band: in one season of ten x lies below it.", "the unit and axes of x", drawn,
			ofSeason("poor_year = low_edge(left) -> USD", "poor_year", 500), edgeParam),
		card(riskFamily, "high_edge", "The upper edge of the inner band: in one season of ten x lies above it.", "the unit and axes of x", drawn,
			ofSeason("good_year = high_edge(left) -> USD", "good_year", 900), edgeParam),
	}
}
