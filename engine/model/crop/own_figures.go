package crop

import "wintertruss/engine/fact"

// A farm's own figures in place of the published ones: how long its trusses took,
// and how its picks compare with the forecast. Tried on six tomato crops of open
// records (cherry, the Netherlands 2020, three; cherry and large, the Netherlands
// 2019; cherry, Ohio 2024), every Monday from after the fourth count to six weeks
// before the last pick, with no coefficient fitted to the crop itself: a forecast
// corrected by both came within 5 to 13 % in the mean of the weight still to be
// picked (Ohio, without a record of light, 21 %), and told the next two weeks to 16
// to 32 %, where the last two weeks told them to 29 to 57 %. What the forecast
// counts for beside the picks, two weeks to twelve, moved no Dutch crop by more than
// 6 points; by the picks alone it did worse in every crop.

var (
	lookBack = fact.New(fact.Fact{Name: "weeks of picks that a forecast is held against", Value: 5, Unit: "week", Low: 3, High: 5, Known: fact.Assumed})
	// ForecastHeld is what the forecast counts for beside the picks.
	ForecastHeld = fact.New(fact.Fact{Name: "weeks of picks that the forecast itself counts for beside them", Value: 4, Unit: "week", Low: 2, High: 12,
		Source: "own trial on six tomato crops of open records: the Netherlands 2019 and 2020, Ohio 2024", Place: "error of the weight still to be picked: flat from 4 to 12 weeks, in each crop as in the other five", Known: fact.Read})
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
