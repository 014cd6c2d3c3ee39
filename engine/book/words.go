package book

import (
	"strings"
	"unicode/utf8"

	"wintertruss/engine/syntax"
)

// mostLooks bounds the names that hints look at in one book, so that a book
// with very many faults and very many names still assembles in linear time.
const mostLooks = 2_000_000

// near gives the candidate that was probably meant by word; "" when none is near,
// or when the book has had its share of hints.
func (a *assembler) near(word string, candidates func() []string) string {
	if a.looks >= mostLooks {
		return ""
	}
	names := candidates()
	a.looks += len(names) + 1
	return syntax.Nearest(word, names)
}

// fixed gives words that are always the same as candidates.
func fixed(words []string) func() []string { return func() []string { return words } }

// within gives bytes from..to of a word, with its place.
func within(w syntax.Word, from, to int) syntax.Word {
	place := w.Place
	place.Col += utf8.RuneCountInString(w.Text[:from])
	place.Len = max(1, utf8.RuneCountInString(w.Text[from:to]))
	return syntax.Word{Text: w.Text[from:to], Place: place}
}

// splitWords parts a text at its commas; each word is trimmed and knows its place.
func splitWords(w syntax.Word) []syntax.Word {
	var words []syntax.Word
	for from := 0; from <= len(w.Text); {
		to := len(w.Text)
		if comma := strings.IndexByte(w.Text[from:], ','); comma >= 0 {
			to = from + comma
		}
		inside := w.Text[from:to]
		start := from + len(inside) - len(strings.TrimLeft(inside, " \t"))
		words = append(words, within(w, start, max(start, from+len(strings.TrimRight(inside, " \t")))))
		from = to + 1
	}
	return words
}

// spanned is the place from the start of one to the end of another on the same row.
func spanned(from, to syntax.Place) syntax.Place {
	if to.Line == from.Line && to.Col >= from.Col {
		from.Len = to.Col + to.Len - from.Col
	}
	return from
}

// joined puts two members of one address together.
func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// unquoted takes the quotes off a text that has them.
func unquoted(s string) string {
	if len(s) >= 2 && s[0] == '"' && s[len(s)-1] == '"' {
		return s[1 : len(s)-1]
	}
	return s
}

// firstWord is the run of name characters at the start of a row.
func firstWord(text string) string {
	text = strings.TrimLeft(text, " \t")
	for i := range len(text) {
		if !nameByte(text[i]) {
			return text[:i]
		}
	}
	return text
}

// isName says whether a first word can be a name: lower-case words joined by "_".
func isName(first string) bool { return first != "" && first[0] >= 'a' && first[0] <= 'z' }

func nameByte(c byte) bool { return c >= 'a' && c <= 'z' || c == '_' || c >= '0' && c <= '9' }
