package ui

import (
	"math"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/syntax"
)

// bookView gives the book as the page shows it.
func bookView(d *engine.Desk, file string) *Book {
	doc := d.Book.Doc
	b := &Book{Title: d.Title(), File: file, AsOf: d.Day(), Axes: d.Axes(), Labels: d.Labels(), Now: d.Now(), Pages: []Page{}}
	faults := faultsByLine(d)
	var page *Page
	var block *Block
	proses := 0
	place := func(title string) *Page {
		if page == nil || page.Title != title {
			b.Pages = append(b.Pages, Page{Title: title, Blocks: []Block{}})
			page = &b.Pages[len(b.Pages)-1]
		}
		return page
	}
	for i, part := range doc.Parts {
		p := place(part.Page)
		if part.Kind == syntax.Prose {
			block = nil
			for _, m := range part.Mentions {
				if m.Headline && p.Headline == "" {
					p.Headline = m.Address.String()
				}
			}
			proses++
			if strings.TrimSpace(part.Text) != "" {
				p.Blocks = append(p.Blocks, Block{Kind: "prose", Part: proses - 1, Text: part.Text, HTML: proseHTML(part.Text, part.Title)})
			}
			continue
		}
		if part.Kind == syntax.Fence {
			if block == nil {
				p.Blocks = append(p.Blocks, Block{Kind: part.Block.Kind, Name: part.Block.Name, Title: part.Block.Title, Part: i})
				block = &p.Blocks[len(p.Blocks)-1]
			} else {
				block = nil
			}
			continue
		}
		if block != nil {
			block.Rows = append(block.Rows, rowView(d, i, part, faults))
		}
	}
	return b
}

// rowView gives one row of a live block.
func rowView(d *engine.Desk, i int, part *syntax.Part, faults map[int]*syntax.Error) Row {
	text := strings.TrimRight(part.Text, "\r\n")
	r := Row{Part: i, Kind: "other", Text: text}
	if part.Kind == syntax.Trivial {
		r.Kind = "comment"
		return r
	}
	switch item := part.Item.(type) {
	case *syntax.Line:
		r.Kind, r.Name, r.Label, r.Source = "line", item.Name.Text, item.Label, item.Source
		r.Input, r.Unit = item.Formula == nil, item.Unit.Text
		r.Written = written(text, item)
		r.Reads, r.Signs = reads(d, item)
	case *syntax.Header:
		r.Kind, r.Cells = "header", cells(text)
	case *syntax.Row:
		r.Kind, r.Cells, r.Name = "row", cells(text), item.Member.Text
	case nil:
		r.Kind, r.Name = "line", firstName(text) // in error: kept as typed
		if part.Block.Kind != "lines" {
			r.Kind = "other"
		}
		r.Written = strings.TrimSpace(text)
	}
	if e := faults[part.Line]; e != nil {
		r.Fault = faultView(e)
	}
	return r
}

// written gives what stands right of ":" or "=", without unit and comment.
func written(text string, l *syntax.Line) string {
	if l.Formula != nil {
		return l.Formula.Text
	}
	_, after, _ := strings.Cut(text, ":")
	if at := commentAt(after); at >= 0 {
		after = after[:at]
	}
	return strings.TrimSpace(after)
}

// commentAt finds the comment of a row; "//" inside quotes is text.
func commentAt(s string) int {
	quoted := false
	for i := 0; i+1 < len(s); i++ {
		switch {
		case s[i] == '"':
			quoted = !quoted
		case s[i] == '/' && s[i+1] == '/' && !quoted:
			return i
		}
	}
	return -1
}

func firstName(text string) string {
	text = strings.TrimSpace(text)
	for i, r := range text {
		if !(r == '_' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9') {
			return text[:i]
		}
	}
	return text
}

// cells splits a row of a table at "|" outside quotes.
func cells(text string) []string {
	var out []string
	quoted, from := false, 0
	for i := range len(text) {
		switch text[i] {
		case '"':
			quoted = !quoted
		case '|':
			if !quoted {
				out = append(out, strings.TrimSpace(text[from:i]))
				from = i + 1
			}
		}
	}
	return append(out, strings.TrimSpace(text[from:]))
}

// faultsByLine gives the first fault of every line of the text.
func faultsByLine(d *engine.Desk) map[int]*syntax.Error {
	return byLine(d.Faults())
}

func byLine(faults []*syntax.Error) map[int]*syntax.Error {
	out := map[int]*syntax.Error{}
	for _, e := range faults {
		if out[e.Line] == nil {
			out[e.Line] = e
		}
	}
	return out
}

func faultView(e *syntax.Error) *Fault {
	if e == nil {
		return nil
	}
	f := &Fault{Name: e.Name, Line: e.Line, Col: e.Col, From: max(0, e.Col-1), To: max(0, e.Col-1+max(1, e.Len)), Message: e.Message, Hint: e.Hint}
	if e.Code == "waits" {
		f.Waits = strings.TrimPrefix(e.Message, "waits for ")
	}
	return f
}

var kinds = map[formula.Takes]string{formula.Quantity: "number", formula.Truths: "yes_no", formula.Dates: "date", formula.Words: "word"}

// valueView gives a line's value. A line in error shows good, its last good value, as stale.
func valueView(v, good *engine.Value) *Value {
	if v == nil {
		return nil
	}
	fault := faultView(v.Error)
	if v.Broken {
		if good == nil {
			return &Value{Kind: "number", Axes: []string{}, Cells: []any{}, Fault: fault, Stale: true}
		}
		out := valueView(good, nil)
		out.Fault, out.Stale = fault, true
		return out
	}
	out := &Value{Unit: v.Unit, Kind: kinds[v.Kind], Axes: v.Axes, Gather: v.Gather, Adds: v.Adds, Fault: fault}
	for c := range v.Cells {
		out.Cells = append(out.Cells, short(v.CellJSON(c)))
	}
	for c := range v.Low {
		out.Low, out.High = append(out.Low, rounded(v.EdgeJSON(v.Low[c]), edgeDigits)), append(out.High, rounded(v.EdgeJSON(v.High[c]), edgeDigits))
	}
	for c := range v.InnerLow {
		out.InnerLow, out.InnerHigh = append(out.InnerLow, edge(v.InnerLow[c])), append(out.InnerHigh, edge(v.InnerHigh[c]))
	}
	t := &v.Together
	for w := range t.Low {
		out.Together = append(out.Together, [4]any{edge(t.Low[w]), edge(t.InnerLow[w]), edge(t.InnerHigh[w]), edge(t.High[w])})
	}
	for _, o := range v.Odds {
		out.Odds = append(out.Odds, finite(o))
	}
	if v.Kind == formula.Quantity && len(v.Axes) > 0 && v.Axes[len(v.Axes)-1] == "week" {
		out.Season = seasonFigures(v)
	}
	return out
}

func finite(x float64) any {
	if x != x || math.IsInf(x, 0) {
		return nil
	}
	return short(x)
}

// edge is finite for the edge of a band.
func edge(x float64) any { return rounded(finite(x), edgeDigits) }

// wireDigits is how many digits of a number go to a page: more than anyone reads or
// draws, and half of what a number has. The edge of a band is known to two or three
// digits by some thousand draws; edgeDigits has a hair's breadth beside them.
const (
	wireDigits = 9
	edgeDigits = 5
)

// short leaves a number as many digits as go to a page. What is no number stays.
func short(cell any) any { return rounded(cell, wireDigits) }

func rounded(cell any, digits int) any {
	x, ok := cell.(float64)
	if !ok || x == math.Trunc(x) {
		return cell
	}
	places := digits - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	if places < 0 || places > 22 { // powers of ten are exact up to there
		return cell
	}
	scale := math.Pow10(places)
	return math.Round(x*scale) / scale
}

// seasonFigures puts a weekly line together over the season, as it gathers: one
// figure for each cell of its other axes.
func seasonFigures(v *engine.Value) []any {
	weeks := v.Lengths[len(v.Lengths)-1]
	var out []any
	for from := 0; from+weeks <= len(v.Cells); from += weeks {
		sum, n, last := 0.0, 0, array.Blank
		for _, x := range v.Cells[from : from+weeks] {
			if engine.Known(x) {
				sum, n, last = sum+x, n+1, x
			}
		}
		switch {
		case n == 0:
			out = append(out, nil)
		case v.Gather == "level":
			out = append(out, finite(last))
		case v.Gather == "mean":
			out = append(out, finite(sum/float64(n)))
		default:
			out = append(out, finite(sum))
		}
	}
	return out
}
