package book

import (
	"strings"
	"unicode/utf8"

	"wintertruss/engine/syntax"
)

// stretchOf is bytes from..to of a row.
type stretchOf struct{ from, to int }

// unquotedAt gives where each of the separators stands in a row outside of quotes,
// up to its comment, and where the comment (or the row) ends; open says that a
// quote does not close.
func unquotedAt(row, separators string) (at []int, comment int, open bool) {
	for i := 0; i < len(row); i++ {
		switch {
		case row[i] == '"':
			open = !open
		case open:
		case strings.HasPrefix(row[i:], "//"):
			return at, i, false
		case strings.IndexByte(separators, row[i]) >= 0:
			at = append(at, i)
		}
	}
	return at, len(row), open
}

// cellsOf gives the cells of a row of a table, with the blanks around them.
func cellsOf(row string) []stretchOf {
	bars, comment, _ := unquotedAt(row, "|")
	var cells []stretchOf
	from := 0
	for _, at := range bars {
		cells = append(cells, stretchOf{from, at})
		from = at + 1
	}
	return append(cells, stretchOf{from, comment})
}

// refill writes text into bytes from..to of a row in the place of what stands
// there. Blanks around it stay, and where there is room what follows keeps its place.
func refill(row string, from, to int, text string) string {
	cell, rest := row[from:to], row[to:]
	lead := cell[:len(cell)-len(strings.TrimLeft(cell, " \t"))]
	tail := strings.HasSuffix(cell, " ") || strings.HasPrefix(rest, "//")
	if lead == cell { // it was blank: one blank stays, as it does before the sign
		switch {
		case from > 0 && cell != "":
			lead = cell[:1]
		case from > 1 && row[from-2] == ' ':
			lead = " "
		default:
			lead = ""
		}
	}
	out := row[:from] + lead + text
	if rest == "" {
		return strings.TrimRight(out, " \t")
	}
	room := utf8.RuneCountInString(cell) - utf8.RuneCountInString(lead) - utf8.RuneCountInString(text)
	if tail {
		room = max(room, 1)
	}
	return out + strings.Repeat(" ", max(room, 0)) + rest
}

// refillRight writes a new right side behind the sign of a row, all of it, its
// comment too: pins and overrides. sign is : or =, in the place of the old one.
func refillRight(row string, at int, sign, right string) string {
	rest := row[at+1:]
	lead := rest[:len(rest)-len(strings.TrimLeft(rest, " \t"))]
	if lead == "" && rest == "" {
		lead = " "
	}
	return row[:at] + sign + lead + right
}

// keyed is a new row "left : right" that keeps the signs of its neighbour in line.
func keyed(neighbour, left, sign, right string) string {
	if at, _, _ := unquotedAt(neighbour, ":="); len(at) > 0 {
		for utf8.RuneCountInString(left) < utf8.RuneCountInString(neighbour[:at[0]])-1 {
			left += " "
		}
	}
	return left + " " + sign + " " + right
}

// oneCell says what is wrong with text that is to stand in a row with a separator.
func oneCell(text, separator, name string, line int) *syntax.Error {
	switch {
	case strings.ContainsAny(text, "\r\n"):
		return twoRows.at(name, placeOf(line))
	case hasBadBytes(text):
		return noCharacters.at(name, placeOf(line))
	}
	at, comment, open := unquotedAt(text, separator)
	switch {
	case open:
		return openQuote.at(name, placeOf(line))
	case comment < len(text):
		return notInCell.at(name, placeOf(line), "//")
	case len(at) > 0:
		return notInCell.at(name, placeOf(line), separator)
	}
	return nil
}
