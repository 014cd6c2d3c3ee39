package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/protect"
)

// sprayFunctions tell of the days after a record, such as the days to harvest of a
// spray, and what else was recorded on them.
func sprayFunctions() []formula.Function {
	return []formula.Function{withinDays, firstWithin, lastWithin, clearOn, recordedBetween}
}

// sprayBook is a book with two sprays on one house, for the examples.
func sprayBook(line string) string {
	return strings.ReplaceAll(`'''settings
season   : 2026-W33 .. 2027-W32
currency : USD
as_of    : 2027-03-10
'''
'''list house
     | label
long | Long house
'''
'''list product
     | label | wait d
soap | Soap  | 1
mild | Mild  | 3
'''
'''records sprays
date       | house | product
2027-03-02 | long  | mild
2027-03-03 | long  | mild
'''
'''lines
`+line+"\n'''\n", "'''", "```")
}

var withinParams = []formula.Param{{Name: "days", Says: "days that each record holds for, its own day the first; hours are parts of a day", Unit: "d", Whole: []string{"records"}}}

const labelRules = "The label is the law: on the crop, the dose, the days to harvest and the hours before anyone walks in again. Records dated after the day the book stands at do not count. Blank days count as none."

var withinKernel = &formula.Kernel{
	Name: "within days",
	Results: []formula.Result{
		withinShare: {Unit: "1", Whole: []string{"refers", "week"}},
		withinFirst: {Takes: formula.Dates, Whole: []string{"refers", "week"}},
		withinLast:  {Takes: formula.Dates, Whole: []string{"refers", "week"}},
		withinClear: {Takes: formula.Dates, Whole: []string{"refers"}},
	},
	Run: runWithinDays,
}

// Outputs of runWithinDays.
const (
	withinShare = iota
	withinFirst
	withinLast
	withinClear
)

var withinDays = formula.Function{
	Name: "within_days",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "How much of each week lies within so many days of a record: of a spray, the days in which nothing may be picked, nobody may walk in, or no wasp lives. Days that two sprays cover count once.",
		Gives:  "a share, over week and every list that the records refer to",
		Valid:  labelRules,
		Source: "definition",
		Example: formula.Example{
			Book: sprayBook(`closed = at(only(only(within_days(via(sprays.product, product.wait)), "long"), "mild"), "2027-W09") -> % // 2 to 5 March`),
			Ask:  "closed", Want: []float64{400.0 / 7},
		},
	},
	Params: withinParams, Kernel: withinKernel, Output: withinShare,
}

var firstWithin = formula.Function{
	Name: "first_within",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "The first day of each week that lies within so many days of a record: with last_within, the days of a label for recorded_between.",
		Gives:  "a date, over week and every list that the records refer to; blank in weeks without such a day",
		Valid:  labelRules,
		Source: "definition",
		Example: formula.Example{
			Book: sprayBook("monday : 2027-03-01\nafter_it = at(only(only(first_within(via(sprays.product, product.wait)), \"long\"), \"mild\"), \"2027-W09\") - monday -> d"),
			Ask:  "after_it", Want: []float64{1},
		},
	},
	Params: withinParams, Kernel: withinKernel, Output: withinFirst,
}

var lastWithin = formula.Function{
	Name: "last_within",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "The day after the last day of each week that lies within so many days of a record. Days between two records' days are not told apart: the label's own day for each spray is on the card of clear_on.",
		Gives:  "a date, over week and every list that the records refer to; blank in weeks without such a day",
		Valid:  labelRules,
		Source: "definition",
		Example: formula.Example{
			Book: sprayBook("monday : 2027-03-01\nafter_it = at(only(only(last_within(via(sprays.product, product.wait)), \"long\"), \"mild\"), \"2027-W09\") - monday -> d // days 2 to 5 March"),
			Ask:  "after_it", Want: []float64{5},
		},
	},
	Params: withinParams, Kernel: withinKernel, Output: withinLast,
}

var recordedBetween = formula.Function{
	Name: "recorded_between",
	Card: formula.Card{
		Family: recordsFamily,
		Says:   "What was recorded in each week from one day on and before another: what was picked on days on which a label lets nobody pick.",
		Gives:  "the unit of x, over week and every list that the records refer to",
		Valid:  "0 where nothing is recorded between the days, or one of them is blank. Records dated after the day the book stands at do not count.",
		Source: "definition",
		Example: formula.Example{
			Book: picksBook("from : 2027-03-03\nto : 2027-03-06", `shown = at(only(recorded_between(picks.weight, from, to), "long"), "2027-W09") -> lb`),
			Ask:  "shown", Want: []float64{25},
		},
	},
	Params: []formula.Param{
		{Name: "x", Says: "a column of records, or what is made from its columns", Whole: []string{"records"}},
		{Name: "from", Says: "the first day that counts", Takes: formula.Dates, Whole: []string{"refers", "week"}},
		{Name: "to", Says: "the first day that counts no more", Takes: formula.Dates, Whole: []string{"refers", "week"}},
	},
	Kernel: &formula.Kernel{
		Name:    "recorded between",
		Results: []formula.Result{{Unit: "like x", Whole: []string{"refers", "week"}}},
		Run: func(c *formula.Call) {
			x, from, to, out := c.In[0], c.In[1], c.In[2], c.Out[0]
			clear(out)
			for row, day := range c.Rows.Day {
				w, in := c.Season.Index(day.Week())
				member := memberOf(c.Rows, row)
				if !in || member < 0 || array.IsBlank(x[row]) || !counts(c, day) {
					continue
				}
				if i := member*c.Season.Len() + w; float64(day) >= from[i] && float64(day) < to[i] {
					out[i] += x[row]
				}
			}
		},
	},
}

var clearOn = formula.Function{
	Name: "clear_on",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "The first day after all records' days are over: the day from which may be picked again.",
		Gives:  "a date, over every list that the records refer to; blank where nothing is recorded",
		Valid:  labelRules + " A part of a day counts as the whole of it.",
		Source: "definition",
		Example: formula.Example{
			Book: sprayBook("start : 2027-03-03\nwait = only(only(clear_on(via(sprays.product, product.wait)), \"long\"), \"mild\") - start -> d"),
			Ask:  "wait", Want: []float64{3},
		},
	},
	Params: withinParams, Kernel: withinKernel, Output: withinClear,
}

// runWithinDays gathers the records of each cell, and covers weeks with their days.
func runWithinDays(c *formula.Call) {
	days, weeks := c.In[0], c.Season.Len()
	first := float64(c.Season.At(0).Monday())
	cells := len(c.Out[withinShare]) / weeks
	from, to := c.Scratch(len(days)), c.Scratch(len(days))
	for cell := range cells {
		n := 0
		clear := array.Blank
		for row, day := range c.Rows.Day {
			if memberOf(c.Rows, row) != cell || !counts(c, day) || !(days[row] >= 0) {
				continue
			}
			from[n], to[n] = float64(day), float64(day)+days[row]
			n++
			if over := math.Ceil(float64(day) + days[row]); !(over <= clear) {
				clear = over
			}
		}
		for w := range weeks {
			monday := first + float64(7*w)
			i := cell*weeks + w
			days, begin, end := protect.Cover(monday, monday+7, from[:n], to[:n])
			c.Out[withinShare][i] = days / 7
			if c.Out[withinFirst][i], c.Out[withinLast][i] = array.Blank, array.Blank; days > 0 {
				c.Out[withinFirst][i], c.Out[withinLast][i] = math.Floor(begin), math.Ceil(end)
			}
		}
		c.Out[withinClear][cell] = clear
	}
}
