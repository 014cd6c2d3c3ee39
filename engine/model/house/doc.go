// Package house computes the climate of a plastic-covered house: the sun above
// it, the air inside it, and the heat that keeps it.
//
// # Terms
//
//	sky light     radiation on a level surface above the air, MJ/m2/d
//	sun           radiation on a level surface outside the house, MJ/m2/d
//	set point     the air temperature below which the heater runs, degC
//	vent point    the air temperature above which the house is opened, degC
//	loss          heat that leaves for each degree inside is warmer than outside, W/K
//	day           the hours from sunrise to sunset; the other hours are night
//
// # Invariants
//
// There is one house. House.Day walks 24 hours and gives the air that the crop
// meets and the heat that the heater delivers from the same hours; nothing else
// computes either of them. In every hour
//
//	heat delivered + sun = loss x (air - outside) + heat let out by the vents
//
// with heat delivered and heat let out never both above nothing. A warmer set
// point or a greater loss never takes less heat; more sun never takes more.
//
// Functions are pure: numbers in, numbers out, SI inside (degC, W, MJ, m2, h).
// Figures that the world supplies are fact.Fact values and stand beside the
// function that uses them.
//
// # Entry points
//
// SkyLight and DayLength (sun.go); Air and DegreeHours (air.go); HalfCircle,
// Arch, Gable and Shape.Bays (shape.go); AirLoss (heat_loss.go); House.Day
// (hourly.go); InsideLight (light.go); FuelNeeded (fuel.go); Tank.Use (tank.go);
// HoursToFreezing (cooling.go).
package house
