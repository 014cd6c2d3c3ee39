package week

import "fmt"

// Week counts weeks of ISO 8601 from the one that holds 1970-01-01.
type Week int32

// firstMonday is the Monday of week 0: 1969-12-29.
const firstMonday Day = -3

// ParseWeek reads a week such as 2026-W53. Week 53 stands only in years that
// have it.
func ParseWeek(s string) (Week, error) {
	if len(s) != len("2026-W53") || s[4:6] != "-W" {
		return 0, errWeekForm(s)
	}
	year, okYear := digits(s[:4])
	number, okNumber := digits(s[6:])
	switch {
	case !okYear || !okNumber:
		return 0, errWeekForm(s)
	case year < firstYear:
		return 0, errYear(s)
	}
	w := firstWeekOf(year) + Week(number-1)
	if number < 1 || w > lastWeekOf(year) {
		return 0, errNoSuchWeek(s, year, number)
	}
	return w, nil
}

// firstWeekOf is week 1 of a year: the one that holds 4 January.
func firstWeekOf(year int) Week { return (monthOf(year, 1).First() + 3).Week() }

// lastWeekOf is the last week of a year: the one that holds 28 December.
func lastWeekOf(year int) Week { return (monthOf(year, 12).First() + 27).Week() }

// String writes the week, such as 2026-W53.
func (w Week) String() string {
	t := w.thursday()
	year, _, _ := t.Date()
	return fmt.Sprintf("%04d-W%02d", year, (t.OfYear()-1)/7+1)
}

// Monday is the first day of the week.
func (w Week) Monday() Day { return firstMonday + Day(w)*7 }

// thursday is the day that gives the week to a year and a month: the middle
// one, so most days of the week lie in them.
func (w Week) thursday() Day { return w.Monday() + 3 }

// sunday is the last day of the week.
func (w Week) sunday() Day { return w.Monday() + 6 }

// Month is the month that owns the week: the one of its Thursday.
func (w Week) Month() Month { return w.thursday().Month() }
