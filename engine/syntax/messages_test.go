package syntax

import (
	"strings"
	"testing"
)

// example is a text that gives one message, and the words its place covers.
type example struct {
	code string
	// in says what the text is: a formula, values, an address, or rows of a block,
	// "lines" etc.; "book" is a whole book.
	in   string
	text string
	mark string
}

// examples has at least one example for each code.
var examples = []example{
	{"not-text", "book", "Prose\x00 here\n", "\x00"},
	{"not-text", "lines", "péch : 3 // caf\xe9\n", "\xe9"},
	{"unknown-block", "book", "```line\na : 1\n```\n", "line"},
	{"unknown-block", "book", "```  setings\n```\n", "setings"},
	{"unknown-block", "book", "~~~ Scenaroi later\n~~~\n", "Scenaroi"},
	{"block-name", "book", "```list\n```\n", "list"},
	{"block-name", "book", "```scenario \"Sow later\"\n```\n", "scenario"},
	{"block-title", "book", "```chart Harvest\n```\n", "chart"},
	{"block-title", "book", "```scenario later Sow later\n```\n", "Sow later"},
	{"block-extra", "book", "```lines of heat\na : 1\n```\n", "of heat"},
	{"block-extra", "book", "```chart \"Heat\" fan\n```\n", "fan"},
	{"row-shape", "settings", "currency USD", "currency USD"},
	{"row-shape", "lines", "price", "price"},
	{"row-shape", "lines", "price == 3", "price == 3"},
	{"row-shape", "pins", "harvest = 3", "harvest = 3"},
	{"row-shape", "cautions", "crowding <= 100 %", "crowding <= 100 %"},
	{"row-shape", "cautions", "crowding <= 100 % \"Too much\"", "crowding <= 100 % \"Too much\""},
	{"row-shape", "links", "a, b, c : 0.1", "a, b, c : 0.1"},
	{"row-shape", "observe", "harvest : picks", "harvest : picks"},
	{"open-quote", "settings", "title : 5\" pots", "\" pots"},
	{"open-quote", "formula", `only(x, "long)`, `"long)`},
	{"open-quote", "values", `"long`, `"long`},
	{"open-quote", "book", "```chart \"Heat\n```\n", "\"Heat"},

	{"bad-name", "formula", "a + Price", "Price"},
	{"bad-name", "formula", "ärger + größe", "ärger"},
	{"bad-name", "lines", "Price : 3 USD/lb", "Price"},
	{"bad-name", "lines", "list.column : 3", "list.column"},
	{"bad-name", "lines", strings.Repeat("a", 65) + " : 3", strings.Repeat("a", 65)},
	{"bad-name", "formula", "house.Floor", "Floor"},
	{"bad-name", "list", "| floor ft2\nLong house | 2880", "Long house"},
	{"missing-name", "list", "| floor ft2\n| 2880", "|"},
	{"missing-name", "observe", "~ a +- 6 %", "~"},
	{"missing-name", "links", "a, : 0.3", " "},
	{"missing-name", "pins", "@ long : 3", "@"},
	{"reserved-name", "lines", "level : 3 gal", "level"},
	{"reserved-name", "lines", "in = 3", "in"},
	{"reserved-name", "formula", "a + sum", "sum"},
	{"reserved-name", "formula", "a.not", "not"},
	{"column-of-column", "formula", "1 + planting.house.floor", "planting.house"},
	{"column-of-column", "pins", "planting.house.floor : 3", "planting.house.floor"},
	{"bad-address", "pins", "harvest @ Long, 2027-W16 : 3 lb", "Long"},
	{"bad-address", "address", "harvest @ long_tomato, ", ""},

	{"header-member", "list", "house | label\nlong | Long house", "house"},
	{"header-date", "records", "day | planting", "day"},
	{"bad-column", "list", "| label | floor in ft2", "floor in ft2"},
	{"bad-column", "list", "| label | ", ""},
	{"bad-column", "list", "| night over month degF", "night over month degF"},
	{"bad-column", "list", "| home ->", "home ->"},
	{"repeated-column", "list", "| floor ft2 | wall ft | floor m2", "floor"},
	{"cell-count", "list", "| label | floor ft2\nlong | Long house | 2880 |", "long | Long house | 2880 |"},
	{"cell-count", "records", "date | weight lb\n2027-03-08", "2027-03-08"},
	{"cell-list", "list", "| floor ft2\nlong | 2,880", "2,880"},
	{"record-date", "records", "date | weight lb\n2027-W10 | 3", "2027-W10"},
	{"record-date", "records", "date | weight lb\n | 3", ""},

	{"bad-axis", "lines", "price per week : 3", "per week"},
	{"bad-axis", "lines", "price over : 3", ""},
	{"bad-axis", "lines", "price over week keeps 60 % : 3", "week keeps 60 %"},
	{"bad-axis", "lines", "price over each week keeps most : 3", "each week keeps most"},
	{"bad-axis", "lines", "price over week, : 3", ""},
	{"keeps-share", "lines", "shift over each week keeps 160 % : 0 K (-1..1)", "160 %"},
	{"over-computed", "lines", "price over week = 3", "over week"},
	{"bad-result", "lines", "cash = a + b -> USD big", "USD big"},
	{"bad-result", "lines", "cash = a + b -> level", "level"},
	{"bad-result", "lines", "cash = a + b ->", "->"},
	{"list-without-axis", "lines", "price : 1,250 USD", "1,250 USD"},

	{"missing-value", "lines", "price : // none yet", ""},
	{"missing-value", "values", "62; ", ""},
	{"missing-value", "settings", "currency :", ""},
	{"missing-value", "cautions", "a > 1 : \"\"", "\"\""},
	{"bad-value", "values", "Long house", "Long house"},
	{"bad-value", "values", "é 3", "é 3"},
	{"bad-value", "values", "80 % sure", "sure"},
	{"bad-value", "values", `"a" b`, "b"},
	{"bad-number", "values", "1_000 lb", "1_000"},
	{"bad-number", "values", "5. lb", "5."},
	{"bad-number", "values", "1.2.3", "1.2.3"},
	{"bad-number", "values", "0x1F", "0x1F"},
	{"bad-number", "values", "-", "-"},
	{"bad-number", "values", "33, 007 lb", "007"},
	{"bad-number", "formula", "a * 0x1F", "0x1F"},
	{"bad-number", "formula", "a * 0b1", "0b1"},
	{"bad-number", "formula", "a * 1_000", "1_000"},
	{"bad-number", "formula", "a * 1.2.3", "1.2.3"},
	{"bad-number", "formula", "a * 5.", "5."},
	{"bad-number", "formula", "a * 007", "007"},
	{"number-size", "values", "1000000000000000 lb", "1000000000000000"},
	{"number-size", "values", "0." + strings.Repeat("3", 40), "0." + strings.Repeat("3", 40)},
	{"number-size", "formula", "a * 1e15", "1e15"},
	{"number-size", "values", "0.1e16", "0.1e16"},
	{"number-size", "values", "1000e12", "1000e12"},
	{"number-size", "formula", "a * 1e999", "1e999"},
	{"number-size", "formula", "a * 1e-400", "1e-400"},
	{"bad-unit", "values", "75 °F", "°F"},
	{"bad-unit", "values", "3 USD/", "USD/"},
	{"bad-unit", "values", "3 /h", "/h"},
	{"bad-unit", "lines", "air = a -> °C", "°C"},
	{"bad-unit", "list", "| floor m²", "m²"},
	{"bad-range", "values", "80 (68..88 %)", "(68..88 %)"},
	{"bad-range", "values", "80 % (68-88)", "(68-88)"},
	{"bad-range", "values", "80 % +- 4 %", "+- 4 %"},
	{"bad-range", "values", "80 +- 4 % (68..88)", "(68..88)"},
	{"range-order", "values", "80 % (88..68)", "88..68"},
	{"range-order", "values", "even(3..3)", "3..3"},
	{"range-order", "values", "likely(4, 2, 1) h", "4, 2, 1"},
	{"range-middle", "values", "68 % (68..88)", "68 % (68..88)"},
	{"range-middle", "values", "likely(1, 5, 4) h", "5"},
	{"half-width", "values", "80 +- 0 %", "0"},
	{"half-width", "values", "80 +- -4 %", "-4"},
	{"bad-form", "values", "even(1, 3) d", "even(1, 3) d"},
	{"bad-form", "values", "likely(1, 3) d", "likely(1, 3) d"},
	{"bad-form", "values", "chance(4)", "chance(4)"},
	{"unknown-form", "values", "evenly(1..3)", "evenly"},
	{"chance-share", "values", "chance(104 %)", "104 %"},
	{"bad-date", "values", "2026-13-01", "2026-13-01"},
	{"bad-date", "values", "2026-W54", "2026-W54"},
	{"bad-date", "values", "2026-w33", "2026-w33"},
	{"bad-date", "values", "62; 64 from March", "March"},
	{"list-units", "values", "33 degC, 36 degF", "degC"},
	{"list-units", "values", "33 degC, 36", "degC"},
	{"list-numbers", "values", "80 % (70..90), 70 %", "80 % (70..90)"},
	{"list-numbers", "values", "yes, no", "yes"},
	{"schedule-from", "values", "62; 64", "64"},
	{"schedule-first", "values", "62 from 2027-W09", "62 from 2027-W09"},
	{"schedule-order", "values", "62; 64 from 2027-W09; 66 from 2027-W08", "2027-W08"},
	{"schedule-order", "values", "62; 64 from 2027-W09; 66 from 2027-W09", "2027-W09"},
	{"schedule-kinds", "values", "arch; 64 from 2027-W09", "64"},

	{"within-share", "observe", "harvest ~ week_sum(picks.weight) +- 6", "6"},
	{"within-share", "observe", "harvest ~ week_sum(picks.weight) +- 0 %", "0 %"},
	{"condition-right", "answers", "pays : margin > 2 * cost", "2 * cost"},
	{"condition-right", "cautions", "share > 80 % (70..90) : \"x\"", "80 % (70..90)"},
	{"link-share", "links", "a, b : 1.5", "1.5"},
	{"link-share", "links", "a, b : much", "much"},

	{"empty-formula", "formula", "", ""},
	{"empty-formula", "lines", "price = // later", ""},
	{"long-formula", "formula", "a" + strings.Repeat(" + a", 500), "a"},
	{"deep-formula", "formula", strings.Repeat("(", 61) + "a" + strings.Repeat(")", 61), "("},
	{"strange-character", "formula", "a × b", "×"},
	{"strange-character", "formula", `f("a\"")`, "\\"},
	{"strange-character", "formula", "$5 * a", "$"},
	{"strange-sign", "formula", "a && b", "&&"},
	{"strange-sign", "formula", "a || b", "||"},
	{"strange-sign", "formula", "!a", "!"},
	{"strange-sign", "formula", "a ** 2", "**"},
	{"strange-sign", "formula", "a = 3", "="},
	{"strange-sign", "formula", "a | f()", "|"},
	{"strange-sign", "formula", "a[1]", "["},
	{"strange-sign", "formula", "{a: 1}", "{"},
	{"strange-sign", "formula", "a?.b", "?."},
	{"strange-sign", "formula", "a ?? b", "??"},
	{"strange-sign", "formula", "1..3", ".."},
	{"strange-sign", "formula", "a; b", ";"},
	{"strange-sign", "formula", "map(a, #)", "#"},
	{"strange-sign", "formula", "::f(a)", "::"},
	{"strange-sign", "formula", "house .floor", "."},
	{"strange-sign", "formula", "a -> b", "->"},
	{"strange-word", "formula", "let x = 1", "let"},
	{"strange-word", "formula", "if a", "if"},
	{"strange-word", "formula", "a in b", "in"},
	{"strange-word", "formula", "a not contains b", "contains"},
	{"strange-word", "formula", "a startsWith b", "startsWith"},
	{"strange-word", "formula", "a == true", "true"},
	{"strange-word", "formula", "a == nil", "nil"},
	{"percent-in-formula", "formula", "a * 7 %", "%"},
	{"percent-in-formula", "formula", "a % b", "%"},
	{"unit-in-formula", "formula", "a * 3 kg", "3 kg"},
	{"unit-in-formula", "formula", "a * 3kg", "3kg"},
	{"range-in-formula", "formula", "80 +- 4", "+-"},
	{"comment-in-formula", "formula", "a // twice", "//"},
	{"comment-in-formula", "formula", "a /* twice */ + b", "/*"},
	{"method-call", "formula", "house.floor(a)", "house.floor"},
	{"chained-comparison", "formula", "a < b < c", "<"},
	{"chained-comparison", "formula", "a == b == c", "=="},
	{"not-needs-brackets", "formula", "not a > b", ">"},
	{"not-needs-brackets", "formula", "a == not b", "not"},
	{"text-place", "formula", `a == "long"`, `"long"`},
	{"text-place", "formula", `f("a" + b)`, `"a"`},
	{"text-place", "formula", `f(("a"))`, `"a"`},
	{"missing-operand", "formula", "a + * b", "*"},
	{"missing-operand", "formula", "f(a,)", ")"},
	{"missing-operand", "formula", "f(, a)", ","},
	{"missing-operand", "formula", "()", ")"},
	{"missing-operand", "formula", "a ? : b", ":"},
	{"ends-early", "formula", "a + ", "+"},
	{"ends-early", "answers", "pays : margin >", ">"},
	{"missing-operator", "formula", "a b", "b"},
	{"missing-operator", "formula", "2(a)", "("},
	{"missing-operator", "formula", "a not b", "not"},
	{"missing-operator", "formula", `b"text"`, `"text"`},
	{"stray-bracket", "formula", "a + b)", ")"},
	{"stray-bracket", "formula", ")", ")"},
	{"open-bracket", "formula", "f(a + (b", "("},
	{"open-bracket", "values", "80 % (70..90", "("},
	{"stray-comma", "formula", "1,250 * a", ","},
	{"open-choice", "formula", "a ? b", "?"},
	{"open-choice", "formula", "(a ? b) : c", "?"},
	{"stray-colon", "formula", "a : b", ":"},
	{"stray-colon", "formula", "a ? (b : c)", ":"},
	{"unknown-function", "formula", "totl(a)", "totl"},
}

// heads opens a block of each kind for rows.
var heads = map[string]string{
	"list": "list house", "records": "records picks", "scenario": "scenario later", "chart": "chart \"Heat\"",
}

// run gives the errors of an example, all places counted from line 1, column 1 of its text.
func (x example) run() (string, []*Error) {
	one := func(e *Error) []*Error {
		if e == nil {
			return nil
		}
		return []*Error{e}
	}
	switch x.in {
	case "formula":
		_, e := ParseFormula(x.text, Place{1, 1, 1}, map[string]bool{"f": true, "total": true, "only": true, "map": true})
		return x.text, one(e)
	case "values":
		_, e := ParseValues(x.text, Place{1, 1, 1})
		return x.text, one(e)
	case "address":
		_, e := ParseAddress(x.text, Place{1, 1, 1})
		return x.text, one(e)
	case "book":
		return x.text, Read("book.md", []byte(x.text)).Errors
	}
	head := heads[x.in]
	if head == "" {
		head = x.in
	}
	text := "```" + head + "\n" + x.text + "\n```\n"
	return text, Read("book.md", []byte(text)).Errors
}

// covered gives the words an error's place covers.
func covered(text string, p Place) string {
	lines := strings.Split(text, "\n")
	if p.Line < 1 || p.Line > len(lines) {
		return "no such line"
	}
	line := []rune(lines[p.Line-1])
	// A bad byte is one character of a book and one rune here.
	if p.Col < 1 || p.Col-1 > len(line) || p.Len < 1 {
		return "no such column"
	}
	return string(line[p.Col-1 : min(len(line), p.Col-1+p.Len)])
}

func TestEachMessageHasItsExample(t *testing.T) {
	seen := make(map[string]bool)
	for _, x := range examples {
		text, errors := x.run()
		if len(errors) != 1 {
			t.Errorf("%s: %q gives %d errors: %v", x.code, x.text, len(errors), errors)
			continue
		}
		e := errors[0]
		if e.Code != x.code {
			t.Errorf("%q gives %s (%s), want %s", x.text, e.Code, e.Message, x.code)
			continue
		}
		seen[x.code] = true
		want := strings.ToValidUTF8(x.mark, "\uFFFD")
		if got := covered(strings.ToValidUTF8(text, "\uFFFD"), e.Place); x.mark != "" && got != want {
			t.Errorf("%s: %q is marked at %q, want %q (%v)", x.code, x.text, got, want, e.Place)
		}
		if e.Message == "" || e.Hint == "" || strings.ContainsAny(e.Message+e.Hint, "\x00\n") || strings.Contains(e.Message+e.Hint, "{1}") || strings.Contains(e.Message+e.Hint, "{2}") {
			t.Errorf("%s: message %q, hint %q", x.code, e.Message, e.Hint)
		}
	}
	seen["too-large"] = true  // TestTooLarge
	seen["unreadable"] = true // for what the parser might refuse and the scan passes: none is known, see FuzzFormula
	codes := make(map[string]bool)
	for _, m := range messages {
		if codes[m.code] {
			t.Errorf("two messages have the code %s", m.code)
		}
		codes[m.code] = true
		if !seen[m.code] {
			t.Errorf("no example for %s", m.code)
		}
	}
}

// The same text behind letters of two and three bytes: places count characters.
func TestPlacesCountCharacters(t *testing.T) {
	for _, x := range examples {
		if x.mark == "" || x.in == "book" || x.in == "formula" || x.in == "address" {
			continue
		}
		if x.in != "values" {
			continue
		}
		// The value as a cell behind a label.
		text := "```list house\n| label | size\nlong | Größtes 東屋 | " + x.text + "\n```\n"
		for _, e := range Read("book.md", []byte(text)).Errors {
			if e.Code == x.code && covered(text, e.Place) != x.mark {
				t.Errorf("%s: %q is marked at %q, want %q", x.code, x.text, covered(text, e.Place), x.mark)
			}
		}
	}
	tree, e := ParseFormula(`only(x, "東屋 größte") + (b - c)`, Place{7, 11, 1}, nil)
	if e != nil {
		t.Fatal(e)
	}
	f := &Formula{Place: Place{7, 11, 30}, Tree: tree}
	right := tree.(*Binary).R
	if got, want := f.At(right.Span()), (Place{7, 11 + 24, 5}); got != want {
		t.Errorf("b - c at %v, want %v", got, want)
	}
	_, e = ParseFormula(`only(x, "東屋 größte") + b c`, Place{7, 11, 1}, nil)
	if want := (Place{7, 11 + 25, 1}); e == nil || e.Place != want {
		t.Errorf("%v, want %v", e, want)
	}
}
