package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// Outputs of followTank.
const (
	tankDeliveries = iota
	tankBrought
	tankLeft
)

// tankFunctions gives the names for what a fuel dealer brings. They share one walk
// through the season.
func tankFunctions() []formula.Function {
	week := []string{"week"}
	kernel := &formula.Kernel{
		Name:    "fuel tank",
		Results: []formula.Result{{Unit: "1", Whole: week}, {Unit: "like used", Whole: week}, {Unit: "like used", Whole: week}},
		Run:     followTank,
	}
	params := []formula.Param{
		{Name: "used", Says: "fuel used in each week", Whole: week},
		{Name: "holds", Says: "what the tank may be filled with", Unit: "like used"},
		{Name: "refill_at", Says: "what is left when the dealer comes", Unit: "like used"},
		{Name: "start", Says: "what lies in it when the season begins; left out: as much as it may hold", Unit: "like used", Optional: true, Default: -1},
	}
	example := func(call, unit string, want float64) formula.Example {
		return formula.Example{Lines: []string{
			"burned over week : 300 gal; 1700 gal from 2026-W35", "may_hold : 800 gal", "dealer_at : 250 gal", "began_with : 800 gal",
			`shown = at(` + call + `(burned, may_hold, dealer_at, began_with), "2026-W34") -> ` + unit,
			`by_then = at(running(tank_deliveries(burned, may_hold, dealer_at, began_with)), "2026-W35") -> 1`,
		}, Ask: "shown", Want: []float64{want}}
	}
	const valid = "The dealer comes each time the tank has fallen to refill_at and fills it; within a week fuel is used evenly. " +
		"A propane tank may be filled to about 80 % of its size (NFPA 58, from memory); the dealer's rule counts. refill_at lies from 0 to below holds, else refused; " +
		"what follows a blank is blank."
	return []formula.Function{{
		Name: "tank_deliveries",
		Card: formula.Card{Family: heatFamily, Says: "How often in each week the dealer fills the tank." + burnerCaution,
			Gives: "a plain number, over week", Valid: valid, Source: "definition", Example: example("tank_deliveries", "1", 1)},
		Params: params, Kernel: kernel, Output: tankDeliveries,
	}, {
		Name: "tank_filled",
		Card: formula.Card{Family: heatFamily, Says: "The fuel brought in each week: what falls due to the dealer. Start and all that is brought are what was used and what is left." + burnerCaution,
			Gives: "the unit of used, over week", Valid: valid, Source: "definition", Example: example("tank_filled", "gal", 550)},
		Params: params, Kernel: kernel, Output: tankBrought,
	}, {
		Name: "tank_left",
		Card: formula.Card{Family: heatFamily, Says: "The fuel in the tank at each week's end." + burnerCaution,
			Gives: "the unit of used, over week", Valid: valid, Source: "definition", Example: example("tank_left", "gal", 750)},
		Params: params, Kernel: kernel, Output: tankLeft,
	}}
}

func followTank(c *formula.Call) {
	used, tank, left := c.In[0], house.Tank{Holds: c.In[1][0], RefillAt: c.In[2][0]}, c.In[3][0]
	if gap, found := missing(tank.Holds, tank.RefillAt, left); found {
		skip(c, gap)
		return
	}
	if tank.RefillAt < 0 || tank.RefillAt >= tank.Holds {
		c.Refuse("the dealer comes when less is left than the tank holds, and no less than nothing")
		return
	}
	if left < 0 || left > tank.Holds {
		left = tank.Holds
	}
	for i, x := range used {
		if x != x { // from here on nothing is known
			for _, out := range c.Out {
				for j := range out[i:] {
					out[i+j] = x
				}
			}
			return
		}
		c.Out[tankDeliveries][i], c.Out[tankBrought][i], left = tank.Use(left, x)
		c.Out[tankLeft][i] = left
	}
}
