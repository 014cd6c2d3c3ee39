package library

import (
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// countedPace brings counts on marked plants to the pace that own_offset wants.
var countedPace = formula.Function{
	Name: "counted_pace",
	Card: formula.Card{
		Family: "crop",
		Says:   "The trusses that marked plants opened on a stem and day, by week: from one day of counting to the next, how much further the highest truss of the plants stands in the mean. Give it to own_offset.",
		Gives:  "truss/stem/d over the lists that the records refer to, and week; blank before the first day of counting and after the last",
		Valid:  "Whole-numbered trusses of plants with one stem, written down at the same sight each time (all in flower, or all with fruit showing). A plant not yet written down has none. Rows without a plant are passed over, and what was counted after the last closed week.",
		Source: "definition",
		Example: formula.Example{
			Book: strings.Join([]string{
				"```settings", "season : 2026-W33 .. 2027-W32", "currency : USD", "as_of : 2027-04-01", "```",
				"```list planting", "     | label", "long | Long house", "```",
				"```records trusses",
				"date       | planting | plant | truss",
				"2027-03-01 | long     | 7     | 6",
				"2027-03-01 | long     | 8     | 5",
				"2027-03-15 | long     | 7     | 7",
				"2027-03-15 | long     | 7     | 8",
				"2027-03-15 | long     | 8     | 7", "```",
				"```lines",
				"pace = counted_pace(trusses.plant, trusses.truss) -> truss/stem/d // two trusses each, in 14 days",
				`in_march = at(only(pace, "long"), "2027-W10") -> truss/stem/d`, "```", ""}, "\n"),
			Ask: "in_march", Want: []float64{0.142857143},
		},
	},
	Params: []formula.Param{
		{Name: "plant", Says: "recorded number of the marked plant", Unit: "1", Whole: []string{"records"}},
		{Name: "truss", Says: "recorded number of the truss, the lowest being 1", Unit: "1", Whole: []string{"records"}},
	},
	Kernel: &formula.Kernel{
		Name:    "counted pace",
		Results: []formula.Result{{Unit: "truss/stem/d", Whole: []string{"refers", "week"}}},
		Run:     runCountedPace,
	},
}

// runCountedPace goes through the rows in the order of their days, and adds to a day
// what its rows bring a plant above its highest truss so far.
func runCountedPace(c *formula.Call) {
	plant, truss, pace := c.In[0], c.In[1], c.Out[0]
	weeks := c.Season.Len()
	days, cells := crop.WeekDays*weeks, len(pace)/weeks
	first := c.Season.At(0).Monday()
	dayOf := func(row int) (day int, ok bool) {
		if _, gap := missing(plant[row], truss[row]); gap || memberOf(c.Rows, row) < 0 {
			return 0, false
		}
		day = int(c.Rows.Day[row] - first)
		return day, day >= 0 && day < days && c.Standing.Closed(day/crop.WeekDays)
	}
	// Rows by day: where each day's begin, then their numbers.
	begins, order := c.Scratch(days+1), c.Scratch(len(plant))
	for row := range plant {
		if day, ok := dayOf(row); ok {
			begins[day+1]++
		}
	}
	for day := range days {
		begins[day+1] += begins[day]
	}
	for row := range plant {
		if day, ok := dayOf(row); ok {
			order[int(begins[day])] = float64(row)
			begins[day]++
		}
	}
	known := int(begins[days])
	// A table of plants, open addressed: the row that a plant was first met in, plus one.
	size := 1
	for size < 2*known {
		size *= 2
	}
	met, highest := c.Scratch(size), c.Scratch(size)
	plants, gained, counted := c.Scratch(cells), c.Scratch(cells*days), c.Scratch(cells*days)
	for _, at := range order[:known] {
		row := int(at)
		cell := memberOf(c.Rows, row)
		key := uint64(cell)*0x9E3779B97F4A7C15 ^ uint64(int64(plant[row]))*0xC2B2AE3D27D4EB4F
		slot := int(key>>33) & (size - 1)
		for met[slot] != 0 {
			if other := int(met[slot]) - 1; memberOf(c.Rows, other) == cell && plant[other] == plant[row] {
				break
			}
			slot = (slot + 1) & (size - 1)
		}
		if met[slot] == 0 {
			met[slot] = at + 1
			plants[cell]++
		}
		day, _ := dayOf(row)
		gained[cell*days+day] += max(0, truss[row]-highest[slot])
		highest[slot] = max(highest[slot], truss[row])
		counted[cell*days+day] = 1
	}
	covered := c.Scratch(weeks)
	for cell := range cells {
		spreadPace(pace[cell*weeks:(cell+1)*weeks], gained[cell*days:(cell+1)*days], counted[cell*days:(cell+1)*days], plants[cell], covered)
	}
}

// spreadPace spreads what was gained from one day of counting to the next over the days
// between, and gives each week the mean over its days that lie between two; covered is
// space for as many numbers.
func spreadPace(pace, gained, counted []float64, plants float64, covered []float64) {
	clear(pace)
	clear(covered)
	last := -1
	for day := range gained {
		if counted[day] == 0 {
			continue
		}
		for d := last + 1; last >= 0 && d <= day; d++ {
			pace[d/crop.WeekDays] += gained[day] / plants / float64(day-last)
			covered[d/crop.WeekDays]++
		}
		last = day
	}
	for w := range pace {
		pace[w] /= covered[w]
		if covered[w] == 0 {
			pace[w] = array.Blank
		}
	}
}
