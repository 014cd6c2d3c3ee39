package protect

import (
	"math"

	"wintertruss/engine/fact"
)

const ohioCards = "Ohio State University Extension, HYG-1033-98, Yellow sticky traps"

var (
	floorOfThripsCard = fact.New(fact.Fact{Name: "floor for each sticky card, for thrips", Value: 10000, Unit: "ft2", Low: 1000, High: 10000,
		Source: ohioCards, Place: "1 card for 10,000 square feet", Known: fact.Read})
	floorOfWhiteflyCard = fact.New(fact.Fact{Name: "floor for each sticky card, for whitefly", Value: 1000, Unit: "ft2", Low: 1000, High: 10000,
		Source: ohioCards, Place: "1 card for 1,000 square feet", Known: fact.Read})
)

// squareMetres in a square foot, exactly.
const squareMetres = 0.09290304

// CardPests are the pests whose cards are known.
var CardPests = [...]string{"thrips", "whitefly"}

// Cards gives the sticky cards for a pest on a floor, m2: rounded up, so one wherever
// there is a floor. No to a pest that is none of [CardPests].
func Cards(pest string, floor float64) (float64, bool) {
	of := floorOfThripsCard.Value
	switch pest {
	case "thrips":
	case "whitefly":
		of = floorOfWhiteflyCard.Value
	default:
		return 0, false
	}
	// A hair above a whole number is the rounding of a conversion.
	exact := floor / (of * squareMetres)
	return math.Ceil(exact - 1e-9*max(1, exact)), true
}
