package feed

import "wintertruss/engine/fact"

var bagCrops = fact.New(fact.Fact{Name: "crops that a bag of substrate serves before disease is to be expected", Value: 4, Unit: "1", Low: 3, High: 5,
	Source: "ghvi.co.nz, on growing in planter bags of sawdust, bark or coir", Place: "disease expected after 3 to 5 crops", Known: fact.Read})

// BagCrops is how many crops a bag serves before disease is to be expected.
func BagCrops() float64 { return bagCrops.Value }

// BagCost gives what the substrate of one plant costs in one crop: all that is paid
// for a bag, from its price and freight to its way to the compost, over the plants
// in it and the crops it serves; money/plant. Plants in a bag and crops above 0.
func BagCost(price, freight, disposal, plants, crops float64) float64 {
	return (price + freight + disposal) / (plants * crops)
}
