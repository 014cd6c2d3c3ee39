package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
	"wintertruss/engine/week"
)

// pickingFunctions take ripe fruit to picked ones. picked, waiting and overripe
// share one kernel, as each week's pick leaves what the next one finds.
func pickingFunctions() []formula.Function {
	return []formula.Function{
		pickingFunction("picked", 0, "The fruit picked in each week: those that wait from the week before and those newly ripe, as far as there are hands for them.", 133),
		pickingFunction("waiting", 1, "The ripe fruit that hang on the plants at each week's end: missed at the pick and still good, and ripened after the week's last pick.", 30),
		pickingFunction("overripe", 2, "The fruit that go overripe in each week, missed at its pick. Ripe so far = picked + overripe + waiting.", 0),
		pickDayShare, unpickedDays, nextPick, leftAlive,
	}
}

var pickingKernel = &formula.Kernel{
	Name: "picking",
	Results: []formula.Result{
		{Unit: "like ripe", Whole: []string{"week"}},
		{Unit: "like ripe", Whole: []string{"week"}},
		{Unit: "like ripe", Whole: []string{"week"}},
	},
	Run: func(c *formula.Call) {
		ripe, share, keeps, unpicked := c.In[0], c.In[1], c.In[2][0], c.In[3][0]
		if gap, found := missing(keeps, unpicked); found {
			skip(c, gap)
			return
		}
		if keeps < 0 || keeps > 1 || unpicked < 0 || unpicked > crop.WeekDays {
			c.Refuse("what keeps to the next pick is a share from 0 to 100 %, and a week has 0 to 7 days after its last pick")
			return
		}
		// A season begins without a crop: weeks before the first known one have none.
		from := 0
		for from < len(ripe) && ripe[from] != ripe[from] {
			from++
		}
		for w := from; w < len(ripe); w++ {
			if share[w] < 0 || share[w] > 1 {
				c.Refuse("what there are hands for is a share from 0 to 100 %")
				return
			}
		}
		for _, out := range c.Out {
			copy(out[:from], ripe[:from])
		}
		cleared := -1
		if day := c.In[4][0]; day == day {
			if w, in := c.Season.Index(week.Day(day).Week()); in {
				cleared = w - from
			}
		}
		crop.Picking(c.Out[0][from:], c.Out[1][from:], c.Out[2][from:], ripe[from:], share[from:], keeps, unpicked, cleared)
	},
}

// pickingFunction gives one output of the kernel its name and card. Its example
// is worked by hand: 70 a week, 30 of them after Thursday; in the second week
// nobody picks, and a tenth of what is missed goes soft.
func pickingFunction(name string, output int, says string, want float64) formula.Function {
	return formula.Function{
		Name: name,
		Card: formula.Card{
			Family: "crop",
			Says:   says,
			Gives:  "as ripe, over week",
			Valid:  "Shares from 0 to 100 %. Before the first known week nothing waits; what follows a later blank is blank. Fruit ripened after the last pick are as good as new at the next.",
			Source: "definition: what is there, less what is taken; how long fruit keep on the plant is your own figure",
			Example: formula.Example{
				Lines: []string{
					"comes over week : 0 fruit; 70 fruit from 2026-W40; 0 fruit from 2026-W43",
					"hands over week : 100 %; 0 % from 2026-W41; 100 % from 2026-W42", "good_for_a_week : 90 %", `idle = unpicked_days("Mon Thu") -> d`,
					"third = at(" + name + `(comes, hands, good_for_a_week, idle), "2026-W42") -> fruit`,
				},
				Ask: "third", Want: []float64{want},
			},
		},
		Params: []formula.Param{
			{Name: "ripe", Says: "fruit, or their weight, that come ripe in each week", Whole: []string{"week"}},
			{Name: "share", Says: "share of the ripe fruit that there are hands to pick", Unit: "1", Whole: []string{"week"}, Optional: true, Default: 1},
			{Name: "keeps", Says: "share of the missed fruit that are still good at the next week's pick", Unit: "1", Optional: true, Default: 1},
			{Name: "unpicked", Says: "days of a week after its last pick, as unpicked_days gives them; none when left out", Unit: "d", Optional: true},
			{Name: "cleared", Says: "date on which the planting is cleared: its week is picked to the end; blank or left out, never", Takes: formula.Dates, Optional: true, Default: array.Blank},
		},
		Kernel: pickingKernel,
		Output: output,
	}
}

const pickDaysSays = `the days of the week with a pick, such as "Mon Thu"`

// weekdayOf gives the day of the week that a short name stands for, 0 for Monday.
func weekdayOf(name string) (day int, ok bool) {
	for day, known := range crop.Weekdays {
		if strings.EqualFold(name, known) {
			return day, true
		}
	}
	return 0, false
}

// pickDaysOf reads the days with a pick; where it cannot, it refuses the call and says no.
func pickDaysOf(c *formula.Call, text string) (days [crop.WeekDays]bool, ok bool) {
	for _, name := range strings.Fields(strings.ReplaceAll(text, ",", " ")) {
		day, known := weekdayOf(name)
		if !known {
			return days, stop(c, `"`+name+`" is no day of the week; they are `+strings.Join(crop.Weekdays[:], ", "))
		}
		days[day], ok = true, true
	}
	if !ok {
		c.Refuse("there is no day to pick on")
	}
	return days, ok
}

var pickDayShare = formula.Function{
	Name: "pick_day_share",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of a steady week's ripe fruit that one day's pick takes: the days since the pick before it, of seven. So a pick on Monday after one on Thursday takes four sevenths.",
		Gives:  "a share, 0 to 1; over the days of a week they add up to 1",
		Valid:  "Steady ripening, picks in the evening. On a day without a pick 0.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"a_week : 70 lb", `monday = a_week * pick_day_share("Mon Thu", "Mon") -> lb`, `thursday = a_week * pick_day_share("Mon Thu", "Thu") -> lb`, "ahead = monday - thursday -> lb"},
			Ask:   "ahead", Want: []float64{10},
		},
	},
	Params: []formula.Param{
		{Name: "pick_days", Says: pickDaysSays, Takes: formula.QuotedWords},
		{Name: "day", Says: `the day, such as "Mon"`, Takes: formula.QuotedWords},
	},
	Kernel: &formula.Kernel{
		Name:    "pick day share",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			days, ok := pickDaysOf(c, c.Text[0])
			if !ok {
				return
			}
			day, ok := weekdayOf(strings.TrimSpace(c.Text[1]))
			if !ok {
				c.Refuse(`"` + c.Text[1] + `" is no day of the week; they are ` + strings.Join(crop.Weekdays[:], ", "))
				return
			}
			c.Out[0][0] = crop.PickShare(days, day)
		},
	},
}

var unpickedDays = formula.Function{
	Name: "unpicked_days",
	Card: formula.Card{
		Family: "crop",
		Says:   "The days of a week that follow its last pick: what ripens in them waits for the next week.",
		Gives:  "d, 0 to 6",
		Valid:  "Weeks from Monday to Sunday; picks in the evening.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"a_day : 10 lb/d", `waits = a_day * unpicked_days("Mon Thu") -> lb`},
			Ask:   "waits", Want: []float64{30},
		},
	},
	Params: []formula.Param{{Name: "pick_days", Says: pickDaysSays, Takes: formula.QuotedWords}},
	Kernel: &formula.Kernel{
		Name:    "unpicked days",
		Results: []formula.Result{{Unit: "d"}},
		Run: func(c *formula.Call) {
			if days, ok := pickDaysOf(c, c.Text[0]); ok {
				c.Out[0][0] = crop.UnpickedDays(days)
			}
		},
	},
}

var leftAlive = formula.Function{
	Name: "left_alive",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of the plants set out that still stand at each week's end. A plant that dies takes its fruit with it: multiply the ripe fruit of a full planting by it, not its trusses.",
		Gives:  "a share, 0 to 1, over week",
		Valid:  "Shares from 0 to 100 % of the plants standing; 100 % when a planting is cleared. What follows a blank is blank.",
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"die over week : 0 %; 10 % from 2026-W40; 0 % from 2026-W42", `stand = at(left_alive(die), "2026-W50") -> %`},
			Ask:   "stand", Want: []float64{81},
		},
	},
	Params: []formula.Param{{Name: "dying", Says: "share of the standing plants that die in each week", Unit: "1", Whole: []string{"week"}}},
	Kernel: &formula.Kernel{
		Name:    "left alive",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			for _, x := range c.In[0] {
				if x < 0 || x > 1 {
					c.Refuse("what dies is a share from 0 to 100 % of the plants that stand")
					return
				}
			}
			crop.Alive(c.Out[0], c.In[0])
		},
	},
}

var nextPick = formula.Function{
	Name: "next_pick",
	Card: formula.Card{
		Family: "crop",
		Says:   "The first day with a pick on or after a date: a truss that is ripe waits for it.",
		Gives:  "a date",
		Valid:  "A pick takes what is ripe by its evening. On an open record of large tomatoes, picked whole about once a week (the Netherlands, 2019), the day of the pick came to 3.6 days in the mean from ripe_on, a week for the fruit of a truss and the next day with a pick; without the days of picking, 4.9.",
		Source: "definition; the fruit of a truss ripen within the same week: Growth rates of glasshouse tomato fruit in relation to final size, abstract",
		Example: formula.Example{
			Lines: []string{"ripe : 2027-03-10", `waits = next_pick(ripe, "Mon Thu") - ripe -> d // a Wednesday`},
			Ask:   "waits", Want: []float64{1},
		},
	},
	Params: []formula.Param{
		{Name: "ripe", Says: "date from which there is something to pick", Takes: formula.Dates},
		{Name: "pick_days", Says: pickDaysSays, Takes: formula.QuotedWords},
	},
	Kernel: &formula.Kernel{
		Name:    "next pick",
		Results: []formula.Result{{Takes: formula.Dates}},
		Run: func(c *formula.Call) {
			ripe := c.In[0][0]
			if gap, found := missing(ripe); found {
				skip(c, gap)
				return
			}
			days, ok := pickDaysOf(c, c.Text[1])
			if !ok {
				return
			}
			day := week.Day(math.Ceil(ripe - 1e-9))
			for !days[day.Weekday()-1] {
				day++
			}
			c.Out[0][0] = float64(day)
		},
	},
}
