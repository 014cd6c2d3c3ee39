package money

import "wintertruss/engine/week"

// Due is the day a payment falls due: so many months after the day of the
// first. Where that month is shorter, it is its last day; the count runs from
// the first payment each time, so 31 January, 28 February, 31 March.
func Due(first week.Day, months int) week.Day {
	year, month, day := first.Date()
	m := week.Month((year-1970)*12 + month - 1 + months)
	return m.First() + week.Day(min(day, m.Days())-1)
}
