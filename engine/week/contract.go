package week

// The calendar's contract, filled in by the files beside this one.
//
//	type Day int32    // days since 1970-01-01
//	type Week int32   // ISO 8601 weeks, counted from the week of 1970-01-01 (its Monday is 1969-12-29)
//	type Month int32  // months, counted from 1970-01
//
//	func ParseDay(s string) (Day, error)          // "2026-10-12"
//	func ParseWeek(s string) (Week, error)        // "2026-W53"; week 53 only in years that have it
//	func ParseMonth(s string) (Month, error)      // "2027-03"
//	func (Day) String / Week() Week / Date() (year, month, day int) / OfYear() int / Weekday() int (1 Monday .. 7)
//	func (Week) String / Monday() Day / Month() Month (of its Thursday)
//	func (Month) String / First() Day / Days() int / OfYear() int (1..12)
//
//	type Season struct{ First, Last Week }
//	func NewSeason(first, last Week) (Season, error)   // backwards or longer than 260 weeks: error
//	func (Season) Len() int / At(i int) Week / Index(Week) (int, bool)
//	func (Season) Months() []Month                     // every month that owns a week, in order
//	func (Season) MonthIndex(i int) int                // index in Months() of week i
//	func (Season) ShareOfWeek(i int, from, to Day) float64  // days of week i in [from,to) / 7
//	func (Season) NormalsToWeeks(n [12]float64) []float64   // straight line between mid-months (the 15th), read at each week's Thursday
//
//	type Standing struct{ AsOf Day; closed... }
//	func NewStanding(s Season, asOf Day, early []Week) Standing
//	func (Standing) Closed(i int) bool    // ended before AsOf, or closed by hand
//	func (Standing) Open() int            // index of the open week: the one holding AsOf unless closed by hand; -1 when AsOf is outside the season or its week was closed by hand
//	func (Standing) Left(i int) float64   // share of week i still to come: 0 closed, 1 to come, open: days after AsOf / 7 (AsOf itself is recorded)
//	func (Standing) Now() int             // the open week; outside the season the nearest; when closed by hand, the next week, if any
