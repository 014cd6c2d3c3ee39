package library

import (
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

const recordsFamily = "records"

// recordsFunctions gives the functions that turn what was written down into
// weekly values, and put fact in the place of forecast.
//
// What counts is what was known on the day the book stands at: a record dated
// later is passed over, unless its week was closed by hand. A record that names
// no member of a list it could name belongs to no cell and is passed over too.
//
// No entry means none only where someone kept that kind of record: in a week
// that has begun, when a record of the kind stands in it or in a later one. Else
// nothing is known, and the cell is blank.
func recordsFunctions() []formula.Function {
	inRows := []string{"records"}
	byMember := []string{"refers"}
	column := []formula.Param{{Name: "x", Says: "a column of records, or what is made from its columns", Whole: inRows}}
	weekly := &formula.Kernel{Name: "records_by_week", Results: []formula.Result{
		{Unit: "like x", Whole: byMemberAndWeek}, {Unit: "like x", Whole: byMemberAndWeek},
		{Unit: "like x", Whole: byMemberAndWeek}, {Unit: "1", Whole: byMemberAndWeek}}, Run: gatherWeekly}
	ever := &formula.Kernel{Name: "records_by_member", Results: []formula.Result{
		{Unit: "like x", Whole: byMember}, {Unit: "like x", Whole: byMember}}, Run: gatherEver}
	const givesWeekly = "the unit of x, over week and every list that the records refer to"
	const sumValid = "In a week that has begun and has no entry: 0 when a record of the kind stands in it or in a later one, else blank. The open week holds what is recorded so far; weeks to come are blank."
	const meanValid = "Blank in a week without an entry, and in weeks to come."
	replace := []formula.Param{
		{Name: "recorded", Says: "what was recorded, over weeks; blank where nothing is known", Whole: overWeeks},
		{Name: "forecast", Says: "what was forecast, over weeks", Unit: "like recorded", Whole: overWeeks},
	}
	amounts := append(replace[:2:2], formula.Param{Name: "left", Says: "share of the open week's forecast that is still to come, as still_to_come gives it; blank or left out: the days left, of seven",
		Unit: "1", Optional: true, Default: array.Blank})
	likeRecorded := []formula.Result{{Unit: "like recorded", Whole: overWeeks}}

	return []formula.Function{{
		Name: "week_sum",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "Adds a week's records up: for picks, sales, hours.",
			Gives:  givesWeekly, Valid: sumValid, Source: "definition",
			Example: picksExample("week_sum(picks.weight)", "lb", 40),
		},
		Params: column,
		Kernel: weekly,
		Output: weeklySum,
	}, {
		Name: "week_mean",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "The mean of a week's records: for counts on marked plants, temperatures, readings.",
			Gives:  givesWeekly, Valid: meanValid, Source: "definition",
			Example: picksExample("week_mean(picks.weight)", "lb", 20),
		},
		Params: column,
		Kernel: weekly,
		Output: weeklyMean,
	}, {
		Name: "week_last",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "The last record of a week, by its date, and of two on one day the one that stands later: for plants standing, a tank's level.",
			Gives:  givesWeekly, Valid: meanValid, Source: "definition",
			Example: picksExample("week_last(picks.weight)", "lb", 25),
		},
		Params: column,
		Kernel: weekly,
		Output: weeklyLast,
	}, {
		Name: "recorded_count",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "How many records of a week say something in x: how many plants were counted, how often was picked.",
			Gives:  "a plain number, over week and every list that the records refer to",
			Valid:  sumValid, Source: "definition",
			Example: picksExample("recorded_count(picks.weight)", "1", 2),
		},
		Params: column,
		Kernel: weekly,
		Output: weeklyCount,
	}, {
		Name: "all_recorded",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "Adds up all records, those before and after the season with them.",
			Gives:  "the unit of x, over every list that the records refer to",
			Valid:  "0 for a member without a record; blank when its records are all blank in x.",
			Source: "definition",
			Example: formula.Example{
				Book: picksBook(`shown = only(all_recorded(picks.weight), "long") -> lb`),
				Ask:  "shown", Want: []float64{55}},
		},
		Params: column,
		Kernel: ever,
		Output: everAll,
	}, {
		Name: "before_season",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "Adds up the records dated before the season's first day: what an opening balance is made of.",
			Gives:  "the unit of x, over every list that the records refer to",
			Valid:  "0 for a member without such a record; blank when those it has are all blank in x.",
			Source: "definition",
			Example: formula.Example{
				Book: picksBook(`shown = only(before_season(picks.weight), "long") -> lb`),
				Ask:  "shown", Want: []float64{5}},
		},
		Params: column,
		Kernel: ever,
		Output: everBefore,
	}, {
		Name: "recorded_or",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "Fact where there is one, else forecast, for amounts: in closed weeks what was recorded; in the open week what is recorded so far and the forecast for the days left; after it the forecast.",
			Gives:  "the unit of recorded, over week",
			Valid:  "A week of which nothing is recorded keeps its whole forecast. Without left, days are taken as alike, which is wrong in the middle of the week for what comes on one day. For means and rates take counted_or.",
			Source: "definition",
			Example: formula.Example{
				Book: picksBook("forecast over week : 70 lb",
					`shown = at(only(recorded_or(week_sum(picks.weight), forecast), "long"), "2027-W10") -> lb`),
				// The book stands at a Wednesday: 4 days of 7 are left.
				Ask: "shown", Want: []float64{10 + 70*4.0/7}},
		},
		Params: amounts,
		Kernel: &formula.Kernel{Name: "recorded_or", Results: likeRecorded, Run: recordedOr},
	}, {
		Name: "counted_or",
		Card: formula.Card{
			Family: recordsFamily,
			Says:   "Fact where there is one, else forecast, for means and rates: in closed weeks and the open one what was counted, elsewhere the forecast.",
			Gives:  "the unit of recorded, over week",
			Valid:  "A week of which nothing is counted keeps its forecast. For amounts take recorded_or.",
			Source: "definition",
			Example: formula.Example{
				Book: picksBook("forecast over week : 70 lb",
					`shown = at(only(counted_or(week_mean(picks.weight), forecast), "long"), "2027-W10") -> lb`),
				Ask: "shown", Want: []float64{10}},
		},
		Params: replace,
		Kernel: &formula.Kernel{Name: "counted_or", Results: likeRecorded, Run: countedOr},
	}, stillToCome}
}

// picksBook is a small book with a few picks, for the examples of this family.
func picksBook(lines ...string) string {
	return strings.ReplaceAll(`'''settings
title    : Picks of two houses
season   : 2026-W33 .. 2027-W32
currency : USD
as_of    : 2027-03-10
'''
'''list house
      | label
long  | Long house
short | Short house
'''
'''records picks
date       | house | weight lb
2026-08-09 | long  | 5
2027-03-02 | long  | 15
2027-03-02 | short | 9
2027-03-05 | long  | 25
2027-03-09 | long  | 10
'''
'''lines
`+strings.Join(lines, "\n")+"\n'''\n", "'''", "```")
}

// picksExample shows one cell of a weekly value: the long house in the week
// before the open one.
func picksExample(call, unit string, want float64) formula.Example {
	return formula.Example{
		Book: picksBook("shown = at(only(" + call + `, "long"), "2027-W09") -> ` + unit),
		Ask:  "shown", Want: []float64{want}}
}

// counts says whether a record of that day is known on the day the book stands at.
func counts(c *formula.Call, day week.Day) bool {
	if day <= c.Standing.AsOf {
		return true
	}
	i, in := c.Season.Index(day.Week())
	return in && c.Standing.Closed(i)
}

// memberOf gives the cell of a row among the members of all lists that the
// records refer to, the last list innermost; -1 when the row leaves one out.
func memberOf(rows *formula.Rows, row int) int {
	cell := 0
	for list, members := range rows.Refers {
		if members[row] < 0 {
			return -1
		}
		cell = cell*rows.Size[list] + members[row]
	}
	return cell
}

// Outputs of gatherWeekly.
const (
	weeklySum = iota
	weeklyMean
	weeklyLast
	weeklyCount
)

// gatherWeekly brings rows to the cells of members and weeks.
func gatherWeekly(c *formula.Call) {
	x, rows := c.In[0], c.Rows
	sum, mean, last, count := c.Out[weeklySum], c.Out[weeklyMean], c.Out[weeklyLast], c.Out[weeklyCount]
	weeks := c.Season.Len()
	lastDay := c.Scratch(len(sum))
	kept := -1 // index of the last week in which, or after which, a record stands
	for i := range sum {
		sum[i], mean[i], last[i], count[i] = array.Blank, array.Blank, array.Blank, 0
	}
	for r, day := range rows.Day {
		if !counts(c, day) {
			continue
		}
		if day.Week() > c.Season.Last {
			kept = weeks - 1
			continue
		}
		w, in := c.Season.Index(day.Week())
		if !in {
			continue
		}
		kept = max(kept, w)
		member := memberOf(rows, r)
		if member < 0 || array.IsBlank(x[r]) {
			continue
		}
		i := member*weeks + w
		if count[i] == 0 || float64(day) >= lastDay[i] {
			last[i], lastDay[i] = x[r], float64(day)
		}
		sum[i] = addKnown(sum[i], x[r])
		count[i]++
	}
	for i := range sum {
		switch w := i % weeks; {
		case count[i] > 0:
			mean[i] = sum[i] / count[i]
		case w <= kept && (c.Standing.Closed(w) || w == c.Standing.Open()):
			sum[i] = 0
		default:
			count[i] = array.Blank
		}
	}
}

// Outputs of gatherEver.
const (
	everAll = iota
	everBefore
)

// gatherEver brings rows to the cells of members, whatever their day.
func gatherEver(c *formula.Call) {
	first := c.Season.At(0).Monday()
	for output, out := range c.Out {
		rows := c.Scratch(len(out)) // how many rows a member has
		for i := range out {
			out[i] = array.Blank
		}
		for r, day := range c.Rows.Day {
			member := memberOf(c.Rows, r)
			if member < 0 || !counts(c, day) || output == everBefore && day >= first {
				continue
			}
			rows[member]++
			out[member] = addKnown(out[member], c.In[0][r])
		}
		for i := range out {
			if rows[i] == 0 {
				out[i] = 0
			}
		}
	}
}

// recordedOr keeps what was recorded and adds the forecast's part of the open
// week that is still to come, its days taken as alike where nobody says otherwise.
func recordedOr(c *formula.Call) {
	recorded, forecast, left, out := c.In[0], c.In[1], c.In[2][0], c.Out[0]
	open := c.Standing.Open()
	if left < 0 || left > 1 {
		c.Refuse("the share of the week that is still to come lies between 0 and 100 %")
		return
	}
	if open >= 0 && left != left {
		left = c.Standing.Left(open)
	}
	for i := range out {
		switch {
		case array.IsBlank(recorded[i]) || i != open && !c.Standing.Closed(i):
			out[i] = forecast[i]
		case i == open:
			out[i] = recorded[i] + float64(forecast[i]*left)
		default:
			out[i] = recorded[i]
		}
	}
}

// countedOr keeps what was counted in every week that has begun.
func countedOr(c *formula.Call) {
	counted, forecast, out := c.In[0], c.In[1], c.Out[0]
	open := c.Standing.Open()
	for i := range out {
		out[i] = forecast[i]
		if !array.IsBlank(counted[i]) && (i == open || c.Standing.Closed(i)) {
			out[i] = counted[i]
		}
	}
}
