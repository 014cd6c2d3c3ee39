package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// countsFunctions bring counts on marked plants to a planting's figures. The
// three by truss share one kernel.
func countsFunctions() []formula.Function {
	return []formula.Function{countedByTruss, countError, trussesCounted, countedPace, plantsToCount}
}

var countsParams = []formula.Param{
	{Name: "plant", Says: "recorded number of the marked plant", Unit: "1", Whole: []string{"records"}},
	{Name: "truss", Says: "recorded number of the truss, the lowest being 1", Unit: "1", Whole: []string{"records"}},
	{Name: "fruit", Says: "recorded number of fruit on it", Unit: "fruit", Whole: []string{"records"}},
	{Name: "opened", Says: "trusses that open on a stem in each week", Unit: "truss/stem", Whole: []string{"refers", "week"}},
}

var countsKernel = &formula.Kernel{
	Name: "counted by truss",
	Results: []formula.Result{
		{Unit: "fruit/truss", Whole: []string{"refers", "week"}},
		{Unit: "fruit/truss", Whole: []string{"refers", "week"}},
		{Unit: "truss", Whole: []string{"refers", "week"}},
	},
	Run: runCounts,
}

// runCounts tallies the last count of each truss in the week in which it opened.
// A truss that was counted has opened, so no later than the week of counting,
// even where the forecast lags behind the crop.
func runCounts(c *formula.Call) {
	truss, fruit, opened := c.In[1], c.In[2], c.In[3]
	mean, squares, number := c.Out[0], c.Out[1], c.Out[2]
	weeks := c.Season.Len()
	reached := c.Scratch(len(opened)) // trusses opened by the end of each week
	sum := 0.0
	for i, x := range opened {
		if i%weeks == 0 {
			sum = 0
		}
		if x == x {
			sum += x
		}
		reached[i] = sum
		mean[i], squares[i], number[i] = 0, 0, 0
	}
	dropped := c.Scratch(len(fruit))
	dropRecounted(c, dropped)
	for row, day := range c.Rows.Day {
		cell := memberOf(c.Rows, row)
		if _, gap := missing(truss[row], fruit[row]); gap || cell < 0 || dropped[row] != 0 || !counts(c, day) {
			continue
		}
		w := min(crop.OpenedWeek(reached[cell*weeks:(cell+1)*weeks], truss[row]), int(day.Week()-c.Season.First))
		if w < 0 || w >= weeks {
			continue
		}
		i := cell*weeks + w
		t := crop.Counted{Number: number[i], Mean: mean[i], Squares: squares[i]}.With(fruit[row])
		number[i], mean[i], squares[i] = t.Number, t.Mean, t.Squares
	}
	for i := range number {
		t := crop.Counted{Number: number[i], Mean: mean[i], Squares: squares[i]}
		squares[i] = t.Error()
		if t.Number == 0 {
			mean[i] = array.Blank
		}
	}
}

// dropRecounted marks with 1 each row whose truss was counted again on the same
// plant later (on the same day: further down). Rows without a plant, truss or
// count neither drop another nor are dropped. It is a table of row numbers, open
// addressed, so that a season's rows cost a few steps each.
func dropRecounted(c *formula.Call, dropped []float64) {
	plant, truss, fruit := c.In[0], c.In[1], c.In[2]
	size := 1
	for size < 2*len(fruit) {
		size *= 2
	}
	table := c.Scratch(size) // row + 1, or 0
	for row := range fruit {
		cell := memberOf(c.Rows, row)
		if _, gap := missing(plant[row], truss[row], fruit[row]); gap || cell < 0 || !counts(c, c.Rows.Day[row]) {
			continue
		}
		// Rows meet when all three are equal; the slot only has to scatter them.
		key := uint64(cell)*0x9E3779B97F4A7C15 ^ uint64(int64(plant[row]))*0xC2B2AE3D27D4EB4F ^ uint64(int64(truss[row]))*0x165667B19E3779F9
		slot := int(key>>33) & (size - 1)
		for ; table[slot] != 0; slot = (slot + 1) & (size - 1) {
			other := int(table[slot]) - 1
			if memberOf(c.Rows, other) != cell || plant[other] != plant[row] || truss[other] != truss[row] {
				continue
			}
			if c.Rows.Day[row] < c.Rows.Day[other] {
				dropped[row] = 1
			} else {
				dropped[other] = 1
				table[slot] = float64(row + 1)
			}
			break
		}
		if table[slot] == 0 {
			table[slot] = float64(row + 1)
		}
	}
}

// countsExample is a book with two marked plants; the sixth truss opens in week 6.
func countsExample(formulas ...string) string {
	const fence = "```"
	return strings.Join(append(append([]string{
		fence + "settings", "season : 2026-W33 .. 2027-W32", "currency : USD", "as_of : 2027-04-01", fence,
		fence + "list planting", "     | label", "long | Long house", fence,
		fence + "records trusses",
		"date       | planting | plant | truss | fruit fruit",
		"2027-03-01 | long     | 7     | 6     | 3",
		"2027-03-08 | long     | 7     | 6     | 4",
		"2027-03-08 | long     | 8     | 6     | 5", fence,
		fence + "lines",
		"opened over week : 0 truss/stem; 1 truss/stem from 2027-W01",
	}, formulas...), fence, ""), "\n")
}

const (
	countsValid  = "Whole-numbered trusses of plants with one stem. Of counts of one truss on several days the last holds; a count without a plant stands for itself. A truss that the forecast has not yet opened counts in the week of counting. Counts dated before the book are left out."
	countsSource = "definition; the running mean and squares: Welford 1962, Technometrics 4:419-420"
)

var countedByTruss = formula.Function{
	Name: "counted_by_truss",
	Card: formula.Card{
		Family: "crop",
		Says:   "Fruit a truss on marked plants, their mean, for the week in which the truss opened and not the week of counting: so that it meets the trusses that ripen with it.",
		Gives:  "fruit/truss over the lists that the records refer to, and week; blank where none was counted",
		Valid:  countsValid,
		Source: countsSource,
		Example: formula.Example{
			Book: countsExample(
				"counted = counted_by_truss(trusses.plant, trusses.truss, trusses.fruit, opened) -> fruit/truss",
				`sixth = at(only(counted, "long"), "2027-W06") -> fruit/truss`),
			Ask: "sixth", Want: []float64{4.5},
		},
	},
	Params: countsParams,
	Kernel: countsKernel,
	Output: 0,
}

var countError = formula.Function{
	Name: "count_error",
	Card: formula.Card{
		Family: "crop",
		Says:   "The standard error of counted_by_truss: how far, in two cases of three, the mean of the marked plants lies from that of the planting at most.",
		Gives:  "fruit/truss over the lists that the records refer to, and week; blank with fewer than two trusses",
		Valid:  countsValid + " Marked plants must be spread over the planting, not picked for their looks; then trusses count as independent.",
		Source: countsSource,
		Example: formula.Example{
			Book: countsExample(
				"unsure = count_error(trusses.plant, trusses.truss, trusses.fruit, opened) -> fruit/truss",
				`sixth = at(only(unsure, "long"), "2027-W06") -> fruit/truss`),
			Ask: "sixth", Want: []float64{0.5},
		},
	},
	Params: countsParams,
	Kernel: countsKernel,
	Output: 1,
}

var trussesCounted = formula.Function{
	Name: "trusses_counted",
	Card: formula.Card{
		Family: "crop",
		Says:   "How many trusses counted_by_truss rests on.",
		Gives:  "truss over the lists that the records refer to, and week",
		Valid:  countsValid,
		Source: "definition",
		Example: formula.Example{
			Book: countsExample(
				"sample = trusses_counted(trusses.plant, trusses.truss, trusses.fruit, opened) -> truss",
				`sixth = at(only(sample, "long"), "2027-W06") -> truss`),
			Ask: "sixth", Want: []float64{2},
		},
	},
	Params: countsParams,
	Kernel: countsKernel,
	Output: 2,
}

var plantsToCount = formula.Function{
	Name: "plants_to_count",
	Card: formula.Card{
		Family: "crop",
		Says:   "How many plants to mark and count, so that in 95 cases of a hundred their mean lies within a share of the planting's: (1.96 x spread / within)^2; of few plants, less.",
		Gives:  "plant, rounded up",
		Valid:  "Plants taken at random. Spread between plants: trusses flowered 5 %, trusses on the stem 15 %, weight in a week 30 %, fruit or weight a plant 45 %.",
		Source: "Cochran 1977, Sampling Techniques, chapter 4; spreads: an open crop record, cherry tomato, Ohio, 2024, and Lucio et al., Revista Ciencia Agronomica, scielo S1806-66902018000400653, abstract",
		Table:  samplingTable,
		Example: formula.Example{
			Lines: []string{"spread : 45 %", "within : 15 %", "marked = plants_to_count(spread, within) -> plant"},
			Ask:   "marked", Want: []float64{35},
		},
	},
	Params: []formula.Param{
		{Name: "spread", Says: "coefficient of variation between plants", Unit: "1"},
		{Name: "within", Says: "how near the mean of the marked plants is to lie, as a share", Unit: "1"},
		{Name: "standing", Says: "plants in all; blank or left out, very many", Unit: "plant", Optional: true, Default: array.Blank},
	},
	Kernel: &formula.Kernel{
		Name:    "plants to count",
		Results: []formula.Result{{Unit: "plant"}},
		Run: func(c *formula.Call) {
			spread, within, standing := c.In[0][0], c.In[1][0], c.In[2][0]
			if gap, found := missing(spread, within); found {
				skip(c, gap)
				return
			}
			switch {
			case within <= 0 || spread < 0:
				c.Refuse("the spread cannot be less than 0, and the share that the mean is to lie within must be above 0")
			case standing <= 0:
				c.Refuse("there are no plants to mark")
			case standing != standing:
				c.Out[0][0] = crop.PlantsToCount(spread, within, math.Inf(1))
			default:
				c.Out[0][0] = crop.PlantsToCount(spread, within, standing)
			}
		},
	},
}
