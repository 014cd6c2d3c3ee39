// Package protect is keeping pests down: cards to hang, wasps and mites to set free,
// what makes them fail, and the days after a spray.
//
// Terms. A card is a sticky trap, read weekly. An agent (beneficial) is a wasp, mite
// or worm that eats a pest; a release is one visit with them. A mark is the catch on a
// card from which more is done: a habit, to be talked over with an adviser. After a
// spray, the days to harvest and the hours to re-entry are those of its label, which
// is the law.
//
// Invariants, held by the tests:
//   - a larger floor never needs fewer cards, and one card hangs wherever there is a floor
//   - releases by week add up to releases by day
//   - days after a spray are counted once, however many sprays overlap
//
// The functions are pure: numbers in, numbers out, nothing kept or allocated.
//
// Entry points: [Cards]; [TimesDue]; [AgentOf] with [Agent.LaysAt] and [Agent.HoldsOn];
// [Cover].
package protect
