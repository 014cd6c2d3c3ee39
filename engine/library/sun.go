package library

import (
	"strings"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

const (
	penman       = "Allen, Pereira, Raes and Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, "
	sunAndAir    = "sun and air"
	sunPerDay    = "MJ/m2/d"
	latitudeSays = "the place, degrees north of the equator; south is negative"
	badLatitude  = "a latitude lies between -90 and 90 degrees; south of the equator is negative"
	skySays      = "radiation above the air, as sky_light gives it"
	dayHoursSays = "hours from sunrise to sunset, as day_length gives it"
)

// Where the estimates of the sun hold.
var (
	elevations   = []formula.Measured{{Low: 0, High: 5000, Outside: "the line of the clear sky is carried on"}}
	coastFactors = []formula.Measured{{Low: 0.16, High: 0.19, Outside: asGiven}}
)

// sunFunctions gives the names for the sun's path and for estimates of the sun
// that comes through the air.
func sunFunctions() []formula.Function {
	path := &formula.Kernel{
		Name:    "sun path",
		Results: []formula.Result{{Unit: sunPerDay, Whole: []string{"week"}}, {Unit: "h", Whole: []string{"week"}}},
		Run:     runSunPath,
	}
	latitude := []formula.Param{{Name: "latitude", Says: latitudeSays, Unit: "deg"}}
	// The 15th of each month, at 40 degrees north.
	months := func(title, head, table string, monthly [12]float64) *formula.Table {
		t := &formula.Table{Title: title, Heads: []string{"month", head}, Source: penman + "annex 2, " + table}
		for i, x := range monthly {
			t.Rows = append(t.Rows, []float64{float64(i + 1), x})
		}
		return t
	}
	const anyLatitude = "latitude -90 to 90 deg, beyond it refused. Polar days have 24 hours, polar nights none and no light."
	return append(insideLightFunctions(), []formula.Function{{
		Name: "sky_light",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "The radiation that reaches the top of the air above a level surface: what a place would get without air or cloud, mean of the week's seven days.",
			Gives:  "MJ/m2/d over week",
			Valid:  anyLatitude,
			Source: penman + "equations 21 to 25",
			Example: formula.Example{
				Book: climateBook("", "place : 40 deg", "sky = sky_light(place) -> MJ/m2/d",
					`mid_january = at(sky, "2027-W02") -> MJ/m2/d // the paper's table 2.6 says 15.0 for 15 January`),
				Ask:  "mid_january",
				Want: []float64{14.9075},
			},
			Table: months("Above the air at 40 degrees north, on the 15th of each month", "sky light, MJ/m2/d", "table 2.6",
				[12]float64{15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6}),
		},
		Params: latitude, Kernel: path, Output: 0,
	}, {
		Name: "day_length",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "Hours from sunrise to sunset, mean of the week's seven days. Hills, and the minutes that the air's bending of light adds, are left out.",
			Gives:  "h over week; write -> h mean, for hours would otherwise add up over weeks",
			Valid:  anyLatitude,
			Source: penman + "equations 24, 25 and 34",
			Example: formula.Example{
				Book: climateBook("", "place : 40 deg", "hours = day_length(place) -> h mean",
					`mid_january = at(hours, "2027-W02") -> h mean // the paper's table 2.7 says 9.5 for 15 January`),
				Ask:  "mid_january",
				Want: []float64{9.44452},
			},
			Table: months("Day at 40 degrees north, on the 15th of each month", "day, h", "table 2.7",
				[12]float64{9.5, 10.5, 11.7, 13.1, 14.2, 14.8, 14.6, 13.6, 12.2, 10.9, 9.7, 9.2}),
		},
		Params: latitude, Kernel: path, Output: 1,
	}, {
		Name: "clear_sun",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "The sun outside on days without a cloud.",
			Gives:  "MJ/m2/d over the axes of sky",
			Valid:  "from the sea to about 5,000 m; clean air. More than this cannot be measured for long, so it bounds every estimate.",
			Source: penman + "equation 37",
			Example: formula.Example{
				Lines: []string{"sky : 41.09 MJ/m2/d", "elevation_here : 100 m", "brightest = clear_sun(sky, elevation_here) -> MJ/m2/d // example 18 of the paper: 30.90"},
				Ask:   "brightest",
				Want:  []float64{30.8997},
			},
		},
		Params: []formula.Param{
			{Name: "sky", Says: skySays, Unit: sunPerDay},
			{Name: "elevation", Says: "height above the sea", Unit: "m", Measured: elevations},
		},
		Kernel: &formula.Kernel{Name: "clear sun", Results: []formula.Result{{Unit: sunPerDay}}, Run: cellwise(func(in [][]float64) float64 {
			return house.ClearSun(in[0][0], in[1][0])
		})},
	}, {
		Name: "sun_from_sunshine",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "Estimates the sun outside from recorded hours of sunshine.",
			Gives:  "MJ/m2/d over the axes of its arguments",
			Valid:  "sunshine from none to the whole day; more counts as the whole day. Good to about 20 % either way; 20 to 33 % too bright in dark northern winters. Where the sun is measured, type what was measured.",
			Source: penman + "equation 35",
			Example: formula.Example{
				Lines: []string{"sky : 25.1 MJ/m2/d", "shining : 7.1 h", "hours : 10.9 h", "sun = sun_from_sunshine(sky, shining, hours) -> MJ/m2/d // example 10 of the paper: 14.5"},
				Ask:   "sun",
				Want:  []float64{14.4498},
			},
		},
		Params: []formula.Param{
			{Name: "sky", Says: skySays, Unit: sunPerDay},
			{Name: "sunshine", Says: "hours of sunshine of a day", Unit: "h"},
			{Name: "day_length", Says: dayHoursSays, Unit: "h"},
		},
		Kernel: &formula.Kernel{Name: "sun from sunshine", Results: []formula.Result{{Unit: sunPerDay}}, Run: cellwise(func(in [][]float64) float64 {
			return house.SunFromSunshine(in[0][0], in[1][0], in[2][0])
		})},
	}, {
		Name: "sun_from_air",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "Estimates the sun outside from the difference between the day's high and low: clear days are warm and clear nights cold.",
			Gives:  "MJ/m2/d over the axes of its arguments",
			Valid:  "coast_factor 0.16 inland, 0.19 at a coast. Held to the clear sky; no difference, or a high below the low, gives none. Good to about 20 % either way, 30 % in the cloudy north. Where the sun is measured, type what was measured.",
			Source: penman + "equation 50 (Hargreaves), held to equation 37",
			Example: formula.Example{
				Lines: []string{"sky : 40.6 MJ/m2/d", "high : 26.6 degC", "low : 14.8 degC", "inland : 0.16",
					"sun = sun_from_air(sky, high, low, inland) -> MJ/m2/d // example 15 of the paper: 22.3"},
				Ask:  "sun",
				Want: []float64{22.3145},
			},
		},
		Params: []formula.Param{
			{Name: "sky", Says: skySays, Unit: sunPerDay},
			{Name: "high", Says: "the day's highest outside air", Unit: "degC"},
			{Name: "low", Says: "the day's lowest outside air", Unit: "degC"},
			{Name: "coast_factor", Says: "0.16 inland to 0.19 at a coast", Unit: "1", Measured: coastFactors},
			{Name: "elevation", Says: "height above the sea, for the clear sky", Unit: "m", Optional: true, Measured: elevations},
		},
		Kernel: &formula.Kernel{Name: "sun from air", Results: []formula.Result{{Unit: sunPerDay}}, Run: cellwise(func(in [][]float64) float64 {
			return house.SunFromAir(in[0][0], in[1][0], in[2][0], in[3][0], in[4][0])
		})},
	}}...)
}

// isLatitude says whether a latitude is one; if not, the call has ended.
func isLatitude(c *formula.Call, x float64) bool {
	if x != x {
		return skip(c, x)
	}
	if x < -90 || x > 90 {
		return stop(c, badLatitude)
	}
	return true
}

// runSunPath fills sky light and day length for every week.
func runSunPath(c *formula.Call) {
	latitude := c.In[0][0]
	if !isLatitude(c, latitude) {
		return
	}
	sky, hours := c.Out[0], c.Out[1]
	for i := range c.Season.Len() {
		sky[i], hours[i] = 0, 0
		for day := c.Season.At(i).Monday(); day < c.Season.At(i).Monday()+7; day++ {
			sky[i] += house.SkyLight(latitude, day.OfYear()) / 7
			hours[i] += house.DayLength(latitude, day.OfYear()) / 7
		}
	}
}

// cellwise makes a kernel's Run of a function of single numbers. A blank or
// fault among them is the result.
func cellwise(f func(in [][]float64) float64) func(c *formula.Call) {
	return func(c *formula.Call) { cell(c, f) }
}

// cell runs a function of single numbers, for kernels that look at them first.
func cell(c *formula.Call, f func(in [][]float64) float64) {
	for _, argument := range c.In {
		if gap, found := missing(argument[0]); found {
			skip(c, gap)
			return
		}
	}
	c.Out[0][0] = f(c.In)
}

// missing gives the first blank or fault among values.
func missing(values ...float64) (gap float64, found bool) {
	for _, x := range values {
		if x != x {
			return x, true
		}
	}
	return 0, false
}

// stop ends a call with a refusal; skip with the same blank or fault in every
// cell of every output. Both give false, for callers that tell whether to go on.
func stop(c *formula.Call, why string) bool {
	c.Refuse(why)
	return false
}

func skip(c *formula.Call, gap float64) bool {
	for _, row := range c.Out {
		for i := range row {
			row[i] = gap
		}
	}
	return false
}

// climateBook makes a small book for an example: a winter season, a list of
// houses when houses is not empty, and lines.
func climateBook(houses string, lines ...string) string {
	var b strings.Builder
	b.WriteString("```settings\nseason   : 2026-W40 .. 2027-W20\ncurrency : USD\n```\n")
	if houses != "" {
		b.WriteString("```list house\n" + houses + "```\n")
	}
	b.WriteString("```lines\n" + strings.Join(lines, "\n") + "\n```\n")
	return b.String()
}
