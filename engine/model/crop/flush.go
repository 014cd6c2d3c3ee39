package crop

import "wintertruss/engine/fact"

// Flushes. A pepper sets fruit until so many hang on it that it drops its
// flowers; when these are picked it sets again. So a forecast with a constant set
// would hide what the grower sees: weeks of plenty, and weeks of nothing.
const flushing = "Heuvelink & Marcelis, on flushing in sweet pepper (fruit set against plant density and against early fruits left on the plant)"

var (
	setOn0 = fact.New(fact.Fact{Name: "share of a pepper's flowers that set with no fruit on the plant", Value: 0.78, Unit: "1", Low: 0.76, High: 0.80, Source: flushing, Place: "abstract", Known: fact.Read})
	setOn1 = fact.New(fact.Fact{Name: "share of a pepper's flowers that set with 1 fruit on the plant", Value: 0.56, Unit: "1", Low: 0.54, High: 0.58, Source: flushing, Place: "abstract", Known: fact.Read})
	setOn2 = fact.New(fact.Fact{Name: "share of a pepper's flowers that set with 2 fruit on the plant", Value: 0.28, Unit: "1", Low: 0.26, High: 0.30, Source: flushing, Place: "abstract", Known: fact.Read})
	setOn4 = fact.New(fact.Fact{Name: "share of a pepper's flowers that set with 4 fruit on the plant", Value: 0.06, Unit: "1", Low: 0.04, High: 0.08, Source: flushing, Place: "abstract", Known: fact.Read})
)

// SetByLoad gives the share of flowers, 0 to 1, that set while load fruit hang
// on the plant. For pepper, straight lines through 78, 56, 28 and 6 % at 0, 1, 2
// and 4 fruit (Heuvelink & Marcelis), the last carried on to nothing at 4.5; for
// cucumber no such figures were found, and it is 1: what is left on is the
// grower's choice. load is not negative.
func SetByLoad(v Vegetable, load float64) float64 {
	if v != Pepper {
		return 1
	}
	switch {
	case load < 1:
		return setOn0.Value + (setOn1.Value-setOn0.Value)*load
	case load < 2:
		return setOn1.Value + (setOn2.Value-setOn1.Value)*(load-1)
	}
	return max(0, setOn2.Value+(setOn4.Value-setOn2.Value)*(load-2)/2)
}

// Flush turns the nodes that flower on a plant in each week into the fruit that set,
// those that come ripe, and those that hang at the week's end, a plant.
//
// nodes is nodes a plant and week, gain the stage gained a day in each week
// ([FruitGain]), kept the share that the grower and the light leave of what would set,
// counted the fruit a node seen on marked plants, which stands in place of both in its
// week (not a number where none was), room how many fruit a plant carries for each one
// that the plants of the trial did (1: as there). set, ripe and hanging are filled, one
// number a week; work is space for WeekDays as many.
//
//	set = nodes x kept x share by the fruit that hang ([SetByLoad]), or nodes x counted
//
// It goes day by day, since in a week of many flowers the first fruit already
// keep the last from setting. A day's fruit are set evenly through it; as in
// [Ripening] the front is the moment before which all set fruit are ripe, and
// goes forward as the stage gained since then passes 1. Nothing hangs at first.
func Flush(v Vegetable, set, ripe, hanging, nodes, gain, kept, counted []float64, room float64, work []float64) {
	var (
		daily = work[:WeekDays*len(nodes)]
		load  float64
		day   int     // the front: its day, and how far into it
		into  float64 // 0 to 1
		gap   float64 // stage gained from the front to now
	)
	for now := range daily {
		w := now / WeekDays
		if now%WeekDays == 0 {
			set[w], ripe[w] = 0, 0
		}
		share := counted[w]
		if share != share {
			share = kept[w] * SetByLoad(v, load/room)
		}
		daily[now] = nodes[w] / WeekDays * share
		set[w] += daily[now]
		gap += gain[w]
		picked := 0.0
		for gap >= 1 {
			rest := (1 - into) * gain[day/WeekDays]
			if gap-rest < 1 {
				step := (gap - 1) / gain[day/WeekDays]
				picked += step * daily[day]
				into += step
				gap = 1
				break
			}
			picked += (1 - into) * daily[day]
			gap -= rest
			day, into = day+1, 0
		}
		load = max(0, load+daily[now]-picked)
		ripe[w] += picked
		hanging[w] = load
	}
}
