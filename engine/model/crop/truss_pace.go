package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// Trusses follow each other at a pace set by the 24-hour mean of the air alone.
// Day against night, fruit load, leaf removal, density, CO2 and humidity have no
// visible effect (Heuvelink, ed., 2005, Tomatoes, p. 71, as quoted), and
// cultivars differ in level but not in their response to temperature (van der
// Ploeg & Heuvelink 2005). So one slope serves all, with an offset for the type,
// and the farm's own counts move the offset.
const (
	deKoning = "de Koning 1994, Development and dry matter distribution in glasshouse tomato: a quantitative approach, thesis, Wageningen"
	ownFits  = "own fit to two open crop records: cherry tomato, Columbus, Ohio, 2024; four types of tomato, the Netherlands, 2019"
)

var (
	paceSlope = fact.New(fact.Fact{Name: "trusses a stem and day for each unit of the logarithm of the temperature", Value: 0.1454, Unit: "truss/stem/d", Low: 0.1454, High: 0.1454,
		Source: deKoning, Place: "equation 3.2.3, page 42, as quoted in comments of open crop models", Known: fact.Quoted})
	// MeanOffset is that of de Koning's cultivars taken together; it stands for
	// medium round fruit, for which no count of our own is at hand.
	MeanOffset = fact.New(fact.Fact{Name: "offset of the truss pace, mean of cultivars", Value: -0.2903, Unit: "truss/stem/d", Low: -0.302, High: -0.276,
		Source: deKoning, Place: "equation 3.2.3, page 42, as quoted in comments of open crop models", Known: fact.Quoted})
	LargeOffset = fact.New(fact.Fact{Name: "offset of the truss pace, large round and beefsteak", Value: -0.295, Unit: "truss/stem/d", Low: -0.302, High: -0.286,
		Source: ownFits, Place: "trusses in flower against the mean air: -0.298 for the Dutch crop; with the cultivars Counter -0.286 and Dombito -0.302 of de Koning 1994, as quoted", Known: fact.Read})
	CherryOffset = fact.New(fact.Fact{Name: "offset of the truss pace, cherry", Value: -0.267, Unit: "truss/stem/d", Low: -0.277, High: -0.257,
		Source: ownFits, Place: "trusses in flower against the mean air: -0.277 in Ohio, -0.257 in the Netherlands", Known: fact.Read})
	// The formula is carried on below this, and the card says so.
	_ = fact.New(fact.Fact{Name: "coolest 24-hour mean at which the truss pace was measured", Value: 17, Unit: "degC", Low: 17, High: 17,
		Source: deKoning, Place: "range of equation 3.2.3, as quoted in comments of open crop models", Known: fact.Quoted})
	paceTo = fact.New(fact.Fact{Name: "warmest 24-hour mean at which the truss pace was measured", Value: 27, Unit: "degC", Low: 27, High: 27,
		Source: deKoning, Place: "range of equation 3.2.3, as quoted in comments of open crop models", Known: fact.Quoted})

	relativeSlope = fact.New(fact.Fact{Name: "relative growth for each degree, straight-line form", Value: 0.047, Unit: "1/degC", Low: 0.047, High: 0.047,
		Source: vanthoor, Place: "electronic appendix, equation 28", Known: fact.Read})
	relativeStart = fact.New(fact.Fact{Name: "relative growth at 0 degC, straight-line form", Value: 0.060, Unit: "1", Low: 0.060, High: 0.060,
		Source: vanthoor, Place: "electronic appendix, equation 28", Known: fact.Read})
)

// PaceOffset gives the offset of the truss pace for a kind, truss/stem/d.
func PaceOffset(k Kind) float64 {
	switch k {
	case Large:
		return LargeOffset.Value
	case Cherry:
		return CherryOffset.Value
	default:
		return MeanOffset.Value
	}
}

// TrussPace gives the trusses that open, per stem and day, at a 24-hour mean of
// the air T in degC, for an offset a in truss/stem/d:
//
//	pace = a + 0.1454 ln T
//
// Measured from 17 to 27 degC (de Koning 1994, eq 3.2.3 without the term for
// age). Below 17 degC the curve is carried on: two other published forms fall on
// it to 7 % at 15 degC. It fades to nothing from 13 to 12 degC, and stays at its
// value for 27 degC above that.
func TrussPace(air, offset float64) float64 {
	if air <= ColdLimit.Value {
		return 0
	}
	return max(0, offset+paceSlope.Value*math.Log(min(air, paceTo.Value))) * developing(air)
}

// OffsetOf gives the offset, truss/stem/d, that a counted pace (truss/stem/d) at
// an air of degC stands for. It is linear in the pace: the mean of the weeks'
// offsets is the offset of the weeks together. No meaning at or below 13 degC,
// where development fades: the result is then not a number.
func OffsetOf(pace, air float64) float64 {
	if air < ColdLimit.Value+coldFade.Value {
		return math.NaN()
	}
	return pace - paceSlope.Value*math.Log(min(air, paceTo.Value))
}

// RelativePace is the straight-line form of the same response, 1 near 20 degC:
//
//	g = 0.047 T + 0.060
//
// Measured from 17 to 23 degC (Vanthoor et al. 2011, eq 28). Independent of
// [TrussPace], which the tests hold against it.
func RelativePace(air float64) float64 { return relativeSlope.Value*air + relativeStart.Value }

var offsetHeld = fact.New(fact.Fact{Name: "weeks of counts that the type's offset of the truss pace counts for beside a farm's own", Value: 3, Unit: "week", Low: 2, High: 5, Known: fact.Assumed})

// OwnOffset gives the offset of a farm's own cultivar, truss/stem/d, from its
// counted paces by week (truss/stem/d; not a number where not counted) at the air
// of the weeks (degC), held to the usual one as if that had been counted for three
// weeks more, since counts scatter and a mean of four does not yet even that out. Weeks too cold for a meaning ([OffsetOf]) are passed over.
func OwnOffset(pace, air []float64, usual float64) float64 {
	sum, weeks := usual*offsetHeld.Value, offsetHeld.Value
	for w, p := range pace {
		if o := OffsetOf(p, air[w]); o == o {
			sum += o
			weeks++
		}
	}
	return sum / weeks
}
