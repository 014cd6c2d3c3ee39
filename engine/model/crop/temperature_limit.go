package crop

import "wintertruss/engine/fact"

// Between which means of the air a tomato grows at all, and where it does so
// without being held back.
const vanthoor = "Vanthoor, de Visser, Stanghellini & van Henten 2011, A methodology for model-based greenhouse design: Part 2, description and validation of a tomato yield model, Biosystems Engineering 110:378-395"

var (
	ColdLimit = fact.New(fact.Fact{Name: "24-hour mean below which a tomato does not grow", Value: 12, Unit: "degC", Low: 12, High: 12,
		Source: vanthoor, Place: "electronic appendix, appendix C", Known: fact.Read})
	FullFrom = fact.New(fact.Fact{Name: "24-hour mean from which cold no longer holds a tomato back", Value: 18, Unit: "degC", Low: 18, High: 18,
		Source: vanthoor, Place: "electronic appendix, appendix C", Known: fact.Read})
	FullTo = fact.New(fact.Fact{Name: "24-hour mean up to which heat does not hold a tomato back", Value: 22, Unit: "degC", Low: 22, High: 22,
		Source: vanthoor, Place: "electronic appendix, appendix C", Known: fact.Read})
	HeatLimit = fact.New(fact.Fact{Name: "24-hour mean above which a tomato does not grow", Value: 27, Unit: "degC", Low: 25, High: 27,
		Source: vanthoor, Place: "electronic appendix, appendix C; Harel et al. 2014, Agronomy 4:167, put the limit of set at 25 to 26 degC", Known: fact.Read})

	// A week's mean of 12 degC has days on either side of it, so development does
	// not stop at a knife's edge; and a forecast that jumps there would jump for a
	// tenth of a degree.
	coldFade = fact.New(fact.Fact{Name: "width above the cold limit over which development fades out", Value: 1, Unit: "degC_diff", Low: 0, High: 2, Known: fact.Assumed})
)

// developing is the share, 0 to 1, of its rate at which development goes on in
// cold air (degC): 0 up to the cold limit, 1 from a degree above it.
func developing(air float64) float64 {
	return max(0, min(1, (air-ColdLimit.Value)/coldFade.Value))
}

// SetLimit is the share, 0 to 1, that the temperature leaves of fruit set: a
// straight rise from 0 at 12 degC to 1 at 18 degC, 1 up to 22 degC, a straight
// fall to 0 at 27 degC. The source gives the four temperatures for the 24-hour
// mean and applies them to the growth of the organs; that set follows the same
// limits is our reading, supported at both ends: poor set at 10 and 12.8 degC
// (Charles & Harris 1972) and a limit at 25 to 26 degC (Harel et al. 2014).
func SetLimit(air float64) float64 {
	rise := (air - ColdLimit.Value) / (FullFrom.Value - ColdLimit.Value)
	fall := (HeatLimit.Value - air) / (HeatLimit.Value - FullTo.Value)
	return max(0, min(1, rise, fall))
}
