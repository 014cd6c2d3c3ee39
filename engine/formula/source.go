package formula

import (
	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Source is everything a program is made from: a book with its names resolved
// and its literals turned into numbers. It is not changed by Compile.
type Source struct {
	File      string
	Units     *unit.System
	Money     *unit.Unit // the book's currency
	Season    week.Season
	Standing  week.Standing
	Space     *array.Space
	Week      int // the axes that every book has, by number in Space
	Month     int
	MonthOf   int // month_of_year
	YearAhead int
	Lists     []List
	Records   []Records
	// Lines holds inputs and computed lines, the columns of lists ("house.floor")
	// and of records ("picks.weight") among them.
	Lines     []Line
	Scenarios []string
	// Chosen is the scenario that the book is looked at under; "" for the plan.
	Chosen    string
	Overrides []Override
	Functions map[string]*Function
	// Words are the kinds and other bare words; a word cell holds an index into it.
	Words []string
	// Literal turns the quoted text of measure("15 degC") into a number; the
	// unit is nil for dates and weeks, which come as days.
	Literal func(text string) (value float64, u *unit.Unit, err *syntax.Error)
	Draws   int
	// Quantile gives the p-quantile of known draws, in the order they came.
	Quantile func(x []float64, p float64) float64
}

// List is one list of the book; its members are the cells of Axis.
type List struct {
	Name string
	Axis int
}

// Records is one kind of record; its rows are the cells of Axis.
type Records struct {
	Name string
	Axis int
	Day  []week.Day
	// Refers gives the axis of every list that the records refer to, in book
	// order, and the member of each row (-1 when blank).
	Refers []Reference
}

// Reference is a column of records that names members of a list.
type Reference struct {
	Axis   int
	Member []int
}

// Line is one name. Exactly one of Input, Formula and Broken is set.
type Line struct {
	Name    string
	Place   syntax.Place
	Input   *Input
	Formula *syntax.Formula
	// Broken is the fault that keeps the line from being read at all.
	Broken *syntax.Error
	Unit   *unit.Unit // declared after ->; nil when not
	// Gather is "sum", "mean", "level" or "" (the unit decides).
	Gather string
	// Quiet marks names that are not lines of the book (columns, conditions).
	Quiet bool
}

// Input is a typed value over axes. Plain has a cell for each; Sampler, when set,
// gives the draws.
type Input struct {
	Type    Type
	Plain   []float64
	Sampler Sampler
}

// Sampler gives draws of an input: dst has a row of n draws for each cell, from
// draw number first on. The same numbers come whatever first and n are; none is
// larger than 1e18, and a cell is blank in a draw where it is in Plain and only
// there. Samplers of different inputs may be asked at once.
type Sampler interface {
	Sample(first, n int, dst []float64)
}

// Override replaces an input or a formula under a scenario, by a pin, or by --set.
type Override struct {
	Layer Layer
	// Scenario is the scenario's name for ByScenario.
	Scenario string
	Line     int
	// Where limits it to cells: axis number and cell; empty: all cells.
	Where []Cell
	// ForecastOnly leaves the closed weeks alone: a pin on a line that records fill.
	ForecastOnly bool
	Input        *Input
	Formula      *syntax.Formula // may use base
	Place        syntax.Place
}

// Cell is one member of an axis.
type Cell struct{ Axis, Index int }

// Layer is the order in which overrides are applied, the last one winning.
type Layer int

const (
	ByScenario Layer = iota
	ByPin
	BySet
)
