// Package week is the calendar: days, ISO 8601 weeks, months, the season of a
// book and where it stands. No other package of the engine knows dates.
//
// # Terms
//
// A Day counts days from 1970-01-01 in the Gregorian calendar. A Week is a
// week of ISO 8601: it begins on Monday, and belongs to the year, and here also
// to the month, of its Thursday; so week 1 holds 4 January and some years
// (2026 is one) have a week 53. A Month owns whole weeks, so that months add up
// to weeks exactly. A Season is a run of weeks; its weeks are the cells of the
// axis week. Standing says which weeks of a season are closed (fact), which
// one is open, and which are still to come.
//
// # Invariants
//
//   - Day, Week and Month are plain counts: the next one is one more, and a
//     year's end needs no care. Nothing is keyed by a calendar year and a week.
//   - A Week's Monday is a Day of that Week; Week and Monday undo each other.
//   - What Parse reads, String writes back, letter for letter.
//   - Every week of a season belongs to exactly one of Season.Months.
//   - The shares of a span of days over the weeks that hold it add up to its
//     length over 7.
//   - All types are small comparable values without pointers; every function is
//     pure, so all of them may be used from many goroutines at once. The package
//     asks no clock: who knows today's date passes it in.
//
// Entry points: ParseDay, ParseWeek, ParseMonth, NewSeason, NewStanding.
package week
