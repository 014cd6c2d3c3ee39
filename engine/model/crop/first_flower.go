package crop

import "wintertruss/engine/fact"

// From sowing to the first open flower. In winter a seedling flowers when it has
// gathered a certain sum of light, in summer after a certain number of days
// (Calvert 1959). The crop calendars of advisers, which are rounded and careful,
// run one to three weeks later: the date of a farm's own first flower is always
// the better figure.
const calvert = "Calvert 1959, Effect of the early environment on development of flowering in the tomato II: light and temperature interactions, Journal of Horticultural Science 34:154-162"

var (
	daysToCotyledon = fact.New(fact.Fact{Name: "sowing to spread cotyledons", Value: 8, Unit: "d", Low: 6, High: 10,
		Source: "Alberta Agriculture, Tomato plant propagation", Place: "emergence within 10 days at 25 to 26 degC", Known: fact.Read})
	flowerLight = fact.New(fact.Fact{Name: "light from cotyledons to first flower, in winter", Value: 287, Unit: "mol/m2", Low: 258, High: 316,
		Source: calvert, Place: "abstract: about 400,000 foot-candle hours; at 0.72 mmol/m2 of photosynthetic light a foot-candle hour of sunlight, to 10 %", Known: fact.Read})
	flowerDays = fact.New(fact.Fact{Name: "least time from cotyledons to first flower, in summer", Value: 40, Unit: "d", Low: 40, High: 40,
		Source: calvert, Place: "abstract", Known: fact.Read})
)

// FirstFlower gives the day of the first open flower for a crop sown on day
// sown, both in days from the beginning of the weekly series light (mol/m2/d at
// the plants, wherever they stand) and air (24-hour mean there, degC; nil: 20 degC
// throughout); the nearest week holds outside the series. It says no when light or
// warmth would never do.
//
//	day = sown + 8 + the later of: the light since then adds up to 287 mol/m2,
//	                               the days, each counted as 0.047 T + 0.060 but at most 1, add up to 40
//
// Measured through all seasons of the English year (Calvert 1959), so at common
// house temperatures; that a cooler day counts for less is the relative pace of
// growth of Vanthoor et al. 2011, eq 28 ([RelativePace]), 1 at 20 degC. warmth is
// space for as many numbers as air.
func FirstFlower(light, air []float64, sown float64, warmth []float64) (day float64, ok bool) {
	cotyledon := sown + daysToCotyledon.Value
	day, ok = Reached(light, WeekDays, cotyledon, flowerLight.Value)
	if air == nil {
		return max(day, cotyledon+flowerDays.Value), ok
	}
	for w, t := range air {
		warmth[w] = min(1, RelativePace(t)) * developing(t)
	}
	warm, grows := Reached(warmth[:len(air)], WeekDays, cotyledon, flowerDays.Value)
	return max(day, warm), ok && grows
}
