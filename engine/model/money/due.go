package money

import "wintertruss/engine/week"

// DueDays gives the days on which payments fall due.
type DueDays struct {
	month week.Month
	day   int // of the month, from 1
}

// DueFrom counts from the day of the first payment.
func DueFrom(first week.Day) DueDays {
	year, month, day := first.Date()
	return DueDays{week.Month((year-1970)*12 + month - 1), day}
}

// After is the day so many months after the first: the same day of the month,
// and where that month is shorter, its last. It counts from the first payment each
// time, so 31 January, 28 February, 31 March.
func (d DueDays) After(months int) week.Day {
	m := d.month + week.Month(months)
	day := d.day
	if day > 28 {
		day = min(day, m.Days())
	}
	return m.First() + week.Day(day-1)
}
