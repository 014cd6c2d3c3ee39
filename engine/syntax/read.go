package syntax

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// The most that a book may have.
const (
	MostBytes = 32 << 20
	MostLines = 250_000
)

const byteOrderMark = "\uFEFF"

// Read reads a book. It never fails: what cannot be read stands in Errors, and the
// parts joined are always the text again. file is the name that messages show.
//
// A book over the limits is one part of prose and one error.
func Read(file string, content []byte) *Document {
	d := &Document{File: file}
	if len(content) == 0 {
		return d
	}
	if e := measure(content); e != nil {
		d.Errors = []*Error{e}
		d.Parts = []*Part{{Kind: Prose, Text: string(content), Line: 1}}
		return d
	}
	b := &bookReader{document: d, text: string(content)}
	b.body = len(b.text) - len(strings.TrimPrefix(b.text, byteOrderMark))
	for i := 0; i < len(b.text); {
		b.lines = append(b.lines, i)
		next := strings.IndexByte(b.text[i:], '\n')
		if next < 0 {
			break
		}
		i += next + 1
	}
	b.read()
	b.checkText()
	sort.SliceStable(d.Errors, func(i, j int) bool { return d.Errors[i].Line < d.Errors[j].Line })
	return d
}

// Text gives the book's text: its parts, joined.
func (d *Document) Text() []byte {
	n := 0
	for _, p := range d.Parts {
		n += len(p.Text)
	}
	out := make([]byte, 0, n)
	for _, p := range d.Parts {
		out = append(out, p.Text...)
	}
	return out
}

// measure gives the error of a book that is too large.
func measure(content []byte) *Error {
	if len(content) > MostBytes {
		return tooLarge.at(Place{1, 1, 1}, fmt.Sprintf("%d MB", (len(content)+1<<20-1)>>20), "32 MB")
	}
	if n := bytes.Count(content, []byte("\n")); n > MostLines || n == MostLines && content[len(content)-1] != '\n' {
		return tooLarge.at(Place{1, 1, 1}, fmt.Sprintf("%d lines", n), "250,000 lines")
	}
	return nil
}

// bookReader cuts a book into parts.
type bookReader struct {
	document *Document
	text     string
	body     int   // where the text begins, after a byte order mark
	lines    []int // where each line begins
	page     string
	title    string // of the page that the next prose begins, if it does
	cut      int    // up to here the text is in parts, in lines
	live     int    // bytes of prose in which live numbers were looked for
}

// lineOf gives the line, from 0, in which byte i stands.
func (b *bookReader) lineOf(i int) int {
	return sort.Search(len(b.lines), func(n int) bool { return b.lines[n] > i }) - 1
}

// stretch gives lines from..to.
func (b *bookReader) stretch(from, to int) string {
	end := len(b.text)
	if to < len(b.lines) {
		end = b.lines[to]
	}
	return b.text[b.lines[from]:end]
}

// source gives line n without its ending, and without a byte order mark.
func (b *bookReader) source(n int) *source {
	s := strings.TrimRight(b.stretch(n, n+1), "\r\n")
	if n == 0 {
		s = s[min(b.body, len(s)):]
	}
	return newSource(s, n+1, 1)
}

func (b *bookReader) read() {
	content := []byte(b.text[b.body:])
	for node := blocks.Parse(text.NewReader(content)).FirstChild(); node != nil; node = node.NextSibling() {
		switch node := node.(type) {
		case *ast.Heading:
			if node.Level == 1 && node.Lines().Len() > 0 {
				b.startPage(b.lineOf(node.Pos()+b.body), headingText(node, content))
			}
		case *ast.FencedCodeBlock:
			if node.Info != nil {
				b.fence(node)
			}
		}
	}
	b.prose(len(b.lines))
}

func headingText(h *ast.Heading, content []byte) string {
	var words []string
	for i := range h.Lines().Len() {
		line := h.Lines().At(i)
		words = append(words, strings.TrimSpace(string(line.Value(content))))
	}
	return strings.ToValidUTF8(strings.Join(words, " "), string(utf8.RuneError))
}

// prose makes a part of what comes before line to.
func (b *bookReader) prose(to int) {
	if to <= b.cut {
		return
	}
	p := &Part{Kind: Prose, Text: b.stretch(b.cut, to), Title: b.title}
	b.add(p, to)
	b.readMentions(p)
	b.title = ""
}

func (b *bookReader) add(p *Part, to int) {
	p.Line, p.Page = b.cut+1, b.page
	b.document.Parts = append(b.document.Parts, p)
	b.cut = to
}

func (b *bookReader) startPage(line int, title string) {
	b.prose(line)
	title = withoutMentions(title)
	b.page, b.title = title, title
}

// fence reads a fenced block of the top level; one that is not ours stays prose.
func (b *bookReader) fence(node *ast.FencedCodeBlock) {
	opening := b.lineOf(node.Info.Segment.Start + b.body)
	row := b.source(opening)
	// The info string is the rest of the opening line after the fence.
	marks := strings.TrimLeft(row.text, " ")
	info := row.all().after(len(row.text) - len(strings.TrimLeft(marks, marks[:1]))).trim()
	block, errors := readInfo(info, b.page)
	b.document.Errors = append(b.document.Errors, errors...)
	if block == nil {
		return
	}
	b.prose(opening)
	b.add(&Part{Kind: Fence, Text: b.stretch(opening, opening+1), Block: block}, opening+1)
	rows := &rowReader{block: block}
	last := opening + 1 + node.Lines().Len()
	for n := opening + 1; n < last; n++ {
		kind, item := rows.read(b.source(n).all())
		b.add(&Part{Kind: kind, Text: b.stretch(n, n+1), Block: block, Item: item}, n+1)
	}
	b.document.Errors = append(b.document.Errors, rows.errors...)
	// A fence of the top level ends at its closing line or with the book.
	if last < len(b.lines) {
		b.add(&Part{Kind: Fence, Text: b.stretch(last, last+1), Block: block}, last+1)
	}
}

// checkText adds one error when there are bytes outside of rows that are no
// characters; a row with such bytes has its own.
func (b *bookReader) checkText() {
	bad := firstBadByte(b.text)
	if bad < 0 {
		return
	}
	for _, e := range b.document.Errors {
		if e.Code == notText.code {
			return
		}
	}
	line := b.lineOf(bad)
	from := b.lines[line]
	if line == 0 {
		from += b.body
	}
	at := newSource(b.text[from:bad], line+1, 1)
	b.document.Errors = append(b.document.Errors, notText.at(Place{line + 1, at.col + at.before(len(at.text)), 1}))
}

// firstBadByte gives the first byte that belongs to no character, or is a zero; -1 without one.
func firstBadByte(s string) int {
	for i := 0; i < len(s); {
		if s[i] != 0 && s[i] < utf8.RuneSelf {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(s[i:])
		if r == 0 || r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}
