package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// airFunctions gives the names for what a day's low and high say of its hours.
func airFunctions() []formula.Function {
	week := []string{"week"}
	highAndLow := []formula.Param{
		{Name: "high", Says: "the day's highest outside air, mean of the week's days", Unit: "degC", Whole: week},
		{Name: "low", Says: "the day's lowest outside air, mean of the week's days", Unit: "degC", Whole: week},
	}
	return []formula.Function{{
		Name: "air_at_hour",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "The outside air at an hour of the day, by the one cosine between the day's low and high that the house is computed by: warmest at 15 h, coldest at 3 h.",
			Gives:  "degC or degF over the axes of its arguments",
			Valid:  "Solar time; hours beyond 24 are those of the next day. Single hours are off by about 2 K (2.1 K over a typical year at 36 degrees north); sums over days are much nearer. A high below the low is read the other way round.",
			Source: "definition of the curve; warmest hour: common practice",
			Example: formula.Example{
				Lines: []string{"high : 50 degF", "low : 30 degF", "evening : 21 h", "then = air_at_hour(high, low, evening) -> degF // half way down"},
				Ask:   "then", Want: []float64{40},
			},
		},
		Params: []formula.Param{
			{Name: "high", Says: "the day's highest outside air", Unit: "degC"},
			{Name: "low", Says: "the day's lowest outside air", Unit: "degC"},
			{Name: "hour", Says: "time of the day from midnight", Unit: "h"},
		},
		Kernel: &formula.Kernel{Name: "air at hour", Results: []formula.Result{{Unit: "degC"}}, Run: cellwise(func(in [][]float64) float64 {
			return house.AirAt(in[1][0], in[0][0], in[2][0])
		})},
	}, {
		Name: "degree_hours",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "How far and for how long outside air lies below a temperature: the sum over the week's hours of what is missing. Times a house's loss it is the heat without sun.",
			Gives:  "K*h in the week, over week; degF_diff*h when asked for",
			Valid:  "any temperatures. The day follows one cosine between low and high, which gives a season's heat within about 3 % of hourly records. A high below the low is read the other way round.",
			Source: "the area under the cosine, a definition; inputs of the example: Miller and Nemali, Purdue Extension, on heating costs (33.6 degF outside against 70 degF)",
			Example: formula.Example{
				Book: climateBook("", "kept : 70 degF", "outside : 33.6 degF", "short = degree_hours(kept, outside, outside) -> degF_diff*h",
					`a_week = at(short, "2027-W02") -> degF_diff*h`),
				Ask:  "a_week",
				Want: []float64{6115.2},
			},
		},
		Params: append([]formula.Param{{Name: "set", Says: "the temperature to be kept", Unit: "degC", Whole: week}}, highAndLow...),
		Kernel: weekly("degree hours", "K*h", house.DegreeHours),
	}, {
		Name: "degree_days",
		Card: formula.Card{
			Family: sunAndAir,
			Says:   "Heating degree days as weather stations publish them: the base less the middle of high and low, nothing when that is negative. For comparing a season with a station's table; degree_hours is finer.",
			Gives:  "K*d in the week, over week",
			Valid:  "any temperatures. On weeks with days on both sides of the base it counts too little.",
			Source: "Western Regional Climate Center, rule of the station tables: high 65, low 31, base 50 degF make 2",
			Example: formula.Example{
				Book: climateBook("", "base_kept : 50 degF", "high : 65 degF", "low : 31 degF", "short = degree_days(base_kept, high, low) -> degF_diff*d",
					`a_week = at(short, "2027-W02") -> degF_diff*d // seven days of 2`),
				Ask:  "a_week",
				Want: []float64{14},
			},
		},
		Params: append([]formula.Param{{Name: "base", Says: "the temperature below which heat is counted", Unit: "degC", Whole: week}}, highAndLow...),
		Kernel: weekly("degree days", "K*d", house.DegreeDay),
	}, {
		Name: "degree_days_around",
		Card: formula.Card{
			Family: sunAndAir,
			Says: "Heating degree days of a week from its mean and how far single days lie from it. In autumn and spring, when some days are colder than the base and some are not, " +
				"degree_days counts too little and this does not.",
			Gives:  "K*d in the week, over week",
			Valid:  "Days normally distributed about their mean. A spread below 0 is refused; with none it is degree_days. Published months come out within 5 degree days.",
			Source: "mean of a normal distribution below a bound, a definition; checked against Western Regional Climate Center, heating degree days of Benson 6 SE, Arizona: April 81 to base 60 degF",
			Example: formula.Example{
				Book: climateBook("", "base_kept : 60 degF", "usual : 61 degF", "days_spread : 8 degF_diff", "short = degree_days_around(base_kept, usual, days_spread) -> degF_diff*d",
					"month_length : 30 d", `in_april = at(short / week_days, "2027-W14") * month_length -> degF_diff*d // the table says 81`),
				Ask: "in_april", Want: []float64{81.4932},
			},
			Table: &formula.Table{
				Title:  "Heating degree days of April at Benson 6 SE, Arizona, 1990 to 2012: mean 61 and spread 8 degF give each within 5",
				Heads:  []string{"base, degF", "published, degF_diff*d", "by this, degF_diff*d"},
				Rows:   [][]float64{{50, 9, 9.3}, {55, 33, 31.5}, {57, 48, 47.5}, {60, 81, 81.5}, {65, 168, 167.5}},
				Source: "Western Regional Climate Center, station tables of heating degree days",
			},
		},
		Params: []formula.Param{
			{Name: "base", Says: "the temperature below which heat is counted", Unit: "degC", Whole: week},
			{Name: "mean", Says: "the mean of the week's days", Unit: "degC", Whole: week},
			{Name: "spread", Says: "standard deviation of single days", Unit: "K", Whole: week},
		},
		Kernel: &formula.Kernel{Name: "degree days around", Results: []formula.Result{{Unit: "K*d", Whole: []string{"week"}}}, Run: func(c *formula.Call) {
			for i := range c.Out[0] {
				base, mean, spread := c.In[0][i], c.In[1][i], c.In[2][i]
				if gap, found := missing(base, mean, spread); found {
					c.Out[0][i] = gap
					continue
				}
				if spread < 0 {
					c.Refuse("a spread is not below 0")
					return
				}
				c.Out[0][i] = 7 * house.DegreeDaysAround(base, mean, spread)
			}
		}},
	}}
}

// weekly makes a kernel that fills each week with seven times a day's figure.
func weekly(name, unit string, day func(set, high, low float64) float64) *formula.Kernel {
	return &formula.Kernel{
		Name:    name,
		Results: []formula.Result{{Unit: unit, Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			set, high, low, out := c.In[0], c.In[1], c.In[2], c.Out[0]
			for i := range out {
				if gap, found := missing(set[i], high[i], low[i]); found {
					out[i] = gap
					continue
				}
				out[i] = 7 * day(set[i], high[i], low[i])
			}
		},
	}
}
