package week

import "fmt"

// Day counts days from 1970-01-01, in the Gregorian calendar.
type Day int32

// ISO 8601 uses the Gregorian calendar from its first whole year on, and
// writes a year with four digits.
const (
	firstYear = 1583
	lastYear  = 9999
)

// ParseDay reads a date such as 2026-10-12.
func ParseDay(s string) (Day, error) {
	if len(s) != len("2026-10-12") || s[4] != '-' || s[7] != '-' {
		return 0, errDayForm(s)
	}
	year, okYear := digits(s[:4])
	month, okMonth := digits(s[5:7])
	day, okDay := digits(s[8:])
	switch {
	case !okYear || !okMonth || !okDay:
		return 0, errDayForm(s)
	case year < firstYear:
		return 0, errYear(s)
	case month < 1 || month > 12:
		return 0, errNoSuchMonth(s, month)
	}
	m := monthOf(year, month)
	if day < 1 || day > m.Days() {
		return 0, errNoSuchDay(s, m, day)
	}
	return m.First() + Day(day-1), nil
}

// digits reads a number written in digits alone.
func digits(s string) (int, bool) {
	n := 0
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, true
}

// String writes the date, such as 2026-10-12.
func (d Day) String() string {
	year, month, day := d.Date()
	return fmt.Sprintf("%04d-%02d-%02d", year, month, day)
}

// Week is the week that holds the day.
func (d Day) Week() Week {
	return Week(floorDiv(int(d)-int(firstMonday), 7))
}

// Weekday is 1 for Monday to 7 for Sunday, as ISO 8601 counts.
func (d Day) Weekday() int { return int(d-d.Week().Monday()) + 1 }

// Month is the month that holds the day.
func (d Day) Month() Month {
	year, month, _ := d.Date()
	return monthOf(year, month)
}

// OfYear is 1 for 1 January to 365 or 366 for 31 December.
func (d Day) OfYear() int {
	year, _, _ := d.Date()
	return int(d-monthOf(year, 1).First()) + 1
}

// A year that begins on 1 March ends with the leap day, so the months before
// it have the same lengths every year, and the Gregorian calendar repeats
// after 400 of them. Both directions below count in such years from
// 0000-03-01.
const (
	daysOf400Years = 400*365 + 97
	daysOf100Years = 100*365 + 24
	daysOf4Years   = 4*365 + 1
	march0000      = -719468 // 0000-03-01, counted from 1970-01-01
)

// Date gives year, month (1 to 12) and day of the month (from 1).
func (d Day) Date() (year, month, day int) {
	n := int(d) - march0000
	cycle := floorDiv(n, daysOf400Years)
	n -= cycle * daysOf400Years
	// The last day of a cycle, of a century and of four years is the leap day
	// that the division would otherwise give to a year of its own.
	century := min(n/daysOf100Years, 3)
	n -= century * daysOf100Years
	four := n / daysOf4Years
	n -= four * daysOf4Years
	one := min(n/365, 3)
	n -= one * 365
	year = cycle*400 + century*100 + four*4 + one
	fromMarch := 0
	for fromMarch < 11 && n >= daysBefore[fromMarch+1] {
		fromMarch++
	}
	day = n - daysBefore[fromMarch] + 1
	if fromMarch < 10 {
		return year, fromMarch + 3, day
	}
	return year + 1, fromMarch - 9, day
}

// daysBefore holds the days from 1 March to the first of each month,
// March first.
var daysBefore = [12]int{0, 31, 61, 92, 122, 153, 184, 214, 245, 275, 306, 337}

// floorDiv divides and rounds down, also below zero.
func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
