package crop

import "wintertruss/engine/fact"

// A cucumber's picks follow the light it lately caught, more than the count of
// its nodes: with more fruit than the light can fill, each takes longer, and the
// picks stay what the light allows. So its weekly weight is best told by light,
// with a use of light that the farm's own picks correct. Tried on three
// compartments of an open record, each with the use of the other two at first:
// by light the picks of the next two weeks came to 4, 13 and 21 % off in the
// mean, by nodes 13, 21 and 33 %, as the last two weeks 12, 25 and 27 %.
var (
	cucumberUse = fact.New(fact.Fact{Name: "fresh cucumbers from light at the crop, in full picking", Value: 30.0, Unit: "g/mol", Low: 27.9, High: 33.5,
		Source: cucumberContest, Place: "own arithmetic on three compartments from the second week of picks on, a cover that passes 0.5 being assumed; from planting on it is 22.5 to 26.9", Known: fact.Read})
	useHeld = fact.New(fact.Fact{Name: "weeks of picks that the usual use of light counts for beside a farm's own", Value: 2, Unit: "week", Low: 1, High: 4, Known: fact.Assumed})
)

// CucumberUse is the usual weight of cucumbers from light in full
// picking, g/mol.
func CucumberUse() float64 { return cucumberUse.Value }

// lately is the mean of a weekly figure over the three weeks that week i's picks lived
// through, for picks all through the week: half of the week itself and of the third
// before it, and the two between. Before the series its first week holds.
func lately(at func(w int) float64, i int) float64 {
	return (at(i)/2 + at(max(0, i-1)) + at(max(0, i-2)) + at(max(0, i-3))/2) / 3
}

// LightLately gives the daily light that week i's picks lived on, mol/m2/d: of the
// three weeks before the pick.
func LightLately(light []float64, i int) float64 {
	return lately(func(w int) float64 { return light[w] }, i)
}

// toFruitOnceTopped is what week i's fruit get of the light, of what they get while
// the plants grow on: topped on a day, in days from the beginning, a plant gives its
// fruit what made leaves and stem before,
//
//	1 + (1/0.74 - 1) x share of the three weeks that lay after topping
//
// 74 % to the fruit was measured on fully loaded tomatoes (Heuvelink 1996, in Vanthoor
// et al. 2011). Three compartments of cucumber used light better by 29 to 43 % once
// topped, each as told by the other two: nothing was fitted.
func toFruitOnceTopped(topped float64, i int) float64 {
	after := func(w int) float64 { return max(0, min(1, float64(w+1)-topped/WeekDays)) }
	return 1 + (1/fullyLoaded.Value-1)*lately(after, i)
}

// LightYield gives the fresh weight that week i yields at a use of light (g/mol),
// kg/m2: 7 x light lately x use / 1000, and more once topped, on a day from the
// beginning of the series (infinite: never). A steady crop, past its first week of
// picks and not topped for longer than a fruit takes.
func LightYield(light []float64, i int, use, topped float64) float64 {
	return WeekDays * LightLately(light, i) * use / 1000 * toFruitOnceTopped(topped, i)
}

// LightUse gives a crop's own use of light while it grows on, g/mol, from the weights
// picked so far (kg/m2 a week; not a number where not known), held to the usual one as
// if that had been seen for two weeks at the mean light:
//
//	use = (1000 picked + usual held) / (light + held)
//
// over the known weeks after the first with a pick, in which picking has not got
// going. light is what [LightYield] multiplies the use by, summed over days; the usual
// use stands until there is such a week.
func LightUse(picked, light []float64, usual, topped float64) float64 {
	var weight, seen, weeks float64
	started := false
	for w, x := range picked {
		switch {
		case x != x:
		case started:
			weight += 1000 * x
			seen += 1000 * LightYield(light, w, 1, topped)
			weeks++
		case x > 0:
			started = true
		}
	}
	if weeks == 0 || seen <= 0 {
		return usual
	}
	held := useHeld.Value * seen / weeks
	return (weight + usual*held) / (seen + held)
}
