package library

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// coolingFunctions gives the name for how soon a house freezes when its heat fails.
func coolingFunctions(list formula.Param, columns []formula.Column) []formula.Function {
	return []formula.Function{{
		Name: "hours_to_freezing",
		Card: formula.Card{
			Family: heatFamily,
			Says: "How long a house takes to fall to freezing when its heater stops: by the air alone, or with the water of bags and fruit as well. " +
				"The two are a range: it comes no sooner than the first says, and ground and posts may put it off beyond the second. " +
				"Fit an alarm that wakes you, and have the second heat ready before it is needed." + formReads + lossReads +
				" Also screen_saves, as the screen is closed by night." + burnerCaution,
			Gives: "h over the list and the axes of its arguments; write -> h mean, for hours would otherwise add up over weeks",
			Valid: "0 when it is freezing inside already; blank when it does not freeze outside. Water counts as if it gave its warmth up as fast as the air loses it. " +
				"Left out: the ground, the frame, the warmth of freezing water (later); wind (sooner). Water below 0 is refused.",
			Source: "Newton's law of cooling; air: ASHRAE Handbook of Fundamentals, standard air; water: NIST SP 811",
			Example: formula.Example{
				Book: climateBook(exampleHouses, "kept : 62 degF", "night_out : 0 degF", "wet : 4000 lb",
					`soonest = only(hours_to_freezing(house, kept, night_out), "long") -> min mean // 33,929 ft3 x 0.018 of 4,272 BTU/h/degF, times ln(62/32)`,
					`latest = only(hours_to_freezing(house, kept, night_out, wet), "long") -> min mean`),
				Ask: "latest", Want: []float64{42.8208},
			},
		},
		Params: []formula.Param{list,
			{Name: "inside", Says: "the air inside when the heater stops", Unit: "degC"},
			{Name: "outside", Says: "the air outside, that night", Unit: "degC"},
			{Name: "water", Says: "the weight of water in bags and fruit; left out: the air alone", Unit: "kg", Optional: true},
		},
		Kernel: &formula.Kernel{
			Name: "cooling", Columns: columns[:columnScreenSaves+1],
			Results: []formula.Result{{Unit: "h"}},
			Run:     runCooling,
		},
	}, {
		Name: "snow_heat",
		Card: formula.Card{
			Family: heatFamily,
			Says:   "The heat to send into an empty house so that snow melts off its cover: what it costs to leave a house cold, beside draining it." + burnerCaution,
			Gives:  "MJ over the axes of its arguments; BTU when asked for",
			Valid:  "Snow at freezing; a pound over a square foot is a fifth of an inch of water. The share that gets into the snow is above 0, to 100 %, else refused: about half is a guess. Snow that lies too long breaks hoops: what they carry stands in the maker's papers.",
			Source: "heat of melting: ASHRAE Handbook of Fundamentals (from memory)",
			Example: formula.Example{
				Lines: []string{"floor : 2880 ft2", "lies : 1 lb/ft2", "gets_in : 50 %", "melting = snow_heat(floor * lies, gets_in) -> BTU // 2,880 lb x 143.4 / 0.5"},
				Ask:   "melting", Want: []float64{826112},
			},
		},
		Params: []formula.Param{
			{Name: "snow", Says: "the weight of snow to melt", Unit: "kg"},
			{Name: "share", Says: "share of the heat that gets into the snow", Unit: "1"},
		},
		Kernel: &formula.Kernel{Name: "snow", Results: []formula.Result{{Unit: "MJ"}}, Run: func(c *formula.Call) {
			snow, share := c.In[0][0], c.In[1][0]
			switch gap, found := missing(snow, share); {
			case found:
				skip(c, gap)
			case snow < 0 || share <= 0 || share > 1:
				c.Refuse("snow is not below 0, and the share of the heat that gets into it lies above 0 and to 100 %")
			default:
				c.Out[0][0] = house.SnowHeat(snow, share)
			}
		}},
	}}
}

func runCooling(c *formula.Call) {
	form, cover, air, ok := readLoss(c)
	if !ok {
		return
	}
	// The list's parameter stands first and holds nothing.
	inside, outside, water, saves := c.In[1][0], c.In[2][0], c.In[3][0], given(c.Columns[columnScreenSaves][0], 0)
	if gap, found := missing(inside, outside, water, saves); found {
		skip(c, gap)
		return
	}
	if saves < 0 || saves > 1 || water < 0 {
		c.Refuse("screen_saves lies between 0 and 100 %, and the weight of water is not below 0")
		return
	}
	held := house.AirHeld(form.Volume) + house.WaterHeld(water)
	hours := house.HoursToFreezing(held, cover*(1-saves)+air, inside, outside)
	if math.IsInf(hours, 1) {
		hours = array.Blank
	}
	c.Out[0][0] = hours
}
