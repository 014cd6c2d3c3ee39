package library

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// calendarFunctions gives the functions that bring days, months and weeks
// together. The calendar itself is package week's.
func calendarFunctions() []formula.Function {
	overMonths := []string{"month"}
	share := formula.Result{Unit: "1", Whole: overWeeks}
	betweenDays := &formula.Kernel{Name: "share_of_week", Results: []formula.Result{share}, Run: shareBetween}
	aroundDay := &formula.Kernel{Name: "share_around_day", Results: []formula.Result{share, share}, Run: shareAround}
	day := []formula.Param{{Name: "day", Says: "a date", Takes: formula.Dates}}
	months := &formula.Kernel{Name: "months", Results: []formula.Result{
		{Unit: "like x", Whole: overMonths}, {Unit: "like x", Whole: overMonths}, {Unit: "like x", Whole: overMonths}}, Run: gatherMonths}
	weekly := []formula.Param{{Name: "x", Says: "a value over weeks", Whole: overWeeks}}
	const monthValid = "A month is the weeks whose Thursday lies in it, as far as they lie in the season. Blank weeks are passed over; over blanks only it is blank."
	const monthSource = "a week belongs to its Thursday: ISO 8601-1:2019, which gives weeks to years so"
	// The season's weeks fall to its months as 3 4 5 4 5 4 4 4 5 4 4 5 2, from August to August.
	monthExample := func(call string, want ...float64) formula.Example {
		return formula.Example{Lines: []string{
			"picked over week : 10 lb; 40 lb from 2026-W39",
			"monthly = " + call + "(picked) -> lb",
		}, Ask: "monthly", Want: want}
	}

	return []formula.Function{{
		Name: "first_week",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The first week in which something holds, as the date of its Monday.",
			Gives:  "a date",
			Valid:  "Blank when it never holds. A week in which it is not known counts as one in which it does not.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"picked over week : 0 lb; 12 lb from 2027-W02",
				"start : 2026-08-10",
				"wait = first_week(picked > 0) - start -> d",
			}, Ask: "wait", Want: []float64{154}},
		},
		Params: []formula.Param{{Name: "condition", Says: "what is to hold, over weeks", Takes: formula.Truths, Whole: overWeeks}},
		Kernel: &formula.Kernel{Name: "first_week", Results: []formula.Result{{Takes: formula.Dates}}, Run: firstThatHolds},
	}, {
		Name: "share_of_week",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The share of each week that lies between two days: the days from the first, which counts, to the second, which does not, of seven.",
			Gives:  "a share, over week",
			Valid:  "0 in every week when the second day is not after the first. Blank when either day is blank.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"set_out : 2026-11-05",
				"cleared : 2027-06-27",
				`first = at(share_of_week(set_out, cleared), "2026-W45") -> %`,
			}, Ask: "first", Want: []float64{400.0 / 7}},
		},
		Params: []formula.Param{
			{Name: "from", Says: "the first day that counts", Takes: formula.Dates},
			{Name: "to", Says: "the first day that counts no more", Takes: formula.Dates},
		},
		Kernel: betweenDays,
	}, {
		Name: "after",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The share of each week from a day on; the day itself counts.",
			Gives:  "a share, over week",
			Valid:  "Blank when the day is blank.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"first_flower : 2026-12-11",
				`begun = at(after(first_flower), "2026-W50") -> %`,
			}, Ask: "begun", Want: []float64{300.0 / 7}},
		},
		Params: day,
		Kernel: aroundDay,
		Output: shareAfter,
	}, {
		Name: "before",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The share of each week before a day; the day itself does not count.",
			Gives:  "a share, over week",
			Valid:  "Blank when the day is blank.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"topped : 2027-05-07",
				`still = at(before(topped), "2027-W18") -> %`,
			}, Ask: "still", Want: []float64{400.0 / 7}},
		},
		Params: day,
		Kernel: aroundDay,
		Output: shareBefore,
	}, {
		Name: "month_total",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "Adds a month's weeks up: for amounts.",
			Gives:  "the unit of x, over month",
			Valid:  monthValid, Source: monthSource,
			Example: monthExample("month_total", 30, 70, 200, 160, 200, 160, 160, 160, 200, 160, 160, 200, 80),
		},
		Params: weekly,
		Kernel: months,
		Output: monthTotal,
	}, {
		Name: "month_mean",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The mean of a month's weeks: for rates, prices, shares and temperatures.",
			Gives:  "the unit of x, over month",
			Valid:  monthValid, Source: monthSource,
			Example: monthExample("month_mean", 10, 17.5, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40),
		},
		Params: weekly,
		Kernel: months,
		Output: monthMean,
	}, {
		Name: "month_end",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The last known week of a month: for states such as cash, debt, plants standing.",
			Gives:  "the unit of x, over month",
			Valid:  monthValid, Source: monthSource,
			Example: monthExample("month_end", 10, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40, 40),
		},
		Params: weekly,
		Kernel: months,
		Output: monthEnd,
	}, {
		Name: "normals_to_weeks",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "Turns twelve monthly normals into a value for each week: a straight line between the 15ths of neighbouring months, read at the week's Thursday.",
			Gives:  "the unit of x, over week",
			Valid:  "A month's mean of the weekly values differs a little from its normal where the year's curve bends. A blank month leaves the weeks beside it blank.",
			Source: "common practice",
			Example: formula.Example{Lines: []string{
				"high over month_of_year : 33, 36, 45, 57, 68, 77, 81, 80, 72, 61, 48, 37 degF",
				// The Thursday of 2026-W42 is the 15th of October.
				`mid_october = at(normals_to_weeks(high), "2026-W42") -> degF`,
			}, Ask: "mid_october", Want: []float64{61}},
		},
		Params: []formula.Param{{Name: "x", Says: "one value for each month of a usual year", Whole: []string{"month_of_year"}}},
		Kernel: &formula.Kernel{Name: "normals_to_weeks", Results: []formula.Result{{Unit: "like x", Whole: overWeeks}}, Run: spreadNormals},
	}}
}

// firstThatHolds looks for the first week that holds.
func firstThatHolds(c *formula.Call) {
	out := c.Out[0]
	out[0] = array.Blank
	for i, holds := range c.In[0] {
		switch {
		case array.IsFault(holds):
			out[0] = holds
			return
		case !array.IsBlank(holds) && holds != 0:
			out[0] = float64(c.Season.At(i).Monday())
			return
		}
	}
}

// Days far outside any season, and near enough that calendar sums stay in range.
const (
	longAgo week.Day = -1e8
	oneDay  week.Day = 1e8
)

// dayOf turns a date's number into a day between those.
func dayOf(x float64) week.Day {
	return week.Day(math.Round(min(max(x, float64(longAgo)), float64(oneDay))))
}

// fillShares gives the share of every week between two days; day is what the two
// were made from, and passed on when blank or a fault.
func fillShares(c *formula.Call, out []float64, day float64, from, to week.Day) {
	for i := range out {
		if day != day {
			out[i] = day
			continue
		}
		out[i] = c.Season.ShareOfWeek(i, from, to)
	}
}

func shareBetween(c *formula.Call) {
	from, to := c.In[0][0], c.In[1][0]
	unknown := from // a fault before a blank
	if from == from || array.IsFault(to) {
		unknown = to
	}
	fillShares(c, c.Out[0], unknown, dayOf(from), dayOf(to))
}

// Outputs of shareAround.
const (
	shareAfter = iota
	shareBefore
)

func shareAround(c *formula.Call) {
	day := c.In[0][0]
	fillShares(c, c.Out[shareAfter], day, dayOf(day), oneDay)
	fillShares(c, c.Out[shareBefore], day, longAgo, dayOf(day))
}

// Outputs of gatherMonths.
const (
	monthTotal = iota
	monthMean
	monthEnd
)

func gatherMonths(c *formula.Call) {
	total, mean, end := c.Out[monthTotal], c.Out[monthMean], c.Out[monthEnd]
	known := c.Scratch(len(total))
	for m := range total {
		total[m], mean[m], end[m] = array.Blank, array.Blank, array.Blank
	}
	for i, x := range c.In[0] {
		if array.IsBlank(x) {
			continue
		}
		m := c.Season.MonthIndex(i)
		total[m] = addKnown(total[m], x)
		end[m] = x
		known[m]++
	}
	for m := range mean {
		if known[m] > 0 {
			mean[m] = total[m] / known[m]
		}
	}
}

func spreadNormals(c *formula.Call) {
	copy(c.Out[0], c.Season.NormalsToWeeks([12]float64(c.In[0])))
}
