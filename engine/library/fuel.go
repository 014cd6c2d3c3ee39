package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

const (
	heatFamily = "heat"
	// burnerCaution stands on the card of everything that ends in a burner.
	burnerCaution = " Caution: burning fuel makes carbon monoxide, which kills people, and ethylene, which spoils tomatoes. " +
		"Burners need a flue to the outside, fresh air and a carbon monoxide alarm; fitting and servicing are for licensed people, under local codes."
	fuelValid = "heat_content above 0, gross as the United States state it; share above 0 to 100 %: the season's, which is below the label's " +
		"(about 60 % with a natural draft, 80 % fan-vented, 90 % condensing; Manitoba Hydro). Anything else is refused."
	fuelSource = "definition of efficiency; heat contents by fuel: J. W. Bartok 2013, Comparing fuel costs, University of Connecticut, and the United States Energy Information Administration"
)

// fuelFunctions gives the names that turn delivered heat into fuel to buy. For
// gas by the therm and for electricity plain division by the share says it all.
func fuelFunctions() []formula.Function {
	params := func(content string) []formula.Param {
		return []formula.Param{
			{Name: "heat", Says: "heat delivered to the house, as house_heat gives it", Unit: "MJ"},
			{Name: "heat_content", Says: "heat in one unit of the fuel", Unit: content},
			{Name: "share", Says: "share of the fuel's heat that reaches the house, over the season", Unit: "1"},
		}
	}
	return []formula.Function{{
		Name: "fuel_volume",
		Card: formula.Card{
			Family: heatFamily,
			Says:   "The fuel sold by volume (propane, oil, cordwood) that delivers heat." + burnerCaution,
			Gives:  "L over the axes of its arguments; gal or cord when asked for",
			Valid:  fuelValid,
			Source: fuelSource,
			Example: formula.Example{
				Lines: []string{"heat : 360500000 BTU", "propane_heat : 91333 BTU/gal", "heater_share : 80 %", "propane = fuel_volume(heat, propane_heat, heater_share) -> gal"},
				Ask:   "propane",
				Want:  []float64{4933.87},
			},
			Table: &formula.Table{
				Title: "Heat in a gallon, water vapour counted", Heads: []string{"fuel", "low, BTU/gal", "high, BTU/gal"},
				Of: []string{"propane", "number 2 heating oil"}, Rows: factRows(1, house.HeatInPropane, house.HeatInOil),
				Source: "J. W. Bartok 2013, Comparing fuel costs, University of Connecticut; United States Energy Information Administration 2012 and 2021",
			},
		},
		Params: params("MJ/L"),
		Kernel: fuelKernel("fuel by volume", "L"),
	}, {
		Name: "fuel_weight",
		Card: formula.Card{
			Family: heatFamily,
			Says:   "The fuel sold by weight (pellets, chips, coal) that delivers heat." + burnerCaution,
			Gives:  "kg over the axes of its arguments; lb or ton when asked for",
			Valid:  fuelValid,
			Source: fuelSource,
			Example: formula.Example{
				Lines: []string{"heat : 13120000 BTU", "pellet_heat : 8200 BTU/lb", "burner_share : 80 %", "pellets = fuel_weight(heat, pellet_heat, burner_share) -> ton // the table's 13.1 million BTU a ton"},
				Ask:   "pellets",
				Want:  []float64{1},
			},
			Table: &formula.Table{
				Title: "Heat in wood pellets, water vapour counted", Heads: []string{"fuel", "low, BTU/lb", "high, BTU/lb"},
				Of: []string{"pellets"}, Rows: factRows(1, house.HeatInPellets),
				Source: "J. W. Bartok 2013, Comparing fuel costs, University of Connecticut (8,200); alternativeheatingfuels.com 2010 (8,000)",
			},
		},
		Params: params("MJ/kg"),
		Kernel: fuelKernel("fuel by weight", "kg"),
	}}
}

func fuelKernel(name, unit string) *formula.Kernel {
	return &formula.Kernel{
		Name:    name,
		Results: []formula.Result{{Unit: unit}},
		Run: func(c *formula.Call) {
			heat, content, share := c.In[0][0], c.In[1][0], c.In[2][0]
			switch gap, found := missing(heat, content, share); {
			case found:
				skip(c, gap)
			case content <= 0:
				c.Refuse("the heat in one unit of fuel must be above 0")
			case share <= 0 || share > 1:
				c.Refuse("the share of the fuel's heat that reaches the house must be above 0 and at most 100 %")
			default:
				c.Out[0][0] = house.FuelNeeded(heat, content, share)
			}
		},
	}
}
