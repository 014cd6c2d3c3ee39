// Package labour is the hands a crop takes: minutes by the plant, the stem, the
// truss, the node, the kilogram or the week, in the phase of the crop that each task
// belongs to.
//
// Terms. A task is one kind of work. Its phase is the part of a planting's life in
// which it is done; a week's share of a phase is how much of its seven days lies in
// it. Effort is what a crop takes beside the one the minutes were measured on.
//
// Invariants, held by the tests:
//   - a phase's shares add up to its days: nothing is done twice or forgotten
//   - twice the plants, trusses and kilograms take twice the hours
//   - hours by task add up to hours by week and by planting, whatever is added first
//   - what family and hired hands do is what there is to do
//
// The functions are pure: numbers in, numbers out, nothing kept or allocated.
//
// Entry points: [PhaseOf] and [Phase.Span]; [Task.Parts] and [Task.Hours]; [Hired].
package labour
