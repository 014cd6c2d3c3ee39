package feed

import (
	"math"

	"wintertruss/engine/fact"
)

const dripArticle = "hortidaily.com, article 9239852, on watering tomatoes by light"

var (
	uptakeOfSun = fact.New(fact.Fact{Name: "water that a full canopy of tomatoes drinks, by sun outside", Value: 0.17, Unit: "L/MJ", Low: 0.13, High: 0.22,
		Source: dripArticle + "; range: right to about a third over a season, and poor by the week, own reading of an open crop record (cherry tomato under lamps, Netherlands 2020: 0.16 to 0.29)",
		Place:  "1.7 mL for a joule on a square centimetre and a square metre of crop", Known: fact.Read})
	drainByLight = fact.New(fact.Fact{Name: "drain for a day of 1,000 J/cm2 of sun outside, of what is given", Value: 0.20, Unit: "1", Low: 0.10, High: 0.30,
		Source: dripArticle, Place: "below 500 J/cm2 0 to 10 %, to 1,000 10 to 20, to 1,500 20 to 30, above 30 to 40", Known: fact.Read})
	mostDrain = fact.New(fact.Fact{Name: "drain on the brightest days, of what is given", Value: 0.40, Unit: "1", Low: 0.30, High: 0.40,
		Source: dripArticle, Place: "above 1,500 J/cm2: 30 to 40 %", Known: fact.Read})
	youngShare = fact.New(fact.Fact{Name: "what a plant just set out drinks, of a full canopy's", Value: 0.15, Unit: "1", Low: 0.10, High: 0.30,
		Source: "water use rises with crop height: Lake 1966; the share itself is remembered", Known: fact.Memory})
	daysToFull = fact.New(fact.Fact{Name: "days from setting out to a full canopy at the wire", Value: 56, Unit: "d", Low: 42, High: 84, Known: fact.CommonPractice})
)

// UptakeOfSun is the water that a full canopy drinks for the sun outside, L/MJ.
func UptakeOfSun() float64 { return uptakeOfSun.Value }

// DaysToFull is how long a crop usually takes from setting out to the wire, d.
func DaysToFull() float64 { return daysToFull.Value }

// Drinks gives what a crop drinks in a day, L/m2: sun outside (MJ/m2/d) x use
// (L/MJ) x the share of a full canopy there is.
func Drinks(sun, canopy, use float64) float64 { return sun * use * canopy }

// Canopy gives what a crop drinks of a full canopy's use, so many days after it was
// set out: 15 % on that day, on a straight line to all of it after full days; before
// it is set out, nothing.
func Canopy(day, full float64) float64 {
	if day < 0 {
		return 0
	}
	return min(1, youngShare.Value+(1-youngShare.Value)*day/full)
}

// MeanCanopy gives the mean of [Canopy] over the days from..to after setting out,
// exactly: the straight line, then all of it. From before to, to above 0.
func MeanCanopy(from, to, full float64) float64 {
	start := max(0, from)
	if to <= start {
		return 0
	}
	// The area under the line to each end.
	area := func(d float64) float64 {
		line := min(d, full)
		return youngShare.Value*line + (1-youngShare.Value)*line*line/(2*full) + max(0, d-full)
	}
	return (area(to) - area(start)) / (to - start)
}

// DrainShare gives what part of the feed given out should run off again on a day of
// so much sun outside, MJ/m2/d: the straight line through the edges of the published
// steps (nothing at 0, 10 % at 500 J/cm2, 20 % at 1,000, 30 % at 1,500), up to 40 %.
// The line and not the steps, so that a week's mean light says what its days would.
func DrainShare(sun float64) float64 {
	return math.Min(mostDrain.Value, drainByLight.Value*math.Max(0, sun)/thousandJoules)
}

// thousandJoules on a square centimetre are ten MJ on a square metre.
const thousandJoules = 10.0
