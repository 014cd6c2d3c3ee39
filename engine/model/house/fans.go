package house

import (
	"math"

	"wintertruss/engine/fact"
)

const fanArticle = "Greenhouse Management (greenhousemag.com), on fans and electricity"

// The air that fans move.
var (
	CirculationOverFloor = fact.New(fact.Fact{Name: "air that circulation fans move, for each floor area", Value: 2, Unit: "ft3/min/ft2", Low: 2, High: 3,
		Source: fanArticle + "; the high end is assumed", Place: "sizing of circulation fans", Known: fact.Read})
	AirForPower = fact.New(fact.Fact{Name: "air a fan moves for its power", Value: 15, Unit: "ft3/min/W", Low: 8, High: 25,
		Source: fanArticle + "; the middle is assumed", Place: "fan efficiency", Known: fact.Read})
)

// FansNeeded gives how many fans move the air that a floor asks for: floor x
// air for each floor area / air of one fan, rounded up. Any units that cancel;
// the air of one fan above 0.
func FansNeeded(floor, airOverFloor, airEach float64) float64 {
	exact := floor * airOverFloor / airEach
	// A hair above a whole number is the rounding of a conversion, not a need
	// for one more fan.
	return math.Ceil(exact - 1e-9*max(1, exact))
}
