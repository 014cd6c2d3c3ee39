package book

import (
	"bytes"
	"encoding/json"
	"slices"
	"unicode/utf8"

	"wintertruss/engine/syntax"
)

// How a book is changed.
//
// A book is changed by Edits: small values that say in the book's own words what
// is to change ("the pin of harvest in 2027-W16 is 140 lb"), so that they can be
// sent, logged, read by a person a year later, and applied to a book that others
// have changed meanwhile. An Edit finds its place by name, and where a thing has
// no name (a stretch of prose, a row to put back) by the text that stands there.
//
// Each Edit becomes one change: whole lines of the text make way for others. The
// rest of the text stays byte for byte, line endings as the book has them. What
// was typed is kept as typed, also where it does not read: a line in error is the
// book's to show, not an edit's to refuse. Refused is only what would reach
// further than the edit says: a row of two rows, a fence that swallows the block
// below, a cell that is two cells; and what was changed by someone else since.
//
// Rejected: edits as positions and bytes, which are smaller and simpler, but after
// one insertion above them mean something else; and an inverse for each kind
// ("unpin" for "pin"), which reads well and cannot put back a row's place, its
// blanks and its comment. Every inverse is a Replace: the text that came, the text
// that it took the place of, and the block and the line near which to look. It is
// refused, rather than guessed, when the text that came is no longer there: undoing
// one's own change never takes away another person's.
//
// Laws, held by the tests: an edit and then its inverse give the same bytes; what
// Apply gives is what syntax.Read makes of the same text; an edit that went through
// JSON does the same; the text outside of the change is untouched.

// The kinds of Edit. The words stand in logs and on the wire and never change.
const (
	// SetLine: the row of the line Name becomes Text, all of it, its comment too.
	// Text may name the line anew. Without Name the row is the one that reads Was.
	SetLine = "set_line"
	// AddLine: Text is a new row below the line After; without After, at the end of
	// the lines block number Block (from 1; 0 is the last, made where there is none).
	AddLine = "add_line"
	// RemoveLine: the row of the line Name goes. Without Name, the row that reads Was.
	RemoveLine = "remove_line"
	// WriteProse: the prose that reads Was becomes Text. Part is its number among the
	// parts of prose, from 0, to choose among equal ones. Without Was, Text is new
	// prose at the end of the book.
	WriteProse = "write_prose"
	// SetCell: in the list Name, the cell of Member in Column becomes Text; "" makes it blank.
	SetCell = "set_cell"
	// AddMember: the list Name gets the row Member with Cells by column, at its end.
	AddMember = "add_member"
	// RemoveMember: the row of Member goes from the list Name.
	RemoveMember = "remove_member"
	// AddRecord: the records Name get a row with Cells by column, at their end; date is needed.
	AddRecord = "add_record"
	// CorrectRecord: in row number Record (from 1) of the records Name, Cells take the
	// place of what those columns hold.
	CorrectRecord = "correct_record"
	// RemoveRecord: row number Record goes from the records Name.
	RemoveRecord = "remove_record"
	// Pin: Address is pinned at Text, "140 lb" or "140 lb // half a crew". A new pin goes
	// into a pins block, on the page of its line if there is one; without any pins
	// block, one is made at the end of that page.
	Pin = "pin"
	// Unpin: the pin of Address goes.
	Unpin = "unpin"
	// SetOverride: in the scenario Name, Address becomes Text: a literal, or "= formula".
	SetOverride = "set_override"
	// RemoveOverride: the row of Address goes from the scenario Name.
	RemoveOverride = "remove_override"
	// SetSetting: the setting Name becomes Text; "" takes it out.
	SetSetting = "set_setting"
	// Replace: the lines Was become Text, near Line. It is the inverse of every edit.
	// In keeps it to the rows of one block, named by its info string without a title
	// ("lines", "records picks"). Without Was, Text goes below a line that reads After;
	// where that is gone, to the end of the block. Or is tried when Was is gone.
	Replace = "replace"
)

// Kinds is every kind of Edit.
var Kinds = []string{SetLine, AddLine, RemoveLine, WriteProse, SetCell, AddMember, RemoveMember, AddRecord,
	CorrectRecord, RemoveRecord, Pin, Unpin, SetOverride, RemoveOverride, SetSetting, Replace}

// Edit is one change of a book. Which fields count is said at its kind.
//
// Was may be given with every kind that changes or removes one row: the row as the
// person saw it, without its line ending. The edit is then refused when the row
// reads differently by now.
type Edit struct {
	Kind    string            `json:"kind"`
	Name    string            `json:"name,omitempty"`    // line, list, records, scenario or setting
	Member  string            `json:"member,omitempty"`  // of a list
	Column  string            `json:"column,omitempty"`  // of a list
	Record  int               `json:"record,omitempty"`  // number of a row of records, from 1
	Cells   map[string]string `json:"cells,omitempty"`   // text by column
	Address string            `json:"address,omitempty"` // "harvest @ long_tomato, 2027-W16"
	Block   int               `json:"block,omitempty"`   // number of a lines block, from 1
	Part    int               `json:"part,omitempty"`    // number of a part of prose, from 0
	After   Verbatim          `json:"after,omitempty"`   // AddLine: a line's name; Replace: the line above
	Was     Verbatim          `json:"was,omitempty"`     // what stands there before
	Text    Verbatim          `json:"text,omitempty"`    // what stands there afterwards

	In   string `json:"in,omitempty"`   // Replace: the block
	Line int    `json:"line,omitempty"` // Replace: near this line of the text, from 1
	Of   string `json:"of,omitempty"`   // Replace: the kind of the edit that it takes back
	Or   *Edit  `json:"or,omitempty"`   // Replace: to do instead when Was is gone
}

// Apply gives the document after the edit, and the edit that takes it back. The
// document it is given stays as it is; the two share what did not change.
//
// The error, if any, is about the edit, in words for the person who made it, and
// nothing has changed then.
func (e Edit) Apply(doc *syntax.Document) (*syntax.Document, Edit, *syntax.Error) {
	d := newDraft(doc)
	c, err := d.plan(&e)
	if err != nil {
		return nil, Edit{}, err
	}
	after, err := c.apply(doc)
	if err != nil {
		return nil, Edit{}, err
	}
	return after, c.inverse(d, &e), nil
}

// isCharacters says whether an edit's words are characters, so that they come
// through a log. Its Verbatim texts come through whatever they are.
func (e *Edit) isCharacters() bool {
	words := []string{e.Kind, e.Name, e.Member, e.Column, e.Address, e.In, e.Of}
	for column, text := range e.Cells {
		words = append(words, column, text)
	}
	return !slices.ContainsFunc(words, hasBadBytes) && (e.Or == nil || e.Or.isCharacters())
}

// plan turns an edit into the change that it comes to.
func (d *draft) plan(e *Edit) (*change, *syntax.Error) {
	if !e.isCharacters() {
		return nil, noCharacters.at("", nowhere)
	}
	switch e.Kind {
	case SetLine:
		return d.setLine(e)
	case AddLine:
		return d.addLine(e)
	case RemoveLine:
		return d.removeLine(e)
	case WriteProse:
		return d.writeProse(e)
	case SetCell:
		return d.setCell(e)
	case AddMember:
		return d.addMember(e)
	case RemoveMember:
		return d.removeMember(e)
	case AddRecord:
		return d.addRecord(e)
	case CorrectRecord:
		return d.correctRecord(e)
	case RemoveRecord:
		return d.removeRecord(e)
	case Pin:
		return d.pin(e)
	case Unpin:
		return d.unpin(e)
	case SetOverride:
		return d.setOverride(e)
	case RemoveOverride:
		return d.removeOverride(e)
	case SetSetting:
		return d.setSetting(e)
	case Replace:
		return d.replace(e)
	}
	return nil, unknownEdit.near(syntax.Nearest(e.Kind, Kinds), "", nowhere, e.Kind)
}

// Verbatim is text of a book, byte for byte. In JSON it is a string, or, where the
// bytes are no characters (a file from an old program, before it is mended),
// {"base64": "..."}: a JSON string would lose them.
type Verbatim string

type encodedBytes struct {
	Base64 []byte `json:"base64"`
}

func (v Verbatim) MarshalJSON() ([]byte, error) {
	if utf8.ValidString(string(v)) {
		return json.Marshal(string(v))
	}
	return json.Marshal(encodedBytes{[]byte(v)})
}

func (v *Verbatim) UnmarshalJSON(data []byte) error {
	if bytes.HasPrefix(data, []byte("{")) {
		var e encodedBytes
		err := json.Unmarshal(data, &e)
		*v = Verbatim(e.Base64)
		return err
	}
	return json.Unmarshal(data, (*string)(v))
}
