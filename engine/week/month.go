package week

import "fmt"

// Month counts months from 1970-01.
type Month int32

// ParseMonth reads a month such as 2027-03.
func ParseMonth(s string) (Month, error) {
	if len(s) != len("2027-03") || s[4] != '-' {
		return 0, errMonthForm(s)
	}
	year, okYear := digits(s[:4])
	month, okMonth := digits(s[5:])
	switch {
	case !okYear || !okMonth:
		return 0, errMonthForm(s)
	case year < firstYear:
		return 0, errYear(s)
	case month < 1 || month > 12:
		return 0, errNoSuchMonth(s, month)
	}
	return monthOf(year, month), nil
}

// monthOf is month (1 to 12) of a year.
func monthOf(year, month int) Month { return Month((year-1970)*12 + month - 1) }

// year is the calendar year of the month.
func (m Month) year() int { return 1970 + floorDiv(int(m), 12) }

// String writes the month, such as 2027-03.
func (m Month) String() string { return fmt.Sprintf("%04d-%02d", m.year(), m.OfYear()) }

// OfYear is 1 for January to 12 for December.
func (m Month) OfYear() int { return int(m) - floorDiv(int(m), 12)*12 + 1 }

// First is the first day of the month.
func (m Month) First() Day {
	year, fromMarch := m.year(), m.OfYear()-3
	if fromMarch < 0 { // January and February end the year before
		year, fromMarch = year-1, fromMarch+12
	}
	leaps := floorDiv(year, 4) - floorDiv(year, 100) + floorDiv(year, 400)
	return Day(march0000 + year*365 + leaps + daysBefore[fromMarch])
}

// Days is the number of days in the month.
func (m Month) Days() int { return int((m + 1).First() - m.First()) }
