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
