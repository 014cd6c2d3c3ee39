package week

import "fmt"

// All messages of the package stand here. They are shown to the person who
// wrote the book, beside the place of the mistake.

func errDayForm(s string) error {
	return fmt.Errorf("%s is not a date: write year-month-day, such as 2026-10-12", shown(s))
}

func errMonthForm(s string) error {
	return fmt.Errorf("%s is not a month: write year-month, such as 2027-03", shown(s))
}

func errWeekForm(s string) error {
	return fmt.Errorf("%s is not a week: write the year, -W and two digits, such as 2026-W53", shown(s))
}

func errYear(s string) error {
	return fmt.Errorf("%s lies outside the years %d to %d that the calendar covers", shown(s), firstYear, lastYear)
}

func errNoSuchMonth(s string, month int) error {
	return fmt.Errorf("%s: there is no month %d", shown(s), month)
}

func errNoSuchDay(s string, m Month, day int) error {
	return fmt.Errorf("%s: there is no day %d, %s has %d days", shown(s), day, m, m.Days())
}

func errNoSuchWeek(s string, year, number int) error {
	return fmt.Errorf("%s: there is no week %d, the last week of %d is %s", shown(s), number, year, lastWeekOf(year))
}

func errBackwards(first, last Week) error {
	return fmt.Errorf("the season ends (%s) before it begins (%s)", last, first)
}

func errTooLong(first, last Week) error {
	return fmt.Errorf("the season from %s to %s has %d weeks; the most is %d", first, last, int(last)-int(first)+1, maxWeeks)
}

// shown quotes what was written, cut when it is long.
func shown(s string) string {
	const most = 24
	if r := []rune(s); len(r) > most {
		return fmt.Sprintf("%q", string(r[:most])+"…")
	}
	return fmt.Sprintf("%q", s)
}
