package crop

import "wintertruss/engine/fact"

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

// Set gives the fruit kept on a truss: the number it is pruned to, or the
// flowers times the share that set (0 to 1), whichever is less. Fruit and
// flowers a truss.
func Set(pruneTo, flowers, share float64) float64 { return min(pruneTo, flowers*share) }
