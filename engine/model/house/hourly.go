package house

import (
	"math"

	"wintertruss/engine/fact"
)

// # The hourly house
//
// Asked of a house are the air that the crop meets and the heat that the heater
// delivers. Both come from one balance, hour by hour over one representative
// day, because each decides the other: sun that warms the air above the set
// point saves no more fuel, and air held at the set point is no warmer for it.
//
// Chosen:
//
//   - Steady state within the hour. Sun in, heat out through cover and leaks;
//     when the sun falls short of the loss at the set point the heater makes up
//     the rest, when it exceeds it the air floats up, at most to the vent point.
//   - No carry-over. What a sunny hour has too much is gone by the next. A house
//     of film over bags holds little that gives its warmth back at a useful
//     rate, and its air is changed within an hour or two. A published dynamic
//     model needed 8.9 per cent less heat than degree days to the same base
//     (abstract, American Society of Agricultural Engineers): that is the size
//     of what is left out, and leaving it out asks for more fuel, not less.
//   - Half of the sun that comes in warms the air (SunWarms). The rest leaves as
//     water that the crop breathes out, or goes into the ground. Whatever this
//     share does to a season's heat shows beside HeatNoSun, which uses no sun.
//   - Lamps warm the air as the sun does, with their own share (LampsWarm), in the
//     hours they burn. They lengthen the day at both ends: the dark hours next to
//     sunrise and sunset first, where heat is wanted. The set points stay those of
//     the sun's day. Lamps that burn at noon save less than this says.
//   - Day is sunrise to sunset. The hour in which the sun rises has a set point
//     between night and day in proportion, so that results change smoothly with
//     the season. Growers who step the set point by the clock find it in the
//     means: what counts is how long each of them holds.
//   - Solar time. Noon is the middle of the sun's day; clocks differ from it by
//     up to an hour or so, which moves heat within the day and hardly changes it.
//   - The sun over the day follows half a sine wave.
//   - Vents are perfect: air never passes the vent point while outside air is
//     below it. On bright days a real house runs some degrees above.
//
// Rejected:
//
//   - Degree days. They know no sun, no vent point and no two set points, and
//     give no air for the crop.
//   - A model that stores heat in soil, bags and crop. It needs figures that no
//     family has for its house, and an hour's memory would forbid computing weeks
//     on their own.
//   - Every day of a week by itself. Forecasts come as weekly means. The price
//     is that sunny and dull days are averaged: where the sun of a mean day just
//     meets the loss, dull days still burn fuel. Over October to April of one
//     typical year of hourly records (National Renewable Energy Laboratory, TMY3,
//     station 723170, 36 degrees north; 62 and 70 degF, UA 3,849 BTU/h/degF) the
//     averaged weeks took 4 per cent less heat than their days one by one, 6 per
//     cent less than their hours, and gave the mean air within 0.1 K. This error
//     and the missing carry-over pull in opposite directions and are of one size.

// SunWarms is the share of the light inside that warms the air.
var SunWarms = fact.New(fact.Fact{Name: "share of the sun inside a house that warms its air", Value: 0.5, Unit: "1", Low: 0.35, High: 0.70,
	Source: "own choice: at 0.5 sun saves about a quarter of a season's heat at 36 degrees north; a California study of degree days found about 20 %; a full crop turns about 0.6 of the light inside into vapour",
	Place:  "", Known: fact.Assumed})

// House is what the hourly balance needs to know of a house.
type House struct {
	CoverLoss   float64 // W/K through the cover with screens open
	AirLoss     float64 // W/K with leaking air
	ScreenSaves float64 // share of CoverLoss that a screen closed at night saves, 0..1
	SunArea     float64 // m2: floor x share of light that passes x SunWarms
	Lamps       float64 // W that warm the air while lamps burn: floor x power x LampsWarm
}

// Day is a representative day and what is asked of the house.
type Day struct {
	Low, High float64 // outside air, degC
	Sun       float64 // outside, MJ/m2/d
	Length    float64 // sunrise to sunset, h, 0..24
	NightSet  float64 // set point from sunset to sunrise, degC
	DaySet    float64 // set point from sunrise to sunset, degC
	VentPoint float64 // degC
	Lit       float64 // hours in which lamps burn, 0..24
}

// Outcome is what a day in the house comes to.
type Outcome struct {
	Air       float64 // mean of the 24 hours, degC
	Heat      float64 // delivered by the heater, MJ/d
	HeatNoSun float64 // what it would deliver if no sun came in, lamps as they burn, MJ/d
}

// Hour gives one hour's steady balance: the air inside (degC) and the heat
// delivered (W), for a loss (W/K), a set point, a vent point and outside air
// (degC), and the sun, with lamps, that warms the air (W).
//
//	need = loss (set - outside)
//	heated       when need >= sun: air = set, heat = need - sun
//	floating     otherwise:        air = outside + sun/loss, heat = 0
//	vented       as floating, but air is held to the warmest of vent point,
//	             set point and outside air
func Hour(loss, set, vent, outside, sun float64) (air, heat float64) {
	need := loss * (set - outside)
	if need >= sun {
		return set, need - sun
	}
	air = outside + sun/loss
	if limit := max(vent, set, outside); air > limit {
		air = limit
	}
	return air, 0
}

// Day gives the house's 24 hours for a representative day. See the essay above
// for what it leaves out. Sun on a day without length is not counted. A high
// below the low is read the other way round.
func (h House) Day(d Day) Outcome {
	mean, half := (d.High+d.Low)/2, math.Abs(d.High-d.Low)/2
	var shape sunDay
	shape.fill(d.Length)
	sunWatts := h.SunArea * d.Sun / megajoulesInWh // Wh over the day: spread over the hours it is W in each
	lit := litHours(d.Length, d.Lit)
	saved := h.ScreenSaves * h.CoverLoss
	open := h.CoverLoss + h.AirLoss
	var airSum, heatSum, noSunSum float64
	for hour := range hoursInDay {
		fromNoon := hour - hoursInDay/2
		if fromNoon < 0 {
			fromNoon = -1 - fromNoon
		}
		light := shape.light[fromNoon]
		outside := mean + half*swing[hour]
		set := d.NightSet + (d.DaySet-d.NightSet)*light
		loss := open - saved*(1-light)
		lamps := h.Lamps * lit[fromNoon]
		air, heat := Hour(loss, set, d.VentPoint, outside, sunWatts*shape.sun[fromNoon]+lamps)
		airSum += air
		heatSum += heat
		if need := loss*(set-outside) - lamps; need > 0 {
			noSunSum += need
		}
	}
	return Outcome{
		Air:       airSum / hoursInDay,
		Heat:      heatSum * megajoulesInWh,
		HeatNoSun: noSunSum * megajoulesInWh,
	}
}

// Empty gives the day of a house that is left cold and open: outside air, no heat.
func Empty(low, high float64) Outcome { return Outcome{Air: (low + high) / 2} }

// sunDay holds, for the hours counted from noon either way (0 is noon to one
// o'clock, and eleven to noon), the share of the hour that is day and the share
// of the day's sun that falls in it.
type sunDay struct {
	light, sun [hoursInDay / 2]float64
}

// fill spreads a day of the given length, h. Half a sine wave from sunrise to
// sunset has, between noon and k hours from it, the share sin(pi k / N) / 2 of
// its sun; the sines of equal steps come from each other by
// sin((k+1) a) = 2 cos(a) sin(k a) - sin((k-1) a).
func (s *sunDay) fill(length float64) {
	if !(length > 0) {
		return
	}
	length = min(length, hoursInDay)
	step, twice := math.Sincos(math.Pi / length)
	twice *= 2
	before, at := 0.0, 0.0 // sines at k-1 and k
	for k := range s.sun {
		s.light[k] = max(0, min(1, length/2-float64(k)))
		next := step
		if k > 0 {
			next = twice*at - before
		}
		if float64(k+1) >= length/2 {
			s.sun[k] = max(0, (1-at)/2)
			for k++; k < len(s.sun); k++ {
				s.light[k], s.sun[k] = 0, 0
			}
			return
		}
		s.sun[k] = (next - at) / 2
		before, at = at, next
	}
}
