package feed

import "wintertruss/engine/fact"

const sonneveld = "Sonneveld, on the electrical conductivity of nutrient solutions"

var (
	conductivitySlope = fact.New(fact.Fact{Name: "electrical conductivity of a feed, for each charge of its cations", Value: 0.095, Unit: "mS*L/cm/meq", Low: 0.090, High: 0.105,
		Source: sonneveld, Known: fact.Memory})
	conductivityStart = fact.New(fact.Fact{Name: "electrical conductivity of a feed, what does not follow its cations", Value: 0.19, Unit: "mS/cm", Low: 0.05, High: 0.25,
		Source: sonneveld, Known: fact.Memory})
)

// ChargeOf gives the positive charges that a mg of an element carries in solution,
// meq/mg; 0 for what is no cation, or too little to count. Ammonium is given as
// nitrogen.
func ChargeOf(e Element) float64 {
	switch e {
	case Ammonium:
		return 1 / massN
	case Potassium:
		return 1 / massK
	case Sodium:
		return 1 / massNa
	case Calcium:
		return 2 / massCa
	case Magnesium:
		return 2 / massMg
	}
	return 0
}

// Conductivity estimates a feed's electrical conductivity at 25 degC, mS/cm, from
// its cations, meq/L: 0.095 x cations + 0.19. Made for complete feeds of 0.5 to
// 5 mS/cm; a feed without cations is water, and is given nothing.
func Conductivity(cations float64) float64 {
	if cations <= 0 {
		return 0
	}
	return conductivitySlope.Value*cations + conductivityStart.Value
}
