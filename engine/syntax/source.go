package syntax

import (
	"strings"
	"unicode/utf8"
)

// source is one row of a book, or one text given by itself, with its place.
type source struct {
	text      string
	line, col int     // of the first character
	columns   []int32 // characters before each byte; nil when every character is one byte
}

func newSource(text string, line, col int) *source {
	s := &source{text: text, line: line, col: col}
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			s.columns = make([]int32, len(text)+1)
			break
		}
	}
	if s.columns == nil {
		return s
	}
	n := int32(0)
	for i := 0; i < len(text); {
		_, size := utf8.DecodeRuneInString(text[i:])
		for j := range size {
			s.columns[i+j] = n
		}
		n++
		i += size
	}
	s.columns[len(text)] = n
	return s
}

// before counts the characters in front of byte i.
func (s *source) before(i int) int {
	if s.columns == nil {
		return i
	}
	return int(s.columns[i])
}

func (s *source) all() cut { return cut{s, 0, len(s.text)} }

// cut is a stretch of a source, in bytes. Everything read from a row is a cut
// until it is understood, so that every error knows its place.
type cut struct {
	src      *source
	from, to int
}

func (c cut) String() string { return c.src.text[c.from:c.to] }
func (c cut) empty() bool    { return c.from >= c.to }
func (c cut) len() int       { return c.to - c.from }

// place gives where the cut stands; an empty cut is one character long.
func (c cut) place() Place {
	from, to := c.src.before(c.from), c.src.before(c.to)
	return Place{c.src.line, c.src.col + from, max(1, to-from)}
}

func (c cut) word() Word { return Word{c.String(), c.place()} }

// part gives bytes from..to of the cut.
func (c cut) part(from, to int) cut { return cut{c.src, c.from + from, c.from + to} }
func (c cut) after(i int) cut       { return c.part(i, c.len()) }

func isBlankByte(b byte) bool { return b == ' ' || b == '\t' }

// trim leaves out blanks at both ends. A cut of blanks becomes empty, at its start.
func (c cut) trim() cut {
	from, to := c.from, c.to
	for to > from && isBlankByte(c.src.text[to-1]) {
		to--
	}
	for from < to && isBlankByte(c.src.text[from]) {
		from++
	}
	return cut{c.src, from, to}
}

func (c cut) trimLeft() cut {
	for c.from < c.to && isBlankByte(c.src.text[c.from]) {
		c.from++
	}
	return c
}

// firstWord gives the bytes up to the first blank, and the rest, trimmed.
func (c cut) firstWord() (word, rest cut) {
	c = c.trim()
	i := strings.IndexAny(c.String(), " \t")
	if i < 0 {
		i = c.len()
	}
	return c.part(0, i), c.after(i).trim()
}

// lastWord gives what stands before the last blank, trimmed, and the word after it.
func (c cut) lastWord() (rest, word cut) {
	c = c.trim()
	i := strings.LastIndexAny(c.String(), " \t") + 1
	return c.part(0, i).trim(), c.after(i)
}

// find gives the first of the separators outside quotes: where it stands and
// which it is; -1 when there is none.
func (c cut) find(separators ...string) (int, string) {
	return c.findFrom(0, false, separators...)
}

func (c cut) findFrom(start int, top bool, separators ...string) (int, string) {
	s := c.String()
	quoted, depth := false, 0
	for i := start; i < len(s); i++ {
		switch {
		case s[i] == '"':
			quoted = !quoted
			continue
		case quoted:
			continue
		case top && s[i] == '(':
			depth++
		case top && s[i] == ')':
			depth--
		}
		if depth > 0 {
			continue
		}
		for _, p := range separators {
			if strings.HasPrefix(s[i:], p) {
				return i, p
			}
		}
	}
	return -1, ""
}

// split cuts at a separator outside quotes; the pieces are trimmed.
func (c cut) split(separator byte) []cut { return c.splitAt(separator, false) }

// splitTop is split outside quotes and round brackets.
func (c cut) splitTop(separator byte) []cut { return c.splitAt(separator, true) }

func (c cut) splitAt(separator byte, top bool) []cut {
	var out []cut
	start := 0
	p := string(separator)
	for {
		// A separator inside brackets is skipped by the scan itself, which starts
		// at a separator outside of them: depth is zero there.
		i, _ := c.findFrom(start, top, p)
		if i < 0 {
			return append(out, c.after(start).trim())
		}
		out = append(out, c.part(start, i).trim())
		start = i + 1
	}
}

// cutComment parts a row into what counts and what follows the first "//"
// outside quotes. open is the place of a quote that is never closed.
func (c cut) cutComment() (body, comment cut, open *cut) {
	s := c.String()
	quote := -1
	for i := range len(s) {
		switch {
		case s[i] == '"' && quote < 0:
			quote = i
		case s[i] == '"':
			quote = -1
		case quote < 0 && s[i] == '/' && strings.HasPrefix(s[i:], "//"):
			return c.part(0, i).trim(), c.after(i + 2).trim(), nil
		}
	}
	if quote >= 0 {
		o := c.after(quote)
		return c.trim(), c.after(c.len()), &o
	}
	return c.trim(), c.after(c.len()), nil
}

// labelAndSource reads a comment: "label [source]".
func labelAndSource(comment string) (label, source string) {
	if !strings.HasSuffix(comment, "]") {
		return comment, ""
	}
	depth := 0
	for i := len(comment) - 1; i >= 0; i-- {
		switch comment[i] {
		case ']':
			depth++
		case '[':
			if depth--; depth == 0 {
				return strings.TrimSpace(comment[:i]), strings.TrimSpace(comment[i+1 : len(comment)-1])
			}
		}
	}
	return comment, ""
}
