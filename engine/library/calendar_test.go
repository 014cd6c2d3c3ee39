package library

import (
	"testing"

	"wintertruss/engine/array"
)

func TestFirstWeek(t *testing.T) {
	season := seasonOf(t, "2026-W52", "2027-W03")
	fault := array.Fault(array.OutsideDomain, 1)
	// ISO 8601 gives 2026 a 53rd week: its Monday is 2026-12-28, and week 1 of
	// 2027 begins on 2027-01-04.
	w53, w1 := float64(dayAt(t, "2026-12-28")), float64(dayAt(t, "2027-01-04"))
	for _, c := range []struct {
		about string
		holds []float64
		want  float64
	}{
		{"the second", row(0, 1, 0, 1, 1), w53},
		{"a blank counts as not holding", row(0, blank, 1, 1, 1), w1},
		{"never", row(0, 0, blank, 0, 0), blank},
		{"a fault before", row(0, fault, 1, 1, 1), fault},
		{"a fault after", row(0, 1, fault, 1, 1), w53},
	} {
		if got, _ := alongWeeks(t, "first_week", season, c.holds); !same(got, row(c.want)) {
			t.Errorf("%s: %v, want %v", c.about, got[0], c.want)
		}
	}
}

func TestSharesOfWeeks(t *testing.T) {
	season := seasonOf(t, "2026-W44", "2026-W47") // Mondays: 26 October, 2, 9 and 16 November
	fault := array.Fault(array.OutsideDomain, 1)
	all := func(x float64) []float64 { return row(x, x, x, x) }
	day := func(text string) []float64 { return row(float64(dayAt(t, text))) }
	for _, c := range []struct {
		about, name string
		in          [][]float64
		want        []float64
	}{
		{"set out on a Thursday, cleared on a Tuesday", "share_of_week", [][]float64{day("2026-11-05"), day("2026-11-17")}, row(0, 4.0/7, 1, 1.0/7)},
		{"inside one week", "share_of_week", [][]float64{day("2026-11-03"), day("2026-11-05")}, row(0, 2.0/7, 0, 0)},
		{"the same day", "share_of_week", [][]float64{day("2026-11-03"), day("2026-11-03")}, all(0)},
		{"the wrong way round", "share_of_week", [][]float64{day("2026-11-17"), day("2026-11-05")}, all(0)},
		{"around the season", "share_of_week", [][]float64{day("2020-01-01"), day("2030-01-01")}, all(1)},
		{"no first day", "share_of_week", [][]float64{row(blank), day("2026-11-05")}, all(blank)},
		{"no second day", "share_of_week", [][]float64{day("2026-11-05"), row(blank)}, all(blank)},
		{"a fault beside a blank", "share_of_week", [][]float64{row(blank), row(fault)}, all(fault)},
		{"from a Friday on", "after", [][]float64{day("2026-11-06")}, row(0, 3.0/7, 1, 1)},
		{"up to a Friday", "before", [][]float64{day("2026-11-06")}, row(1, 4.0/7, 0, 0)},
		{"a Monday belongs to its own week", "after", [][]float64{day("2026-11-09")}, row(0, 0, 1, 1)},
		{"a day beyond any calendar", "after", [][]float64{row(1e15)}, all(0)},
		{"a day before any calendar", "before", [][]float64{row(-1e15)}, all(0)},
		{"no day", "before", [][]float64{row(blank)}, all(blank)},
		{"a fault", "after", [][]float64{row(fault)}, all(fault)},
	} {
		if got, _ := alongWeeks(t, c.name, season, c.in...); !same(got, c.want) {
			t.Errorf("%s, %s: %v, want %v", c.name, c.about, got, c.want)
		}
	}
}

// A day splits every week in two.
func TestBeforeAndAfterAreTheWeek(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	for d := season.First.Monday() - 9; d < season.Last.Monday()+16; d++ {
		before, _ := alongWeeks(t, "before", season, row(float64(d)))
		after, _ := alongWeeks(t, "after", season, row(float64(d)))
		for i := range before {
			if sum := before[i] + after[i]; sum < 1-1e-15 || sum > 1+1e-15 {
				t.Fatalf("%v, week %v: %v before, %v after", d, season.At(i), before[i], after[i])
			}
		}
	}
}

func TestMonths(t *testing.T) {
	// The Thursdays of these weeks (ISO 8601 gives a week to its Thursday's year,
	// the book to its Thursday's month too): 24 and 31 December 2026, then 7, 14,
	// 21 and 28 January, and 4 February 2027.
	season := seasonOf(t, "2026-W52", "2027-W05")
	fault := array.Fault(array.TooLarge, 2)
	for _, c := range []struct {
		about            string
		x                []float64
		total, mean, end []float64
	}{
		{"plain", row(1, 2, 10, 20, 30, 40, 7), row(3, 100, 7), row(1.5, 25, 7), row(2, 40, 7)},
		{"blanks are passed over", row(blank, 2, 10, blank, 30, blank, blank), row(2, 40, blank), row(2, 20, blank), row(2, 30, blank)},
		{"a zero is not a blank", row(0, 0, 0, 0, 0, 0, blank), row(0, 0, blank), row(0, 0, blank), row(0, 0, blank)},
		{"a fault stays in its month", row(fault, 2, 1, 1, 1, 1, 1), row(fault, 4, 1), row(fault, 1, 1), row(2, 1, 1)},
	} {
		for _, o := range []struct {
			name string
			want []float64
		}{{"month_total", c.total}, {"month_mean", c.mean}, {"month_end", c.end}} {
			if got, _ := alongWeeks(t, o.name, season, c.x); !same(got, o.want) {
				t.Errorf("%s, %s: %v, want %v", o.name, c.about, got, o.want)
			}
		}
	}
}

// Months add up to weeks exactly.
func TestMonthsAddUp(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	x := make([]float64, season.Len())
	want := 0.0
	for i := range x {
		x[i] = float64(i * i) // whole numbers: sums are exact in any order
		want += x[i]
	}
	months, _ := alongWeeks(t, "month_total", season, x)
	got := 0.0
	for _, m := range months {
		got += m
	}
	if got != want || len(months) != 13 {
		t.Errorf("%d months add up to %v, weeks to %v", len(months), got, want)
	}
}

func TestNormalsToWeeks(t *testing.T) {
	season := seasonOf(t, "2026-W33", "2027-W32")
	normals := row(33, 36, 45, 57, 68, 77, 81, 80, 72, 61, 48, 37)
	weeks, _ := alongWeeks(t, "normals_to_weeks", season, normals)
	at := func(name string) float64 {
		for i := range weeks {
			if season.At(i).String() == name {
				return weeks[i]
			}
		}
		t.Fatalf("no week %s", name)
		return 0
	}
	// Thursdays: 15 October and 15 April stand on the normals themselves; 22
	// October is 7 of the 31 days on the way from 61 to 48; 7 January is 23 of the
	// 31 days on the way from December's 37 to January's 33.
	for _, c := range []struct {
		week string
		want float64
	}{{"2026-W42", 61}, {"2027-W15", 57}, {"2026-W43", 61 - 13*7.0/31}, {"2027-W01", 37 - 4*23.0/31}} {
		if got := at(c.week); !same(row(got), row(c.want)) {
			t.Errorf("%s: %v, want %v", c.week, got, c.want)
		}
	}
	normals[9] = blank
	weeks, _ = alongWeeks(t, "normals_to_weeks", season, normals)
	if !array.IsBlank(at("2026-W43")) || !array.IsBlank(at("2026-W41")) || array.IsBlank(at("2026-W37")) {
		t.Error("a blank normal blanks the weeks beside it, and only those")
	}
}
