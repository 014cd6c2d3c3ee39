// Package formula turns the formulas of a book into one checked program and runs it.
//
// Terms. A Source is a book with its names resolved and its literals turned into
// cells. A value is one step of the Program: an input, a kernel over cells, a total
// over axes, a call of a model. A line is the value that its formula ends in. The
// plain pass computes every value with every input at its middle: the number shown
// everywhere. Draws run the same program for many random inputs at once.
//
// Invariants. Names, axes and units are checked before anything runs; an error
// belongs to a line, and other lines still run. Equal steps are one value, also
// across scenarios. A cell holds a finite number, a blank or a fault.
// Draws do not depend on the size of their blocks or the number of cores, and a
// longer run begins with the shorter. Whatever a book says, compiling and running
// end, within bounds that are errors and not crashes.
//
// Entry points: Compile, Program.Plain, Program.Draw, Program.Update with
// Program.Recompute (after an edit). Functions of the language are Function
// values with a Kernel and a Card, made in package library.
//
// The way through the files: source.go and function.go are the contracts;
// depend.go orders lines and loop.go finds loops; lower.go walks a formula's tree,
// with builtin.go, lower_*.go and kernel_call.go for its calls and types.go for
// units; size.go, settle.go and bound.go say what can be known before a run; plan.go
// makes rounds and plan_rows.go their steps, run*.go compute them, draw.go runs draws; update.go follows an edit.
package formula
