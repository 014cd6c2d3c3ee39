package crop

import "wintertruss/engine/fact"

// A farm's own figures in place of the published ones: how long its trusses took,
// and how its picks compare with the forecast. Tried on six tomato crops of open
// records, every Monday from after the fourth count to six weeks before the last pick,
// with no coefficient fitted to the crop itself. The weight still to be picked came,
// in the mean, to 7 to 10 % on three lit crops of cherry (the Netherlands 2020; fruit
// filled by [Filler], growth from light as the other two had it), to 5 and 12 % on
// cherry and large without a record of their light (the Netherlands 2019), to 17 and
// 21 % on cherry in an Ohio autumn. The next two weeks came to 16 to 35 %, where the
// last two weeks told them to 29 to 57 %; once two weeks had been picked the last two
// were as good in Ohio, and better (15 % to 24).
//
// What the forecast counts for beside the picks: the more the better in each of these
// crops, as their forecast had the weight right beforehand. Four weeks is our choice
// for a farm of which nobody knows that: a forecast a quarter off is then a ninth off
// after five weeks of picks.

var (
	lookBack = fact.New(fact.Fact{Name: "weeks of picks that a forecast is held against", Value: 5, Unit: "week", Low: 3, High: 5, Known: fact.Assumed})
	// ForecastHeld is what the forecast counts for beside the picks.
	ForecastHeld = fact.New(fact.Fact{Name: "weeks of picks that the forecast itself counts for beside them", Value: 4, Unit: "week", Low: 2, High: 12,
		Source: "own trial on six tomato crops of open records: the Netherlands 2019 and 2020, Ohio 2024", Place: "error of the weight still to be picked: falls by 1 to 4 points from 4 to 12 weeks in each crop; 4 is our choice, for a farm whose weights nobody knows beforehand", Known: fact.Read})
)

// StageBetween gives the stage that a fruit gains from one day to another (days
// from the beginning of the series, also fractions), of a weekly series of the
// stage gained a day; outside the series its nearest week holds. For a truss it is
// 1 when it was picked after just the days of the measured points, 1.2 when after
// a fifth more: the mean over marked trusses is a farm's own factor on the days.
func StageBetween(gain []float64, from, to float64) float64 {
	if len(gain) == 0 {
		return 0
	}
	if to < from {
		return -StageBetween(gain, to, from)
	}
	stage := 0.0
	for w, g := range gain {
		begin, end := float64(w)*WeekDays, float64(w+1)*WeekDays
		if w == 0 {
			begin = min(from, begin)
		}
		if w == len(gain)-1 {
			end = max(to, end)
		}
		if days := min(to, end) - max(from, begin); days > 0 {
			stage += g * days
		}
	}
	return stage
}

// PickedOfForecast gives what the picks of the last five weeks were of the
// forecast for them, held to 1 as if the forecast had come true for held weeks at
// their mean:
//
//	share = (picked + held m) / (forecast + held m),  m = forecast / weeks
//
// picked is not a number where it is not known. The weeks are the known ones that
// follow the first with a pick, in which picking has not got going. 1 when there
// are none, or none was forecast for them.
func PickedOfForecast(picked, forecast []float64, held float64) float64 {
	first, last := len(picked), -1
	for w, x := range picked {
		if x > 0 && w < first {
			first = w
		}
		if x == x {
			last = w
		}
	}
	var came, told, weeks float64
	for w := last; w > first && weeks < lookBack.Value; w-- {
		if picked[w] == picked[w] {
			came += picked[w]
			told += forecast[w]
			weeks++
		}
	}
	if told <= 0 {
		if told != told {
			return told
		}
		return 1
	}
	m := held * told / weeks
	return (came + m) / (told + m)
}
