package syntax

import "github.com/shopspring/decimal"

// Place is where something stands in a book: line and column count from 1,
// column and length in characters.
type Place struct{ Line, Col, Len int }

// Error is a fault in a book: its place, what is wrong in the grower's words,
// and a hint. Name is the line, list, column or block it belongs to ("" when none).
type Error struct {
	Place
	Code    string // stable word, e.g. "unknown-unit"
	Name    string
	Message string
	Hint    string
}

func (e *Error) Error() string {
	if e.Name == "" {
		return e.Message
	}
	return e.Name + ": " + e.Message
}

// Document is a book's text as a row of parts that follow each other without a
// gap: joined, they are the text again, byte for byte.
type Document struct {
	File  string // name shown in messages, e.g. "first_house.md"
	Parts []*Part
	// Errors holds what could not be read, in the order of lines. A part in error keeps its text.
	Errors []*Error
}

// PartKind says what a part of the text is.
type PartKind int

const (
	Prose   PartKind = iota // Markdown shown as it stands (headings that start a page included)
	Fence                   // the opening or closing line of a live block
	Item                    // one row of a live block: a setting, a line, a list's row, a record, ...
	Trivial                 // empty lines and comment lines inside a live block
)

// Part is a piece of the text.
type Part struct {
	Kind  PartKind
	Text  string // with its line ending
	Line  int    // first line, from 1
	Page  string // title of the page it stands on: the last level-1 heading before it
	Title string // for a Prose part that starts a page: that heading's text
	Block *Block // for Fence, Item and Trivial
	// Mentions are the live numbers of a Prose part, in its order.
	Mentions []Mention
	Item     any // for Item: *Setting *Header *Row *Line *Bind *Override *Caution *Link *ChartKey *Answer; nil when in error
}

// Block is one live block.
type Block struct {
	Kind  string // settings list lines records observe pins scenario cautions links chart answers
	Name  string // list: its name; records: the kind of record; scenario: its name; "" when in error
	Title string // scenario, chart: the quoted title
	Place Place  // of the info string
	Page  string
}

// Word is a bare word with its place.
type Word struct {
	Text string
	Place
}

// Setting is "key : value" of a settings block; Value is the rest of the row, trimmed, comment cut off.
type Setting struct{ Key, Value Word }

// Header is the first row of a list or of records: the columns after the member column (list) or from `date` on (records).
type Header struct{ Columns []Column }

// Column is "name [over week] [unit]" or "name -> list".
type Column struct {
	Name   Word
	Over   string // "week" or ""
	Unit   Word   // text "" when none
	Refers string // the list named after ->, "" when none
}

// Row is one member of a list (Member its name) or one record (Member "" and the
// first cell its date).
type Row struct {
	Member Word
	Cells  []Cell
}

// Cell is one entry of a row, still text: what it means depends on its column.
// Text is trimmed; an empty cell is blank.
type Cell struct {
	Text string
	Place
	// Values is the text read as values; nil when the cell is empty, and when it is
	// in error (Text is then not empty, and Errors has it under "list.column").
	// A cell of the column label is one QuotedText, with or without quotes.
	Values *Values
}

// Axis is one "over [each] axis [keeps n %]".
type Axis struct {
	Name  Word
	Each  bool
	Keeps float64 // share 0..1 of last week's departure kept; 0 when not written
}

// Line is one line of a lines block: an input when Values is set, else computed by
// Formula. With neither, the line is in error; its name is taken nevertheless.
type Line struct {
	Name   Word
	Over   []Axis
	Values *Values
	// Formula is nil for inputs and when it could not be parsed.
	Formula *Formula
	Unit    Word   // after ->; text "" when not written
	Gather  string // "sum" "mean" "level" or ""
	Label   string
	Source  string
}

// Formula is a formula with its text and its tree.
type Formula struct {
	Text string
	Place
	Tree Expr
}

// At gives the place in the book of a span of the formula.
func (f *Formula) At(s Span) Place {
	return Place{f.Line, f.Col + s.From, max(1, s.To-s.From)}
}

// Values is the right side of an input: pieces of a schedule, or one literal a member.
type Values struct {
	Pieces []Piece // a single literal is one piece without From
	Each   []Literal
}

// Piece is a literal that holds from a week on (From.Text "" for the first).
type Piece struct {
	Literal Literal
	From    Word
}

// LiteralKind says how a literal is written.
type LiteralKind int

const (
	PlainNumber LiteralKind = iota // 80 %   80 % (68..85)   80 +- 4 %
	EvenForm                       // even(1..3)
	LikelyForm                     // likely(1,2,4)
	ChanceForm                     // chance(4 %)
	DateLiteral                    // 2026-10-12
	WeekLiteral                    // 2026-W33
	YesNo                          // yes no
	QuotedText                     // "..."
	KindWord                       // arch
)

// Literal is a typed value. Numbers are exact decimals in the unit as written;
// nothing is converted here.
type Literal struct {
	Kind LiteralKind
	Place
	Text   string          // as written, the whole literal
	Number decimal.Decimal // the middle (PlainNumber), the chance in per cent (ChanceForm)
	// Low and High: the range's ends; EvenForm's ends; LikelyForm's ends with Number the mode.
	Low, High decimal.Decimal
	HasRange  bool // "(low..high)" or "+-"; Low and High are then the ends (Number -+ half-width)
	PlusMinus bool // written as +-
	Open      bool
	Unit      Word   // text "" when none
	Word      string // date, week, yes/no, the text without quotes, or the kind
}

// Address is "name" or "name @ member, week": Where holds the words after @, in order.
type Address struct {
	Name  Word // may be list.column
	Where []Word
}

// Override is a row of a pins or scenario block: a literal, or in a scenario a formula that may use base.
type Override struct {
	Address Address
	Values  *Values
	Formula *Formula
	Label   string
	Source  string
}

// Bind is a row of an observe block: line ~ formula +- percent %.
type Bind struct {
	Line    Word
	Formula *Formula
	Within  float64 // half an 8-in-10 band, as a share of the recorded value
	Label   string
	Source  string
}

// Condition is "formula compare literal-or-name", or a bare formula (Op "").
type Condition struct {
	Text string
	Place
	Left    *Formula
	Op      string
	Right   *Formula // a name, when not a literal
	Literal *Literal
}

// Caution is a row of a cautions block.
type Caution struct {
	Condition Condition
	Message   string
}

// Link is a row of a links block: two inputs and how they move together, -1..1.
type Link struct {
	A, B  Word
	Share float64
}

// ChartKey is "key : value" of a chart block.
type ChartKey struct{ Key, Value Word }

// Answer is a row of the answers block: "pays : condition, name, name".
type Answer struct {
	Key     Word // pays charge carries
	Entries []Condition
}
