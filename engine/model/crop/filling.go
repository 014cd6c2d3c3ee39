package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// How heavy fruit become. A fruit that wants for nothing grows along a curve of
// its own (what it would take is its sink). What the leaves make of the light (the
// source) is shared among all that grow, by what each would take: the fruit of
// every age, and stem, leaves and roots. So a crowded or a dark crop has lighter
// fruit, the first fruit of a plant are its heaviest, and light tells in the picks
// as the fruit that lived on it come ripe.
//
// Set aside: leaf area grown day by day, since no farm measures it (the crop is
// taken as closed); and the whole answer to light on the weight of the fruit
// ([Filled]), which is simpler, but blind to how many hang.
const heuvelink = "Heuvelink 1997, Effect of fruit load on dry matter partitioning in tomato, Scientia Horticulturae 69:51-59"

const growthCurve = "electronic appendix, equations 38 to 41 and table 3, after de Koning 1994"

var (
	curvePeriod = fact.New(fact.Fact{Name: "fruit growth period that the curve of growth is drawn for", Value: 51.7, Unit: "d", Low: 51.7, High: 51.7,
		Source: vanthoor, Place: growthCurve + ", at 20 degC", Known: fact.Read})
	middleStart = fact.New(fact.Fact{Name: "day of fastest growth of a fruit, at a period of 0", Value: -4.93, Unit: "d", Low: -4.93, High: -4.93,
		Source: vanthoor, Place: growthCurve, Known: fact.Read})
	middleSlope = fact.New(fact.Fact{Name: "day of fastest growth of a fruit, for each day of its period", Value: 0.548, Unit: "1", Low: 0.548, High: 0.548,
		Source: vanthoor, Place: growthCurve, Known: fact.Read})
	widthStart = fact.New(fact.Fact{Name: "width of a fruit's growth curve, with its fastest growth on day 0", Value: 2.44, Unit: "d", Low: 2.44, High: 2.44,
		Source: vanthoor, Place: growthCurve, Known: fact.Read})
	widthSlope = fact.New(fact.Fact{Name: "width of a fruit's growth curve, for each day until its fastest growth", Value: 0.403, Unit: "1", Low: 0.403, High: 0.403,
		Source: vanthoor, Place: growthCurve, Known: fact.Read})
	curveAir = fact.New(fact.Fact{Name: "24-hour mean at which a fruit with all it wants comes to its full weight", Value: 20, Unit: "degC", Low: 20, High: 20,
		Source: vanthoor, Place: growthCurve, Known: fact.Read})

	plantTakes = fact.New(fact.Fact{Name: "fruit that take as much as leaves, stem and roots of a stem", Value: 24.2, Unit: "fruit/stem", Low: 24.2, High: 24.2,
		Source: heuvelink, Place: "abstract: share to fruit N / (24.2 + N), N fruit on a plant of one stem", Known: fact.Read})
	plantFruit = fact.New(fact.Fact{Name: "dry weight, with all it wants, of the fruit that leaves, stem and roots are told in", Value: 5.5, Unit: "g/fruit", Low: 4, High: 7, Known: fact.Assumed})
	// CropGrowth is the growth of a whole crop from light.
	CropGrowth = fact.New(fact.Fact{Name: "dry growth of a closed crop from light at it, at 10 mol/m2/d", Value: 0.7, Unit: "g/mol", Low: 0.5, High: 0.9,
		Source: "0.5 to 0.65 g for each mol caught without added CO2, from memory; the middle is ours", Place: "beside 0.92 in three lit compartments with CO2 (own fit to Hemming et al. 2020, data set), and the yields of a coir house in Tennessee (University of Tennessee, Crossville, 2006)", Known: fact.Memory})
	growthLight = fact.New(fact.Fact{Name: "daily light that the growth from light is told at", Value: 10, Unit: "mol/m2/d", Low: 10, High: 10, Source: "definition", Known: fact.Exact})
	// FullWeight is what a fruit with all it wants comes to, of its usual weight.
	FullWeight = fact.New(fact.Fact{Name: "weight of a fruit that wants for nothing, of the usual weight in spring", Value: 1.3, Unit: "1", Low: 1.1, High: 1.5, Known: fact.Assumed})
)

// Filler is what the filling of a crop's fruit needs to know beside its weeks.
type Filler struct {
	FullWeight float64 // of a fruit that wants for nothing, g fresh, at 20 degC
	DryMatter  float64 // of the fruit, above 0 to 1
	Growth     float64 // dry growth of the crop from light, g/mol, at 10 mol/m2/d
	DaysFactor float64 // on the days from flower to ripe fruit
	Spread     float64 // days over which the fruit of a truss flower
}

// FillingWork is how many numbers of space [Filler.Fill] wants for each week.
const FillingWork = 5

// curveSteps is how finely the growth curve is tabled: exp is slow, and two
// hundred cohorts a season ask for it.
const curveSteps = 64

var grownBy = func() (table [curveSteps + 1]float64) {
	middle := middleStart.Value + middleSlope.Value*curvePeriod.Value
	width := widthStart.Value + widthSlope.Value*middle
	at := func(stage float64) float64 { return math.Exp(-math.Exp((middle - stage*curvePeriod.Value) / width)) }
	for i := range table {
		table[i] = (at(float64(i)/curveSteps) - at(0)) / (at(1) - at(0))
	}
	return table
}()

// GrownBy gives the share of its full weight that a fruit has at a stage from 0 to
// 1, when it gets all it would take: the curve of Gompertz
//
//	W = e^(-e^(-(t - M)/(2.44 + 0.403 M))),  M = -4.93 + 0.548 period
//
// at a period of 51.7 days (Vanthoor et al. 2011, equations 38 to 41, after de
// Koning 1994), from 0 at the flower to 1 at ripeness. Drawn against the stage, the
// curve hardly differs between periods of 40 and 60 days.
func GrownBy(stage float64) float64 {
	switch {
	case stage <= 0:
		return 0
	case stage >= 1:
		return 1
	}
	x := stage * curveSteps
	i := int(x)
	return grownBy[i] + (x-float64(i))*(grownBy[i+1]-grownBy[i])
}

// Assimilates gives what the light of week i lets a crop grow, g dry a m2 and day:
// growth is g/mol at 10 mol/m2/d, light the daily light by week.
//
//	growth x 10 x (seen/10)^0.8,  seen = mean light of the weeks i-3 to i
//
// The answer to light is the published 0.7 to 1 % for 1 % (Marcelis et al. 2006).
// The four weeks are ours: what leaves make goes by way of the plant's stores, and
// with the fruits' own curve they give the delay that was measured, less than 3 % in
// the first 20 days of half the light (Gent 2007).
func Assimilates(light []float64, i int, growth float64) float64 {
	return made((light[i]+light[max(0, i-1)]+light[max(0, i-2)]+light[max(0, i-3)])/4, growth)
}

// made is what a daily light (mol/m2/d) lets a crop grow, g dry a m2 and day.
func made(light, growth float64) float64 {
	return growth * growthLight.Value * math.Pow(max(0, light)/growthLight.Value, LightResponse.Value)
}

// Fill tells the weight of the fruit that come ripe in each week, g fresh a fruit (0
// in a week without any), and the fresh weight of those that hang unripe at its end,
// g/m2.
//
// set is fruit set in each week, fruit/m2; gain the stage gained a day, 1/d, already
// divided by the factor on the days; light the daily light, mol/m2/d; heads the stems
// that grow on, stem/m2, none once they are topped. weight and green are filled, one
// cell a week; work is space for FillingWork as many.
//
// Each week, all that grow would take
//
//	a fruit at stage s   full weight x dG/ds x gain at 20 degC     a day, [GrownBy]
//	a stem               24.2 fruit of 5.5 g dry, at their mean
//
// and get that, or their share of what the light makes when it is less. A fruit's
// growth a day does not depend on the temperature but its period does, so cool fruit
// become heavier (van der Ploeg & Heuvelink 2005, abstract). A week's fruit grow as
// those set at its middle, and come ripe as in [Ripening].
func (f Filler) Fill(weight, green, set, gain, light, heads []float64, work []float64) {
	n := len(set)
	behind, each, grown, want, began := work[:n], work[n:2*n], work[2*n:3*n], work[3*n:4*n], work[4*n:5*n]
	clear(work[:FillingWork*n])
	full := f.FullWeight * f.DryMatter                             // g dry
	pace := StageGain(curveAir.Value) / f.DaysFactor               // stage a day that the full weight belongs to
	plant := plantTakes.Value * plantFruit.Value * pace * WeekDays // g dry a stem and week
	front := ripeFront{gain: gain}
	first, stage := 0, 0.0 // weeks before first have no fruit left; stage gained since the series began
	for now := range set {
		before := stage
		stage += WeekDays * gain[now]
		began[now] = (before + stage) / 2
		front.goTo(now)
		demand := 0.0
		for w := first; w <= now; w++ {
			if set[w] == 0 {
				continue
			}
			want[w] = 0
			from, to := max(0, before-began[w]), stage-began[w]
			if from >= 1 || to <= from {
				continue
			}
			g := GrownBy(to)
			want[w] = full * (g - grown[w]) * pace / gain[now]
			grown[w] = g
			demand += want[w] * set[w] * (1 - behind[w])
		}
		got := 1.0
		if demand > 0 {
			got = min(1, WeekDays*Assimilates(light, now, f.Growth)/(demand+heads[now]*plant))
		}
		var picked, fruit, left float64
		for w := first; w <= now; w++ {
			if set[w] == 0 {
				continue
			}
			each[w] += want[w] * got
			share := max(behind[w], shareBehind(front.since(w), f.Spread))
			if come := set[w] * (share - behind[w]); come > 0 {
				// Set before the middle of their week, they are ripe before it: what is left to grow counts as grown.
				picked += come * (each[w] + full*(1-grown[w])*got)
				fruit += come
			}
			behind[w] = share
			left += set[w] * (1 - share) * each[w]
		}
		for first <= now && (set[first] == 0 || first < front.week && behind[first] == 1) {
			first++
		}
		weight[now], green[now] = 0, left/f.DryMatter
		if fruit > 0 {
			weight[now] = picked / fruit / f.DryMatter
		}
	}
}
