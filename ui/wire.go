package ui

import (
	"time"

	"wintertruss/engine"
	"wintertruss/engine/book"
)

// Messages between the server and a page, JSON over one websocket. Examples of
// each stand in testdata/wire and are read by the tests of both sides.
//
// History:
//
//	2026-11-25  1  first
const WireVersion = 1

// Largest message a page may send, in bytes. A book's prose can be long.
const mostMessage = 256 << 10

// FromPage is a message of a page. Type decides which fields count.
//
//	hello   From, Boot, Version: the page is here, and has the book up to change From of the server run Boot (0 and "" when new)
//	edit    ID, Edit: change the book
//	undo    ID: take back this page's last edit that is not taken back yet
//	look    Scenario, Beside: what scenarios come to, from now on; edits still go to the plan
//	try     ID, Edit, Ask: what the edit would give, without doing it
//	why     ID, Ask, Week, Part: what moves the first figure asked for, and what changed it
type FromPage struct {
	Type    string    `json:"type"`
	Version int       `json:"version,omitempty"`
	From    uint64    `json:"from,omitempty"`
	Boot    string    `json:"boot,omitempty"`
	Page    string    `json:"page,omitempty"` // the page's own name, kept over reconnects: undo is per page
	ID      string    `json:"id,omitempty"`   // of an edit or undo; a repeated ID is answered again, never done twice
	Edit    book.Edit `json:"edit,omitzero"`
	// Scenario and Beside, of a look: whose values to show, "" the plan's, and whose
	// answers to set beside it.
	Scenario string   `json:"scenario,omitempty"`
	Beside   []string `json:"beside,omitempty"`
	Ask      []string `json:"ask,omitempty"` // lines to look at in a try; the answers come along
	// Of a why: the place of a week in the season, none for the whole season; and which
	// of the other cells, in their order, none for all together.
	Week *int `json:"week,omitempty"`
	Part *int `json:"part,omitempty"`
}

// ToPage is a message of the server.
//
//	snapshot  the whole book at Number
//	resumed   the page has all up to Number; what it missed follows as changes
//	change    what edit number Number changed; pages that have Number-1 take it
//	bands     what the draws of Number say, of Values what is otherwise than in the bands the page was
//	          told before, or was changed since; nothing when a newer edit came
//	ack       edit ID is durable as Number; it comes after its change
//	refused   edit ID was not done: Fault says why
//	would     what the tried edit ID would give: Values, Answers, or a Fault
//	why       what ID asked: Why
//	look      what scenario Scenario comes to at Number: Answers, and Values when it is
//	          the one looked at; again with Draws when its draws are done
//	here      how many pages have the book open, this one too; whenever it changes
//	elsewhere the file was changed by another program; Fault says what now
type ToPage struct {
	Type    string `json:"type"`
	Version int    `json:"version,omitempty"`
	Boot    string `json:"boot,omitempty"`
	Number  uint64 `json:"number"`
	ID      string `json:"id,omitempty"`

	Book    *Book             `json:"book,omitempty"`    // snapshot, and a change that moved blocks about
	Rows    []Row             `json:"rows,omitempty"`    // change: rows with new text, by Part
	Values  map[string]*Value `json:"values,omitempty"`  // snapshot: of all lines; change, bands: of those that changed
	Answers []Answer          `json:"answers,omitempty"` // whenever they changed
	// Units says of the units in Values how people of a habit, "us" or "metric", read
	// them, where that is otherwise.
	Units map[string]map[string]Shown `json:"units,omitempty"`

	By         string `json:"by,omitempty"`   // change: the page that made it
	What       string `json:"what,omitempty"` // change: in words, for the undo button and the others
	Recomputed int    `json:"recomputed,omitempty"`
	Undo       string `json:"undo,omitempty"` // to the page itself: what its next undo would take back; "" nothing
	Draws      int    `json:"draws,omitempty"`
	Scenario   string `json:"scenario,omitempty"` // look
	Steps      []Step `json:"steps,omitempty"`    // look: what each change of the scenario does to the first figure of pays
	Here       int    `json:"here,omitempty"`
	Why        *Why   `json:"why,omitempty"`
	// Cautions are the book's warnings that fire; bands: all of them.
	Cautions []Caution `json:"cautions,omitempty"`
	Fault    *Fault    `json:"fault,omitempty"`

	at  time.Time                // change: when it was done
	was map[string]*engine.Value // change: values before it
}

// Caution is a warning of the book that fires.
type Caution struct {
	Of      string `json:"of"`              // the left side of its condition: a line, or a formula
	Where   string `json:"where,omitempty"` // the first cell that fails: "at long_tomato, 2027-W03"
	Cells   int    `json:"cells"`           // how many fail
	Message string `json:"message"`
}

// Why is what stands behind a figure beside its formula.
type Why struct {
	Drawn   bool      `json:"drawn"` // the draws are done, so Drivers says all there is
	Drivers []Driver  `json:"drivers,omitempty"`
	Outside []string  `json:"outside,omitempty"` // arguments outside what was measured, each as a sentence
	Changes []Changed `json:"changes,omitempty"` // since the program was started, the last first
}

// Driver is an unsure input that a figure hangs on.
type Driver struct {
	Name   string    `json:"name"`
	Cell   string    `json:"cell,omitempty"`
	Rank   float64   `json:"rank"`           // Spearman's correlation
	Low    string    `json:"low,omitempty"`  // the input's 10th percentile, as a person reads it
	High   string    `json:"high,omitempty"` // and its 90th
	Chance bool      `json:"chance,omitempty"`
	Ends   [2]any    `json:"ends"`  // what the figure comes to with the input at either end
	Says   [2]string `json:"says"`  // the same, as a person reads it
	Moves  string    `json:"moves"` // half the way between them
}

// Changed is an edit that moved a figure.
type Changed struct {
	What string `json:"what"`
	By   string `json:"by"` // the page that made it
	At   int64  `json:"at"` // milliseconds since 1970
	From string `json:"from"`
	To   string `json:"to"`
}

// Book is the book's text as the page shows it.
type Book struct {
	Title string `json:"title"`
	File  string `json:"file"`
	AsOf  string `json:"as_of"`
	// Axes names the cells of every axis; Labels the shown names of a list's members.
	Axes   map[string][]string          `json:"axes"`
	Labels map[string]map[string]string `json:"labels"`
	Now    int                          `json:"now"` // index of the open week
	Pages  []Page                       `json:"pages"`
}

// Page is one page of the book.
type Page struct {
	Title    string  `json:"title"`
	Headline string  `json:"headline,omitempty"` // the live number of its heading, as an address: "harvest @ this_week"
	Blocks   []Block `json:"blocks"`
}

// Block is prose, or a live block with its rows.
type Block struct {
	Kind  string `json:"kind"` // prose settings list lines records observe pins scenario cautions links chart answers
	Name  string `json:"name,omitempty"`
	Title string `json:"title,omitempty"`
	Part  int    `json:"part"`           // prose: its number among the book's prose; else the part of the opening fence
	Text  string `json:"text,omitempty"` // prose: as written
	HTML  string `json:"html,omitempty"` // prose: as shown; made safe by the server
	Rows  []Row  `json:"rows,omitempty"`
}

// Row is one row of a live block.
type Row struct {
	Part int    `json:"part"`
	Kind string `json:"kind"` // line header row other comment
	Text string `json:"text"` // as written, without its line ending
	// of a line
	Name    string `json:"name,omitempty"`
	Label   string `json:"label,omitempty"`
	Source  string `json:"source,omitempty"`
	Input   bool   `json:"input,omitempty"`
	Written string `json:"written,omitempty"` // what stands right of ":" or "=", without unit and comment
	Unit    string `json:"unit,omitempty"`    // as declared after "->"
	// Reads names the lines and columns that a formula is made of, in its order.
	Reads []string `json:"reads,omitempty"`
	// Signs says how each of Reads goes in: "+" or "-" for a term, "*" or "/" for a
	// further factor, "" inside a function or a choice.
	Signs []string `json:"signs,omitempty"`
	// of a header or row of a list or of records
	Cells []string `json:"cells,omitempty"`
	Fault *Fault   `json:"fault,omitempty"`
}

// Fault is what is wrong, with its place in the row's text (characters from 0).
type Fault struct {
	Name    string `json:"name,omitempty"`
	Line    int    `json:"line,omitempty"`
	Col     int    `json:"col,omitempty"`
	From    int    `json:"from"`
	To      int    `json:"to"`
	Message string `json:"message"`
	Hint    string `json:"hint,omitempty"`
	Waits   string `json:"waits,omitempty"` // the line it waits for, when that is all that is wrong
}

// Value is a line's value. Cells are flat, row-major over Axes; null where
// nothing is known. A value that is Stale is the last good one of a line in error.
//
// In a change Moved can stand in the place of Cells: the cells that differ from those
// the page has, in runs that each begin with the place of their first. In bands a value
// without Cells has those that the page has, and its Season.
type Value struct {
	Unit  string   `json:"unit"`
	Kind  string   `json:"kind"` // number yes_no date word
	Axes  []string `json:"axes"`
	Cells []any    `json:"cells"`
	Moved [][]any  `json:"moved,omitempty"`
	Low   []any    `json:"low,omitempty"`
	High  []any    `json:"high,omitempty"`
	// InnerLow and InnerHigh are the middle half, of lines without members.
	InnerLow  []any `json:"inner_low,omitempty"`
	InnerHigh []any `json:"inner_high,omitempty"`
	Odds      []any `json:"odds,omitempty"`
	// Together is the band of each week with all members together, where they add up:
	// the 10th, 25th, 75th and 90th percentile.
	Together [][4]any `json:"together,omitempty"`
	Gather   string   `json:"gather,omitempty"` // sum mean level
	Adds     bool     `json:"adds,omitempty"`   // members add up to something: pounds do, pounds a plant do not
	Season   any      `json:"season,omitempty"` // a weekly line put together over the season, by members
	Stale    bool     `json:"stale,omitempty"`
	Fault    *Fault   `json:"fault,omitempty"`
}

// Shown is how a number x of a unit is shown elsewhere: x*Mul + Add, in Unit.
type Shown struct {
	Unit string  `json:"unit"`
	Mul  float64 `json:"mul"`
	Add  float64 `json:"add,omitempty"`
}

// Step is what one change of a scenario does to a figure.
type Step struct {
	What string  `json:"what"`
	By   float64 `json:"by"`
}

// Answer is one of the three answers.
type Answer struct {
	Key         string  `json:"key"`
	Question    string  `json:"question"`
	Verdict     string  `json:"verdict,omitempty"` // only when draws earned it
	Of20        int     `json:"of20"`
	Entries     []Entry `json:"entries"`
	Consequence string  `json:"consequence,omitempty"`
	// Says is the consequence to people of a habit, where it reads otherwise.
	Says    map[string]string `json:"says,omitempty"`
	Caution string            `json:"caution,omitempty"`
	Stale   bool              `json:"stale,omitempty"`
	Fault   *Fault            `json:"fault,omitempty"`
}

// Entry is one figure of an answer: a line, or the left side of a condition.
type Entry struct {
	Label string   `json:"label"`
	Name  string   `json:"name"` // the line, when it is one
	Rows  []Figure `json:"rows"`

	Unit string   `json:"unit,omitempty"`
	Kind string   `json:"kind,omitempty"` // as of a Value
	Axes []string `json:"axes,omitempty"` // lists that the rows run over
	Adds bool     `json:"adds,omitempty"` // rows add up to something
	// Limit is the number that a condition compares with, by Op.
	Op    string `json:"op,omitempty"`
	Limit any    `json:"limit,omitempty"`
}

// Figure is one number of an entry, as a person reads it and as it is.
type Figure struct {
	Label string `json:"label,omitempty"` // the member, when there are several
	Text  string `json:"text"`
	Band  string `json:"band,omitempty"`

	X     any   `json:"x,omitempty"`     // when it is a number
	Range []any `json:"range,omitempty"` // 8 in 10: low, high; and 5 in 10 after them, where it is known
	// Of gives the member on each list that the row is of or refers to: planting,
	// and by it crop and house.
	Of map[string]string `json:"of,omitempty"`
}
