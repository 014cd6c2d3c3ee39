package house

import (
	"math"

	"wintertruss/engine/fact"
)

const penman = "Allen, Pereira, Raes and Smith 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56"

// The constants of the sky light equations.
var (
	SolarConstant = fact.New(fact.Fact{Name: "radiation that reaches the top of the air", Value: 0.0820, Unit: "MJ/m2/min", Low: 0.0816, High: 0.0823,
		Source: penman, Place: "equation 21", Known: fact.Quoted})
	OrbitStretch = fact.New(fact.Fact{Name: "half the yearly change of sunlight with the distance of the sun", Value: 0.033, Unit: "1", Low: 0.033, High: 0.034,
		Source: penman, Place: "equation 23", Known: fact.Quoted})
	SunTilt = fact.New(fact.Fact{Name: "greatest height of the sun above the equator's plane, in radians", Value: 0.409, Unit: "1", Low: 0.409, High: 0.4093,
		Source: penman, Place: "equation 24", Known: fact.Quoted})
	SunPhase = fact.New(fact.Fact{Name: "where in its yearly swing the sun stands as the year begins, in radians", Value: 1.39, Unit: "1", Low: 1.38, High: 1.405,
		Source: penman, Place: "equation 24", Known: fact.Quoted})
)

// The constants of the estimates of what comes through the air.
var (
	OvercastShare = fact.New(fact.Fact{Name: "share of sky light that comes through on a day without sunshine", Value: 0.25, Unit: "1", Low: 0.15, High: 0.30,
		Source: penman, Place: "equation 35; the range is assumed", Known: fact.Quoted})
	SunshineShare = fact.New(fact.Fact{Name: "further share that comes through when the sun shines all day", Value: 0.50, Unit: "1", Low: 0.45, High: 0.55,
		Source: penman, Place: "equation 35; the range is assumed", Known: fact.Quoted})
	ClearShare = fact.New(fact.Fact{Name: "share of sky light that comes through a clear sky at sea level", Value: 0.75, Unit: "1", Low: 0.70, High: 0.80,
		Source: penman, Place: "equation 37; the range is assumed", Known: fact.Quoted})
	ClearByHeight = fact.New(fact.Fact{Name: "further share that comes through for each metre of height", Value: 2e-5, Unit: "1/m", Low: 2e-5, High: 2e-5,
		Source: penman, Place: "equation 37", Known: fact.Quoted})
	CoastFactorInland = fact.New(fact.Fact{Name: "share of sky light for the root of one degree between low and high, inland", Value: 0.16, Unit: "1", Low: 0.14, High: 0.18,
		Source: penman, Place: "equation 50; the range is assumed", Known: fact.Quoted})
	CoastFactorCoast = fact.New(fact.Fact{Name: "share of sky light for the root of one degree between low and high, at the coast", Value: 0.19, Unit: "1", Low: 0.17, High: 0.21,
		Source: penman, Place: "equation 50; the range is assumed", Known: fact.Quoted})
)

// SunDistance gives how much nearer than its mean the sun is, as the factor on
// sunlight, for a day of the year (1 is 1 January):
//
//	dr = 1 + 0.033 cos(2 pi J / 365)
//
// FAO 56, equation 23.
func SunDistance(dayOfYear int) float64 {
	return 1 + OrbitStretch.Value*math.Cos(2*math.Pi/365*float64(dayOfYear))
}

// SunHeight gives the sun's height above the equator's plane, in radians:
//
//	delta = 0.409 sin(2 pi J / 365 - 1.39)
//
// FAO 56, equation 24.
func SunHeight(dayOfYear int) float64 {
	return SunTilt.Value * math.Sin(2*math.Pi/365*float64(dayOfYear)-SunPhase.Value)
}

// SunsetAngle gives half the day as an angle of the earth's turn, in radians:
//
//	omega = acos(-tan(phi) tan(delta))
//
// FAO 56, equation 25. Where the sun does not set it is pi, where it does not
// rise 0: the cosine is held to -1..1, so every latitude is safe.
func SunsetAngle(latitudeDegrees float64, dayOfYear int) float64 {
	cosine := -math.Tan(latitudeDegrees*math.Pi/180) * math.Tan(SunHeight(dayOfYear))
	return math.Acos(max(-1, min(1, cosine)))
}

// DayLength gives the hours from sunrise to sunset, 0 to 24:
//
//	N = 24 omega / pi
//
// FAO 56, equation 34. It knows no hills, no refraction and no width of the
// sun, which together lengthen a day by some minutes.
func DayLength(latitudeDegrees float64, dayOfYear int) float64 {
	return hoursInDay / math.Pi * SunsetAngle(latitudeDegrees, dayOfYear)
}

// SkyLight gives the radiation above the air on a level surface, MJ/m2/d:
//
//	Ra = (24 x 60 / pi) 0.0820 dr (omega sin(phi) sin(delta) + cos(phi) cos(delta) sin(omega))
//
// FAO 56, equation 21. Latitude in degrees, south negative, -90 to 90; day of
// the year 1 to 366. Nothing where the sun does not rise.
func SkyLight(latitudeDegrees float64, dayOfYear int) float64 {
	const minutesInDay = hoursInDay * 60
	latitude, height := latitudeDegrees*math.Pi/180, SunHeight(dayOfYear)
	omega := SunsetAngle(latitudeDegrees, dayOfYear)
	path := omega*math.Sin(latitude)*math.Sin(height) + math.Cos(latitude)*math.Cos(height)*math.Sin(omega)
	return minutesInDay / math.Pi * SolarConstant.Value * SunDistance(dayOfYear) * path
}

// ClearSun gives the sun of a day without a cloud, in the unit of skyLight:
//
//	Rso = (0.75 + 2e-5 z) Ra
//
// FAO 56, equation 37; z is the height above the sea in metres, from the sea to
// about 5,000 m.
func ClearSun(skyLight, elevation float64) float64 {
	return (ClearShare.Value + ClearByHeight.Value*elevation) * skyLight
}

// SunFromSunshine estimates the sun from the hours of sunshine n of a day N
// hours long, in the unit of skyLight:
//
//	Rs = (0.25 + 0.50 n / N) Ra
//
// FAO 56, equation 35. Hours beyond the day count as the whole day; a day
// without length has no sun. Dark winters of the cloudy north come out 20 to
// 30 per cent too bright (De Bilt, the Netherlands, 1980-2019, December and
// January); elsewhere count on 20 per cent either way.
func SunFromSunshine(skyLight, sunshine, dayLength float64) float64 {
	if dayLength <= 0 {
		return 0
	}
	shining := max(0, min(1, sunshine/dayLength))
	return (OvercastShare.Value + SunshineShare.Value*shining) * skyLight
}

// SunFromAir estimates the sun from a day's lowest and highest air temperature,
// in the unit of skyLight:
//
//	Rs = k sqrt(Tmax - Tmin) Ra, at most the clear sun of that height
//
// FAO 56, equation 50 (Hargreaves); coastFactor k is 0.16 inland and 0.19 at a
// coast. A high below the low counts as no difference. As good as
// SunFromSunshine, no better.
func SunFromAir(skyLight, high, low, coastFactor, elevation float64) float64 {
	estimate := coastFactor * math.Sqrt(max(0, high-low)) * skyLight
	return min(estimate, ClearSun(skyLight, elevation))
}

// Basis says what a figure for the sun rests on.
type Basis int

const (
	Unknown Basis = iota
	Measured
	BySunshine
	ByAir
)

// BestSun gives the sun by the best that is known of a day or week, in the unit
// of skyLight, and what that is: what was measured, else the estimate from hours
// of sunshine, else that from the air. What is not known is not a number; where
// nothing is, so is the result.
func BestSun(measured, bySunshine, byAir float64) (sun float64, by Basis) {
	switch {
	case measured == measured:
		return measured, Measured
	case bySunshine == bySunshine:
		return bySunshine, BySunshine
	case byAir == byAir:
		return byAir, ByAir
	}
	return byAir, Unknown
}
