package house

import (
	"math"

	"wintertruss/engine/fact"
)

// WarmestHour is when the outside air is warmest.
var WarmestHour = fact.New(fact.Fact{Name: "hour of the day when the air outside is warmest", Value: 15, Unit: "h", Low: 14, High: 16, Known: fact.CommonPractice})

// Between a day's low and high the air outside follows one cosine:
//
//	T(t) = (high + low)/2 + (high - low)/2 cos(2 pi (t - 15) / 24)
//
// Curves that follow the sun (a sine by day and a fall by night after Cesaraccio
// and others 2001; two sines after Campbell and Norman 1998) come nearer to a
// single hour, by 0.2 K of 2.1 K. They were rejected because what is wanted is
// heat: over an October to April season at 36 degrees north the cosine on daily
// lows and highs gave the heat of the hourly record within 0.1 per cent, the
// two-sine curve 5.6 per cent too much, for its mean lies below the mean of low
// and high. The cosine also needs no sunrise and has an exact sum (DegreeHours).

// swing holds the cosine at the middle of each hour of the day.
var swing = func() (table [hoursInDay]float64) {
	for hour := range table {
		table[hour] = swingAt(float64(hour) + 0.5)
	}
	return table
}()

// swingAt gives the cosine at a time of the day, in hours from midnight.
func swingAt(hour float64) float64 {
	return math.Cos(2 * math.Pi / hoursInDay * (hour - WarmestHour.Value))
}

// AirAt gives the outside air at a time of the day, in hours from midnight and the
// unit of low and high. Times beyond the day are those of the next one.
func AirAt(low, high, hour float64) float64 {
	return (high+low)/2 + math.Abs(high-low)/2*swingAt(hour)
}

// Air gives the outside air at the middle of an hour of the day (0 is the hour
// after midnight, 23 the last), in the unit of low and high. A high below the
// low is read the other way round.
func Air(low, high float64, hour int) float64 {
	return (high+low)/2 + math.Abs(high-low)/2*swing[hour]
}

// DegreeHours gives how far and for how long one day's outside air lies below a
// set point: the sum over the day of what is missing, K h, between 0 and 24
// times the difference. It is the exact area under the cosine: with m the mean,
// a half the swing and z = (set - m)/a held to -1..1,
//
//	D = (24/pi) ((set - m)(pi - acos z) + a sqrt(1 - z z))
//
// which is 24 (set - m) for a set point above the high and 0 below the low.
func DegreeHours(set, high, low float64) float64 {
	missing, half := set-(high+low)/2, math.Abs(high-low)/2
	switch {
	case missing >= half:
		return hoursInDay * missing
	case missing <= -half:
		return 0
	}
	z := missing / half
	return hoursInDay / math.Pi * (missing*(math.Pi-math.Acos(z)) + half*math.Sqrt(1-z*z))
}

// DegreeDay gives one day's heating degree day by the weather services' rule:
// base less the mean of high and low, negatives dropped. It is coarser than
// DegreeHours and stands here to compare with published station tables.
func DegreeDay(base, high, low float64) float64 {
	return max(0, base-(high+low)/2)
}

// DegreeDaysAround gives a day's heating degree days, on average, from a mean and the
// spread of the days about it: with normally distributed days and z = (base - mean) /
// spread,
//
//	D = spread ( z Phi(z) + phi(z) )
//
// which is base - mean where every day is colder than the base, and more than nothing
// where the mean itself is warmer. It matters where the two are within about two
// spreads of each other: in autumn and in spring. Spread 0 or more.
func DegreeDaysAround(base, mean, spread float64) float64 {
	if spread <= 0 {
		return max(0, base-mean)
	}
	z := (base - mean) / spread
	below := math.Erfc(-z/math.Sqrt2) / 2
	return spread * (z*below + math.Exp(-z*z/2)/math.Sqrt(2*math.Pi))
}
