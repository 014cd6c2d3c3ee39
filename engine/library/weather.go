package library

import (
	"math/bits"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// leastDaysOfMonth is how many recorded days make a month's own normal.
const leastDaysOfMonth = 20

// weatherFunctions take weather as a farm has it, by the day or by the month, to
// the weeks of the season.
func weatherFunctions() []formula.Function {
	return []formula.Function{recordedDays, daysOr, sunByDay, airByDay, normalsFromDays, normalOn}
}

var (
	overWeeks       = []string{"week"}
	byRows          = []string{"records"}
	byMonthOfYear   = []string{"month_of_year"}
	byMemberAndWeek = []string{"refers", "week"}
)

// weatherBook is a small book with a few days of weather, for the examples.
func weatherBook(lines ...string) string {
	return "```settings\nseason   : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of    : 2027-03-10\n```\n" +
		"```records weather\ndate       | high degF | low degF | sun MJ/m2/d | sunshine h\n" +
		"2026-10-13 | 60        | 40       |             |\n" +
		"2027-02-01 | 30        | 10       | 9           |\n" +
		"2027-02-02 | 37        | 17       |             | 7.1\n" +
		"2027-02-03 | 38.8      | 17.2     |             |\n```\n" +
		"```lines\n" + strings.Join(lines, "\n") + "\n```\n"
}

var recordedDays = formula.Function{
	Name: "recorded_days",
	Card: formula.Card{
		Family: recordsFamily,
		Says:   "On how many days of a week something was recorded: for days_or.",
		Gives:  "d, over week and every list that the records refer to; write -> d mean, for days would otherwise add up over weeks",
		Valid:  "0 to 7; several records of one day count once. 0 in weeks without a record and in weeks to come.",
		Source: "definition",
		Example: formula.Example{
			Book: weatherBook(`seen = at(recorded_days(weather.high), "2027-W05") -> d`),
			Ask:  "seen", Want: []float64{3},
		},
	},
	Params: []formula.Param{{Name: "x", Says: "a column of records, or what is made from its columns", Whole: byRows}},
	Kernel: &formula.Kernel{Name: "recorded days", Results: []formula.Result{{Unit: "d", Whole: byMemberAndWeek}}, Run: countDays},
}

// countDays counts days, not records: a week's days seen are bits of a number.
func countDays(c *formula.Call) {
	x, out := c.In[0], c.Out[0]
	seen := c.Scratch(len(out))
	for r, day := range c.Rows.Day {
		w, in := c.Season.Index(day.Week())
		member := memberOf(c.Rows, r)
		if !in || member < 0 || array.IsBlank(x[r]) || !counts(c, day) {
			continue
		}
		i := member*c.Season.Len() + w
		seen[i] = float64(uint8(seen[i]) | 1<<(day.Weekday()-1))
	}
	for i := range out {
		out[i] = float64(bits.OnesCount8(uint8(seen[i])))
	}
}

var daysOr = formula.Function{
	Name: "days_or",
	Card: formula.Card{
		Family: recordsFamily,
		Says: "Fact for the days that were recorded, the usual for the others: the mean of a week's seven days, of which some have a record. " +
			"A closed week with all its days is fact, a week to come is as usual, and the open week is both.",
		Gives:  "the unit of recorded, over week",
		Valid:  "For means of days: temperatures, sun. For amounts take recorded_or; for a reading that stands for its whole week, counted_or. Days outside 0 to 7 count as the nearer end.",
		Source: "definition",
		Example: formula.Example{
			Book: weatherBook("usual : 28 degF",
				`mixed = at(days_or(week_mean(weather.low), recorded_days(weather.low), usual), "2027-W05") -> degF // (10 + 17 + 17.2 + 4 x 28) / 7`),
			Ask: "mixed", Want: []float64{22.3142857},
		},
	},
	Params: []formula.Param{
		{Name: "recorded", Says: "the mean of the days recorded, as week_mean gives it; blank where there are none", Whole: overWeeks},
		{Name: "days", Says: "how many days that are, as recorded_days gives it", Unit: "d", Whole: overWeeks},
		{Name: "usual", Says: "what a day of the week usually is", Unit: "like recorded", Whole: overWeeks},
	},
	Kernel: &formula.Kernel{Name: "days or", Results: []formula.Result{{Unit: "like recorded", Whole: overWeeks}}, Run: runDaysOr},
}

func runDaysOr(c *formula.Call) {
	for i, usual := range c.In[2] {
		recorded, days := c.In[0][i], c.In[1][i]
		share := max(0, min(7, days)) / 7
		switch {
		case array.IsFault(recorded) || array.IsFault(days):
			c.Out[0][i] = recorded + days
		case array.IsBlank(recorded) || array.IsBlank(days) || share == 0:
			c.Out[0][i] = usual
		case array.IsBlank(usual):
			c.Out[0][i] = recorded
		default:
			c.Out[0][i] = usual + float64(share*(recorded-usual))
		}
	}
}

var sunByDay = formula.Function{
	Name: "sun_by_day",
	Card: formula.Card{
		Family: sunAndAir,
		Says: "The sun of each recorded day by the best that is known of it: measured, else by its hours of sunshine, else by its high and low. " +
			"Bring the days to weeks with week_mean and recorded_days.",
		Gives:  "MJ/m2/d for every record",
		Valid:  bestSunValid + " Records out of season have the sky of their own day too.",
		Source: penman + "equations 21, 34, 35 and 50, held to equation 37",
		Example: formula.Example{
			Book: weatherBook("place : 42 deg", "inland : 0.16", "height : 900 ft",
				`week_sun = at(week_mean(sun_by_day(place, inland, height, weather.high, weather.low, weather.sun, weather.sunshine)), "2027-W05") -> MJ/m2/d // 9 measured, 10.08 by sunshine, 9.26 by the air`),
			Ask: "week_sun", Want: []float64{9.44688439},
		},
	},
	Params: []formula.Param{
		{Name: "latitude", Says: latitudeSays, Unit: "deg"},
		{Name: "coast_factor", Says: "0.16 inland to 0.19 at a coast", Unit: "1", Measured: coastFactors},
		{Name: "elevation", Says: "height above the sea, for the clear sky", Unit: "m", Measured: elevations},
		{Name: "high", Says: "the day's highest outside air, a column of records", Unit: "degC", Whole: byRows},
		{Name: "low", Says: "the day's lowest outside air", Unit: "degC", Whole: byRows},
		{Name: "measured", Says: "the sun as measured; blank where it was not", Unit: sunPerDay, Whole: byRows, Optional: true, Default: array.Blank},
		{Name: "sunshine", Says: "hours of sunshine; blank where not recorded", Unit: "h", Whole: byRows, Optional: true, Default: array.Blank},
	},
	Kernel: &formula.Kernel{Name: "sun by day", Results: []formula.Result{{Unit: sunPerDay, Whole: byRows}}, Run: runSunByDay},
}

func runSunByDay(c *formula.Call) {
	latitude, factor, height := c.In[0][0], c.In[1][0], c.In[2][0]
	if !isLatitude(c, latitude) {
		return
	}
	for r, day := range c.Rows.Day {
		high, low, measured, sunshine := c.In[3][r], c.In[4][r], c.In[5][r], c.In[6][r]
		sky := house.SkyLight(latitude, day.OfYear())
		bySunshine := array.Blank
		byAir, found := missing(high, low, factor, height)
		if !found {
			byAir = house.SunFromAir(sky, high, low, factor, height)
		}
		if sunshine == sunshine {
			bySunshine = house.SunFromSunshine(sky, sunshine, house.DayLength(latitude, day.OfYear()))
		}
		c.Out[0][r], _ = house.BestSun(measured, bySunshine, byAir)
	}
}

var airByDay = formula.Function{
	Name: "air_by_day",
	Card: formula.Card{
		Family: sunAndAir,
		Says: "The mean of each recorded day's 24 hours from what a logger shows by day and by night: each counts for as long as it is light, or dark. " +
			"Bring the days to weeks with week_mean; with days_or they stand in the place of house_air.",
		Gives:  "degC or degF for every record",
		Valid:  "By day is the mean from sunrise to sunset, by night that of the other hours; a high and a low are not: their middle lies off the mean on sunny days. Blank where either is blank.",
		Source: "definition; day length: " + penman + "equation 34",
		Example: formula.Example{
			Book: "```settings\nseason   : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of    : 2027-03-10\n```\n" +
				"```records inside\ndate       | by_day degF | by_night degF\n2027-02-02 | 74          | 62\n```\n" +
				"```lines\nplace : 42 deg\n" + `week_air = at(week_mean(air_by_day(place, inside.by_day, inside.by_night)), "2027-W05") -> degF // 9.85 h of 74, 14.15 h of 62` + "\n```\n",
			Ask: "week_air", Want: []float64{66.9235},
		},
	},
	Params: []formula.Param{
		{Name: "latitude", Says: latitudeSays, Unit: "deg"},
		{Name: "by_day", Says: "air inside from sunrise to sunset, a column of records", Unit: "degC", Whole: byRows},
		{Name: "by_night", Says: "air inside in the other hours", Unit: "degC", Whole: byRows},
	},
	Kernel: &formula.Kernel{Name: "air by day", Results: []formula.Result{{Unit: "degC", Whole: byRows}}, Run: func(c *formula.Call) {
		latitude := c.In[0][0]
		if !isLatitude(c, latitude) {
			return
		}
		for r, day := range c.Rows.Day {
			light, dark := c.In[1][r], c.In[2][r]
			if gap, found := missing(light, dark); found {
				c.Out[0][r] = gap
				continue
			}
			c.Out[0][r] = dark + float64((light-dark)*house.DayLength(latitude, day.OfYear())/24)
		}
	}},
}

var normalsFromDays = formula.Function{
	Name: "normals_from_days",
	Card: formula.Card{
		Family: sunAndAir,
		Says: "Makes normals of the farm's own records of earlier years: for each month of the year the mean of its recorded days, " +
			"where they are 20 at least; else the figure typed.",
		Gives: "the unit of daily, over month_of_year",
		Valid: "Only days before the season count, so that what is forecast does not rest on itself. One month with fewer than 20 days says too little; " +
			"a normal proper is the mean of thirty years.",
		Source: "World Meteorological Organization 2017, WMO-No. 1203, Guidelines on the Calculation of Climate Normals: no month that lacks eleven days or more (from memory)",
		Example: formula.Example{
			Book: weatherBook("typed over month_of_year : 33, 36, 45, 57, 68, 77, 81, 80, 72, 61, 48, 37 degF",
				"monthly = normals_from_days(weather.high, typed) -> degF",
				`mid_october = at(normals_to_weeks(monthly), "2026-W42") -> degF // no October before the season: as typed`),
			Ask: "mid_october", Want: []float64{61},
		},
	},
	Params: []formula.Param{
		{Name: "daily", Says: "a value a day, a column of records", Whole: byRows},
		{Name: "typed", Says: "the normals to take where records are too few", Unit: "like daily", Whole: byMonthOfYear},
	},
	Kernel: &formula.Kernel{Name: "normals from days", Results: []formula.Result{{Unit: "like daily", Whole: byMonthOfYear}}, Run: func(c *formula.Call) {
		var sum [12]float64
		var days [12]int
		first := c.Season.At(0).Monday()
		for r, day := range c.Rows.Day {
			if x := c.In[0][r]; day < first && !array.IsBlank(x) {
				m := day.Month().OfYear() - 1
				sum[m] += x
				days[m]++
			}
		}
		for m := range c.Out[0] {
			c.Out[0][m] = c.In[1][m]
			if days[m] >= leastDaysOfMonth {
				c.Out[0][m] = sum[m] / float64(days[m])
			}
		}
	}},
}

var normalOn = formula.Function{
	Name: "normal_on",
	Card: formula.Card{
		Family: sunAndAir,
		Says:   "Reads twelve monthly normals on one day: a straight line between the 15ths of neighbouring months.",
		Gives:  "the unit of x",
		Valid:  "Any date. Blank when the day, or a month beside it, is blank.",
		Source: "common practice; the same line as normals_to_weeks",
		Example: formula.Example{
			Lines: []string{"high over month_of_year : 33, 36, 45, 57, 68, 77, 81, 80, 72, 61, 48, 37 degF",
				"moving_day : 2026-10-22", "usual = normal_on(high, moving_day) -> degF // 7 of the 31 days from 61 to 48"},
			Ask: "usual", Want: []float64{58.0645161},
		},
	},
	Params: []formula.Param{
		{Name: "x", Says: "one value for each month of a usual year", Whole: byMonthOfYear},
		{Name: "day", Says: "a date", Takes: formula.Dates},
	},
	Kernel: &formula.Kernel{Name: "normal on", Results: []formula.Result{{Unit: "like x"}}, Run: func(c *formula.Call) {
		if gap, found := missing(c.In[1][0]); found {
			skip(c, gap)
			return
		}
		c.Out[0][0] = dayOf(c.In[1][0]).Normal([12]float64(c.In[0]))
	}},
}
