package week

// Standing says where a season stands on the day AsOf: which weeks are closed,
// so that their records are fact, which one is open, and what is to come. The
// day AsOf is itself recorded.
type Standing struct {
	AsOf   Day
	season Season
	byHand [(maxWeeks + 63) / 64]uint64 // one bit a week closed by hand
}

// NewStanding gives the standing of a season on a day. The weeks of early were
// closed by hand; those outside the season say nothing about it.
func NewStanding(s Season, asOf Day, early []Week) Standing {
	t := Standing{AsOf: asOf, season: s}
	for _, w := range early {
		if i, ok := s.Index(w); ok {
			t.byHand[i/64] |= 1 << (i % 64)
		}
	}
	return t
}

// Closed says whether week i ended before AsOf or was closed by hand.
func (t Standing) Closed(i int) bool {
	if t.season.At(i).sunday() < t.AsOf {
		return true
	}
	return i >= 0 && i < t.season.Len() && t.byHand[i/64]>>(i%64)&1 == 1
}

// Open is the index of the open week, the one that holds AsOf. It is -1 when
// AsOf lies outside the season or its week was closed by hand.
func (t Standing) Open() int {
	if i, ok := t.season.Index(t.AsOf.Week()); ok && !t.Closed(i) {
		return i
	}
	return -1
}

// Left is the share of week i that is still to come: 0 when it is closed, 1
// when it has not begun, and the days after AsOf over 7 when it is open.
func (t Standing) Left(i int) float64 {
	if t.Closed(i) {
		return 0
	}
	return float64(min(t.season.At(i).sunday()-t.AsOf, 7)) / 7
}

// Now is the index of the week that "now" means: the open one; outside the
// season the nearest; where the week of AsOf was closed by hand, the next week
// that is not closed, and the season's last when there is none.
func (t Standing) Now() int {
	last := t.season.Len() - 1
	i := min(max(int(t.AsOf.Week()-t.season.First), 0), last)
	for i < last && t.Closed(i) {
		i++
	}
	return i
}
