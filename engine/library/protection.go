package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/protect"
)

// protectionFunctions tell of cards, releases and the days after a spray.
func protectionFunctions() []formula.Function {
	return []formula.Function{cardsNeeded, timesDue, laysAt, holdsOn, withinDays, firstWithin, lastWithin, clearOn, recordedBetween}
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
		Says:   "Whether an agent stays on a crop: mites that run along stems are caught by the sticky hairs of a tomato, and few stay on it.",
		Gives:  "yes or no, over the axes of both",
		Valid:  "The crop by its word: tomato is the one that matters. Kinds: " + agentWords + "." + adviser,
		Source: "common practice",
		Example: formula.Example{
			Lines: []string{"mites : cucumeris", "grown : tomato", "stays = holds_on(mites, grown) ? 1 : 0"},
			Ask:   "stays", Want: []float64{0},
		},
	},
	Params: []formula.Param{agentParam, {Name: "crop", Says: "the crop", Takes: formula.Words}},
	Kernel: &formula.Kernel{
		Name:    "holds on",
		Results: []formula.Result{{Takes: formula.Truths}},
		Run: func(c *formula.Call) {
			if a, ok := agentOf(c); ok {
				c.Out[0][0] = yes(a.HoldsOn(c.Word(c.In[1][0])))
			}
		},
	},
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
