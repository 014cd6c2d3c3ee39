// Package syntax turns the text of a book into trees and back into the same text.
//
// A book is one CommonMark file; fenced blocks whose info string begins with a
// word of the language are live. Formulas are parsed by expr-lang/expr and
// turned into the small tree of expr.go, which is all that other packages see.
//
// Entry points: Read (a book), ParseFormula (one formula), ParseValues (the
// right side of an input), Document.Text (the text again).
package syntax
