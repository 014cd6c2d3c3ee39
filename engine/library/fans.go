package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// fanFunctions gives the names for the fans that keep a house's air moving.
func fanFunctions() []formula.Function {
	return []formula.Function{{
		Name: "fans_needed",
		Card: formula.Card{
			Family: heatFamily,
			Says: "How many fans move the air that a floor asks for, rounded up. " +
				"Caution: electricity near water; wiring is for licensed people, under local codes.",
			Gives:  "a plain number over the axes of its arguments",
			Valid:  "air of one fan above 0, else refused. Circulation fans are sized at about 2 ft3/min for each square foot.",
			Source: "Greenhouse Management (greenhousemag.com), on circulation: 30 x 100 ft at 2 cfm/ft2 takes four fans of 1,600 cfm",
			Example: formula.Example{
				Lines: []string{"floor : 3000 ft2", "stirred : 2 ft3/min/ft2", "one_fan : 1600 ft3/min", "fans = fans_needed(floor, stirred, one_fan)"},
				Ask:   "fans",
				Want:  []float64{4},
			},
		},
		Params: []formula.Param{
			{Name: "floor", Says: "floor of the house", Unit: "m2"},
			{Name: "air_over_floor", Says: "air to move for each floor area", Unit: "m/h"},
			{Name: "air_each", Says: "air that one fan moves", Unit: "m3/h"},
		},
		Kernel: &formula.Kernel{Name: "fans needed", Results: []formula.Result{{Unit: "1"}}, Run: runFansNeeded},
	}}
}

func runFansNeeded(c *formula.Call) {
	floor, over, each := c.In[0][0], c.In[1][0], c.In[2][0]
	switch gap, found := missing(floor, over, each); {
	case found:
		skip(c, gap)
	case each <= 0:
		c.Refuse("the air that one fan moves must be above 0")
	default:
		c.Out[0][0] = house.FansNeeded(floor, over, each)
	}
}
