package house

import "wintertruss/engine/fact"

const lampRecord = "Hemming et al. 2020, data set of the second autonomous greenhouse challenge (doi 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7)"

// Light that lamps give for the power they take.
var (
	SodiumLight = fact.New(fact.Fact{Name: "light of sodium lamps, for the power they take", Value: 4.4, Unit: "mol/kWh", Low: 3.6, High: 6.1,
		Source: lampRecord, Place: "its description: 81 W/m2 give 100 umol/m2/s, so 4.4 mol/kWh; all lamps on 136 W/m2 give 197, 5.2", Known: fact.Read})
	DiodeLight = fact.New(fact.Fact{Name: "light of diode lamps, for the power they take", Value: 9, Unit: "mol/kWh", Low: 7, High: 12,
		Source: "makers' sheets", Known: fact.Memory})
)

// LampLight gives the daily light sum that lamps add at the plants, mol/m2/d: power
// over the floor (W/m2) x hours a day x light of the lamp (mol/kWh) x the share of it
// that falls on the crop.
func LampLight(power, hours, light, share float64) float64 {
	const watts = 1000 // in a kilowatt
	return power * hours / watts * light * share
}

// LampEnergy gives what they take in a day, kWh/m2. All of it but what leaves as
// light through the cover warms the house.
func LampEnergy(power, hours float64) float64 {
	const watts = 1000
	return power * hours / watts
}
