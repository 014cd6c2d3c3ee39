package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// What the light could carry at most: a check from outside on a forecast that
// was built up truss by truss. It is generous: the yield of light was read from
// houses with lamps and CO2.
const contest = "Hemming et al. 2020, data set of the second autonomous greenhouse challenge, doi 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7"

var (
	fruitOfLight = fact.New(fact.Fact{Name: "dry matter of fruit from light at the crop", Value: 0.41, Unit: "g/mol", Low: 0.40, High: 0.42,
		Source: contest, Place: "own arithmetic on three compartments of cherry tomato: 4.5 to 4.7 g fresh a mol, at 9 % dry matter", Known: fact.Read})
	ceilingWeeks = fact.New(fact.Fact{Name: "weeks of light that a week's picks are held against", Value: 6, Unit: "week", Low: 3, High: 7,
		Source: gent, Place: "abstract: shade acts on the picks from day 25 and in full after day 50", Known: fact.Read})
	extinction = fact.New(fact.Fact{Name: "extinction of light in a tomato crop", Value: 0.7, Unit: "1", Low: 0.7, High: 0.7,
		Source: vanthoor, Place: "electronic appendix, table 3", Known: fact.Read})
	halfFruit = fact.New(fact.Fact{Name: "fruit a truss at which half of the growth goes to fruit", Value: 2.96, Unit: "fruit/truss", Low: 2.96, High: 2.96,
		Source: "Heuvelink 1997, Effect of fruit load on dry matter partitioning in tomato, Scientia Horticulturae 69:51-59", Place: "abstract", Known: fact.Read})
)

// LightCeiling gives the most fruit that the light of the last six weeks could
// make in week i, kg/m2 in that week: light is the daily light at the crop by
// week (mol/m2/d), dryMatter the dry share of the fruit (above 0 to 1).
//
//	kg/m2 = 7 x mean light of the weeks i-5 to i x 0.41 / dryMatter / 1000
//
// In the first weeks of the series, the mean of those there are.
func LightCeiling(light []float64, i int, dryMatter float64) float64 {
	from := max(0, i-int(ceilingWeeks.Value)+1)
	sum := 0.0
	for _, l := range light[from : i+1] {
		sum += l
	}
	return WeekDays * sum / float64(i+1-from) * fruitOfLight.Value / dryMatter / 1000
}

// LeafCeiling is the same by another road, kg/m2 in a week at a daily light
// (mol/m2/d): what leaves of leafArea (m2 of leaf a m2 of floor) catch, times the
// growth from caught light (g dry matter a mol), times the share that goes to
// fruit, at the dry share of the fruit:
//
//	7 x light x (1 - e^(-0.7 leafArea)) x growth x toFruit / dryMatter / 1000
func LeafCeiling(light, leafArea, growth, toFruit, dryMatter float64) float64 {
	return WeekDays * light * (1 - math.Exp(-extinction.Value*leafArea)) * growth * toFruit / dryMatter / 1000
}

// ShareToFruit gives the share of a crop's growth that goes to fruit when each
// truss carries n of them: n / (2.96 + n), measured for 2 to 7 (Heuvelink 1997).
func ShareToFruit(n float64) float64 { return n / (halfFruit.Value + n) }
