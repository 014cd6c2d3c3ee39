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

// LampsWarm is the share of a lamp's power that warms the air.
var LampsWarm = fact.New(fact.Fact{Name: "share of the power of lamps that warms the air of a house", Value: 0.8, Unit: "1", Low: 0.6, High: 1,
	Source: "own choice: nearly all the power of lamps over a crop ends as heat in the house (common practice); of what they radiate on leaves, about 0.4 of it, half turns to vapour as the sun's does",
	Known:  fact.Assumed})

// LampLight gives the daily light sum that lamps add at the plants, mol/m2/d: power
// over the floor (W/m2) x hours a day x light of the lamp (mol/kWh) x the share of it
// that falls on the crop.
func LampLight(power, hours, light, share float64) float64 {
	const watts = 1000 // in a kilowatt
	return power * hours / watts * light * share
}

// LampEnergy gives what they take in a day, kWh/m2; LampsWarm of it warms the air.
func LampEnergy(power, hours float64) float64 {
	const watts = 1000
	return power * hours / watts
}

// litHours gives, for the hours counted from noon either way, the share of each in
// which lamps burn that burn for so many hours a day. They lengthen the day at both
// ends: first the dark hours next to sunrise and sunset, outwards to midnight; hours
// beyond the night's burn in daylight, next to its ends.
func litHours(dayLength, burn float64) (lit [hoursInDay / 2]float64) {
	const half = hoursInDay / 2
	until := min(half, (max(0, dayLength)+burn)/2)
	from := until - min(half, burn/2)
	for k := range lit {
		lit[k] = max(0, min(until, float64(k+1))-max(from, float64(k)))
	}
	return lit
}
