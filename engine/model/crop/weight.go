package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// What a fruit weighs. Source and sink, leaf by leaf, need figures that a family
// farm does not have; so a fruit's weight starts from what the type weighs in
// good light and follows the light by the published rule of thumb.
const (
	marcelis = "Marcelis, Broekhuijsen, Meinen, Nijs & Raaphorst 2006, Quantification of the growth response to light quantity of greenhouse grown crops, Acta Horticulturae 711, doi 10.17660/ActaHortic.2006.711.9"
	gent     = "Gent 2007, Effect of degree and duration of shade on quality of greenhouse tomato, HortScience 42:514-520"
)

var (
	largeWeight = fact.New(fact.Fact{Name: "weight of a large round fruit", Value: 133, Unit: "g/fruit", Low: 119, High: 147,
		Source: "own reading of an open crop record: four types of tomato, the Netherlands, 2019", Place: "large round, March to May", Known: fact.Read})
	clusterWeight = fact.New(fact.Fact{Name: "weight of a medium round fruit", Value: 100, Unit: "g/fruit", Low: 84, High: 150,
		Source: alAttal, Place: "abstract: 100.3 g with bees, cool house", Known: fact.Read})
	cherryWeight = fact.New(fact.Fact{Name: "weight of a cherry fruit", Value: 18, Unit: "g/fruit", Low: 14, High: 24,
		Source: "own reading of two open crop records: cherry tomato, Columbus, Ohio, 2024; four types of tomato, the Netherlands, 2019", Place: "Ohio August to November 18.6 g; the Netherlands March to May mostly 18 g", Known: fact.Read})

	// LightResponse is the per cent of yield for each per cent of light.
	LightResponse = fact.New(fact.Fact{Name: "per cent of yield for one per cent of light, fruit vegetables", Value: 0.8, Unit: "1", Low: 0.7, High: 1.0,
		Source: marcelis, Place: "abstract: 0.7 to 1.0, more in winter", Known: fact.Read})
	lightFrom = fact.New(fact.Fact{Name: "weeks after which a change of light begins to show in the picks", Value: 3, Unit: "week", Low: 3, High: 4,
		Source: gent, Place: "abstract: no effect of 50 % shade in the first 20 days, less 20 % in days 25 to 45", Known: fact.Read})
	lightTo = fact.New(fact.Fact{Name: "weeks after which a change of light shows in full in the picks", Value: 7, Unit: "week", Low: 6, High: 8,
		Source: gent, Place: "abstract: 50 % shade, less 30 % after day 50; Gent 2008, Journal of the American Society for Horticultural Science 133:619, abstract: after more than 6 weeks", Known: fact.Read})
	leastFilled = fact.New(fact.Fact{Name: "least share of its usual weight that a fruit comes to in poor light", Value: 0.5, Unit: "1", Low: 0.4, High: 0.6, Known: fact.Assumed})
	mostFilled  = fact.New(fact.Fact{Name: "most a fruit comes to in good light, of its usual weight", Value: 1.3, Unit: "1", Low: 1.1, High: 1.4, Known: fact.Assumed})
)

// UsualWeight gives what a fruit of a kind usually weighs, g.
func UsualWeight(k Kind) float64 {
	switch k {
	case Large:
		return largeWeight.Value
	case Cherry:
		return cherryWeight.Value
	default:
		return clusterWeight.Value
	}
}

// LightSeen gives the daily light, mol/m2/d, that the fruit picked in week i have
// lived on: the mean of the weeks from 7 to 3 before it, since shade tells in the
// picks only then (Gent 2007). Before the series its first week holds. light has
// one number a week.
func LightSeen(light []float64, i int) float64 {
	from, to := i-int(lightTo.Value), i-int(lightFrom.Value)
	sum := 0.0
	for w := from; w <= to; w++ {
		sum += light[max(0, w)]
	}
	return sum / float64(to-from+1)
}

// Filled gives the share of its usual weight that a fruit comes to when it has
// lived on the daily light seen, where the usual weight belongs to reference
// (both mol/m2/d), with response per cent of weight for a per cent of light:
//
//	share = (seen/reference)^response, kept within 0.5 and 1.3
//
// The rule was published for whole yields, with 0.7 to 1.0 (Marcelis et al.
// 2006); here all of it falls on the weight, as the number of fruit is counted.
// That is a choice: in Gent's shade trial the loss fell mainly on the number, and
// size changed in one year of three.
// reference must be above 0.
func Filled(seen, reference, response float64) float64 {
	return max(leastFilled.Value, min(mostFilled.Value, math.Pow(max(0, seen)/reference, response)))
}
