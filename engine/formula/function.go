package formula

import "wintertruss/engine/week"

// Function is one name that a formula may call. The functions of plain
// arithmetic, of axes and of scenarios are lowered by the compiler itself and
// have only a card (Kernel nil); all others bring a Kernel.
type Function struct {
	Name   string
	Card   Card
	Params []Param
	Kernel *Kernel
	Output int // which output of the kernel this name stands for
}

// Card is what a person reads about a function. Every field but Table is
// required; Example is a small book that the tests run.
type Card struct {
	Family  string // numbers and choice | weeks and lists | records | sun and air | heat | crop | market | money | risk
	Says    string // what it computes, one or two sentences
	Gives   string // the result in words: unit and axes
	Valid   string // range measured, and what happens outside it
	Source  string // author, year, place; or "common practice"; or "definition"
	Example Example
	// Table is the published table that it came from, or a part of it, where there is one.
	Table *Table
}

// Example is a worked example: Lines are rows of a lines block (inputs and
// formulas); Ask is the line to look at; Want its value as text that
// `wintertruss value` would print for it (numbers compared to 6 digits).
// Book, when not empty, is a whole book to use instead of Lines.
type Example struct {
	Lines []string
	Book  string
	Ask   string
	Want  []float64 // one value, or one a cell, weeks innermost
}

// Takes says what a parameter takes.
type Takes int

const (
	Quantity    Takes = iota // a number with the unit of Param.Unit
	Truths                   // yes or no
	Dates                    // dates, as days since 1970-01-01
	Words                    // kinds, as word numbers whose text Call.Word gives; of a column also members of a list, as their places in it
	ListName                 // a list's name: the kernel gets the columns named in Kernel.Columns
	QuotedWords              // quoted text, constant: Call.Text
)

// Param is one parameter.
type Param struct {
	Name string
	Says string
	Takes
	// Unit is what the kernel wants the numbers in, by the symbols of the language,
	// e.g. "degC", "MJ/m2/d", "money/kg" (money: the book's currency). "" takes any
	// unit and leaves it; the result may then be "like NAME". "any thing" etc. do not exist.
	Unit string
	// Whole lists the axes of which the kernel gets all cells at once, outermost
	// first: "week", "month_of_year", "list" (the list given as ListName argument),
	// "records" (the rows of the records a record column belongs to). An operand
	// without such an axis is repeated along it. All other axes are walked outside:
	// the kernel is called once for each of their cells and for each draw.
	Whole    []string
	Optional bool
	Default  float64 // in Unit, when Optional and left out
	// Measured is the range in which what the function says was measured; one for each
	// kind that has its own. Only for a parameter with a unit of its own.
	Measured []Measured
}

// Column is a column that a kernel reads from the list given as ListName argument.
type Column struct {
	Name    string
	Unit    string
	Takes   Takes
	Whole   []string // "week" for a column that may be a schedule; add "list" in front when the kernel wants all members at once
	Default *float64 // used when the list has no such column; nil makes it required
}

// Result is one output of a kernel.
type Result struct {
	Takes        // Quantity, Truths, Dates, Words
	Unit  string // a unit, or "like NAME": as that parameter came
	// Whole lists the axes that the kernel fills at once, outermost first: "week",
	// "month", "month_of_year", "list", or "refers" (every list that the records refer to, see Kernel.Records).
	Whole []string
}

// Kernel computes all its outputs at once; two functions with the same kernel
// and equal arguments share one run. Params belong to the Function; functions
// that share a kernel must have equal Params.
type Kernel struct {
	Name    string
	Columns []Column
	// Records: when a parameter's Whole has "records", the kernel also gets the
	// rows' dates and members, see Call.Rows.
	Results []Result
	// Run reads c.In and fills c.Out. It must not keep or allocate; scratch is in c.
	Run func(c *Call)
}

// Call is one call of a kernel, for one cell of the outer axes and one draw.
type Call struct {
	// In holds the arguments in the order of Params, each with as many numbers as its
	// Whole axes have cells; for ListName and QuotedWords one that says nothing. The
	// slices are others in every call.
	In [][]float64
	// Columns holds the columns in the order of Kernel.Columns.
	Columns [][]float64
	// Out holds the outputs in the order of Kernel.Results, to be filled; cells not
	// filled are blank.
	Out [][]float64
	// Season is the calendar: its weeks are the cells of the week axis.
	Season week.Season
	// Standing says which weeks are closed, open and to come.
	Standing week.Standing
	// Rows describes the records whose columns were given; nil without any.
	Rows *Rows
	// Word gives the text of a word number ("" when blank).
	Word func(x float64) string
	// Text gives the QuotedWords arguments in the order of Params ("" elsewhere).
	Text []string
	// Members is the number of members of the list argument.
	Members int
	scratch []float64
	used    int
	// Refuse makes every output a fault with this message shown to the person. A
	// kernel that calls it should return at once.
	refused string
}

// Rows describes records row by row.
type Rows struct {
	Day []week.Day
	// Refers gives, for each list that the records refer to (in book order), the
	// member index of every row (-1 when blank), and Size that list's members.
	Refers [][]int
	Size   []int
}

// Scratch gives n zeroed numbers that live until the call returns.
func (c *Call) Scratch(n int) []float64 {
	if c.used+n > len(c.scratch) {
		c.scratch = append(make([]float64, 0, 2*(c.used+n)+1024), make([]float64, 2*(c.used+n)+1024)...)
		c.used = 0
	}
	s := c.scratch[c.used : c.used+n : c.used+n]
	clear(s)
	c.used += n
	return s
}

// Refuse marks every output as one that cannot be computed, and says why in the grower's words.
func (c *Call) Refuse(why string) { c.refused = why }

// NewCall is for tests of kernels outside a book.
func NewCall(season week.Season, standing week.Standing, in, columns, out [][]float64) *Call {
	return &Call{In: in, Columns: columns, Out: out, Season: season, Standing: standing,
		Word: func(float64) string { return "" }}
}

// Refused gives what Refuse was told.
func (c *Call) Refused() string { return c.refused }
