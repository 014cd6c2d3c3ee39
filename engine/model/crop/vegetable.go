package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// Cucumber and sweet pepper. They flower node by node instead of truss by truss:
// a node brings a leaf and a flower. A cucumber's flowers become fruit as far as
// the grower leaves them; a pepper drops flowers while fruit hang on it, and so
// bears in flushes (flush.go).

// Vegetable is a crop that flowers node by node.
type Vegetable int

const (
	Cucumber Vegetable = iota // long type, two or three stems a plant
	Pepper                    // sweet pepper, picked coloured
)

// Vegetables are the words for them, in their order.
var Vegetables = [...]string{Cucumber: "cucumber", Pepper: "pepper"}

// VegetableOf gives the vegetable that a word stands for.
func VegetableOf(word string) (Vegetable, bool) {
	for v, w := range Vegetables {
		if w == word {
			return Vegetable(v), true
		}
	}
	return 0, false
}

const (
	cucumberContest = "Hemming et al. 2019, Sensors 19:1807, and its data set 4TU e4987a7b-04dd-4c89-9b18-883aad30ba9a: cucumber, the Netherlands, August to December 2018"
	dickson         = "Dickson, Padhye, Machesney & Tebow 2024, Quantifying temperature effects on plant development rates and quality of compact container-grown pepper, HortScience 59:1293"
)

var (
	nodeStart = fact.New(fact.Fact{Name: "cucumber nodes a stem and day at 0 degC, straight line", Value: -0.0204, Unit: "node/stem/d", Low: -0.45, High: 0.51,
		Source: cucumberContest, Place: "own fit to 30 weeks of three compartments at 19.9 to 24.2 degC, R2 0.36, error 0.057; the range leaves one compartment out at a time", Known: fact.Read})
	nodeSlope = fact.New(fact.Fact{Name: "cucumber nodes a stem and day for each degree, straight line", Value: 0.0498, Unit: "node/stem/d/degC", Low: 0.026, High: 0.070,
		Source: cucumberContest, Place: "own fit to 30 weeks of three compartments at 19.9 to 24.2 degC, R2 0.36, error 0.057; the range leaves one compartment out at a time", Known: fact.Read})
	cucumberSlope = fact.New(fact.Fact{Name: "cucumber fruit stage gained a day for each degree above 14 degC", Value: 0.0069, Unit: "1/d/degC", Low: 0.0068, High: 0.00695,
		Source: cucumberContest, Place: "own fit to 42 weeks of three compartments at 20 to 24 degC, through nothing at the cold limit; the range leaves one compartment out at a time, and each was told by the other two to 1.4, 2.8 and 2.2 d", Known: fact.Read})
	cucumberCold = fact.New(fact.Fact{Name: "24-hour mean below which a cucumber does not grow", Value: 14, Unit: "degC", Low: 13, High: 15,
		Source: "FAO 2017, Good agricultural practices for greenhouse vegetable production in the South East European countries", Place: "chapter on cucumber, temperature: no shoot growth below 13 to 15 degC, as reproduced on a trade page", Known: fact.Quoted})
	cucumberFull = fact.New(fact.Fact{Name: "24-hour mean from which the straight line of cucumber nodes is used", Value: 18, Unit: "degC", Low: 17, High: 20, Known: fact.Assumed})
	cucumberHeat = fact.New(fact.Fact{Name: "24-hour mean above which a cucumber is taken to develop no faster", Value: 26, Unit: "degC", Low: 25, High: 28, Known: fact.Assumed})
	cucumberKept = fact.New(fact.Fact{Name: "share of a cucumber's nodes whose fruit is kept", Value: 0.50, Unit: "1", Low: 0.33, High: 0.67,
		Source: cucumberContest, Place: "weekly record of fruit kept", Known: fact.Read})
	cucumberWeight = fact.New(fact.Fact{Name: "weight of a long cucumber", Value: 350, Unit: "g/fruit", Low: 323, High: 384,
		Source: cucumberContest, Place: "three compartments; the low and high are their means", Known: fact.Read})

	pepperLimit = fact.New(fact.Fact{Name: "pepper fruit stage gained a day, flower to ripe, when it is warm", Value: 0.0252, Unit: "1/d", Low: 0.0252, High: 0.0252,
		Source: dickson, Place: "abstract: mean of two compact cultivars, at least 40 d", Known: fact.Read})
	pepperCold = fact.New(fact.Fact{Name: "24-hour mean below which a pepper does not develop", Value: 11.3, Unit: "degC", Low: 9.3, High: 13.3,
		Source: dickson, Place: "abstract: 13.3 and 9.3 degC for two compact cultivars; the middle is ours", Known: fact.Read})
	pepperDays = fact.New(fact.Fact{Name: "pepper, flower to coloured fruit at 20.5 degC", Value: 59.5, Unit: "d", Low: 56, High: 63,
		Source: "8 to 9 weeks at 20 to 21 degC, as growers count; from memory", Known: fact.Memory})
	pepperDaysAir = fact.New(fact.Fact{Name: "24-hour mean that the pepper's days to coloured fruit belong to", Value: 20.5, Unit: "degC", Low: 20, High: 21,
		Source: "8 to 9 weeks at 20 to 21 degC, as growers count; from memory", Known: fact.Memory})
)

// pepperBend is the rate, 1/degC, at which the pepper's development nears its
// limit: the published form solved for the days at 20.5 degC.
var pepperBend = -math.Log(1-1/(pepperDays.Value*pepperLimit.Value)) / (pepperDaysAir.Value - pepperCold.Value)

// FruitGain gives the share of its development that a fruit gains in a day at a
// 24-hour mean of the air in degC, 1/d; it is ripe at 1.
//
//	cucumber  0.0069 (T - 14)                      measured from 20 to 24 degC
//	pepper    0.0252 (1 - e^(-c (T - 11.3)))       limit and cold end: Dickson et al. 2024, 18 to 30 degC;
//	                                               c such that 20.5 degC take 59.5 d (from memory)
//
// The cucumber's line starts at the limit of its growth in the cold (FAO 2017) and
// stays at its value for 26 degC above that: with an intercept of its own a fit to two
// compartments told the third, cooler one five days wrong. The period also lengthens
// with the load, which is left out.
func FruitGain(v Vegetable, air float64) float64 {
	if v == Pepper {
		return pepperLimit.Value * max(0, 1-math.Exp(-pepperBend*(air-pepperCold.Value)))
	}
	return max(0, cucumberSlope.Value*(min(air, cucumberHeat.Value)-cucumberCold.Value))
}

// NodePace gives the nodes that a cucumber's stem makes in a day at a 24-hour
// mean of the air T in degC:
//
//	pace = -0.0204 + 0.0498 T
//
// Fitted to 19.9 to 24.2 degC. Below 18 degC a straight fall to 0 at 14 degC,
// where growth ends; above 26 degC it stays. Of other published figures, leaf
// unfolding of young plants depends on the 24-hour mean alone (Grimstad &
// Frimanslund 1993, Scientia Horticulturae 53:191-204, abstract).
func NodePace(air float64) float64 {
	pace := nodeStart.Value + nodeSlope.Value*max(cucumberFull.Value, min(air, cucumberHeat.Value))
	return pace * max(0, min(1, (air-cucumberCold.Value)/(cucumberFull.Value-cucumberCold.Value)))
}

// RelativePaceOf gives the pace of nodes at an air of degC against that at 20
// degC, by which a farm's own count is carried to other temperatures. For pepper
// it follows the ripening, since no pace of its nodes was found in print: an
// assumption.
func RelativePaceOf(v Vegetable, air float64) float64 {
	const counted = 20 // degC, that a farm's own pace is given for
	if v == Pepper {
		return FruitGain(Pepper, air) / FruitGain(Pepper, counted)
	}
	return NodePace(air) / NodePace(counted)
}

// UsualKept gives the share of nodes whose fruit the grower leaves: half of a
// cucumber's, all of a pepper's.
func UsualKept(v Vegetable) float64 {
	if v == Cucumber {
		return cucumberKept.Value
	}
	return 1
}

// CucumberWeight is what a long cucumber weighs, g.
func CucumberWeight() float64 { return cucumberWeight.Value }
