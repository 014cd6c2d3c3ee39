// Package book is a book as data: from the trees of package syntax to lists,
// lines, records, scenarios and what else a book holds, with every name
// resolved that can be resolved without reading a formula, and every literal
// turned into a typed value.
//
// # Terms
//
// A Value is one typed literal. An Input is the right side of "name : ...", a
// row of Pieces, each a Value for one member (or all) from a week on; a list's
// Column is an Input over that list, so the compiler has one thing to lower. A
// Spread is the range of a Value, and its Key names the literal in the draws. An
// Override replaces cells of a line or column: a pin, or one row of a scenario.
//
// # Invariants
//
//   - Numbers stay in the unit they are written in, exact beside floating point;
//     nothing is converted here. All numbers of one Input or Column convert to its Unit.
//   - A book with faults still gives everything that can be read. What cannot is
//     left out, and Broken says why under its name ("price", "house", "house.floor"),
//     so that what depends on it can say what it waits for. A figure that would be
//     wrong for want of a row is not given: a broken cell breaks its column.
//   - Errors holds the faults of reading and of checking, by place in the text,
//     without doubles: what only follows from another fault is not said again.
//   - Assemble is linear in the book, asks no clock, and never panics. A Book is
//     not changed after it; any number of goroutines may read it.
//
// Entry points: Assemble; Book.Line, Book.List, Book.Column, Book.RecordColumn,
// Book.AxisMembers; Book.Literal and Book.Override for what verbs and quoted text say.
package book
