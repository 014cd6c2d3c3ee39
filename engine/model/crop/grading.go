package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// What of the picked weight can be sold as first grade: not cracked, without
// blossom-end rot, and not too small.

var (
	dryRot = fact.New(fact.Fact{Name: "share of fruit with blossom-end rot when the bag runs dry every day", Value: 0.15, Unit: "1", Low: 0.05, High: 0.35, Known: fact.Assumed})
	// FruitSpread is how unlike the fruit of one pick are.
	FruitSpread = fact.New(fact.Fact{Name: "spread of weight between the fruit of a pick, against their mean", Value: 0.25, Unit: "1", Low: 0.15, High: 0.35, Known: fact.Assumed})

	largeDry   = fact.New(fact.Fact{Name: "dry matter of a large round fruit", Value: 0.055, Unit: "1", Low: 0.05, High: 0.06, Source: "5 to 6 % for round tomatoes; from memory", Known: fact.Memory})
	clusterDry = fact.New(fact.Fact{Name: "dry matter of a medium round fruit", Value: 0.055, Unit: "1", Low: 0.05, High: 0.06, Source: "5 to 6 % for round tomatoes; from memory", Known: fact.Memory})
	cherryDry  = fact.New(fact.Fact{Name: "dry matter of a cherry fruit", Value: 0.09, Unit: "1", Low: 0.081, High: 0.096, Source: contest, Place: "quality records of three compartments of cherry tomato", Known: fact.Read})
)

// DryMatter gives the dry share of the fruit of a kind, 0 to 1.
func DryMatter(k Kind) float64 {
	switch k {
	case Large:
		return largeDry.Value
	case Cherry:
		return cherryDry.Value
	default:
		return clusterDry.Value
	}
}

// Rotten gives the share of fruit with blossom-end rot, 0 to 1: the usual share,
// and of the rest what dry bags add. dry is the share of days on which the bag
// runs dry between waterings.
//
//	share = usual + (1 - usual) x 0.15 x dry
//
// That a bag watered once a day has most rot, at the same water, was measured
// (Pires et al. 2011, Scientia Agricola, abstract); the figure is assumed, as
// none was found in print.
func Rotten(usual, dry float64) float64 { return usual + (1-usual)*dryRot.Value*dry }

// TooSmall gives the share of the weight that lies in fruit below least, where
// fruit weigh mean on average (both in one unit) and spread about it normally
// with a deviation of spread times the mean:
//
//	share = P(z) - spread p(z),  z = (least/mean - 1) / spread
//
// P and p being the normal distribution and its density: the partial mean of a
// normal quantity. By weight small fruit are a smaller share than by number.
// mean must be above 0.
func TooSmall(mean, least, spread float64) float64 {
	if spread <= 0 {
		if least > mean {
			return 1
		}
		return 0
	}
	z := (least/mean - 1) / spread
	return max(0, min(1, math.Erfc(-z/math.Sqrt2)/2-spread*math.Exp(-z*z/2)/math.Sqrt(2*math.Pi)))
}

// Sound gives the share of the weight that is first grade, when cracked, rotten
// and too small fruit (shares of the weight, 0 to 1) fall on each other by chance:
//
//	(1 - cracked) (1 - rotten) (1 - small)
func Sound(cracked, rotten, small float64) float64 {
	return (1 - cracked) * (1 - rotten) * (1 - small)
}
