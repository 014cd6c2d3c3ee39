package week

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func season(t testing.TB, first, last string) Season {
	t.Helper()
	s, err := NewSeason(wk(t, first), wk(t, last))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func anySeason() *rapid.Generator[Season] {
	return rapid.Custom(func(t *rapid.T) Season {
		first := Week(rapid.IntRange(500, 4000).Draw(t, "first"))
		return Season{first, first + Week(rapid.IntRange(0, maxWeeks-1).Draw(t, "more"))}
	})
}

func TestSeason(t *testing.T) {
	s := season(t, "2026-W33", "2027-W32")
	if s.Len() != 53 { // 21 weeks of 2026, which has a week 53, and 32 of 2027
		t.Errorf("a winter over 2026-W53 has %d weeks", s.Len())
	}
	if i, ok := s.Index(wk(t, "2027-W01")); !ok || i != 21 || s.At(21).String() != "2027-W01" {
		t.Errorf("2027-W01 stands at %d, %v", i, ok)
	}
	for _, outside := range []string{"2026-W32", "2027-W33"} {
		if _, ok := s.Index(wk(t, outside)); ok {
			t.Errorf("%s lies in the season", outside)
		}
	}
	months := s.Months()
	if len(months) != 13 || months[0].String() != "2026-08" || months[12].String() != "2027-08" {
		t.Errorf("months are %v", months)
	}
	// Monday 2026-09-28 to Sunday 2026-10-04: Thursday is 1 October.
	if m := wk(t, "2026-W40").Month(); m.String() != "2026-10" {
		t.Errorf("2026-W40 belongs to %v", m)
	}
	if _, err := NewSeason(s.Last, s.First); err == nil || !strings.Contains(err.Error(), "ends (2026-W33) before it begins (2027-W32)") {
		t.Errorf("backwards: %v", err)
	}
	if _, err := NewSeason(s.First, s.First+259); err != nil {
		t.Error(err)
	}
	if _, err := NewSeason(s.First, s.First+260); err == nil || !strings.Contains(err.Error(), "261 weeks; the most is 260") {
		t.Errorf("too long: %v", err)
	}
	if _, err := NewSeason(math.MinInt32, math.MaxInt32); err == nil {
		t.Error("the longest span of counts is taken for a season")
	}
}

func TestShareOfWeek(t *testing.T) {
	s := season(t, "2026-W40", "2026-W45")
	for _, c := range []struct {
		i        int
		from, to string
		sevenths float64
	}{
		{2, "2026-10-12", "2026-10-19", 7}, // W42 is Monday 12 October to Sunday 18
		{2, "2026-10-12", "2026-10-13", 1}, {2, "2026-10-18", "2026-10-19", 1}, {2, "2026-10-19", "2026-10-26", 0},
		{2, "2026-10-15", "2026-12-31", 4}, {2, "2026-01-01", "2026-10-15", 3}, {2, "2026-10-14", "2026-10-14", 0},
		{2, "2026-10-18", "2026-10-12", 0},
	} {
		if got := s.ShareOfWeek(c.i, day(t, c.from), day(t, c.to)); got != c.sevenths/7 {
			t.Errorf("week %v, %s to %s: %v, want %v/7", s.At(c.i), c.from, c.to, got, c.sevenths)
		}
	}
}

// Shares of a span of days inside the season add to its days over 7.
func TestSharesAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason().Draw(t, "season")
		days := s.Len() * 7
		from := rapid.IntRange(0, days).Draw(t, "from")
		to := rapid.IntRange(from, days).Draw(t, "to")
		sum := 0.0
		for i := range s.Len() {
			sum += s.ShareOfWeek(i, s.First.Monday()+Day(from), s.First.Monday()+Day(to))
		}
		if want := float64(to-from) / 7; math.Abs(sum-want) > 1e-9 { // sums of up to 260 rounded sevenths
			t.Errorf("%d days give %v weeks", to-from, sum)
		}
	})
}

// Each week has one month, months come in order without a gap, and each whole
// month owns 4 or 5 weeks.
func TestMonthsPartitionWeeks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason().Draw(t, "season")
		months := s.Months()
		owned := make([]int, len(months))
		for i := range s.Len() {
			owned[s.MonthIndex(i)]++
			if months[s.MonthIndex(i)] != s.At(i).Month() {
				t.Fatalf("%v belongs to %v, counted to %v", s.At(i), s.At(i).Month(), months[s.MonthIndex(i)])
			}
			if d := s.At(i).Monday() + 3; d < s.At(i).Month().First() || d >= (s.At(i).Month()+1).First() {
				t.Fatalf("%v: its Thursday %v is not in %v", s.At(i), d, s.At(i).Month())
			}
		}
		sum := 0
		for k, n := range owned {
			sum += n
			if inside := k > 0 && k < len(owned)-1; n < 1 || n > 5 || inside && n < 4 {
				t.Errorf("%v owns %d weeks", months[k], n)
			}
		}
		if sum != s.Len() {
			t.Errorf("months own %d of %d weeks", sum, s.Len())
		}
	})
}

func TestNormalsToWeeks(t *testing.T) {
	normals := [12]float64{31, 34, 45, 57, 68, 77, 81, 80, 72, 62, 48, 31}
	s := season(t, "2026-W42", "2027-W07")
	got := s.NormalsToWeeks(normals)
	// 2026-10-15 is the Thursday of W42: October's own figure.
	if got[0] != 62 {
		t.Errorf("15 October reads %v", got[0])
	}
	// 2026-10-22 is 7 of the 31 days on the way to 15 November.
	if want := 62 + 7.0/31*(48-62); math.Abs(got[1]-want) > 1e-12 {
		t.Errorf("22 October reads %v, want %v", got[1], want)
	}
	// December and January are alike here, so the turn of the year is flat:
	// Thursdays 17 December (W51) to 14 January (W02).
	for i := 9; i <= 13; i++ {
		if got[i] != 31 {
			t.Errorf("%v reads %v", s.At(i), got[i])
		}
	}
}

// A single day, over the turn of a leap year: 14 of the 31 days from mid December to
// mid January, and the first of March between the middles of a February of 29 days.
func TestNormalOfADay(t *testing.T) {
	n := [12]float64{31, 29, 58, 0, 0, 0, 0, 0, 0, 0, 0, 0}
	for date, want := range map[string]float64{"2027-12-29": 14, "2028-01-15": 31, "2028-03-01": 29 + 15.0/29*29, "2027-03-01": 29 + 14.0/28*29} {
		day, err := ParseDay(date)
		if err != nil {
			t.Fatal(err)
		}
		if got := day.Normal(n); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s reads %v, want %v", date, got, want)
		}
	}
}

// A straight line between neighbours never leaves them, and the same normal in
// every month is the same in every week.
func TestNormalsStayBetweenNeighbours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason().Draw(t, "season")
		var n [12]float64
		for i := range n {
			n[i] = rapid.Float64Range(-60, 120).Draw(t, "normal")
		}
		for i, x := range s.NormalsToWeeks(n) {
			m := s.At(i).Month()
			a, b, c := n[(m-1).OfYear()-1], n[m.OfYear()-1], n[(m+1).OfYear()-1]
			if x < min(a, b, c)-1e-9 || x > max(a, b, c)+1e-9 {
				t.Fatalf("%v reads %v, its months %v %v %v", s.At(i), x, a, b, c)
			}
		}
		level := [12]float64{5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5}
		for i, x := range s.NormalsToWeeks(level) {
			if x != 5 {
				t.Fatalf("%v of a level year reads %v", s.At(i), x)
			}
		}
	})
}
