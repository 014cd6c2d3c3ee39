package protect

import "math"

// TimesDue gives how many times something falls due in the days from monday to seven
// days later, when it is done on day first and then every so many days, before day
// last. The days are those of one calendar; every is above 0.
func TimesDue(monday, first, every, last float64) float64 {
	from, to := max(monday, first), min(monday+7, last)
	if !(to > from) {
		return 0
	}
	// Due days are first + k x every: those below to, less those below from. A hair
	// below a whole number is the rounding of a division.
	below := func(day float64) float64 { return math.Ceil((day-first)/every - 1e-9) }
	return below(to) - below(from)
}

// InStep gives the first day, not before first, that lies a whole number of times every
// from day with: so that several plantings share one delivery.
func InStep(first, every, with float64) float64 {
	return first + every*math.Ceil((first-with)/every-1e-9) - (first - with)
}

// Cover gives how many of the days from..to lie in at least one of some spans, each from
// its day of froms and before its day of tos: each day once, however many spans cover
// it; and where the first of them begins and the last ends. It puts the spans in the
// order in which they begin.
func Cover(from, to float64, froms, tos []float64) (days, begin, end float64) {
	for i := 1; i < len(froms); i++ {
		for j := i; j > 0 && froms[j] < froms[j-1]; j-- {
			froms[j], froms[j-1] = froms[j-1], froms[j]
			tos[j], tos[j-1] = tos[j-1], tos[j]
		}
	}
	counted := from
	for i := range froms {
		a, b := max(froms[i], counted), min(tos[i], to)
		if b > a {
			if days == 0 {
				begin = a
			}
			days += b - a
			counted, end = b, b
		}
	}
	return days, begin, end
}
