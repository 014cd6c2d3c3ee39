package house

import "wintertruss/engine/fact"

const (
	bartokFuels = "J. W. Bartok 2013, Comparing fuel costs, University of Connecticut Integrated Pest Management"
	fuelTable   = "table of heat equivalents"
	agency      = "United States Energy Information Administration"
)

// What a unit of fuel holds. All are gross figures, water vapour counted, as
// efficiencies are stated in the United States; European tables count net.
var (
	HeatInPropane = fact.New(fact.Fact{Name: "heat in propane", Value: 91333, Unit: "BTU/gal", Low: 91333, High: 92500,
		Source: agency + " 2012; high end " + bartokFuels, Place: "table of approximate heat contents", Known: fact.Read})
	HeatInOil = fact.New(fact.Fact{Name: "heat in number 2 heating oil", Value: 138500, Unit: "BTU/gal", Low: 137381, High: 138690,
		Source: bartokFuels + "; range " + agency + " 2021 (low sulphur) and 2012", Place: fuelTable, Known: fact.Read})
	HeatInGas = fact.New(fact.Fact{Name: "heat in natural gas", Value: 100000, Unit: "BTU/therm", Low: 100000, High: 100000,
		Source: "definition of the therm", Place: "", Known: fact.Exact})
	HeatInGasVolume = fact.New(fact.Fact{Name: "heat in natural gas, by volume", Value: 1037, Unit: "BTU/ft3", Low: 1025, High: 1039,
		Source: agency + ", by year; the middle is assumed", Place: "table of approximate heat contents", Known: fact.Read})
	HeatInPellets = fact.New(fact.Fact{Name: "heat in wood pellets", Value: 8200, Unit: "BTU/lb", Low: 8000, High: 8200,
		Source: bartokFuels + "; low end alternativeheatingfuels.com 2010", Place: fuelTable, Known: fact.Read})
	HeatInHardwood = fact.New(fact.Fact{Name: "heat in a cord of dry hardwood", Value: 20e6, Unit: "BTU/cord", Low: 18e6, High: 22e6,
		Source: bartokFuels + "; the range is assumed", Place: fuelTable, Known: fact.Read})
	HeatInSoftwood = fact.New(fact.Fact{Name: "heat in a cord of dry softwood", Value: 12e6, Unit: "BTU/cord", Low: 11e6, High: 15e6,
		Source: bartokFuels + "; the range is assumed", Place: fuelTable, Known: fact.Read})
	HeatInElectricity = fact.New(fact.Fact{Name: "heat in electricity", Value: 3412, Unit: "BTU/kWh", Low: 3412, High: 3412.15,
		Source: bartokFuels, Place: fuelTable, Known: fact.Read})
)

// The share of the fuel's heat that reaches the house over a season. It lies
// below what the label says, which is measured at a steady full fire.
var (
	SeasonalPowerVented = fact.New(fact.Fact{Name: "seasonal share of a fan-vented heater", Value: 0.80, Unit: "1", Low: 0.75, High: 0.82,
		Source: "Manitoba Hydro, greenhouse heating; the range is assumed", Place: "induced draft heaters", Known: fact.Read})
	SeasonalGravityVented = fact.New(fact.Fact{Name: "seasonal share of a heater with a natural draft", Value: 0.60, Unit: "1", Low: 0.55, High: 0.65,
		Source: "Manitoba Hydro, greenhouse heating: a condensing heater uses 35 % less than one with a natural draft", Place: "condensing heaters", Known: fact.Read})
	SeasonalCondensing = fact.New(fact.Fact{Name: "seasonal share of a condensing heater", Value: 0.90, Unit: "1", Low: 0.88, High: 0.93,
		Source: "Manitoba Hydro, greenhouse heating; the range is assumed", Place: "condensing heaters", Known: fact.Read})
	SeasonalPellets = fact.New(fact.Fact{Name: "share of a pellet burner", Value: 0.80, Unit: "1", Low: 0.75, High: 0.85,
		Source: bartokFuels + "; the range is assumed", Place: fuelTable, Known: fact.Read})
	SeasonalCordwood = fact.New(fact.Fact{Name: "share of a cordwood burner", Value: 0.60, Unit: "1", Low: 0.50, High: 0.70,
		Source: bartokFuels + "; the range is assumed", Place: fuelTable, Known: fact.Read})
)

// FuelNeeded gives the fuel that delivers heat, in units of fuel: heat over
// (content of one unit x share that reaches the house). Heat and content are in
// the same unit of energy; content above 0, share above 0 and at most 1 for
// fuels that are burned.
//
// Caution: burning fuel makes carbon monoxide, which kills people, and
// ethylene, which injures tomatoes within a day (T. Dudek, Michigan State University
// Extension, Malfunctioning greenhouse unit heaters). Burners need a flue to the outside
// and fresh air to burn; the house needs an alarm; fitting and servicing are
// work for licensed people under local codes. A burner without a flue is no way
// to a better share.
func FuelNeeded(heat, content, share float64) float64 {
	return heat / (content * share)
}

// CostOfHeat gives money for one unit of delivered heat from the price of one
// unit of fuel, with content and share as for FuelNeeded.
func CostOfHeat(price, content, share float64) float64 {
	return price / (content * share)
}
