package syntax

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// Why the text is scanned here before the parser sees it. The parser's own limit
// counts the nodes it makes, and brackets and signs make none until it comes back
// from them, so enough of them exhaust the stack of the whole process. And much of
// what it accepts is no part of this language. So one pass makes tokens and
// refuses every character, sign and word that is not ours, a second one over the
// tokens follows what is expected next and how deep it is nested. What passes both
// parses, and the messages are ours and not the parser's.

const (
	longestFormula = 2000 // bytes
	deepestFormula = 60   // brackets, signs, not, ^ to the right, choices, inside each other
	longestNumber  = 40   // characters
	mostDigits     = 15   // before the point
)

type tokenKind int

const (
	numberToken tokenKind = iota
	nameToken
	textToken
	operatorToken // + - * / ^ < <= > >= == != and or not
	openToken
	closeToken
	commaToken
	askToken   // ?
	colonToken // :
)

// token is a piece of a formula; from and to count characters.
type token struct {
	kind     tokenKind
	text     string
	from, to int
	partner  int // of a bracket: the index of the other one
}

func (t token) span() Span { return Span{t.from, t.to} }

// fault is a message about a stretch of a formula.
type fault struct {
	span Span
	m    *message
	args []string
}

// signs gives the advice for a sign that is refused.
var signs = map[string]string{
	"&&": "write and", "||": "write or", "!": "write not", "**": "write ^",
	"??": "blank passes through by itself; see the functions for records",
	"?.": "put a blank after the ? and a digit before the point",
	"..": "a range stands only in an input: price : 3 USD (2..4)",
	"::": "write one :",
	"|":  "write the function around it: name(what it takes)",
	"=":  "compare with ==; a line's formula has a single = only after its name",
	"&":  "write and",
	";":  "one formula a line",
	"[":  "use round brackets; one member is only(x, \"long_tomato\"), one week at(x, \"2027-W12\")",
	"{":  "use round brackets",
	"#":  "a formula works on all weeks and members at once; leave it out",
	".":  "write a digit before the point, and list.column without blanks",
	"->": "the unit stands once, at the end of the row",
}

// words gives the advice for a word that is refused.
var words = map[string]string{
	"true": "name a yes or no as an input: heater_works : yes", "false": "name a yes or no as an input: heater_works : no",
	"nil": "leave a cell empty when nothing is known",
	"let": "give it a line of its own", "if": "write: condition ? if so : if not", "else": "write: condition ? if so : if not",
	"in": "compare with ==, once for each", "matches": "compare with ==", "contains": "compare with ==",
	"startsWith": "compare with ==", "endsWith": "compare with ==",
}

// characters gives the advice for a character that is refused.
var characters = map[rune]string{
	'×': "write *", '·': "write *", '−': "write -", '–': "write -", '÷': "write /",
	'≤': "write <=", '≥': "write >=", '≠': "write !=", '²': "write ^2", '³': "write ^3",
	'“': "quote with \"", '”': "quote with \"", '„': "quote with \"", '\'': "quote with \"", '`': "quote with \"", '’': "quote with \"",
	'$': "money is an input with a unit, for example: price : 3.50 USD/lb", '€': "money is an input with a unit, for example: price : 3.50 EUR/kg",
	'£': "money is an input with a unit, for example: price : 3.50 GBP/kg", '°': "a temperature is an input with a unit, for example: vent_point : 75 degF",
	'\u00a0': "replace this wide blank by a plain one", '\\': "take it out", '\n': "a formula stands on one row", '\r': "a formula stands on one row",
}

// scanFormula makes tokens of a formula.
func scanFormula(text string) ([]token, *fault) {
	out := make([]token, 0, 8+len(text)/4)
	at := 0 // characters before i
	for i := 0; i < len(text); {
		c := text[i]
		if isBlankByte(c) {
			i++
			at++
			continue
		}
		rest := text[i:]
		var t token
		var f *fault
		switch {
		case isDigit(c) || c == '.' && len(rest) > 1 && isDigit(rest[1]):
			t, f = scanNumber(rest, at)
		case c == '"':
			t, f = scanText(rest, at)
		default:
			r, _ := utf8.DecodeRuneInString(rest)
			if isWordRune(r) && r != '$' {
				t, f = scanName(rest, at)
			} else {
				t, f = scanSign(rest, at, r)
			}
		}
		if f != nil {
			return nil, f
		}
		t.from, t.to = at, at+utf8.RuneCountInString(t.text)
		i += len(t.text)
		at = t.to
		if t.kind == textToken {
			t.text = t.text[1 : len(t.text)-1]
		}
		out = append(out, t)
	}
	return out, nil
}

func faultAt(from, length int, m *message, args ...string) *fault {
	return &fault{Span{from, from + length}, m, args}
}

// numberLength gives the length of the number s begins with: digits, a point
// with digits on at least one side, an exponent. 0 when there is none.
func numberLength(s string) int {
	i := 0
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	whole := i
	if i+1 < len(s) && s[i] == '.' && isDigit(s[i+1]) {
		for i++; i < len(s) && isDigit(s[i]); {
			i++
		}
	}
	if i == 0 || whole == 0 && i == 1 {
		return 0
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		j := i + 1
		if j < len(s) && (s[j] == '+' || s[j] == '-') {
			j++
		}
		if j < len(s) && isDigit(s[j]) {
			for i = j; i < len(s) && isDigit(s[i]); {
				i++
			}
		}
	}
	return i
}

// numberFault gives what is wrong with a number that numberLength has found.
func numberFault(s string) *message {
	digits, exponent, _ := strings.Cut(strings.ToLower(s), "e")
	if len(digits) > 1 && digits[0] == '0' && isDigit(digits[1]) {
		return badNumber
	}
	if len(s) > longestNumber || len(strings.TrimLeft(exponent, "+-")) > 2 {
		return numberSize
	}
	power, _ := strconv.Atoi(exponent)
	whole, decimals, _ := strings.Cut(digits, ".")
	if whole == "" || whole == "0" {
		power -= len(decimals) - len(strings.TrimLeft(decimals, "0"))
		if strings.Trim(decimals, "0") == "" {
			return nil // zero
		}
	} else {
		power += len(whole)
	}
	if power > mostDigits { // the number is below 10 to the power
		return numberSize
	}
	return nil
}

// isBased says whether a number goes on as one that is not decimal: 0x1F, 0b101.
func isBased(number, tail string) bool {
	if number != "0" || len(tail) < 2 {
		return false
	}
	switch tail[0] {
	case 'x', 'X':
		return isDigit(tail[1]) || strings.IndexByte("abcdefABCDEF", tail[1]) >= 0
	case 'b', 'B', 'o', 'O':
		return isDigit(tail[1])
	}
	return false
}

func scanNumber(s string, at int) (token, *fault) {
	n := numberLength(s)
	number := s[:n]
	// What follows without a blank: 3kg, 0x1F, 1_000, 1.2.3, 5.
	j := n
	for j < len(s) {
		r, size := utf8.DecodeRuneInString(s[j:])
		if !isWordRune(r) && !(r == '.' && !strings.HasPrefix(s[j:], "..")) {
			break
		}
		j += size
	}
	if tail := s[n:j]; tail != "" {
		whole := s[:j]
		length := utf8.RuneCountInString(whole)
		if tail[0] == '.' || tail[0] == '_' || isBased(number, tail) {
			return token{}, faultAt(at, length, badNumber, whole)
		}
		return token{}, faultAt(at, length, unitInFormula, number+" "+tail)
	}
	if m := numberFault(number); m != nil {
		return token{}, faultAt(at, n, m, number)
	}
	return token{kind: numberToken, text: number}, nil
}

func scanText(s string, at int) (token, *fault) {
	end := strings.IndexByte(s[1:], '"')
	if end < 0 {
		return token{}, faultAt(at, utf8.RuneCountInString(s), openQuote)
	}
	whole := s[:end+2]
	if i := strings.IndexFunc(whole, func(r rune) bool { return r == '\\' || r < ' ' || r == 0x7f || r == utf8.RuneError }); i >= 0 {
		r, _ := utf8.DecodeRuneInString(whole[i:])
		return token{}, faultAt(at+utf8.RuneCountInString(whole[:i]), 1, strangeCharacter, string(r), "quoted text holds plain characters")
	}
	return token{kind: textToken, text: whole}, nil
}

// wordLength gives the bytes of the word s begins with.
func wordLength(s string) int {
	for i, r := range s {
		if !isWordRune(r) {
			return i
		}
	}
	return len(s)
}

func scanName(s string, at int) (token, *fault) {
	n := wordLength(s)
	word := s[:n]
	switch word {
	case "and", "or", "not":
		return token{kind: operatorToken, text: word}, nil
	}
	length := utf8.RuneCountInString(word)
	if advice, ok := words[word]; ok {
		return token{}, faultAt(at, length, strangeWord, word, advice)
	}
	after := strings.TrimLeft(s[n:], " \t")
	if !isName(word) {
		return token{}, faultAt(at, length, badName, word, nameFor(word))
	}
	if fuller, ok := reserved[word]; ok && !strings.HasPrefix(after, "(") {
		return token{}, faultAt(at, length, reservedName, word, fuller)
	}
	if n+1 >= len(s) || s[n] != '.' || s[n+1] == '.' {
		return token{kind: nameToken, text: word}, nil
	}
	// list.column
	m := wordLength(s[n+1:])
	column := s[n+1 : n+1+m]
	whole := s[:n+1+m]
	length = utf8.RuneCountInString(whole)
	switch {
	case m == 0:
		return token{}, faultAt(at+n, 1, strangeSign, ".", signs["."])
	case !isName(column):
		return token{}, faultAt(at+n+1, length-n-1, badName, column, nameFor(column))
	case reserved[column] != "":
		return token{}, faultAt(at+n+1, length-n-1, reservedName, column, reserved[column])
	}
	rest := s[len(whole):]
	if len(rest) > 1 && rest[0] == '.' && rest[1] != '.' {
		return token{}, faultAt(at, length, columnOfColumn, whole+".")
	}
	if strings.HasPrefix(strings.TrimLeft(rest, " \t"), "(") {
		return token{}, faultAt(at, length, methodCall, whole)
	}
	return token{kind: nameToken, text: whole}, nil
}

func scanSign(s string, at int, r rune) (token, *fault) {
	two := s[:min(2, len(s))]
	switch two {
	case "//", "/*":
		return token{}, faultAt(at, 2, commentInFormula)
	case "+-":
		return token{}, faultAt(at, 2, rangeInFormula)
	case "<=", ">=", "==", "!=":
		return token{kind: operatorToken, text: two}, nil
	}
	if advice, ok := signs[two]; ok && len(two) == 2 {
		return token{}, faultAt(at, 2, strangeSign, two, advice)
	}
	switch r {
	case '+', '-', '*', '/', '^', '<', '>':
		return token{kind: operatorToken, text: s[:1]}, nil
	case '(':
		return token{kind: openToken, text: "("}, nil
	case ')':
		return token{kind: closeToken, text: ")"}, nil
	case ',':
		return token{kind: commaToken, text: ","}, nil
	case '?':
		return token{kind: askToken, text: "?"}, nil
	case ':':
		return token{kind: colonToken, text: ":"}, nil
	case '%':
		return token{}, faultAt(at, 1, percentInFormula)
	case ']', '}':
		return token{}, faultAt(at, 1, strangeSign, string(r), "use round brackets")
	}
	if advice, ok := signs[string(r)]; ok {
		return token{}, faultAt(at, 1, strangeSign, string(r), advice)
	}
	advice := "take it out"
	if a, ok := characters[r]; ok {
		advice = a
	}
	return token{}, faultAt(at, 1, strangeCharacter, string(r), advice)
}
