package crop

import (
	"math"

	"wintertruss/engine/fact"
)

// How many flowers of a truss become fruit. The shares by pollination were
// measured in a cool house over ten trusses (bees 99.1 %, vibrator 76.7 %, none
// 65.7 %); for bees the usual figure here is held lower, since a hive in a small
// winter house is not always at work.
const alAttal = "Al-Attal, Kasrawi & Nazer 2003, Influence of pollination technique on greenhouse tomato production, Agricultural and Marine Sciences 8:21-26"

var (
	setByBees = fact.New(fact.Fact{Name: "share of flowers that set, bumblebees or daily vibrating", Value: 0.90, Unit: "1", Low: 0.75, High: 0.991,
		Source: alAttal, Place: "abstract: 99.1 %; lowered to 90 % for winter by our own choice", Known: fact.Read})
	setByVibrator = fact.New(fact.Fact{Name: "share of flowers that set, vibrator three times a week", Value: 0.75, Unit: "1", Low: 0.657, High: 0.90,
		Source: alAttal, Place: "abstract: 76.7 %", Known: fact.Read})
	setByNone = fact.New(fact.Fact{Name: "share of flowers that set, not helped", Value: 0.66, Unit: "1", Low: 0.40, High: 0.70,
		Source: alAttal, Place: "abstract: 65.7 %", Known: fact.Read})
)

const (
	morandin = "Morandin, Laverty & Kevan 2001, Bumble bee activity and pollination levels in commercial tomato greenhouses, Journal of Economic Entomology 94:462-467"
	hanna    = "Hanna 2007, pollination of greenhouse tomatoes, LSU AgCenter"
)

var (
	hivesByFloor = fact.New(fact.Fact{Name: "bumblebee hives that are enough, by floor", Value: 11, Unit: "hive/ha", Low: 7, High: 15,
		Source: morandin, Place: "abstract: 7 to 15 colonies a hectare are enough; the middle is ours", Known: fact.Read})
	vibratingTime = fact.New(fact.Fact{Name: "time to vibrate the trusses of a plant through a week", Value: 5.1, Unit: "s/plant/week", Low: 4, High: 8,
		Source: hanna, Place: "640 plants over 18 weeks took 16.27 hours, three times a week; the range is assumed", Known: fact.Read})
)

// Hives gives the bumblebee hives for a floor (m2): 11 a hectare, rounded up, and
// one at least where there is a floor. In a small house even one has bees enough to
// wear the flowers out: open it on four days a week (Hanna 2007).
func Hives(floor float64) float64 {
	const hectare = 10_000 // m2
	return math.Ceil(hivesByFloor.Value*floor/hectare - 1e-9)
}

// VibratingHours gives the hours a week that it takes to vibrate so many plants.
func VibratingHours(plants float64) float64 {
	const hour = 3600 // s
	return vibratingTime.Value * plants / hour
}

// Pollinations are the words for ways of pollinating.
var Pollinations = [...]string{"bees", "vibrator", "none"}

// Pollinated gives the usual share of flowers that set, 0 to 1, for a way of
// pollinating; it says no to a word that is none of [Pollinations].
func Pollinated(way string) (share float64, ok bool) {
	switch way {
	case "bees":
		return setByBees.Value, true
	case "vibrator":
		return setByVibrator.Value, true
	case "none":
		return setByNone.Value, true
	}
	return 0, false
}

var (
	sugarForSet = fact.New(fact.Fact{Name: "sugar for the fruit of a floor from which light no longer holds set back", Value: 8.6, Unit: "g/m2/d", Low: 6, High: 11,
		Source: vanthoor, Place: "electronic appendix, equation 29 and table 3: 0.1 mg/m2/s, which the source calls an assumption; the range is ours", Known: fact.Read})
	fullyLoaded = fact.New(fact.Fact{Name: "share of its growth that a fully loaded crop gives its fruit", Value: 0.74, Unit: "1", Low: 0.7, High: 0.77,
		Source: vanthoor, Place: "electronic appendix, appendix C, after Heuvelink 1996", Known: fact.Read})
	dryOfSugar = fact.New(fact.Fact{Name: "dry matter of fruit from sugar", Value: 0.79, Unit: "1", Low: 0.7, High: 0.8,
		Source: "a gram of fruit costs 1.27 g of sugar; from memory", Known: fact.Memory})
)

// SetByLight gives the share, 0 to 1, that the light of a day (mol/m2/d) leaves of
// fruit set:
//
//	min(1, sugar for the fruit / 8.6 g/m2/d)
//
// (Vanthoor et al. 2011, equation 29, in which the threshold is an assumption); the
// sugar is what a fully loaded crop gives its fruit of what it makes of that light, at
// growth g dry a mol ([Assimilates]). At 0.7 g it is all from 14 mol on, and half at 6.
func SetByLight(light, growth float64) float64 {
	return min(1, made(light, growth)*fullyLoaded.Value/dryOfSugar.Value/sugarForSet.Value)
}

// Set gives the fruit kept on a truss: the number it is pruned to, or the
// flowers times the share that set (0 to 1), whichever is less. Fruit and
// flowers a truss.
func Set(pruneTo, flowers, share float64) float64 { return min(pruneTo, flowers*share) }
