package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// The arguments of the hourly house, by place; the list stands first.
const (
	argumentVent = iota + 1
	argumentHigh
	argumentLow
	argumentSun
	argumentDayLength
	argumentInUse
	argumentLampPower
	argumentLit
)

// hourlyFunctions gives the three outcomes of the hourly house. They share one
// kernel, so that the air and the heat of a book always come from one run.
func hourlyFunctions(list formula.Param, columns []formula.Column) []formula.Function {
	week := []string{"week"}
	kernel := &formula.Kernel{
		Name: "hourly house", Columns: columns,
		Results: []formula.Result{{Unit: "degC", Whole: week}, {Unit: "MJ", Whole: week}, {Unit: "MJ", Whole: week}},
		Run:     runHourlyHouse,
	}
	params := []formula.Param{list,
		argumentVent:      {Name: "vent_point", Says: "air temperature at which the house is opened", Unit: "degC", Whole: week},
		argumentHigh:      {Name: "high", Says: "the day's highest outside air, mean of the week's days", Unit: "degC", Whole: week},
		argumentLow:       {Name: "low", Says: "the day's lowest outside air, mean of the week's days", Unit: "degC", Whole: week},
		argumentSun:       {Name: "sun", Says: "sun outside on a level surface, mean of the week's days", Unit: sunPerDay, Whole: week},
		argumentDayLength: {Name: "day_length", Says: dayHoursSays, Unit: "h", Whole: week},
		argumentInUse:     {Name: "in_use", Says: "share of the week in which the house is kept warm; above 1 counts as 1; left out: always", Unit: "1", Whole: week, Optional: true, Default: 1},
		argumentLampPower: {Name: "lamp_power", Says: "power of the lamps over the floor; left out: no lamps", Unit: "W/m2", Whole: week, Optional: true},
		argumentLit:       {Name: "lit", Says: "hours a day that the lamps burn; left out: none", Unit: "h/d", Whole: week, Optional: true},
	}
	const valid = "day is sunrise to sunset; air floats on the sun up to the vent point, and stands at outside air when that is warmer. " +
		"No heat is kept from hour to hour, half of the light inside warms the air, vents are perfect, a week is its mean day: " +
		"on one year of hourly records at 36 degrees north the mean air came out within 0.1 K and the heat 6 % low. " +
		"Of the power of lamps 80 % warms the air (own choice, 60 to 100), in the dark hours next to sunrise and sunset first; they move no set point. " +
		"Power below 0 and hours outside 0 to 24 are refused. " +
		"A high below the low is read the other way round. Forms and losses out of bounds are refused."
	const source = "hourly balance of conduction, infiltration and sun as in ASAE EP406 and NRAES-33 (from memory), with the share of sun assumed; " +
		"checked against a measured trial: Hanna 2011, Louisiana State University, ASHS abstract 5854, within 30 %"
	reads := formReads + lossReads + dayReads
	lines := []string{"vent_point : 80 degF", "high : 50 degF", "low : 30 degF", "sun : 14 MJ/m2/d", "hours : 10 h"}
	example := func(function, unit string, want float64) formula.Example {
		ask := `a_week = at(only(` + function + `(house, vent_point, high, low, sun, hours), "long"), "2027-W02") -> ` + unit
		return formula.Example{Book: climateBook(exampleHouses, append(lines[:len(lines):len(lines)], ask)...), Ask: "a_week", Want: []float64{want}}
	}
	return []formula.Function{{
		Name: "house_air",
		Card: formula.Card{
			Family: sunAndAir,
			Says: "The mean air inside a house, which drives the crop: the set point, or warmer by sun and lamps, hour by hour. " +
				"In a week partly in use it is the air of the days in use; in a week not in use it is outside air." + reads,
			Gives:   "degC over the list and week",
			Valid:   valid,
			Source:  source,
			Example: example("house_air", "degF", 67.5854),
		},
		Params: params, Kernel: kernel, Output: 0,
	}, {
		Name: "house_heat",
		Card: formula.Card{
			Family:  heatFamily,
			Says:    "The heat that the heater must deliver to a house in the week, sun and lamps used, from the same hours as house_air." + reads + burnerCaution,
			Gives:   "MJ in the week, over the list and week; BTU or kWh when asked for",
			Valid:   valid,
			Source:  source,
			Example: example("house_heat", "BTU", 12301085),
			Table: &formula.Table{
				Title: "What two tomato houses burned from January to March, and what this says of such a house", Heads: []string{"house of 30 x 96 ft", "heat, therm"},
				Of:     []string{"gas, measured", "diesel, measured", "reckoned, delivered", "reckoned, burned at 80 %"},
				Rows:   [][]float64{{2081}, {1957.9}, {1317}, {1646}},
				Source: "measured: Hanna 2011, Louisiana State University Agricultural Center, American Society for Horticultural Science, abstract 5854; reckoned with the normals of Benton, Louisiana, without sun: set points and cover of the trial are not in the abstract",
			},
		},
		Params: params, Kernel: kernel, Output: 1,
	}, {
		Name: "house_heat_no_sun",
		Card: formula.Card{
			Family:  heatFamily,
			Says:    "The heat that a house would take in the week if no sun came in (lamps that are given still burn): the plain figure of most worksheets, to stand beside house_heat." + reads + burnerCaution,
			Gives:   "MJ in the week, over the list and week; BTU or kWh when asked for",
			Valid:   valid,
			Source:  source,
			Example: example("house_heat_no_sun", "BTU", 18182704),
		},
		Params: params, Kernel: kernel, Output: 2,
	}}
}

// runHourlyHouse runs one representative day for each week.
func runHourlyHouse(c *formula.Call) {
	form, cover, leaks, ok := readLoss(c)
	if !ok {
		return
	}
	saves := given(c.Columns[columnScreenSaves][0], 0)
	passes := given(c.Columns[columnPasses][0], house.CoverPasses.Value)
	floor := given(c.Columns[columnFloor][0], form.Floor)
	if gap, found := missing(saves, passes, floor); found {
		skip(c, gap)
		return
	}
	if saves < 0 || saves > 1 || passes < 0 || passes > 1 || floor < 0 {
		c.Refuse("screen_saves and passes lie between 0 and 100 %, and a floor is not below 0")
		return
	}
	lampFloor := floor * house.LampsWarm.Value
	h := house.House{CoverLoss: cover, AirLoss: leaks, ScreenSaves: saves, SunArea: floor * passes * house.SunWarms.Value}
	air, heat, noSun := c.Out[0], c.Out[1], c.Out[2]
	night, day := c.Columns[columnNight], c.Columns[columnDay]
	vent, high, low := c.In[argumentVent], c.In[argumentHigh], c.In[argumentLow]
	sun, hours, inUse := c.In[argumentSun], c.In[argumentDayLength], c.In[argumentInUse]
	power, lit := c.In[argumentLampPower], c.In[argumentLit]
	for i := range air {
		if gap, found := missing(high[i], low[i], inUse[i]); found {
			air[i], heat[i], noSun[i] = gap, gap, gap
			continue
		}
		if inUse[i] <= 0 {
			air[i], heat[i], noSun[i] = house.Empty(low[i], high[i]).Air, 0, 0
			continue
		}
		if gap, found := missing(night[i], day[i], vent[i], sun[i], hours[i], power[i], lit[i]); found {
			air[i], heat[i], noSun[i] = gap, gap, gap
			continue
		}
		if power[i] < 0 || lit[i] < 0 || lit[i] > 24 {
			c.Refuse("lamps burn 0 to 24 hours a day, and their power is not below 0")
			return
		}
		h.Lamps = lampFloor * power[i]
		o := h.Day(house.Day{Low: low[i], High: high[i], Sun: sun[i], Length: hours[i], NightSet: night[i], DaySet: day[i], VentPoint: vent[i], Lit: lit[i]})
		daysInUse := 7 * min(1, inUse[i])
		air[i], heat[i], noSun[i] = o.Air, daysInUse*o.Heat, daysInUse*o.HeatNoSun
	}
}
