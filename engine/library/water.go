package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
)

// waterFunctions tell how much a crop drinks, and how much should run out again.
func waterFunctions() []formula.Function {
	return []formula.Function{canopyShare, cropDrinks, drainShare}
}

const dripSource = "hortidaily.com, article 9239852, on watering tomatoes by light"

var canopyShare = formula.Function{
	Name: "canopy_share",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "How much of a full canopy's water a crop drinks by its age: 15 % when it is set out, on a straight line to all of it when it reaches the wire, eight weeks later.",
		Gives:  "a share, over week: the mean of the week's days on which the crop stands",
		Valid:  "0 before the crop is set out. After it is cleared it still says 100 %: multiply by the share of the week that the plants stand. Days to the wire above 0.",
		Source: "water use rises with the height of the crop: Lake 1966; the 15 % from memory, the eight weeks common practice",
		Example: formula.Example{
			Lines: []string{"set_out : 2026-11-02", `half_way = at(canopy_share(set_out), "2026-W49") -> % // day 28 to 35 of 56`},
			Ask:   "half_way", Want: []float64{62.8125},
		},
	},
	Params: []formula.Param{
		{Name: "set_out", Says: "day on which the plants were set out", Takes: formula.Dates},
		{Name: "to_wire", Says: "days from then to a full canopy", Unit: "d", Optional: true, Default: feed.DaysToFull(),
			Measured: []formula.Measured{{Low: 42, High: 84, Outside: "it is used as given"}}},
	},
	Kernel: &formula.Kernel{
		Name:    "canopy share",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			set, full := c.In[0][0], c.In[1][0]
			if gap, found := missing(set, full); found {
				skip(c, gap)
				return
			}
			if full <= 0 {
				c.Refuse("the days to a full canopy are above 0")
				return
			}
			first := float64(c.Season.At(0).Monday()) - set
			for w := range c.Out[0] {
				day := first + float64(7*w)
				c.Out[0][w] = feed.MeanCanopy(day, day+7, full)
			}
		},
	},
}

var cropDrinks = formula.Function{
	Name: "crop_drinks",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "What a crop drinks for each square metre of floor it stands on: sun outside x use x canopy. With drain, what is given out is drunk / (1 - drain).",
		Gives:  "L/m2/d, over week and the other axes of its arguments",
		Valid:  "A healthy, mature tomato crop drinks 1.7 mL for a joule on a square centimetre, 0.17 L/MJ, over a season within about a third; poor by the week, when heat and dry air pull too. An open record under lamps (cherry tomato, Netherlands 2020) shows 0.16 to 0.29. Your own drip trays are better.",
		Source: dripSource + "; an open crop record, Netherlands 2020",
		Example: formula.Example{
			Lines: []string{"sun : 10 MJ/m2/d", "canopy : 100 %", `drunk = at(crop_drinks(sun, canopy), "2027-W02") -> L/m2/d // days of 1,000 J/cm2`},
			Ask:   "drunk", Want: []float64{1.7},
		},
	},
	Params: []formula.Param{
		{Name: "sun", Says: "sun outside on a level surface", Unit: sunPerDay, Whole: []string{"week"}},
		{Name: "canopy", Says: "what the crop drinks of a full canopy's use", Unit: "1", Whole: []string{"week"}},
		{Name: "use", Says: "what a full canopy drinks for the sun; left out, the published figure", Unit: "L/MJ", Optional: true, Default: feed.UptakeOfSun(),
			Measured: []formula.Measured{{Low: 0.13, High: 0.29, Outside: "it is used as given"}}},
	},
	Kernel: &formula.Kernel{
		Name:    "crop drinks",
		Results: []formula.Result{{Unit: "L/m2/d", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			for w, sun := range c.In[0] {
				c.Out[0][w] = feed.Drinks(sun, c.In[1][w], c.In[2][0]) // blank in, blank out
			}
		},
	},
}

var drainShare = formula.Function{
	Name: "drain_share",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "How much of the feed given out should run off at the foot of the bag, so that salts do not gather there: more on bright days. 10 % on a day of 500 J/cm2, 20 % at 1,000, 30 % at 1,500, up to 40 %.",
		Gives:  "a share, 0 to 0.4, over week",
		Valid:  "The straight line through the edges of the published steps (below 500 J/cm2 0 to 10 %, to 1,000 10 to 20, to 1,500 20 to 30, above 30 to 40), so that a week's mean day says what its days would. Open systems; the conductivity of the drain is the better guide.",
		Source: dripSource,
		Table:  drainTable,
		Example: formula.Example{
			Lines: []string{"sun : 12.5 MJ/m2/d", `runs_off = at(drain_share(sun), "2027-W02") -> %`},
			Ask:   "runs_off", Want: []float64{25},
		},
	},
	Params: []formula.Param{{Name: "sun", Says: "sun outside on a level surface", Unit: sunPerDay, Whole: []string{"week"}}},
	Kernel: &formula.Kernel{
		Name:    "drain share",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			for w, sun := range c.In[0] {
				c.Out[0][w] = sun // blank in, blank out
				if sun == sun {
					c.Out[0][w] = feed.DrainShare(sun)
				}
			}
		},
	},
}
