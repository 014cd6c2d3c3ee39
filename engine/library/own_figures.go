package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

const ownTrial = "own trial on six tomato crops of open records: the Netherlands 2019 and 2020, Ohio 2024"

var stageBetween = formula.Function{
	Name: "stage_between",
	Card: formula.Card{
		Family: "crop",
		Says:   "The stage that a fruit gains from one date to another, by the measured points: 1 makes a ripe fruit. Of a marked truss, from its first flower to its pick, it is the factor on the days that truss took; the mean over your marked trusses, all_recorded(stage) / total(recorded_count(stage), week), is your own days_factor.",
		Gives:  "a plain number, for each pair of dates",
		Valid:  ripeningValid + " Outside the book's weeks the air of the nearest week holds. Blank when the air is not known between the dates. Below 0 when the second date comes first.",
		Source: ripeningSource,
		Table:  ripeningTable,
		Example: formula.Example{
			Lines: []string{"air : 18 degC", "flowered : 2026-12-01", "picked_on : 2027-02-17", "own = stage_between(flowered, picked_on, air) -> 1 // 78 days of 65"},
			Ask:   "own", Want: []float64{1.2},
		},
	},
	Params: []formula.Param{
		{Name: "from", Says: "date of the open flower", Takes: formula.Dates},
		{Name: "to", Says: "date of the pick", Takes: formula.Dates},
		{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}},
	},
	Kernel: &formula.Kernel{
		Name:    "stage between",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			from, to, air := c.In[0][0], c.In[1][0], c.In[2]
			if gap, found := missing(from, to); found {
				skip(c, gap)
				return
			}
			first := float64(c.Season.At(0).Monday())
			start, end := from-first, to-first
			lo, hi := min(start, end), max(start, end)
			gain := c.Scratch(len(air))
			for w, x := range air {
				if x == x {
					gain[w] = crop.StageGain(x)
					continue
				}
				// The days of this week, at the ends with those outside the book.
				begins, ends := crop.WeekDays*float64(w), crop.WeekDays*float64(w+1)
				if (w == 0 || hi > begins) && (w == len(air)-1 || lo < ends) && lo < hi {
					c.Out[0][0] = x
					return
				}
			}
			c.Out[0][0] = crop.StageBetween(gain, start, end)
		},
	},
}

// closedOnly gives a recorded series up to the last closed week: of the open week
// only the days so far are recorded.
func closedOnly(c *formula.Call, recorded []float64) []float64 {
	fact := c.Scratch(len(recorded))
	for w, x := range recorded {
		fact[w] = array.Blank
		if c.Standing.Closed(w) {
			fact[w] = x
		}
	}
	return fact
}

var pickedOfForecast = formula.Function{
	Name: "picked_of_forecast",
	Card: formula.Card{
		Family: "crop",
		Says:   "What the picks of the last five closed weeks were of the forecast for them, held to 100 % as if the forecast had come true for four weeks more. Multiply the forecast by it, and it starts from what was picked.",
		Gives:  "a share, over no week",
		Valid:  "Closed weeks count, the open one and those to come do not; of closed weeks those that are blank are passed over. The first week of picks is left out, as picking has not got going; 100 % until there are others. On three lit winter crops of cherry, told by fruit_grown, the weight still to be picked came to 7 to 10 % in the mean; without a record of light on large tomatoes to 12 %, on an autumn crop to 21 %.",
		Source: "definition; the weeks: " + ownTrial,
		Table:  ownTrialTable,
		Example: formula.Example{
			Lines: []string{"told : 100 lb", "seen_so_far over week : 0 lb; 60 lb from 2026-W40; 127 lb from 2026-W41",
				"share = picked_of_forecast(seen_so_far, told) -> % // (5 x 127 + 4 x 100) / (9 x 100)"},
			Ask: "share", Want: []float64{115},
		},
	},
	Params: []formula.Param{
		{Name: "picked", Says: "what was picked in each week; blank where not known", Whole: []string{"week"}},
		{Name: "forecast", Says: "what was forecast for each week, without this share", Unit: "like picked", Whole: []string{"week"}},
		{Name: "held", Says: "weeks that the forecast counts for beside the picks", Unit: "week", Optional: true, Default: crop.ForecastHeld.Value},
	},
	Kernel: &formula.Kernel{
		Name:    "picked of forecast",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			held := c.In[2][0]
			if gap, found := missing(held); found {
				skip(c, gap)
				return
			}
			if held < 0 {
				c.Refuse("the weeks that the forecast counts for cannot be less than 0")
				return
			}
			c.Out[0][0] = crop.PickedOfForecast(closedOnly(c, c.In[0]), c.In[1], held)
		},
	},
}
