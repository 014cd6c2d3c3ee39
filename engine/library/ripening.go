package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// ripeningFunctions take fruit from set to ripe. ripening and hanging share one
// kernel: a book that asks both walks the season once.
func ripeningFunctions() []formula.Function {
	return []formula.Function{ripening, hanging, ripeningDays, ripeOn, daysFactor, stageBetween, pickedOfForecast}
}

const (
	ripeningValid  = "24-hour means from 14 to 26 degC were measured. The lines are carried on to 27 degC, where the gain stays, and to 13 degC, from where it fades to nothing at 12 degC. Timing is good to about 5 days."
	ripeningSource = "Adams, Cockshull & Cave 2001, Annals of Botany 88:869-877, abstract: 95, 65, 46 and 42 days at 14, 18, 22 and 26 degC; cold limit: Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, appendix C"
)

var daysFactorParam = formula.Param{Name: "days_factor", Says: "what the days are multiplied by: 1 for cherry and for fruit picked loose, 1.2 for round fruit picked as whole trusses", Unit: "1", Optional: true, Default: 1}

// No tomato ripens in a hundredth of the days; a smaller factor is a slip.
const (
	leastDaysFactor = 0.01
	tooQuick        = "the factor on the days must be above 0.01: it is 1 for cherry and 1.2 for large fruit picked as whole trusses"
)

var ripeningParams = []formula.Param{
	{Name: "set", Says: "fruit set in each week", Whole: []string{"week"}},
	{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}, Measured: ripeningMeasured},
	daysFactorParam,
	{Name: "spread", Says: "days over which the fruit of a truss flower one after another; 0 for whole trusses, about 12 d for large fruit picked loose", Unit: "d", Optional: true},
}

var ripeningKernel = &formula.Kernel{
	Name: "ripening",
	Results: []formula.Result{
		{Unit: "like set", Whole: []string{"week"}},
		{Unit: "like set", Whole: []string{"week"}},
	},
	Run: runRipening,
}

// runRipening settles what is not known, and leaves the rest to the model. A week
// without a known set adds no fruit, as reducers skip blanks; over blanks only
// the result is blank. Where the air is not known while fruit hang, all from that
// week on is not known either, and nothing before.
func runRipening(c *formula.Call) {
	set, air, factor, spread := c.In[0], c.In[1], c.In[2][0], c.In[3][0]
	ripe, left := c.Out[0], c.Out[1]
	if gap, found := missing(factor, spread); found {
		skip(c, gap)
		return
	}
	switch {
	case factor < leastDaysFactor:
		c.Refuse(tooQuick)
		return
	case spread < 0:
		c.Refuse("the days over which a truss flowers cannot be less than 0")
		return
	}
	n := len(set)
	work := c.Scratch(3 * n)
	fruit, gain, behind := work[:n], work[n:2*n], work[2*n:]
	known := false
	for w := range set {
		if set[w] == set[w] {
			fruit[w], known = set[w], true
		}
		if air[w] == air[w] {
			gain[w] = crop.StageGain(air[w]) / factor
		}
	}
	if !known {
		skip(c, array.Blank)
		return
	}
	crop.Ripening(ripe, left, fruit, gain, spread, behind)
	lost := false
	for w := range air {
		if lost = lost || air[w] != air[w] && left[w] != 0; lost {
			ripe[w], left[w] = array.Blank, array.Blank
		}
	}
}

var ripening = formula.Function{
	Name: "ripening",
	Card: formula.Card{
		Family: "crop",
		Says:   "The fruit that come ripe in each week, of those set in this and earlier weeks: every day a fruit gains a share of its development by the air, and is ripe when the shares reach 1. A week's fruit are set evenly through it.",
		Gives:  "as set, over week",
		Valid:  ripeningValid + " Fruit set before the book's first week are not known to it.",
		Source: ripeningSource,
		Table:  ripeningTable,
		Example: formula.Example{
			Lines: []string{
				"air : 18 degC", "newly_set over week : 0 fruit; 70 fruit from 2026-W40; 0 fruit from 2026-W41",
				`first_picks = at(ripening(newly_set, air), "2026-W49") -> fruit`,
			},
			Ask: "first_picks", Want: []float64{50},
		},
	},
	Params: ripeningParams,
	Kernel: ripeningKernel,
	Output: 0,
}

var hanging = formula.Function{
	Name: "hanging",
	Card: formula.Card{
		Family: "crop",
		Says:   "The fruit set and not yet ripe at the end of each week. Set so far = ripe so far + hanging.",
		Gives:  "as set, over week",
		Valid:  ripeningValid + " Fruit set before the book's first week are not known to it.",
		Source: ripeningSource,
		Table:  ripeningTable,
		Example: formula.Example{
			Lines: []string{
				"air : 18 degC", "newly_set over week : 0 fruit; 70 fruit from 2026-W40; 0 fruit from 2026-W41",
				`still_green = at(hanging(newly_set, air), "2026-W49") -> fruit`,
			},
			Ask: "still_green", Want: []float64{20},
		},
	},
	Params: ripeningParams,
	Kernel: ripeningKernel,
	Output: 1,
}

var ripeningDays = formula.Function{
	Name: "ripening_days",
	Card: formula.Card{
		Family: "crop",
		Says:   "Days from open flower to ripe fruit when the air stays the same.",
		Gives:  "d, for each cell of air",
		Valid:  ripeningValid + " At 12 degC and below fruit never ripen: an error.",
		Source: ripeningSource,
		Table:  ripeningTable,
		Example: formula.Example{
			Lines: []string{"air : 18 degC", "to_ripe = ripening_days(air) -> d"},
			Ask:   "to_ripe", Want: []float64{65},
		},
	},
	Params: []formula.Param{{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Measured: ripeningMeasured}, daysFactorParam},
	Kernel: &formula.Kernel{
		Name:    "ripening days",
		Results: []formula.Result{{Unit: "d"}},
		Run: func(c *formula.Call) {
			air, factor := c.In[0][0], c.In[1][0]
			if gap, found := missing(air, factor); found {
				skip(c, gap)
				return
			}
			gain := crop.StageGain(air)
			switch {
			case factor < leastDaysFactor:
				c.Refuse(tooQuick)
			case gain <= 0:
				c.Refuse("in air of 12 °C and below, fruit never ripen")
			default:
				c.Out[0][0] = factor / gain
			}
		},
	},
}

var ripeOn = formula.Function{
	Name: "ripe_on",
	Card: formula.Card{
		Family: "crop",
		Says:   "The day on which a fruit that flowered on a date is ripe, through the air of the weeks between: with first_flower, the first pick.",
		Gives:  "a date, to the nearest day",
		Valid:  ripeningValid + " Outside the book's weeks the air of the nearest week holds. Blank when the air is not known from the flower on; air that stays too cold for ever is an error.",
		Source: ripeningSource,
		Table:  ripeningTable,
		Example: formula.Example{
			Lines: []string{"air : 18 degC", "flowered : 2026-12-01", "to_pick = ripe_on(flowered, air) - flowered -> d"},
			Ask:   "to_pick", Want: []float64{65},
		},
	},
	Params: []formula.Param{
		{Name: "flowered", Says: "date of the open flower", Takes: formula.Dates},
		{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}, Measured: ripeningMeasured},
		daysFactorParam,
	},
	Kernel: &formula.Kernel{
		Name:    "ripe on",
		Results: []formula.Result{{Takes: formula.Dates}},
		Run: func(c *formula.Call) {
			flowered, air, factor := c.In[0][0], c.In[1], c.In[2][0]
			if gap, found := missing(flowered, factor); found {
				skip(c, gap)
				return
			}
			if factor < leastDaysFactor {
				c.Refuse(tooQuick)
				return
			}
			start := flowered - float64(c.Season.At(0).Monday())
			from, to := knownFrom(air, start)
			if from == to {
				c.Out[0][0] = air[from]
				return
			}
			gain := c.Scratch(to - from)
			for i := range gain {
				gain[i] = crop.StageGain(air[from+i]) / factor
			}
			first := crop.WeekDays * float64(from)
			at, ok := crop.Reached(gain, crop.WeekDays, start-first, 1)
			switch {
			case to < len(air) && (!ok || first+at > crop.WeekDays*float64(to)):
				c.Out[0][0] = air[to]
			case !ok:
				c.Refuse("the air stays too cold for the fruit to ripen")
			default:
				c.Out[0][0] = dateOf(c.Season, first+at)
			}
		},
	},
}

var daysFactor = formula.Function{
	Name: "days_factor",
	Card: formula.Card{
		Family: "crop",
		Says:   "What the days from flower to ripe fruit are multiplied by for a truss picked whole, when its last fruit is ripe: large and cluster 1.2, cherry 1. Fruit picked loose take 1, with a spread of about 12 days.",
		Gives:  "a plain number",
		Valid:  "Large counted as 1.22 on 49 trusses, cherry as 0.99 on 116; cluster is assumed as large.",
		Source: "own fit to an open crop record, four types of tomato, the Netherlands, 2019, against Adams, Cockshull & Cave 2001",
		Table:  daysFactorTable,
		Example: formula.Example{
			Lines: []string{"grown : large", "factor = days_factor(grown) -> 1"},
			Ask:   "factor", Want: []float64{1.2},
		},
	},
	Params: []formula.Param{tomatoKind},
	Kernel: &formula.Kernel{
		Name:    "days factor",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if k, ok := tomatoKindOf(c, 0); ok {
				c.Out[0][0] = crop.DaysFactor(k)
			}
		},
	},
}
