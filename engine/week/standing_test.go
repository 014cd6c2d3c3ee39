package week

import (
	"testing"

	"pgregory.net/rapid"
)

// The season is W40 (index 0) to W45 (index 5) of 2026; W42 runs from Monday
// 12 to Sunday 18 October.
func TestStanding(t *testing.T) {
	for _, c := range []struct {
		name      string
		asOf      string
		byHand    []string
		closed    string // x closed, - not
		open, now int
		left      float64 // sevenths left of week index 2
	}{
		{"Wednesday", "2026-10-14", nil, "xx----", 2, 2, 4},
		{"Monday", "2026-10-12", nil, "xx----", 2, 2, 6},
		{"Sunday is recorded, its week not over", "2026-10-18", nil, "xx----", 2, 2, 0},
		{"next Monday", "2026-10-19", nil, "xxx---", 3, 3, 0},
		{"before the season", "2026-08-01", nil, "------", -1, 0, 7},
		{"after the season", "2027-01-01", nil, "xxxxxx", -1, 5, 0},
		{"closed early", "2026-10-14", []string{"2026-W42"}, "xxx---", -1, 3, 0},
		{"two closed early", "2026-10-14", []string{"2026-W42", "2026-W43"}, "xxxx--", -1, 4, 0},
		{"a week to come closed by hand", "2026-10-14", []string{"2026-W44"}, "xx--x-", 2, 2, 4},
		{"the last closed early", "2026-11-04", []string{"2026-W45"}, "xxxxxx", -1, 5, 0},
		{"weeks elsewhere say nothing", "2026-10-14", []string{"2026-W39", "2026-W46", "2030-W01"}, "xx----", 2, 2, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := season(t, "2026-W40", "2026-W45")
			var early []Week
			for _, w := range c.byHand {
				early = append(early, wk(t, w))
			}
			st := NewStanding(s, day(t, c.asOf), early)
			closed := ""
			for i := range s.Len() {
				closed += map[bool]string{true: "x", false: "-"}[st.Closed(i)]
			}
			if closed != c.closed || st.Open() != c.open || st.Now() != c.now || st.Left(2) != c.left/7 {
				t.Errorf("got %s, open %d, now %d, left %v/7", closed, st.Open(), st.Now(), st.Left(2)*7)
			}
		})
	}
}

// Closed weeks have nothing left, weeks to come all of it, the open one a part;
// without weeks closed by hand, what is left adds to the days after AsOf.
func TestLeftAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anySeason().Draw(t, "season")
		days := s.Len() * 7
		asOf := s.First.Monday() + Day(rapid.IntRange(-30, days+30).Draw(t, "as of"))
		early := []Week{s.At(rapid.IntRange(0, s.Len()-1).Draw(t, "by hand"))}
		if rapid.Bool().Draw(t, "none by hand") {
			early = nil
		}
		st := NewStanding(s, asOf, early)
		sum := 0.0
		for i := range s.Len() {
			left := st.Left(i)
			sum += left
			switch {
			case st.Closed(i):
				if left != 0 {
					t.Fatalf("closed week %d has %v left", i, left)
				}
			case i == st.Open():
				if left < 0 || left >= 1 {
					t.Fatalf("open week %d has %v left", i, left)
				}
			case left != 1:
				t.Fatalf("week %d to come has %v left", i, left)
			}
		}
		if early == nil {
			want := float64(min(max(int(s.Last.Monday()+6-asOf), 0), days)) / 7
			if diff := sum - want; diff > 1e-9 || diff < -1e-9 {
				t.Errorf("%v weeks left, want %v", sum, want)
			}
		}
		if now := st.Now(); now < 0 || now >= s.Len() || st.Open() >= 0 && now != st.Open() {
			t.Errorf("now is %d, open %d", now, st.Open())
		}
	})
}
