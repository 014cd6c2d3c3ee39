package book

import (
	"strconv"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// The axes that every book has. All others are the book's lists.
const (
	WeekAxis        = "week"
	MonthAxis       = "month"
	MonthOfYearAxis = "month_of_year"
	YearAheadAxis   = "year_ahead"
)

// BuiltInLine is the line that every book has: seven days, over week.
const BuiltInLine = "week_days"

// Book is a book as data, checked.
type Book struct {
	Doc       *syntax.Document
	Title     string // of the settings; else the first page's; else ""
	Settings  Settings
	Units     *unit.System
	Lists     []*List // these and all below in book order
	Lines     []*Line // inputs and computed lines; list columns are in Lists
	Records   []*Records
	Scenarios []*Scenario
	Pins      []Override // a pin, bind, caution, link or chart in error is left out; Errors says so
	Cautions  []Caution
	Binds     []Bind
	Links     []Link
	Charts    []Chart
	Answers   []Answer
	// Errors holds the faults of reading and of checking, sorted by place.
	Errors []*syntax.Error
	// Broken holds, by name, what stands in the book and could not be read: lines,
	// lists, kinds of records, and columns as "list.column".
	Broken map[string]*syntax.Error

	lines     map[string]int // of Lines by name
	lists     map[string]*List
	records   map[string]*Records
	scenarios map[string]*Scenario
	members   map[string][]Position // where a member's word stands
}

// Settings is what the settings blocks say, with the defaults filled in.
type Settings struct {
	Season    week.Season
	HasSeason bool          // false when the season is missing or wrong: nothing over week can be computed
	Standing  week.Standing // of Season at AsOf; the zero Standing without a season
	AsOf      week.Day
	HasAsOf   bool   // the book itself says as_of
	Currency  string // ISO 4217 code; "" when missing or wrong

	Latitude     float64 // degrees, north positive
	HasLatitude  bool
	Elevation    float64 // m
	HasElevation bool

	Things []string // countable units the book adds
	Draws  int
	Seed   uint64
	Years  int // length of the axis year_ahead
	Closed []week.Week
}

// Line is one line of a lines block: an input when Input is set, else computed by Formula.
type Line struct {
	Name    string
	Place   syntax.Place // of the name
	Page    string
	Block   *syntax.Block
	Input   *Input
	Formula *syntax.Formula
	// Unit is the unit after "->", or an input's own; nil when a formula declares
	// none, or an input is no number.
	Unit   *unit.Unit
	Gather string // "sum" "mean" "level", or "" when the unit decides
	Label  string
	Source string
}

// Scenario is a named set of overrides.
type Scenario struct {
	Name      string
	Title     string
	Place     syntax.Place
	Page      string
	Overrides []Override
	// Broken is the first fault among its rows, nil without one. A scenario that
	// lacks a row is not the scenario that was meant: what uses it waits.
	Broken *syntax.Error
}

// Line gives a line by name; nil when there is none or it is broken.
func (b *Book) Line(name string) *Line {
	if i, ok := b.lines[name]; ok {
		return b.Lines[i]
	}
	return nil
}

// List gives a list by name; nil when there is none or it is broken.
func (b *Book) List(name string) *List { return b.lists[name] }

// RecordsOf gives a kind of records by name; nil when there is none or it is broken.
func (b *Book) RecordsOf(name string) *Records { return b.records[name] }

// Column gives a list's column; nil when there is none or it is broken.
func (b *Book) Column(list, column string) *Column {
	if l := b.lists[list]; l != nil {
		return l.Column(column)
	}
	return nil
}

// RecordColumn gives a column of records; nil when there is none or it is broken.
func (b *Book) RecordColumn(records, column string) *RecordColumn {
	if r := b.records[records]; r != nil {
		return r.Column(column)
	}
	return nil
}

// Scenario gives a scenario by name; nil when there is none.
func (b *Book) Scenario(name string) *Scenario { return b.scenarios[name] }

// AxisLen is the number of cells of an axis; false when there is no such axis,
// or its length hangs on a season that the book does not have.
func (b *Book) AxisLen(axis string) (int, bool) {
	switch axis {
	case WeekAxis, MonthAxis:
		if !b.Settings.HasSeason {
			return 0, false
		}
		if axis == WeekAxis {
			return b.Settings.Season.Len(), true
		}
		return len(b.Settings.Season.Months()), true
	case MonthOfYearAxis:
		return 12, true
	case YearAheadAxis:
		return b.Settings.Years, true
	}
	if l := b.lists[axis]; l != nil {
		return len(l.Members), true
	}
	return 0, false
}

// AxisMembers gives the names of an axis' cells: members, weeks as 2027-W10,
// months as 2027-03, months of the year as 01 to 12, years ahead from 1. It is
// nil where AxisLen says false.
func (b *Book) AxisMembers(axis string) []string {
	n, ok := b.AxisLen(axis)
	if !ok {
		return nil
	}
	names := make([]string, n)
	var months []week.Month
	if axis == MonthAxis {
		months = b.Settings.Season.Months()
	}
	for i := range names {
		names[i] = b.axisMember(axis, i, months)
	}
	return names
}

func (b *Book) axisMember(axis string, i int, months []week.Month) string {
	switch axis {
	case WeekAxis:
		return b.Settings.Season.At(i).String()
	case MonthAxis:
		return months[i].String()
	case MonthOfYearAxis:
		return monthNames[i]
	case YearAheadAxis:
		return strconv.Itoa(i + 1)
	}
	return b.lists[axis].Members[i].Name
}

// monthNames are the cells of month_of_year, January first.
var monthNames = [12]string{"01", "02", "03", "04", "05", "06", "07", "08", "09", "10", "11", "12"}

// builtInAxis says whether every book has the axis.
func builtInAxis(name string) bool {
	switch name {
	case WeekAxis, MonthAxis, MonthOfYearAxis, YearAheadAxis:
		return true
	}
	return false
}
