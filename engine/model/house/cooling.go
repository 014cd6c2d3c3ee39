package house

import (
	"math"

	"wintertruss/engine/fact"
)

// What holds warmth when the heater fails, and what melting takes.
var (
	WaterHolds = fact.New(fact.Fact{Name: "heat that water holds", Value: 4.186, Unit: "J/g/K", Low: 4.178, High: 4.218,
		Source: "the calorie of 15 degC, 4.1855 J, as in NIST Special Publication 811 (2008)", Place: "Appendix B.8", Known: fact.Quoted})
	IceMelts = fact.New(fact.Fact{Name: "heat that melts ice", Value: 333.6, Unit: "J/g", Low: 333.4, High: 334,
		Source: "ASHRAE Handbook of Fundamentals, properties of water; from memory", Place: "", Known: fact.Memory})
)

// AirHeld gives what the air of a house holds, J/K, for its room in m3.
func AirHeld(volume float64) float64 { return volume * airHoldsSI }

// WaterHeld gives what water holds, J/K, for its weight in kg.
func WaterHeld(weight float64) float64 { return weight * WaterHolds.Value * 1000 }

// HoursToFreezing gives how long a house takes to fall to freezing once its heater
// stops, h: warmth held H (J/K) that leaves with a loss L (W/K) decays as
//
//	t = H / L  ln( (inside - outside) / (0 - outside) )      degC
//
// by the law of cooling. It is a bound and no forecast: with the air alone it is the
// soonest; with the water of wet bags and fruit counted as if it gave its warmth up
// as fast as the air loses it, the latest that these explain. Ground, posts and the
// warmth that freezing water sets free put it off further, wind brings it nearer.
//
// 0 for a house that is at freezing already, infinite when it does not freeze
// outside. Loss above 0.
func HoursToFreezing(held, loss, inside, outside float64) float64 {
	switch {
	case inside <= 0:
		return 0
	case outside >= 0:
		return math.Inf(1)
	}
	return held / loss * math.Log((inside-outside)/-outside) / secondsInHour
}

// SnowHeat gives the heat that a heater must send into an empty house to melt snow
// off its cover, MJ: its weight in kg times what ice takes to melt, over the share of
// the heat that gets into it while the rest passes out. Snow is taken at freezing;
// colder snow takes half a per cent more for each degree. Share above 0.
func SnowHeat(weight, share float64) float64 {
	return weight * IceMelts.Value / 1000 / share
}
