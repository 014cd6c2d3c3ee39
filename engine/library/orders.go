package library

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// ordersFunctions turn what is needed by week into packs, and packs into days on
// which to order them.
func ordersFunctions() []formula.Function {
	return []formula.Function{packsFor, packsToBuy, orderedBy, lastOrderDay}
}

// wholePacks gives the packs that hold so many of a pack's content. A hair above a
// whole number is the rounding of a sum, and not a need for one more pack.
func wholePacks(packs float64) float64 { return math.Ceil(packs - 1e-9*math.Max(1, math.Abs(packs))) }

var packsFor = formula.Function{
	Name: "packs_for",
	Card: formula.Card{
		Family: weeksFamily,
		Says:   "Whole packs that hold what is needed: for what does not keep, such as wasps and mites, week by week.",
		Gives:  "a plain number, for each cell of need and pack",
		Valid:  "Need not below 0, pack above 0.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"needed : 1010 piece", "pack : 500 piece", "packs = packs_for(needed, pack)"},
			Ask:   "packs", Want: []float64{3},
		},
	},
	Params: []formula.Param{
		{Name: "need", Says: "what is needed"},
		{Name: "pack", Says: "what a pack holds", Unit: "like need"},
	},
	Kernel: &formula.Kernel{
		Name:    "packs for",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if c.In[0][0] < 0 || c.In[1][0] <= 0 {
				c.Refuse("what is needed is not below 0, and a pack holds more than 0")
				return
			}
			cell(c, func(in [][]float64) float64 { return wholePacks(in[0][0] / in[1][0]) })
		},
	},
}

var packsToBuy = formula.Function{
	Name: "packs_to_buy",
	Card: formula.Card{
		Family: weeksFamily,
		Says:   "Whole packs that must be there by each week. Of what keeps, an opened pack serves the weeks after it, so that a season buys at most one pack too many; of what does not, such as wasps and mites, each week takes whole packs of its own.",
		Gives:  "a plain number, over week",
		Valid:  "Need and what is at hand not below 0, pack above 0. A week whose need is blank needs nothing. Of what does not keep, nothing is at hand.",
		Source: "definition: the running need over the pack, rounded up, less what was bought before",
		Example: formula.Example{
			Lines: []string{"needed over week : 0 kg; 10 kg from 2026-W40; 0 kg from 2026-W43", "bag_of : 25 kg", "packs = total(packs_to_buy(needed, bag_of), week) // 30 kg: two"},
			Ask:   "packs", Want: []float64{2},
		},
	},
	Params: []formula.Param{
		{Name: "need", Says: "what is needed in each week", Whole: []string{"week"}},
		{Name: "pack", Says: "what a pack holds", Unit: "like need"},
		{Name: "at_hand", Says: "what there is when the season begins; left out, nothing", Unit: "like need", Optional: true},
		{Name: "keeps", Says: "whether it keeps from week to week; left out, yes", Takes: formula.Truths, Optional: true, Default: 1},
	},
	Kernel: &formula.Kernel{
		Name:    "packs to buy",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			need, pack, hand, keeps, out := c.In[0], c.In[1][0], c.In[2][0], c.In[3][0], c.Out[0]
			if gap, found := missing(pack, hand, keeps); found {
				skip(c, gap)
				return
			}
			if pack <= 0 || hand < 0 {
				c.Refuse("a pack holds more than 0, and what is at hand is not below 0")
				return
			}
			sum, bought := -hand, 0.0
			for w := range out {
				x := given(need[w], 0)
				if x < 0 {
					c.Refuse("what is needed is not below 0")
					return
				}
				if keeps == 0 {
					out[w] = wholePacks(x / pack)
					continue
				}
				sum += x
				out[w] = math.Max(0, wholePacks(sum/pack)-bought)
				bought += out[w]
			}
		},
	},
}

// leadParams are packs by the week in which they must be there, and the time from
// order to door.
var leadParams = []formula.Param{
	{Name: "packs", Says: "packs that must be there by each week's Monday", Unit: "1", Whole: []string{"week"}},
	{Name: "lead", Says: "days from the order to the door", Unit: "d"},
}

// orderDay is the last day to order what must be there on a week's Monday.
func orderDay(w week.Week, lead float64) week.Day { return w.Monday() - week.Day(math.Ceil(lead)) }

var orderedBy = formula.Function{
	Name: "ordered_by",
	Card: formula.Card{
		Family: weeksFamily,
		Says:   "Moves packs to the week in which they must be ordered at the latest, so that they are there on the Monday of the week they are needed in.",
		Gives:  "a plain number, over week",
		Valid:  "What should have been ordered before the season stands in its first week. Lead not below 0.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"packs over week : 0; 4 from 2026-W45; 0 from 2026-W46", "lead : 10 d", `order = at(ordered_by(packs, lead), "2026-W43") // Monday 2 November less ten days: Friday 23 October`},
			Ask:   "order", Want: []float64{4},
		},
	},
	Params: leadParams,
	Kernel: &formula.Kernel{
		Name:    "ordered by",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			lead := c.In[1][0]
			if !leadKnown(c, lead) {
				return
			}
			clear(c.Out[0])
			for w, x := range c.In[0] {
				if x == x {
					at, _ := c.Season.Index(orderDay(c.Season.At(w), lead).Week())
					c.Out[0][max(0, at)] += x
				}
			}
		},
	},
}

// leadKnown says whether a lead can be used; where not, the call has been settled.
func leadKnown(c *formula.Call, lead float64) bool {
	if lead != lead {
		return skip(c, lead)
	}
	if lead < 0 {
		return stop(c, "the days from order to door are not below 0")
	}
	return true
}

var lastOrderDay = formula.Function{
	Name: "last_order_day",
	Card: formula.Card{
		Family: weeksFamily,
		Says:   "The next last day to order: of the weeks to come in which packs must be there, the day on which the first must be ordered that can still be had in time.",
		Gives:  "a date; blank when nothing more is to be ordered",
		Valid:  "From the day the book stands at on. What should have been ordered before it is passed over: ask for it by telephone. Lead not below 0.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"packs over week : 0; 4 from 2027-W12; 0 from 2027-W13", "lead : 10 d", "today : 2027-03-10", "wait = last_order_day(packs, lead) - today -> d // Monday 22 March less ten days: Friday 12 March"},
			Ask:   "wait", Want: []float64{2},
		},
	},
	Params: leadParams,
	Kernel: &formula.Kernel{
		Name:    "last order day",
		Results: []formula.Result{{Takes: formula.Dates}},
		Run: func(c *formula.Call) {
			lead := c.In[1][0]
			if !leadKnown(c, lead) {
				return
			}
			c.Out[0][0] = array.Blank
			for w, x := range c.In[0] {
				if day := orderDay(c.Season.At(w), lead); x > 0 && day >= c.Standing.AsOf {
					c.Out[0][0] = float64(day)
					return
				}
			}
		},
	},
}
