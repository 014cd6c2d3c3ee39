package week

import (
	"strings"
	"testing"
	"time"
)

// The Go standard library's time package is an independent implementation of
// the same calendar. Every day of 1981 to 2040 is compared, and the first and
// last days of the range that can be written.
func TestDaysAgreeWithTime(t *testing.T) {
	span := func(from, to time.Time) {
		for at := from; !at.After(to); at = at.AddDate(0, 0, 1) {
			d := Day(at.Unix() / 86400)
			if at.Unix() < 0 {
				d = Day(-(-at.Unix() / 86400)) // midnights divide exactly
			}
			year, month, day := d.Date()
			if year != at.Year() || month != int(at.Month()) || day != at.Day() {
				t.Fatalf("Date of %v: got %d-%d-%d", at, year, month, day)
			}
			if got := d.OfYear(); got != at.YearDay() {
				t.Fatalf("OfYear of %v: got %d", at, got)
			}
			if got := d.Weekday() % 7; got != int(at.Weekday()) {
				t.Fatalf("Weekday of %v: got %d", at, got)
			}
			if back, err := ParseDay(at.Format("2006-01-02")); err != nil || back != d || d.String() != at.Format("2006-01-02") {
				t.Fatalf("%v read as %v, %v, written %v", at, back, err, d)
			}
			isoYear, isoWeek := at.ISOWeek()
			if isoYear < firstYear || isoYear > lastYear {
				continue
			}
			w, err := ParseWeek(d.Week().String())
			if err != nil || w != d.Week() {
				t.Fatalf("week of %v: %v read back as %v, %v", at, d.Week(), w, err)
			}
			if want := firstWeekOf(isoYear) + Week(isoWeek-1); w != want {
				t.Fatalf("week of %v: got %v, want %d-W%d", at, w, isoYear, isoWeek)
			}
			if want := at.Format("2006-01"); monthOf(year, month).String() != want {
				t.Fatalf("month of %v: got %v", at, monthOf(year, month))
			}
		}
	}
	date := func(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }
	span(date(1981, 1, 1), date(2040, 12, 31))
	span(date(1583, 1, 1), date(1584, 12, 31))
	span(date(1599, 12, 1), date(1601, 1, 31))
	span(date(1899, 12, 1), date(1900, 12, 31))
	span(date(9998, 1, 1), date(9999, 12, 31))
}

// Dates beside their weeks, worked out apart from this code: Go 1.26,
// time/time_test.go, isoWeekTests (the days about New Year of 1981 to 2039),
// and the rule of ISO 8601 that week 1 holds 4 January.
func TestKnownWeeks(t *testing.T) {
	for _, c := range []struct {
		day, week string
		weekday   int
	}{
		{"1981-01-01", "1981-W01", 4}, {"1982-01-01", "1981-W53", 5}, {"1988-01-01", "1987-W53", 5},
		{"1993-01-01", "1992-W53", 5}, {"1995-01-01", "1994-W52", 7}, {"1996-12-30", "1997-W01", 1},
		{"1999-01-01", "1998-W53", 5}, {"2000-01-01", "1999-W52", 6}, {"2005-01-01", "2004-W53", 6},
		{"2008-12-29", "2009-W01", 1}, {"2010-01-03", "2009-W53", 7}, {"2011-01-02", "2010-W52", 7},
		{"2011-01-03", "2011-W01", 1}, {"2012-12-31", "2013-W01", 1}, {"2016-01-01", "2015-W53", 5},
		{"2017-01-01", "2016-W52", 7}, {"2021-01-03", "2020-W53", 7}, {"2021-01-04", "2021-W01", 1},
		{"2024-12-30", "2025-W01", 1}, {"2026-12-31", "2026-W53", 4}, {"2027-01-03", "2026-W53", 7},
		{"2027-01-04", "2027-W01", 1}, {"2033-01-01", "2032-W53", 6}, {"2038-01-01", "2037-W53", 5},
	} {
		d := day(t, c.day)
		if d.Week().String() != c.week || d.Weekday() != c.weekday {
			t.Errorf("%s: got %v, weekday %d, want %s, %d", c.day, d.Week(), d.Weekday(), c.week, c.weekday)
		}
	}
}

// The years of 2000 to 2050 with a week 53: those that begin or end on a
// Thursday (ISO 8601).
func TestLongYears(t *testing.T) {
	long := map[int]bool{2004: true, 2009: true, 2015: true, 2020: true, 2026: true, 2032: true, 2037: true, 2043: true, 2048: true}
	for year := 2000; year <= 2050; year++ {
		if got := lastWeekOf(year)-firstWeekOf(year)+1 == 53; got != long[year] {
			t.Errorf("%d: week 53 is %v", year, got)
		}
	}
}

func TestZero(t *testing.T) {
	if day(t, "1970-01-01") != 0 || Day(0).Week() != 0 || day(t, "1969-12-29") != Week(0).Monday() || Day(-4).Week() != -1 {
		t.Error("the counts do not begin at 1970-01-01, its week and 1969-12-29")
	}
	if m, err := ParseMonth("1970-01"); m != 0 || err != nil {
		t.Errorf("1970-01 is month %d, %v", m, err)
	}
	if m, err := ParseMonth("2027-03"); err != nil || m.String() != "2027-03" || m.OfYear() != 3 || m.Days() != 31 || m.First() != day(t, "2027-03-01") {
		t.Errorf("2027-03 read as %v, %v", m, err)
	}
	if got := Month(-1); got.String() != "1969-12" || got.OfYear() != 12 || got.First().String() != "1969-12-01" {
		t.Errorf("the month before is %v", got)
	}
}

func TestMistakes(t *testing.T) {
	for _, c := range []struct {
		read func(string) error
		s    string
		want string // part of the message
	}{
		{readDay, "12/10/2026", "write year-month-day"},
		{readDay, "2026-1-12", "write year-month-day"},
		{readDay, "2026-10-+1", "write year-month-day"},
		{readDay, "2026-13-01", "there is no month 13"},
		{readDay, "2026-00-01", "there is no month 0"},
		{readDay, "2027-02-29", "there is no day 29, 2027-02 has 28 days"},
		{readDay, "1900-02-29", "1900-02 has 28 days"},
		{readDay, "2026-04-00", "there is no day 0"},
		{readDay, "1400-01-01", "outside the years 1583 to 9999"},
		{readDay, strings.Repeat("é", 1000), "ééé…\" is not a date"},
		{readWeek, "2026W53", "write the year, -W and two digits"},
		{readWeek, "2026-w53", "write the year"},
		{readWeek, "2026-W5 ", "write the year"},
		{readWeek, "2027-W53", "there is no week 53, the last week of 2027 is 2027-W52"},
		{readWeek, "2026-W54", "the last week of 2026 is 2026-W53"},
		{readWeek, "2026-W00", "there is no week 0"},
		{readWeek, "0001-W01", "outside the years"},
		{readMonth, "2027-3", "write year-month"},
		{readMonth, "2027-x3", "write year-month"},
		{readMonth, "2027-13", "there is no month 13"},
		{readMonth, "1582-10", "outside the years"},
	} {
		err := c.read(c.s)
		if err == nil || !strings.Contains(err.Error(), c.want) || len(err.Error()) > 200 {
			t.Errorf("%.30q: got %v, want %q", c.s, err, c.want)
		}
	}
	for _, s := range []string{"2024-02-29", "2000-02-29", "9999-12-31"} {
		if err := readDay(s); err != nil {
			t.Error(err)
		}
	}
}

// What cannot be read is refused without a panic; what can is written back
// letter for letter.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"2026-10-12", "2026-W53", "2027-03", "", "0000-00-00", "9999-W99", "é"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if d, err := ParseDay(s); err == nil && d.String() != s {
			t.Errorf("%q is written back %q", s, d)
		}
		if w, err := ParseWeek(s); err == nil && w.String() != s {
			t.Errorf("%q is written back %q", s, w)
		}
		if m, err := ParseMonth(s); err == nil && m.String() != s {
			t.Errorf("%q is written back %q", s, m)
		}
	})
}

func readDay(s string) error   { _, err := ParseDay(s); return err }
func readWeek(s string) error  { _, err := ParseWeek(s); return err }
func readMonth(s string) error { _, err := ParseMonth(s); return err }

func day(t testing.TB, s string) Day {
	t.Helper()
	d, err := ParseDay(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func wk(t testing.TB, s string) Week {
	t.Helper()
	w, err := ParseWeek(s)
	if err != nil {
		t.Fatal(err)
	}
	return w
}
