package week

// maxWeeks is the longest season, in weeks: five years.
const maxWeeks = 260

// Season is a run of weeks, both ends in it. Weeks are counted by their index,
// 0 for First.
type Season struct{ First, Last Week }

// NewSeason gives the season from first to last. Backwards, or longer than 260
// weeks, is an error.
func NewSeason(first, last Week) (Season, error) {
	switch n := int(last) - int(first) + 1; {
	case n < 1:
		return Season{}, errBackwards(first, last)
	case n > maxWeeks:
		return Season{}, errTooLong(first, last)
	}
	return Season{first, last}, nil
}

// Len is the number of weeks.
func (s Season) Len() int { return int(s.Last-s.First) + 1 }

// At is the week at an index.
func (s Season) At(i int) Week { return s.First + Week(i) }

// Index is the place of a week in the season; false when it is not in it.
func (s Season) Index(w Week) (int, bool) {
	if w < s.First || w > s.Last {
		return 0, false
	}
	return int(w - s.First), true
}

// Months gives every month that owns a week, in order. A month has four
// Thursdays at least, so none is left out between the first and the last.
func (s Season) Months() []Month {
	months := make([]Month, s.MonthIndex(s.Len()-1)+1)
	for i := range months {
		months[i] = s.First.Month() + Month(i)
	}
	return months
}

// MonthIndex is the place in Months of the month that owns week i.
func (s Season) MonthIndex(i int) int { return int(s.At(i).Month() - s.First.Month()) }

// ShareOfWeek is the share of week i that lies in the days from from, which
// counts, to to, which does not: 0 to 1 in steps of a seventh. It is 0 when to
// is not after from.
func (s Season) ShareOfWeek(i int, from, to Day) float64 {
	monday := s.At(i).Monday()
	days := min(to, monday+7) - max(from, monday)
	return float64(max(days, 0)) / 7
}

// NormalsToWeeks turns twelve monthly normals (January first, any unit) into a
// value for each week of the season, in the same unit: [Day.Normal] of the week's Thursday.
func (s Season) NormalsToWeeks(n [12]float64) []float64 {
	weeks := make([]float64, s.Len())
	for i := range weeks {
		weeks[i] = s.At(i).thursday().Normal(n)
	}
	return weeks
}

// Normal turns twelve monthly normals (January first, any unit) into the value of
// a day, in the same unit: a straight line between the 15ths of neighbouring months,
// over the turn of the year too. Real lengths of months count, so a leap year's
// February is a day longer.
func (d Day) Normal(n [12]float64) float64 {
	before := d.Month()
	if d < middle(before) {
		before--
	}
	from, to := n[before.OfYear()-1], n[(before+1).OfYear()-1]
	share := float64(d-middle(before)) / float64(middle(before+1)-middle(before))
	return from + float64(share*(to-from)) // the conversion forbids fused rounding: same bits on every machine
}

// middle is the day a month's normal stands for.
func middle(m Month) Day { return m.First() + 14 }
