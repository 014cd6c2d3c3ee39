package syntax

import "strings"

// shape says what a kind of block wants after its word, and shows one of its rows.
type shape struct {
	named  bool   // a name comes after the word
	titled bool   // a quoted title may come then
	row    string // how a row reads
	like   string // an example of one
}

// shapes is every kind of block.
var shapes = map[string]shape{
	"settings": {row: "key : value", like: "currency : USD"},
	"list":     {named: true, row: "member | cell | cell", like: "long | Long house | 2880"},
	"lines":    {row: "name : value, or name = formula", like: "set_share : 80 % (68..88)"},
	"records":  {named: true, row: "day | cell | cell", like: "2027-03-08 | long_tomato | 34.5"},
	"observe":  {row: "line ~ formula +- number %", like: "harvest ~ week_sum(picks.weight) +- 6 %"},
	"pins":     {row: "name : value, or name @ member, week : value", like: "harvest @ long_tomato, 2027-W16 : 140 lb"},
	"scenario": {named: true, titled: true, row: "name : value, or name = formula with base", like: "planting.sown = base + measure(\"21 d\")"},
	"cautions": {row: "condition : \"message\"", like: "crowding <= 100 % : \"More floor is planted than there is\""},
	"links":    {row: "input, input : number", like: "outside_shift, fuel_price : -0.3"},
	"chart":    {titled: true, row: "key : value", like: "kind : fan"},
	"answers":  {row: "key : condition, name, name", like: "pays : margin_over_cold > 0, margin_over_cash"},
}

var shapeWords = func() []string {
	words := make(map[string]bool)
	for w := range shapes {
		words[w] = true
	}
	return sortedKeys(words)
}()

// otherTongues are names of programming languages that are near to a word of
// ours; text in them is text and no mistake.
var otherTongues = map[string]bool{"lisp": true, "pine": true}

// readInfo reads an info string. It gives nil for text that is not ours.
func readInfo(info cut, page string) (*Block, []*Error) {
	word, rest := info.firstWord()
	kind := word.String()
	s, ours := shapes[kind]
	if !ours {
		if near := Nearest(kind, shapeWords); near != "" && !otherTongues[kind] {
			return nil, []*Error{unknownBlock.at(word.place(), kind, near)}
		}
		return nil, nil
	}
	b := &Block{Kind: kind, Place: info.trim().place(), Page: page}
	var errors []*Error
	refuse := func(e *Error) {
		e.Name = b.title()
		errors = append(errors, e)
	}
	if s.named {
		name, after := rest.firstWord()
		if name.empty() || name.String()[0] == '"' {
			refuse(blockName.at(word.place(), kind, exampleName[kind]))
		} else {
			if e := checkName(name); e != nil {
				refuse(e)
			} else {
				b.Name = name.String()
			}
			rest = after
		}
	}
	if t := rest.String(); s.titled && strings.HasPrefix(t, "\"") {
		end := strings.IndexByte(t[1:], '"') + 1
		if end == 0 {
			refuse(openQuote.at(rest.place()))
			return b, errors
		}
		b.Title = t[1:end]
		rest = rest.after(end + 1).trim()
	} else if kind == "chart" {
		refuse(blockTitle.at(word.place(), kind, "chart \"Harvest to sell\""))
		return b, errors
	} else if s.titled && !rest.empty() {
		refuse(blockTitle.at(rest.place(), b.Name, "scenario "+exampleName[kind]+" \"Sow three weeks later\""))
		return b, errors
	}
	if !rest.empty() {
		refuse(blockExtra.at(rest.place(), strings.TrimSpace(kind+" "+b.Name), rest.String(), b.opening()))
	}
	return b, errors
}

var exampleName = map[string]string{"list": "house", "records": "picks", "scenario": "later"}

// title is what errors of the block are filed under.
func (b *Block) title() string {
	if b.Name != "" {
		return b.Name
	}
	return b.Kind
}

// opening is the block's info string as it should read.
func (b *Block) opening() string {
	s := b.Kind
	if b.Name != "" {
		s += " " + b.Name
	}
	if b.Title != "" {
		s += " \"" + b.Title + "\""
	}
	return s
}

// rowReader reads the rows of one block, in order.
type rowReader struct {
	block  *Block
	header *Header // of a list or records, once it was read
	past   bool    // the header's row has been met, readable or not
	errors []*Error
	told   int // of this row
}

// mostErrors is how many errors of one row are told.
const mostErrors = 20

func (r *rowReader) fail(e *Error, name string) {
	if e.Name == "" {
		e.Name = name
	}
	if r.told++; r.told <= mostErrors {
		r.errors = append(r.errors, e)
	}
}

// wrongShape is the error of a row that does not read as rows of its block do.
func (r *rowReader) wrongShape(c cut) {
	s := shapes[r.block.Kind]
	r.fail(rowShape.at(c.place(), r.block.title(), s.row, s.like), r.block.title())
}

// read reads one row, without its line ending.
func (r *rowReader) read(row cut) (PartKind, any) {
	row, r.told = row.trim(), 0
	if s := row.String(); s == "" || strings.HasPrefix(s, "//") {
		return Trivial, nil
	}
	if bad := firstBadByte(row.String()); bad >= 0 {
		r.fail(notText.at(row.part(bad, bad+1).place()), r.block.title())
		r.past = true
		return Item, nil
	}
	body, comment, open := row.cutComment()
	if open != nil {
		return Item, r.readOpen(body, *open)
	}
	return Item, r.readItem(body, comment)
}

// readOpen reads a row with a quote that never closes. Only that is told, and of
// the row only a line's name is kept: where its parts end is not known.
func (r *rowReader) readOpen(body, open cut) any {
	before := len(r.errors)
	item := r.readItem(body, body.after(body.len()))
	r.errors = r.errors[:before]
	name := r.block.title()
	var kept any
	switch item := item.(type) {
	case *Line:
		name = item.Name.Text
		kept = &Line{Name: item.Name}
	case *Header:
		r.header = nil
	}
	r.told = 0
	r.fail(openQuote.at(open.place()), name)
	return kept
}

func (r *rowReader) readItem(body, comment cut) any {
	var item any
	switch r.block.Kind {
	case "settings", "chart":
		item = r.readKey(body)
	case "list", "records":
		item = r.readTable(body)
	case "lines":
		item = r.readLine(body, comment)
	case "observe":
		item = r.readBind(body, comment)
	case "pins", "scenario":
		item = r.readOverride(body, comment)
	case "cautions":
		item = r.readCaution(body)
	case "links":
		item = r.readLink(body)
	case "answers":
		item = r.readAnswer(body)
	}
	return item
}

// ReadRow reads one row of a live block by itself, for an edit of that row: text
// is the row with or without its line ending, line its number. header is the
// header that stands above it in a list or in records, nil for the header's own
// row and in other blocks. The part's Page is the block's.
func ReadRow(block *Block, header *Header, text string, line int) (*Part, []*Error) {
	r := &rowReader{block: block, header: header, past: header != nil}
	kind, item := r.read(newSource(strings.TrimRight(text, "\r\n"), line, 1).all())
	return &Part{Kind: kind, Text: text, Line: line, Page: block.Page, Block: block, Item: item}, r.errors
}
