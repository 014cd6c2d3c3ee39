// Check is the project's one gate: `go run ./cmd/check` sets up what the tests
// need and runs everything that must hold before a change is handed over.
//
// It fails and never skips: what a step needs and does not find makes the step
// fail with the command to run. Every step runs even when one before it failed
// (except that nothing is tried with what does not build), so that one run
// shows all there is to mend.
//
// Terms. A step is one thing that must hold. A need is a program of the machine
// without which a step cannot run. A tool is a program of Go that is built from
// the module in cmd/check/tools, so that the project itself does not depend on it.
//
// Entry points: steps (what is run, in order), needs (what the machine must
// have), house_rules_test.go (the rules of the house, run with all other tests).
package main
