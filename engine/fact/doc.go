// Package fact holds what the world says: published figures, each with its
// unit, range, source, place in the source and how it is known. Nothing with a
// unit stands in a model's code that is not a Fact.
//
// Terms. How a figure is Known says how far it may be trusted: read in the source
// itself, quoted by another, common practice of the trade, memory (to be checked
// by a person before anyone relies on it), our own assumption, or exact by
// definition. Low and High bound it where a range is published or honest.
//
// Invariants. A figure that lacks a unit, a source or a place is refused when it
// is made (New panics: a programmer's mistake), and a test looks at all of them.
//
// Entry points: New, All, Fact.Check. Screens show facts, since lenders ask "says who?".
package fact
