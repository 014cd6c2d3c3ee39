package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// usualWeeks is how many closed weeks say on which days a week's amount comes.
const usualWeeks = 4

// stillToCome is the share of a week's amount that usually comes after the day the
// book stands at: a stall held on Saturdays has sold nothing by Friday and all of it
// by Sunday, and seven days taken as alike are wrong on both.
var stillToCome = formula.Function{
	Name: "still_to_come",
	Card: formula.Card{
		Family: recordsFamily,
		Says: "The share of the open week's amount that usually comes on the days still ahead, by the weekdays of the records of the last four closed weeks. " +
			"The day the book stands at is still ahead for a member of whom nothing is recorded on it. recorded_or takes it as its third argument.",
		Gives:  "a share, over every list that the records refer to",
		Valid:  "Blank for a member without amounts in those weeks, and when no week is open: recorded_or then takes the days as alike. It holds as long as you keep to your days.",
		Source: "definition",
		Example: formula.Example{
			// Last week 15 lb came on Tuesday and 25 on Friday; the book stands at a Wednesday.
			Book: picksBook(`shown = only(still_to_come(picks.weight), "long") -> %`),
			Ask:  "shown", Want: []float64{62.5}},
	},
	Params: []formula.Param{{Name: "x", Says: "a column of records that holds amounts", Whole: []string{"records"}}},
	Kernel: &formula.Kernel{Name: "still_to_come", Results: []formula.Result{{Unit: "1", Whole: []string{"refers"}}}, Run: runStillToCome},
}

func runStillToCome(c *formula.Call) {
	x, out := c.In[0], c.Out[0]
	for i := range out {
		out[i] = array.Blank
	}
	open := c.Standing.Open()
	if open < 0 {
		return
	}
	today := c.Standing.AsOf
	room := c.Scratch(3 * len(out))
	before, after, on := room[:len(out)], room[len(out):2*len(out)], room[2*len(out):]
	recordedToday := c.Scratch(len(out))
	first, end := c.Season.At(max(0, open-usualWeeks)).Monday(), c.Season.At(open).Monday()
	for r, day := range c.Rows.Day {
		member := memberOf(c.Rows, r)
		if member < 0 || !(x[r] == x[r]) {
			continue
		}
		if day == today {
			recordedToday[member] = 1
		}
		if day < first || day >= end {
			continue
		}
		switch a, b := weekday(day), weekday(today); {
		case a < b:
			before[member] += x[r]
		case a > b:
			after[member] += x[r]
		default:
			on[member] += x[r]
		}
	}
	for i := range out {
		come := after[i]
		if recordedToday[i] == 0 {
			come += on[i]
		}
		if all := before[i] + on[i] + after[i]; all > 0 {
			out[i] = min(1, max(0, come/all))
		}
	}
}

// weekday counts from Monday, 0.
func weekday(d week.Day) int { return int(d - d.Week().Monday()) }
