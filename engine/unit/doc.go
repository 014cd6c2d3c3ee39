// Package unit reads units as a grower writes them (kg/m2, USD/gal,
// BTU/h/ft2/degF), multiplies and divides them, and converts between them
// exactly.
//
// # Terms
//
// A Dim says what kind of quantity a unit measures: a product of powers of base
// dimensions. The bases are length, mass, time, temperature, amount of
// substance, electric current, charge equivalents (meq), every money of
// ISO 4217 and every thing that is counted (plant, stem, fruit ...). Plain
// numbers, per cent and degrees of an angle have no dimension.
//
// A symbol is one word of a unit: lb, ft, USD, plant. A Unit is a product of
// powers of symbols, or an absolute temperature: degC or degF standing alone.
// In a product, degC and degF are differences; alone, a difference is written
// K, degC_diff or degF_diff.
//
// A System holds the symbols of one book: those built in and the book's own
// things.
//
// # Invariants
//
//   - A System has one Unit for one canonical text, so that equal pointers mean
//     the same symbols, the same powers and the same factor. Canonical is: a
//     symbol stands once, symbols with positive powers first, each group in the
//     order they were met. Reading back what String writes gives the same Unit.
//   - Factors are exact fractions. Mul, Div and Pow multiply factors exactly and
//     merge only equal symbols: ft2*plant/m2 keeps the factor 0.09290304. It is
//     Simplify that chooses one symbol a dimension, and Convert that tells how
//     the numbers change; Convert rounds once, at its end.
//   - Simplify and Display never change the dimension.
//   - No power, of a symbol or of a dimension, passes 12 either way; a text has
//     200 bytes at most. Mul and Div, which have no error, then give a unit that
//     is Beyond; it swallows what it meets and converts to nothing.
//   - Units never change once made. Everything is safe for concurrent use.
//
// Entry points: NewSystem, System.Parse, System.Mul, System.Simplify, Convert.
package unit
