package crop

import "wintertruss/engine/fact"

// From flower to ripe fruit.
//
// Each day a fruit gains a share of its development that the 24-hour mean of
// the air sets; it is ripe when the shares add up to 1. Four periods were
// measured at constant temperature, and the gain is interpolated on a straight
// line between them. Two other forms were set aside. The published straight
// line of de Koning is a tenth too fast at 18 degC and a fifth at 14 degC
// against those measurements, which matters in a cool winter house; it stays
// below as a check. The published cubic in stage and temperature, which also
// makes late fruit react more to heat, is known only from copies that disagree
// in a coefficient.
const adams = "Adams, Cockshull & Cave 2001, Effect of temperature on the growth and development of tomato fruits, Annals of Botany 88:869-877"

var (
	period14 = fact.New(fact.Fact{Name: "flower to ripe fruit at 14 degC", Value: 95, Unit: "d", Low: 95, High: 95, Source: adams, Place: "abstract", Known: fact.Read})
	period18 = fact.New(fact.Fact{Name: "flower to ripe fruit at 18 degC", Value: 65, Unit: "d", Low: 65, High: 65, Source: adams, Place: "abstract", Known: fact.Read})
	period22 = fact.New(fact.Fact{Name: "flower to ripe fruit at 22 degC", Value: 46, Unit: "d", Low: 46, High: 46, Source: adams, Place: "abstract", Known: fact.Read})
	period26 = fact.New(fact.Fact{Name: "flower to ripe fruit at 26 degC", Value: 42, Unit: "d", Low: 42, High: 42, Source: adams, Place: "abstract", Known: fact.Read})

	linearStart = fact.New(fact.Fact{Name: "fruit stage gained a day at 0 degC, straight-line form", Value: -0.00066, Unit: "1/d", Low: -0.00066, High: -0.00066,
		Source: vanthoor, Place: "electronic appendix, table 3 (cDev1 = -7.64e-9 1/s), after de Koning 1994", Known: fact.Read})
	linearSlope = fact.New(fact.Fact{Name: "fruit stage gained a day for each degree, straight-line form", Value: 0.001, Unit: "1/d/degC", Low: 0.001, High: 0.0010023,
		Source: vanthoor, Place: "electronic appendix, table 3 (cDev2 = 1.16e-8 1/s), after de Koning 1994", Known: fact.Read})

	largeDays = fact.New(fact.Fact{Name: "days to a whole ripe truss against days to a ripe fruit, large round", Value: 1.2, Unit: "1", Low: 1.0, High: 1.25,
		Source: "own fit to an open crop record: four types of tomato, the Netherlands, 2019", Place: "49 trusses of large round tomato: 74.3 d counted from flower to pick, 60.8 d by the measured points", Known: fact.Read})
	clusterDays = fact.New(fact.Fact{Name: "days to a whole ripe truss against days to a ripe fruit, cluster", Value: 1.2, Unit: "1", Low: 1.0, High: 1.25, Known: fact.Assumed})
	cherryDays  = fact.New(fact.Fact{Name: "days to a whole ripe truss against days to a ripe fruit, cherry", Value: 1.0, Unit: "1", Low: 0.95, High: 1.05,
		Source: "own fit to an open crop record: four types of tomato, the Netherlands, 2019", Place: "116 trusses of cherry tomato: 59.6 d counted from flower to pick, 60.0 d by the measured points", Known: fact.Read})
	LooseSpread = fact.New(fact.Fact{Name: "days over which the fruit of a truss of large tomatoes come to ripeness, picked loose", Value: 12, Unit: "d", Low: 7, High: 15, Known: fact.Assumed})
)

// DaysFactor is what the days from flower to ripe fruit are multiplied by for a
// truss that is picked whole, when its last fruit is ripe. Fruit picked loose
// take 1, spread over [LooseSpread].
func DaysFactor(k Kind) float64 {
	switch k {
	case Large:
		return largeDays.Value
	case Cherry:
		return cherryDays.Value
	default:
		return clusterDays.Value
	}
}

// The gain at the measured temperatures, 1/d, and its slope between them, 1/d/degC.
var (
	gain14, gain18, gain22, gain26 = 1 / period14.Value, 1 / period18.Value, 1 / period22.Value, 1 / period26.Value

	slope14, slope18, slope22 = (gain18 - gain14) / 4, (gain22 - gain18) / 4, (gain26 - gain22) / 4
)

// StageGain gives the share of its development that a fruit gains in a day at a
// 24-hour mean of the air in degC, 1/d.
//
// Straight lines through the gains at 14, 18, 22 and 26 degC (Adams et al.
// 2001), carried on to 27 degC, where it stays, and down to 13 degC, from where
// it fades to nothing at 12 degC (the limit of Vanthoor et al. 2011). Measured
// from 14 to 26 degC.
func StageGain(air float64) float64 {
	t := min(air, HeatLimit.Value)
	switch {
	case t <= ColdLimit.Value:
		return 0
	case t < ColdLimit.Value+coldFade.Value:
		return (gain14 + slope14*(t-14)) * developing(t)
	case t < 18:
		return gain14 + slope14*(t-14)
	case t < 22:
		return gain18 + slope18*(t-18)
	default:
		return gain22 + slope22*(t-22)
	}
}

// LinearStageGain is the straight-line form, 1/d: -0.00066 + 0.001 T, for 17 to
// 27 degC (de Koning 1994, in Vanthoor et al. 2011, table 3). For comparison only.
func LinearStageGain(air float64) float64 { return linearStart.Value + linearSlope.Value*air }

// Ripening turns the fruit set in each week into the fruit ripe in each week and
// the fruit hanging, set and not yet ripe, at each week's end.
//
// set is fruit a week, gain the stage gained a day in each week (1/d), already
// divided by the factor on the days; it is not negative, and above 1000 rounding
// would tell. A truss's fruit flower one after another over spread days (0:
// together). ripe and hanging are filled; work is space for as many numbers. All
// have one cell a week.
//
// The fruit of a week are taken as set evenly through it, in continuous time
// rather than in seven lots: then a little more warmth moves a little more
// fruit, and never a seventh of a week's at once. Fruit do not overtake each
// other, so at any time there is one moment, the front, such that what was set
// before it is ripe: the stage gained from the front to now is exactly 1. As now
// goes forward by a week, the front goes forward through the earlier weeks, each
// passed once. What share of a week's fruit lies behind the front is then a
// clamp (or, spread, its running mean). The work is one step a week and one for
// each week whose fruit hang.
//
// Nothing is taken to hang when the series begins.
func Ripening(ripe, hanging, set, gain []float64, spread float64, work []float64) {
	behind := work[:len(set)] // share of each week's fruit that is ripe
	clear(behind)
	front := ripeFront{gain: gain}
	first := 0 // all fruit of earlier weeks are ripe
	for now := range set {
		front.goTo(now)
		var picked, left float64
		for w := first; w <= front.week; w++ {
			share := max(behind[w], shareBehind(front.since(w), spread))
			picked += set[w] * (share - behind[w])
			left += set[w] * (1 - share)
			behind[w] = share
		}
		left += sum(set[front.week+1 : now+1])
		for first < front.week && behind[first] == 1 {
			first++
		}
		ripe[now], hanging[now] = picked, left
	}
}

// ripeFront is the moment before which all fruit set are ripe.
type ripeFront struct {
	gain []float64 // stage gained a day, by week
	week int       // of the front
	into float64   // days into that week
	gap  float64   // stage gained from the front to the end of the week gone to
}

// goTo moves the front on by one week, to the end of week now: weeks are gone to
// one after another.
func (f *ripeFront) goTo(now int) {
	f.gap += WeekDays * f.gain[now]
	for f.gap >= 1 {
		rest := (WeekDays - f.into) * f.gain[f.week]
		if f.gap-rest < 1 {
			f.into += (f.gap - 1) / f.gain[f.week]
			f.gap = 1
			return
		}
		f.gap -= rest
		f.week, f.into = f.week+1, 0
	}
}

// since gives the days from the beginning of a week to the front, below 0 when it
// has not got there.
func (f *ripeFront) since(week int) float64 { return float64(f.week-week)*WeekDays + f.into }

// sum adds in two lanes, as one waits for itself.
func sum(x []float64) float64 {
	var a, b float64
	for ; len(x) >= 2; x = x[2:] {
		a += x[0]
		b += x[1]
	}
	if len(x) > 0 {
		a += x[0]
	}
	return a + b
}

// shareBehind gives the share of a week's fruit, set evenly from day 0 to day 7
// and each delayed evenly by 0 to spread days, that lie before day front.
func shareBehind(front, spread float64) float64 {
	switch {
	case front <= 0:
		return 0
	case front >= WeekDays+spread:
		return 1
	case spread <= 0:
		return front / WeekDays
	}
	return (rampArea(front, spread) - rampArea(front-WeekDays, spread)) / (WeekDays * spread)
}

// rampArea is the area under a ramp that rises from 0 with slope 1 and stays at
// height, up to x.
func rampArea(x, height float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x < height:
		return x * x / 2
	}
	return height * (x - height/2)
}
