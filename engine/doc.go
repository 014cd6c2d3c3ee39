// Package engine is the façade: it opens a book, checks it, computes it and
// answers questions about it. Screens and verbs talk to it alone.
//
// Terms. A Desk is one book opened under one set of options (scenario, day,
// draws). A Value is a line as a person or a program reads it: numbers in a
// unit, with a band and odds where draws earned them. An Answer is one of the
// three that every book gives: does it pay, what to charge, can it carry the loan.
//
// The way in: Open reads (syntax), assembles (book), turns the book into the
// compiler's source (source.go, sample.go), compiles and runs the plain pass
// (formula). Value and Answers run the draws they need.
package engine
