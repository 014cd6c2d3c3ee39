// Package syntax turns the text of a book into trees and back into the same text.
//
// A book is one CommonMark file; fenced blocks whose info string begins with a
// word of the language are live. goldmark finds the blocks, expr-lang/expr parses
// formulas; both stay behind this package, which hands out only the trees of
// tree.go and expr.go. GRAMMAR.md is the whole grammar on a page.
//
// Terms. A part is a stretch of the text: prose, a fence, one row of a live block,
// an empty line in one. An item is what a row says. A place is line, column and
// length; columns count characters, from 1. A span counts characters from the
// start of a formula, from 0.
//
// Invariants.
//   - The parts of a document, joined, are the text it was read from, byte for byte,
//     whatever the bytes were.
//   - A row in error costs that row alone. Where its name can be read it is kept: a
//     line without Values and Formula, a cell with Text and without Values.
//   - Errors stand in the order of lines, each with a stable code, a message and a
//     hint; every message is in messages.go, with an example in messages_test.go.
//   - Reading takes time in proportion to the text, and bounded depth of the stack.
//   - Numbers are exact decimals, in the unit as written; units, members, kinds and
//     the calendar are words here and known elsewhere.
//   - Nothing is kept between calls; all functions may be called at the same time.
//
// Entry points: Read (a book), ReadRow (one row of it, for an edit), ParseFormula
// (one formula), ParseValues and ParseLiteral (the right side of an input),
// ParseAddress (what a pin or --set names), Document.Text (the text again).
package syntax
