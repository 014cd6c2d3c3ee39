package library

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
)

const weeksFamily = "weeks and lists"

// weeksFunctions gives the functions that move amounts and states along the
// weeks of the season, and those that bring days, months and weeks together
// (calendar.go). Totals, means, earlier and what else belongs to the plan of a
// program are lowered by the compiler itself.
//
// Blank cells are passed over by sums and means and stay blank where one value
// becomes one other; a cell that could not be computed makes what is made from
// it such a cell too, because its mark travels through arithmetic.
func weeksFunctions() []formula.Function {
	x := formula.Param{Name: "x", Says: "a value over weeks", Whole: overWeeks}
	count := formula.Param{Name: "weeks", Says: "how many weeks, to the nearest whole one", Unit: "1", Whole: overWeeks}
	outside := formula.Param{Name: "outside", Says: "what stands for the weeks outside the season; blank when left out", Unit: "like x", Whole: overWeeks, Optional: true, Default: array.Blank}
	likeX := []formula.Result{{Unit: "like x", Whole: overWeeks}}
	inStore := &formula.Kernel{Name: "store", Results: []formula.Result{
		{Unit: "like inflow", Whole: overWeeks}, {Unit: "like inflow", Whole: overWeeks}, {Unit: "like inflow", Whole: overWeeks}}, Run: followStore}
	storeParams := []formula.Param{
		{Name: "inflow", Says: "what comes in each week", Whole: overWeeks},
		{Name: "wanted", Says: "what is wanted out each week; below zero counts as nothing", Unit: "like inflow", Whole: overWeeks},
		{Name: "kept_share", Says: "share of what lies there at a week's end that is still good at the start of the next", Unit: "1", Whole: overWeeks},
		{Name: "start", Says: "what lies there when the first week begins; nothing when left out", Unit: "like inflow", Optional: true},
	}
	const storeValid = "Within a week what comes in is there before anything goes out; no more goes out than is there. An inflow below zero takes out, and may leave less than nothing: look for the mistake. A kept share outside 0-100 % is refused. What follows a blank is blank."
	storeExample := func(ask string, want float64) formula.Example {
		return formula.Example{Lines: []string{
			"picked over week : 100 lb; 0 lb from 2026-W34",
			"buyers over week : 60 lb; 15 lb from 2026-W34; 40 lb from 2026-W35",
			"keeps : 90 %",
			`left = at(left_in_store(picked, buyers, keeps), "2026-W34") -> lb`,
			`sold = at(out_of_store(picked, buyers, keeps), "2026-W35") -> lb`,
			`spoilt = at(lost_in_store(picked, buyers, keeps), "2026-W34") -> lb`,
		}, Ask: ask, Want: []float64{want}}
	}

	functions := []formula.Function{{
		Name: "running",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The running total: everything from the season's first week to this one.",
			Gives:  "the unit of x, over week",
			Valid:  "A blank week adds nothing; before the first known week the total is blank.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"picked over week : 10 lb; 20 lb from 2026-W35",
				`so_far = at(running(picked), "2026-W36") -> lb`,
			}, Ask: "so_far", Want: []float64{60}},
		},
		Params: []formula.Param{x},
		Kernel: &formula.Kernel{Name: "running", Results: likeX, Run: runningTotal},
	}, {
		Name: "weeks_after",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The value that will stand so many whole weeks later: what to order now for a need then.",
			Gives:  "the unit of x, over week",
			Valid:  "Weeks after the season's last are blank, or what outside says. A number below zero looks back.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"released over week : 2 card; 6 card from 2026-W40",
				`to_order = at(weeks_after(released, 2), "2026-W38") -> card`,
			}, Ask: "to_order", Want: []float64{6}},
		},
		Params: []formula.Param{x, count, outside},
		Kernel: &formula.Kernel{Name: "weeks_after", Results: likeX, Run: lookAhead},
	}, {
		Name: "later_days",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "Moves an amount later by a number of days. A week's amount is spread evenly over its seven days, so it falls into two weeks where the days are not whole weeks.",
			Gives:  "the unit of x, over week",
			Valid:  "What is moved past the season's last week is dropped: look for it after the season. A week into which nothing falls is 0; one into which only blanks fall is blank. Days below zero move earlier; blank days leave everything blank.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"sold over week : 70 USD; 0 USD from 2026-W34",
				"pays_after : 10 d",
				`first_part = at(later_days(sold, pays_after), "2026-W34") -> USD`,
			}, Ask: "first_part", Want: []float64{40}},
		},
		Params: []formula.Param{x, {Name: "days", Says: "how many days later", Unit: "d", Whole: overWeeks}},
		Kernel: &formula.Kernel{Name: "later_days", Results: likeX, Run: moveDays},
	}, {
		Name: "left_in_store",
		Card: formula.Card{
			Family:  weeksFamily,
			Says:    "What lies in store at the end of each week: what was kept, and came in, less what went out.",
			Gives:   "the unit of inflow, over week",
			Valid:   storeValid,
			Source:  "definition",
			Example: storeExample("left", 21),
		},
		Params: storeParams,
		Kernel: inStore,
		Output: storeLeft,
	}, {
		Name: "out_of_store",
		Card: formula.Card{
			Family:  weeksFamily,
			Says:    "What goes out of the store in each week: what is wanted, as far as it is there.",
			Gives:   "the unit of inflow, over week",
			Valid:   storeValid,
			Source:  "definition",
			Example: storeExample("sold", 18.9),
		},
		Params: storeParams,
		Kernel: inStore,
		Output: storeOut,
	}, {
		Name: "lost_in_store",
		Card: formula.Card{
			Family:  weeksFamily,
			Says:    "What went bad in store since the end of the week before.",
			Gives:   "the unit of inflow, over week",
			Valid:   storeValid,
			Source:  "definition",
			Example: storeExample("spoilt", 4),
		},
		Params: storeParams,
		Kernel: inStore,
		Output: storeLost,
	}, {
		Name: "smooth_weeks",
		Card: formula.Card{
			Family: weeksFamily,
			Says:   "The mean of this week and the ones before it, so many in all.",
			Gives:  "the unit of x, over week",
			Valid:  "At the season's start the mean of the weeks there are. Blank weeks are passed over; over blanks only it is blank. At least one week; a part of a week counts to the nearest whole one.",
			Source: "definition",
			Example: formula.Example{Lines: []string{
				"hours over week : 20 h; 32 h from 2026-W40",
				`usual = at(smooth_weeks(hours, 4), "2026-W41") -> h`,
			}, Ask: "usual", Want: []float64{26}},
		},
		Params: []formula.Param{x, count},
		Kernel: &formula.Kernel{Name: "smooth_weeks", Results: likeX, Run: meanOfLast},
	}}
	return append(functions, calendarFunctions()...)
}

// runningTotal adds up from the first week on.
func runningTotal(c *formula.Call) {
	sum := array.Blank
	for i, x := range c.In[0] {
		sum = addKnown(sum, x)
		c.Out[0][i] = sum
	}
}

// addKnown adds x to a sum that is blank as long as nothing was added; a blank adds
// nothing.
func addKnown(sum, x float64) float64 {
	switch {
	case array.IsBlank(x):
		return sum
	case array.IsBlank(sum):
		return x
	}
	return sum + x
}

// lookAhead fills each week with the value so many whole weeks after it.
func lookAhead(c *formula.Call) {
	x, weeks, outside, out := c.In[0], c.In[1], c.In[2], c.Out[0]
	for i := range out {
		from := float64(i) + math.Round(weeks[i])
		switch {
		case from != from: // blank or a fault
			out[i] = weeks[i]
		case from >= 0 && from < float64(len(x)):
			out[i] = x[int(from)]
		default:
			out[i] = outside[i]
		}
	}
}

// moveDays moves each week's amount. A week of amounts spread evenly over its
// days and moved by 7w + r days covers the last 7 - r days of the w-th week after
// it and the first r of the next: the two parts are (7-r)/7 and r/7 of it.
func moveDays(c *formula.Call) {
	x, days, out := c.In[0], c.In[1], c.Out[0]
	blank := c.Scratch(len(out)) // 1 where something blank falls
	known := c.Scratch(len(out)) // 1 where something known falls
	clear(out)
	land := func(week, amount float64) {
		if week < 0 || week >= float64(len(out)) {
			return
		}
		j := int(week)
		if array.IsBlank(amount) {
			blank[j] = 1
			return
		}
		known[j] = 1
		out[j] += amount
	}
	for i, amount := range x {
		if days[i] != days[i] { // when it falls is not known: neither is any week
			for j := range out {
				out[j] = days[i]
			}
			return
		}
		shift := days[i] / 7
		whole := math.Floor(shift)
		second := amount * (shift - whole)
		land(float64(i)+whole, amount-second)
		if shift > whole {
			land(float64(i)+whole+1, second)
		}
	}
	for j := range out {
		if blank[j] == 1 && known[j] == 0 {
			out[j] = array.Blank
		}
	}
}

// Outputs of followStore.
const (
	storeLeft = iota
	storeOut
	storeLost
)

// followStore follows what lies in store, week by week:
//
//	lost  = (1 - kept_share) * left(week before)      in the first week: nothing
//	there = left(week before) - lost + inflow         in the first week: start + inflow
//	out   = the smaller of wanted and there
//	left  = there - out
//
// so that start and all inflow together are what went out, was lost and is left.
func followStore(c *formula.Call) {
	inflow, wanted, kept, start := c.In[0], c.In[1], c.In[2], c.In[3][0]
	left := start
	for i := range inflow {
		lost := 0.0
		if i > 0 && !(left < 0) {
			if kept[i] < 0 || kept[i] > 1 {
				c.Refuse("the share kept in store lies outside 0-100 %")
				return
			}
			lost = float64((1 - kept[i]) * left)
		}
		there := left - lost + inflow[i]
		out := wanted[i]
		switch {
		case there != there: // blank or a fault
			out = there
		case out < 0 || there < 0:
			out = 0
		case out > there:
			out = there
		}
		left = there - out
		c.Out[storeLeft][i], c.Out[storeOut][i], c.Out[storeLost][i] = left, out, lost
	}
}

// meanOfLast is the mean of the last weeks.
func meanOfLast(c *formula.Call) {
	x, weeks, out := c.In[0], c.In[1], c.Out[0]
	for i := range out {
		if weeks[i] != weeks[i] {
			out[i] = weeks[i]
			continue
		}
		n := math.Round(weeks[i])
		if n < 1 {
			c.Refuse("a mean is over one week at least")
			return
		}
		first := int(math.Max(0, float64(i)+1-n))
		sum, known := array.Blank, 0
		for _, v := range x[first : i+1] {
			sum = addKnown(sum, v)
			if !array.IsBlank(v) {
				known++
			}
		}
		out[i] = sum / float64(max(known, 1))
	}
}
