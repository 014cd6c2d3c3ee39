package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// gradingFunctions tell what of the picked weight is first grade.
func gradingFunctions() []formula.Function {
	return []formula.Function{soundShare, rotten, tooSmall, dryMatter}
}

// shareCell makes a kernel's Run of a function of shares: what lies outside 0 to
// 100 % is refused.
func shareCell(f func(in [][]float64) float64) func(c *formula.Call) {
	return func(c *formula.Call) {
		for _, argument := range c.In {
			if argument[0] < 0 || argument[0] > 1 {
				c.Refuse("a share of the fruit lies between 0 and 100 %")
				return
			}
		}
		cell(c, f)
	}
}

var soundShare = formula.Function{
	Name: "sound_share",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of the picked weight that is first grade, when cracked, rotten and too small fruit fall on each other by chance: (1 - cracked) x (1 - rotten) x (1 - small).",
		Gives:  "a share, 0 to 1",
		Valid:  "Shares of the weight. Out as cracked, for a start: cherry 14 % of the weight through a late summer and autumn, up to 28 % in a week (Ohio 2024); large tomatoes up to 35 % without shade, about 25 % under it, in summer (Gent 2007); cherry in a lit winter house 0 to 4 % second class (the Netherlands 2020). Your own grading is better.",
		Source: "definition; figures: Gent 2007, HortScience 42:514-520, abstract; open crop records, Ohio 2024; Hemming et al. 2020, data set of the second autonomous greenhouse challenge",
		Table:  lostTable,
		Example: formula.Example{
			Lines: []string{"cracked : 14 %", "rot : 5 %", "small : 10 %", "first_grade = sound_share(cracked, rot, small) -> %"},
			Ask:   "first_grade", Want: []float64{73.53},
		},
	},
	Params: []formula.Param{
		{Name: "cracked", Says: "share of the weight that is cracked", Unit: "1"},
		{Name: "rotten", Says: "share with blossom-end rot", Unit: "1", Optional: true},
		{Name: "small", Says: "share too small to sell", Unit: "1", Optional: true},
	},
	Kernel: &formula.Kernel{
		Name:    "sound share",
		Results: []formula.Result{{Unit: "1"}},
		Run:     shareCell(func(in [][]float64) float64 { return crop.Sound(in[0][0], in[1][0], in[2][0]) }),
	},
}

var rotten = formula.Function{
	Name: "rotten",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of fruit with blossom-end rot: the usual one, and what bags that run dry between waterings add, up to 15 % of the rest when they do so every day.",
		Gives:  "a share, 0 to 1",
		Valid:  "That rarer waterings make more rot at the same water was measured; the 15 % (5 to 35) are assumed, as no figure was found in print. Put your own count in its place as soon as you have one.",
		Source: "Pires et al. 2011, Scientia Agricola, abstract: one watering a day gave most blossom-end rot; the size of it is assumed",
		Example: formula.Example{
			Lines: []string{"usual : 2 %", "dry_days : 50 %", "rot = rotten(usual, dry_days) -> %"},
			Ask:   "rot", Want: []float64{9.35},
		},
	},
	Params: []formula.Param{
		{Name: "usual", Says: "share with rot when the bags stay moist", Unit: "1"},
		{Name: "dry", Says: "share of days on which the bags run dry", Unit: "1"},
	},
	Kernel: &formula.Kernel{
		Name:    "rotten",
		Results: []formula.Result{{Unit: "1"}},
		Run:     shareCell(func(in [][]float64) float64 { return crop.Rotten(in[0][0], in[1][0]) }),
	},
}

var tooSmall = formula.Function{
	Name: "too_small",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of the weight that lies in fruit lighter than the least you sell, when fruit spread about their mean normally. In dark weeks, as fruit get lighter, more fall below it.",
		Gives:  "a share of the weight, 0 to 1",
		Valid:  "A mean above 0. The spread between fruit, 25 % of their mean (15 to 35), is assumed: weigh forty fruit of a pick one by one to have your own.",
		Source: "definition: the partial mean of the normal distribution; its tables: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1",
		Example: formula.Example{
			Lines: []string{"mean_fruit : 100 g/fruit", "least_sold : 75 g/fruit", "small = too_small(mean_fruit, least_sold) -> % // 0.15866 - 0.25 x 0.24197 by the tables"},
			Ask:   "small", Want: []float64{9.81625724},
		},
	},
	Params: []formula.Param{
		{Name: "mean", Says: "what a fruit weighs on average", Unit: "g/fruit"},
		{Name: "least", Says: "the lightest that you sell as first grade", Unit: "g/fruit"},
		{Name: "spread", Says: "deviation between fruit, against their mean", Unit: "1", Optional: true, Default: crop.FruitSpread.Value},
	},
	Kernel: &formula.Kernel{
		Name:    "too small",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if c.In[0][0] <= 0 || c.In[2][0] < 0 {
				c.Refuse("the mean weight of a fruit is above 0, and their spread not below it")
				return
			}
			cell(c, func(in [][]float64) float64 { return crop.TooSmall(in[0][0], in[1][0], in[2][0]) })
		},
	},
}

var dryMatter = formula.Function{
	Name: "dry_matter",
	Card: formula.Card{
		Family: "crop",
		Says:   "The dry share of the fruit of a type, for light_ceiling: cherry 9 %, round 5.5 %.",
		Gives:  "a share, 0 to 1",
		Valid:  "Cherry 8.1 to 9.6 %, measured. Round 5 to 6 %, from memory: have it checked before you rely on it.",
		Source: "Hemming et al. 2020, data set of the second autonomous greenhouse challenge (cherry); round from memory",
		Example: formula.Example{
			Lines: []string{"grown : cherry", "dry = dry_matter(grown) -> %"},
			Ask:   "dry", Want: []float64{9},
		},
	},
	Params: []formula.Param{tomatoKind},
	Kernel: &formula.Kernel{
		Name:    "dry matter",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if k, ok := tomatoKindOf(c, 0); ok {
				c.Out[0][0] = crop.DryMatter(k)
			}
		},
	},
}
