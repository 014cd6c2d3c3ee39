package library

import (
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/protect"
)

// protectionFunctions tell of cards, releases and, in sprays.go, the days after a spray.
func protectionFunctions() []formula.Function {
	return append([]formula.Function{cardsNeeded, timesDue, laysAt, holdsOn}, sprayFunctions()...)
}

const adviser = " Thresholds and rates are starting points: ask your adviser and your supplier."

var cardsNeeded = formula.Function{
	Name: "cards_needed",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "Sticky cards to hang for a pest on a floor: one for 10,000 square feet for thrips, one for 1,000 for whitefly, rounded up, so at least one. Read and changed weekly, by vents and doors, the bottom at the height of the tips.",
		Gives:  "card, whole ones, over the axes of both",
		Valid:  "Pests: " + strings.Join(protect.CardPests[:], ", ") + "; one card serves both. Aphids seldom fly to cards: look at leaves. Cards catch whitefly wasps too." + adviser,
		Source: "Ohio State University Extension, HYG-1033-98",
		Example: formula.Example{
			Lines: []string{"floor : 2880 ft2", "pest : whitefly", "hung = cards_needed(pest, floor) -> card"},
			Ask:   "hung", Want: []float64{3},
		},
		Table: &formula.Table{
			Title: "Floor for each card", Heads: []string{"pest", "floor, ft2"}, Of: protect.CardPests[:], Rows: [][]float64{{10000}, {1000}},
			Source: "Ohio State University Extension, HYG-1033-98",
		},
	},
	Params: []formula.Param{
		{Name: "pest", Says: "the pest's kind", Takes: formula.Words},
		{Name: "floor", Says: "floor of the house", Unit: "m2"},
	},
	Kernel: &formula.Kernel{
		Name:    "cards needed",
		Results: []formula.Result{{Unit: "card"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0], c.In[1][0]); found {
				skip(c, gap)
				return
			}
			n, known := protect.Cards(c.Word(c.In[0][0]), c.In[1][0])
			switch {
			case !known:
				c.Refuse("cards are known for " + strings.Join(protect.CardPests[:], " and "))
			case c.In[1][0] < 0:
				c.Refuse("a floor cannot be less than 0")
			default:
				c.Out[0][0] = n
			}
		},
	},
}

var timesDue = formula.Function{
	Name: "times_due",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "How many times something falls due in each week that is done on a first day and then every so many days, before a last day: wasps to set free every second week from a week after setting out, a fresh hive every six. In step with another day, the first is the first of that day's rhythm which is not before it.",
		Gives:  "a plain number, over week",
		Valid:  "Every so many days above 0; longer than the season, it is done once. Never when the last day is not after the first. Blank when a day is.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"set_out : 2026-11-02", "cleared : 2027-06-27", "every : 14 d", `visits = total(times_due(set_out + measure("7 d"), every, cleared), week)`},
			Ask:   "visits", Want: []float64{17},
		},
	},
	Params: []formula.Param{
		{Name: "first", Says: "day on which it is done first", Takes: formula.Dates},
		{Name: "every", Says: "days from one to the next", Unit: "d"},
		{Name: "last", Says: "day before which it is done last", Takes: formula.Dates},
		{Name: "in_step_with", Says: "a day that it is done in step with, such as that of a delivery; left out, the first", Takes: formula.Dates, Optional: true, Default: array.Blank},
	},
	Kernel: &formula.Kernel{
		Name:    "times due",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			first, every, last := c.In[0][0], c.In[1][0], c.In[2][0]
			if gap, found := missing(first, every, last); found {
				skip(c, gap)
				return
			}
			if every <= 0 {
				c.Refuse("the days from one to the next are above 0")
				return
			}
			first = protect.InStep(first, every, given(c.In[3][0], first))
			monday := float64(c.Season.At(0).Monday())
			for w := range c.Out[0] {
				c.Out[0][w] = protect.TimesDue(monday+float64(7*w), first, every, last)
			}
		},
	},
}

var agentWords = strings.Join(protect.Agents(), ", ")

var unknownAgent = "an agent's kind is not known; those known are " + agentWords

// agentOf reads the agent given as argument 0; false where the call has been settled.
func agentOf(c *formula.Call) (protect.Agent, bool) {
	if gap, found := missing(c.In[0][0], c.In[1][0]); found {
		return 0, skip(c, gap)
	}
	a, known := protect.AgentOf(c.Word(c.In[0][0]))
	if !known {
		return 0, stop(c, unknownAgent)
	}
	return a, true
}

// yes is 1 as kernels give truths.
func yes(x bool) float64 {
	if x {
		return 1
	}
	return 0
}

var agentParam = formula.Param{Name: "agent", Says: "the agent's kind", Takes: formula.Words}

var laysAt = formula.Function{
	Name: "lays_at",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "Whether an agent still lays, or works, at a night temperature: Amblyseius cucumeris lays no more at nights of 12 degC or under, soil mites (Stratiolaelaps) do little below 15.",
		Gives:  "yes or no, over the axes of both",
		Valid:  "Of the other agents nothing is known here, and the answer is yes. Kinds: " + agentWords + "." + adviser,
		Source: "van Lenteren (ed.) 2003, Quality Control and Production of Biological Control Agents, chapter 11; supplier sheets, soundhorticulture.com and dragonfli.co.uk",
		Example: formula.Example{
			Lines: []string{"mites : cucumeris", "night over week : 11 degC; 16 degC from 2026-W40", "weeks = total(lays_at(mites, night), week) // 46 of 53"},
			Ask:   "weeks", Want: []float64{46},
		},
		Table: &formula.Table{
			Title: "Nights, or soil, below which they do little", Heads: []string{"agent", "night, degC"}, Of: []string{"cucumeris", "stratiolaelaps"}, Rows: [][]float64{{12}, {15}},
			Source: "van Lenteren (ed.) 2003, chapter 11; supplier sheets, soundhorticulture.com and dragonfli.co.uk",
		},
	},
	Params: []formula.Param{agentParam, {Name: "night", Says: "air at night", Unit: "degC"}},
	Kernel: &formula.Kernel{
		Name:    "lays at",
		Results: []formula.Result{{Takes: formula.Truths}},
		Run: func(c *formula.Call) {
			if a, ok := agentOf(c); ok {
				c.Out[0][0] = yes(a.LaysAt(c.In[1][0]))
			}
		},
	},
}

var holdsOn = formula.Function{
	Name: "holds_on",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "Whether an agent stays on a crop: mites that run along stems are caught by sticky hairs, as a tomato's, and few stay.",
		Gives:  "yes or no, over the axes of both",
		Valid:  "Kinds: " + agentWords + "." + adviser,
		Source: "common practice",
		Example: formula.Example{
			Lines: []string{"mites : cucumeris", "grown : tomato", `stays = holds_on(mites, is(grown, "tomato")) ? 1 : 0`},
			Ask:   "stays", Want: []float64{0},
		},
	},
	Params: []formula.Param{agentParam, {Name: "hairy", Says: "whether the crop's stems have sticky hairs", Takes: formula.Truths}},
	Kernel: &formula.Kernel{
		Name:    "holds on",
		Results: []formula.Result{{Takes: formula.Truths}},
		Run: func(c *formula.Call) {
			if a, ok := agentOf(c); ok {
				c.Out[0][0] = yes(a.HoldsOn(c.In[1][0] != 0))
			}
		},
	},
}
