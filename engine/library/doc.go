// Package library gives the functions of the language: their names, their cards
// and, for those that are more than arithmetic, the kernels that bring a book's
// numbers to the models and back.
//
// # Terms
//
// A function is one name that a formula may call. Its card is what a person reads
// about it: what it computes, its arguments and its result with units, where it
// is valid and what happens outside, its source, and one worked example.
//
// A kernel is what runs. Functions that are outputs of one model share a kernel:
// the loan's interest and what is owed of it are computed together, once.
//
// A lowered function is one that the compiler takes apart itself, as what it does
// depends on the axes, the names or the scenario of its arguments. Only its card
// stands here (lowered.go).
//
// # Invariants
//
//   - Names are words of the trade or of plain mathematics, lower case, joined
//     by "_"; none is known from another program.
//   - Every card is complete, and its example is what the engine gives. The tests
//     of package engine run all of them.
//   - Functions that share a kernel have equal parameters.
//   - A kernel is a pure function of its call: it keeps nothing between calls,
//     reads no clock, and never sees a book, a tree or a draw.
//   - Blank in, blank out: a value is made only of what is known, unless the card
//     says otherwise. What a model cannot work with is refused in words, and is
//     an error of those cells alone.
//
// # Files
//
// One file a family, or a part of it: lowered.go; weeks.go and calendar.go;
// records.go; sun.go, weather.go, air.go and inside_light.go; house.go, house_by_hour.go, cooling.go,
// fans.go, fuel.go and tank.go; crop.go, set.go, ripening.go, counts.go and own_figures.go for trusses;
// node.go, flush.go and light_yield.go for cucumbers and peppers; picking.go and
// grading.go; water.go, feed.go, conductivity.go, acid.go, substrate.go and lamps.go;
// labour.go; protection.go and sprays.go; orders.go; market.go and price.go; loan.go and cash.go.
// A new family is a function that gives []formula.Function, added to the list in
// library.go.
//
// The way in: All.
package library
