package syntax

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
)

// bigBook is a book of about size bytes with rows of every frequent kind, at most lines lines.
func bigBook(size, lines int) []byte {
	var b bytes.Buffer
	row := 0
	width := size/lines + 1
	for b.Len() < size-4*width && row < lines-8 {
		fmt.Fprintf(&b, "# Page %d\n```lines\n", row)
		row += 3
		for i := 0; i < 1000 && b.Len() < size-4*width && row < lines-8; i++ {
			pad := strings.Repeat("é", max(0, width-70)/2)
			switch i % 3 {
			case 0:
				fmt.Fprintf(&b, "price_%d over planting : 3.50 USD/lb (3.25..4.00)  // %s\n", row, pad)
			case 1:
				fmt.Fprintf(&b, "cash_%d = earlier(cash_%d, opening) + price_%d * 3 -> USD // %s\n", row, row, row-1, pad)
			default:
				fmt.Fprintf(&b, "share_%d : 80 %% (68..88); 70 from 2027-W09 // %s\n", row, pad)
			}
			row++
		}
		b.WriteString("```\n")
		row++
	}
	return b.Bytes()
}

// repeatTo repeats s up to size bytes and 50,000 lines.
func repeatTo(s string, size int) string {
	n := size / len(s)
	if l := strings.Count(s, "\n"); l > 0 {
		n = min(n, 50_000/l)
	}
	return strings.Repeat(s, n)
}

// hostile gives texts made to cost more than their length.
func hostile(size int) map[string]string {
	half := size / 2
	return map[string]string{
		"quotes in quotes":         strings.Repeat(">", size),
		"quotes, then many lines":  strings.Repeat("> ", half/2) + "\n" + repeatTo("a\n", half),
		"deep quotes on each line": repeatTo(strings.Repeat("> ", 60)+"\n", size),
		"lists in lists":           strings.Repeat("- ", half),
		"lists, then blank lines":  strings.Repeat("- ", 500) + "a\n" + repeatTo(strings.Repeat(" ", 110)+"\n", size),
		"deeper lists line by line": func() string {
			var b strings.Builder
			for i := 0; b.Len() < half; i++ {
				b.WriteString(strings.Repeat("  ", i) + "- a\n")
			}
			return b.String() + repeatTo("\n\n    a\n", half)
		}(),
		"list items":           repeatTo("- a\n", size),
		"loose items":          repeatTo("1. a\n\n", size),
		"link references":      strings.Repeat("[a]: b\n", size*3/4), // copying is fast, so more of them
		"references in items":  repeatTo("- [a]: b\n", size),
		"open references":      repeatTo("[a\n", size),
		"titles":               repeatTo("[a]: b 'c\n", size),
		"brackets":             strings.Repeat("[", size),
		"one paragraph":        repeatTo("word word word\n", size),
		"underlines":           repeatTo("a\n===\n", size),
		"dashes":               repeatTo("---\n", size),
		"equal signs":          repeatTo("a\n=\n=\n", size),
		"html":                 repeatTo("<div>\n", size),
		"html comments":        repeatTo("<!-- a\n", size),
		"html declarations":    repeatTo("<?a\n\n<!A\n", size),
		"tabs":                 strings.Repeat("\t", size),
		"tabs in items":        repeatTo("-\t\ta\n", size),
		"blank lines":          repeatTo("\n", size),
		"one long blank":       "- a\n" + strings.Repeat(" ", size-8) + "\n",
		"headings":             repeatTo("# a\n", size),
		"unclosed fences":      repeatTo("```\n\n~~~\n", size),
		"live blocks":          repeatTo("```lines\n```\n", size),
		"wrong blocks":         repeatTo("```linse\n```\n", size),
		"unclosed block":       "```lines\n" + repeatTo("a = b * (c + d) -> USD // e\n", size),
		"one long row":         "```lines\na : " + strings.Repeat("1,", half) + "1\n```\n",
		"one long list row":    "```list house\n" + strings.Repeat("|a", half-16) + "\n```\n",
		"one long foreign row": "```lines\nä : " + strings.Repeat("é;", size/3) + "\n```\n",
		"one long formula":     "```lines\na = " + strings.Repeat("(", size) + "\n```\n",
		"one long schedule":    "```lines\na : 1" + strings.Repeat("; 1 from 2027-W01", size/17) + "\n```\n",
		"froms":                "```lines\na : " + strings.Repeat("from,", size/5) + "\n```\n",
		"answers":              "```answers\na : " + strings.Repeat("b > 0,", size/6) + "\n```\n",
		"answers in brackets":  "```answers\na : " + strings.Repeat("(", half) + strings.Repeat(",", half-32) + "\n```\n",
		"open quotes":          "```lines\n" + repeatTo("a : \"b, \"c, \"d\n", size),
		"sources":              "```lines\na : 1 // " + strings.Repeat("[", half) + strings.Repeat("]", half-32) + "\n```\n",
		"addresses":            "```pins\na @ " + strings.Repeat("b,", half) + " : 1\n```\n",
		"axes":                 "```lines\na over " + strings.Repeat("b,", half-16) + "b : 1\n```\n",
		"header cells":         "```list house\n|" + strings.Repeat(" a b c |", size/8) + "\n" + repeatTo("a | b\n", half),
		"bad bytes":            "```lines\n" + repeatTo("a : \xff\n", size),
		"zero bytes":           strings.Repeat("\x00", size),
	}
}

// Nothing costs the square of its length: each text is read in a fraction of a
// second (more under the race detector), where the square of 50,000 lines, or of
// 250,000 bytes, takes minutes.
func TestHostileTextsAreReadInTime(t *testing.T) {
	size := 256 << 10
	for name, s := range hostile(size) {
		start := time.Now()
		d := Read("book.md", []byte(s))
		took := time.Since(start)
		if took > 500*time.Millisecond {
			t.Logf("%-26s %8d bytes %7d lines %v", name, len(s), strings.Count(s, "\n"), took)
		}
		if took > 10*time.Second {
			t.Errorf("%s: %v", name, took)
		}
		if string(d.Text()) != s {
			t.Errorf("%s: the parts are not the text", name)
		}
	}
}

// The same texts as prose with live numbers, and texts of little but braces.
func TestHostileProseIsReadInTime(t *testing.T) {
	texts := hostile(longestLive)
	texts["emphasis"] = strings.Repeat("*a_ ", longestLive/4)
	texts["code"] = strings.Repeat("`a``", longestLive/4)
	texts["links"] = strings.Repeat("[a](", longestLive/4)
	texts["images"] = strings.Repeat("![", longestLive/2)
	texts["angles"] = strings.Repeat("<a", longestLive/2)
	texts["open braces"] = strings.Repeat("{", longestLive)
	texts["long braces"] = repeatTo("{"+strings.Repeat("a", longestMention)+"}", longestLive)
	texts["braces"] = strings.Repeat("{a @ b} ", longestLive/8)
	for name, s := range texts {
		s = "{a}\n" + s[:min(len(s), longestLive-4)]
		start := time.Now()
		d := Read("book.md", []byte(s))
		if took := time.Since(start); took > 10*time.Second {
			t.Errorf("%s: %v", name, took)
		} else if took > 200*time.Millisecond {
			t.Logf("%-26s %8d bytes %v", name, len(s), took)
		}
		if string(d.Text()) != s || len(d.Parts[0].Mentions) == 0 {
			t.Errorf("%s: the parts are not the text, or it holds no live number", name)
		}
	}
}

func TestTooLarge(t *testing.T) {
	big := bytes.Repeat([]byte("a line of prose in a book\n"), 40<<20/26)
	long := bytes.Repeat([]byte("\n"), MostLines+1)
	unfinished := append(bytes.Repeat([]byte("\n"), MostLines), 'a')
	for name, text := range map[string][]byte{"40 MB": big, "250,001 lines": long, "250,000 lines and a half": unfinished} {
		d := Read("book.md", text)
		if len(d.Parts) != 1 || d.Parts[0].Kind != Prose || len(d.Errors) != 1 || d.Errors[0].Code != tooLarge.code {
			t.Errorf("%s: %d parts, errors %v", name, len(d.Parts), d.Errors)
		}
		if !bytes.Equal(d.Text(), text) {
			t.Errorf("%s: the parts are not the text", name)
		}
	}
	if d := Read("book.md", long[:MostLines]); len(d.Errors) != 0 {
		t.Errorf("250,000 lines: %v", d.Errors)
	}
}

func TestDeepFormulas(t *testing.T) {
	for _, s := range []string{"(", "-", "- ", "not ", "a ? ", "a ^ ", "a ? b : ", "f(", "-(", "[", "{", "not (", "a ? (", "2^-", "\"", "a,", "é"} {
		for _, n := range []int{61, 200, 1_000_000} {
			text := strings.Repeat(s, n)
			for _, whole := range []string{text, text + "a", text + "a" + strings.Repeat(")", n)} {
				if _, e := ParseFormula(whole, Place{1, 1, 1}, nil); e == nil {
					t.Errorf("%d times %q is accepted", n, s)
				}
			}
		}
	}
	for name, text := range map[string]string{
		"60 brackets":     strings.Repeat("(", 60) + "a" + strings.Repeat(")", 60),
		"60 signs":        strings.Repeat("-", 60) + "a",
		"60 nots":         strings.Repeat("not ", 60) + "a",
		"60 choices":      strings.Repeat("a ? b : ", 60) + "c",
		"60 powers":       strings.Repeat("a ^ ", 60) + "b",
		"a chain":         strings.Repeat("a + ", 499) + "a",
		"a mixed chain":   strings.Repeat("a - b * c / ", 166) + "a",
		"a chain of ands": strings.Repeat("a and not b or ", 133) + "a",
		"signs apart":     strings.Repeat("-a + ", 399) + "a",
		"powers apart":    strings.Repeat("a^2 + ", 333) + "a",
		"brackets apart":  strings.Repeat("(a) + ", 333) + "a",
		"choices apart":   "f(" + strings.Repeat("a?b:c,", 330) + "a)",
	} {
		tree, e := ParseFormula(text, Place{1, 1, 1}, nil)
		if e != nil {
			t.Errorf("%s: %v at %v", name, e, e.Place)
			continue
		}
		n := 0
		Walk(tree, func(Expr) { n++ })
		if n < 60 && name != "60 brackets" {
			t.Errorf("%s: %d nodes", name, n)
		}
	}
	// The 61st is refused, at its place.
	for text, col := range map[string]int{
		strings.Repeat("-", 61) + "a":                                  61,
		strings.Repeat("(", 30) + strings.Repeat("-", 31) + "a":        61,
		strings.Repeat("a ? b : ", 61) + "c":                           8*60 + 3,
		strings.Repeat("a^", 61) + "b":                                 122,
		"b + " + strings.Repeat("a ? ", 61) + strings.Repeat(":b", 61): 4 + 4*60 + 3,
	} {
		_, e := ParseFormula(text, Place{1, 1, 1}, nil)
		if e == nil || e.Code != deepFormula.code || e.Col != col {
			t.Errorf("%q: %v, want column %d", text, e, col)
		}
	}
}

func BenchmarkRead32MB(b *testing.B) {
	book := bigBook(MostBytes, MostLines)
	b.SetBytes(int64(len(book)))
	for b.Loop() {
		if d := Read("book.md", book); len(d.Errors) > 0 {
			b.Fatal(d.Errors[0])
		}
	}
}

func BenchmarkFormula(b *testing.B) {
	for b.Loop() {
		if _, e := ParseFormula("earlier(cash, opening_cash) + paid_in - paid_out + drawn - repaid", Place{1, 1, 1}, nil); e != nil {
			b.Fatal(e)
		}
	}
}
