package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// lampFunctions tell what light lamps add.
func lampFunctions() []formula.Function { return []formula.Function{lampLight} }

var lampLight = formula.Function{
	Name: "lamp_light",
	Card: formula.Card{
		Family: sunAndAir,
		Says: "The daily light sum that lamps add at the plants: power over the floor x hours x light of the lamp x the share that falls on the crop. Add it to inside_light, and the crop has it; power x hours is the bill; what they warm goes to house_heat and house_air as lamp_power and lit. " +
			"Caution: electricity near water; wiring is for licensed people, under local codes.",
		Gives:  "mol/m2/d, for each cell of its arguments",
		Valid:  "Sodium lamps: 4.4 mol/kWh (81 W/m2 gave 100 umol/m2/s) to 5.2; diode lamps about 9 (7 to 12, from memory: the maker's sheet rules). Nearly all the power ends as heat in the house. No hours above 24, no share outside 0 to 100 %.",
		Source: "Hemming et al. 2020, data set of the second autonomous greenhouse challenge, description; diode lamps from memory",
		Example: formula.Example{
			Lines: []string{"power : 81 W/m2", "lit : 16 h/d", "given : 4.4 mol/kWh", "added = lamp_light(power, lit, given) -> mol/m2/d"},
			Ask:   "added", Want: []float64{5.7024},
		},
		Table: &formula.Table{
			Title: "Sodium lamps over a house", Heads: []string{"lamps", "power, W/m2", "light, umol/m2/s"},
			Of: []string{"some of them lit", "all of them lit"}, Rows: [][]float64{{81, 100}, {136, 197}},
			Source: "Hemming et al. 2020, data set of the second autonomous greenhouse challenge, description",
		},
	},
	Params: []formula.Param{
		{Name: "power", Says: "power of the lamps over the floor", Unit: "W/m2"},
		{Name: "hours", Says: "hours a day that they burn", Unit: "h/d"},
		{Name: "light", Says: "light of the lamp for its power; left out, that of sodium lamps", Unit: "mol/kWh", Optional: true, Default: house.SodiumLight.Value,
			Measured: []formula.Measured{{Low: 3.6, High: 12, Outside: "it is used as given"}}},
		{Name: "share", Says: "share of it that falls on the crop; left out, all", Unit: "1", Optional: true, Default: 1},
	},
	Kernel: &formula.Kernel{
		Name:    "lamp light",
		Results: []formula.Result{{Unit: "mol/m2/d"}},
		Run: func(c *formula.Call) {
			if h, s := c.In[1][0], c.In[3][0]; c.In[0][0] < 0 || h < 0 || h > 24 || c.In[2][0] < 0 || s < 0 || s > 1 {
				c.Refuse("lamps burn 0 to 24 hours a day, a share lies between 0 and 100 %, and neither power nor light is below 0")
				return
			}
			cell(c, func(in [][]float64) float64 { return house.LampLight(in[0][0], in[1][0], in[2][0], in[3][0]) })
		},
	},
}
