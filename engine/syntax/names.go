package syntax

import (
	"slices"
	"strings"
	"unicode"
)

// longestName is the most characters that a name may have.
const longestName = 64

// reserved holds the words that cannot name anything, each with a fuller name
// that could. The first ones are operators and literals of the formula parser,
// the last three say how a line gathers.
var reserved = map[string]string{
	"and": "and_rest", "or": "or_rest", "not": "not_sold", "in": "paid_in",
	"let": "let_out", "if": "what_if", "else": "all_else",
	"nil": "none_left", "true": "true_weight", "false": "false_start",
	"matches": "match_count", "contains": "contents",
	"startsWith": "first_part", "endsWith": "last_part",
	"sum": "season_sum", "mean": "mean_weight", "level": "tank_level",
}

// isName says whether s has the form of a name: lower-case words joined by _.
func isName(s string) bool {
	if s == "" || len(s) > longestName || s[0] < 'a' || s[0] > 'z' {
		return false
	}
	for i := range len(s) {
		if !isNameByte(s[i]) {
			return false
		}
	}
	return true
}

func isNameByte(b byte) bool {
	return 'a' <= b && b <= 'z' || '0' <= b && b <= '9' || b == '_'
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// nameFor turns what was written into a name that is allowed, to suggest it.
func nameFor(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r < 128 && isNameByte(byte(r)):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "_") && (r == ' ' || r == '-' || r == '\''):
			b.WriteByte('_')
		}
		if b.Len() >= longestName {
			break
		}
	}
	out := strings.TrimRight(strings.TrimLeft(b.String(), "0123456789_"), "_")
	if !isName(out) {
		return "long_house"
	}
	if r, ok := reserved[out]; ok {
		return r
	}
	return out
}

// checkName gives the error that a name has, if any.
func checkName(c cut) *Error {
	s := c.String()
	if s == "" {
		return missingName.at(c.place())
	}
	if fuller, ok := reserved[s]; ok {
		return reservedName.at(c.place(), s, fuller)
	}
	if !isName(s) {
		return badName.at(c.place(), s, nameFor(s))
	}
	return nil
}

// checkFullName is checkName for a name that may be list.column.
func checkFullName(c cut) *Error {
	base, column, dotted := strings.Cut(c.String(), ".")
	if e := checkName(c.part(0, len(base))); e != nil {
		return e
	}
	if !dotted {
		return nil
	}
	if strings.Contains(column, ".") {
		return columnOfColumn.at(c.place(), c.String())
	}
	return checkName(c.after(len(base) + 1))
}

// Nearest gives the candidate that needs the fewest changes to become word
// (letters changed, added, left out, two neighbours swapped; capitals count as
// small letters), or "" when none is near: one change in a short word, two from
// six letters on. Ties go to the first in the alphabet.
func Nearest(word string, candidates []string) string {
	most := 1
	switch {
	case len(word) > longestName:
		return ""
	case len(word) <= 2:
		most = 0
	case len(word) >= 6:
		most = 2
	}
	word = strings.ToLower(word)
	best, fewest := "", most+1
	for _, c := range candidates {
		if len(c) > len(word)+most || len(word) > len(c)+most {
			continue
		}
		d := changes(word, strings.ToLower(c))
		if d < fewest || d == fewest && best != "" && c < best {
			best, fewest = c, d
		}
	}
	return best
}

// DidYouMean is the hint that names the nearest candidate; "" when none is near.
func DidYouMean(word string, candidates []string) string {
	if n := Nearest(word, candidates); n != "" {
		return "did you mean " + n + "?"
	}
	return ""
}

// changes counts the changes between two words: the optimal string alignment
// distance (Damerau 1964, Levenshtein 1966), three rows of the table at a time.
func changes(a, b string) int {
	older, old, now := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range now {
		now[j] = j
	}
	for i := 1; i <= len(a); i++ {
		older, old, now = old, now, older
		now[0] = i
		for j := 1; j <= len(b); j++ {
			same := old[j-1]
			if a[i-1] != b[j-1] {
				same++
			}
			now[j] = min(same, old[j]+1, now[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				now[j] = min(now[j], older[j-2]+1)
			}
		}
	}
	return now[len(b)]
}

func sortedKeys(m map[string]bool) []string {
	out := make([]string, 0, len(m))
	for k, ok := range m {
		if ok {
			out = append(out, k)
		}
	}
	slices.Sort(out)
	return out
}

// isWordRune says whether the formula parser would take r into a word.
func isWordRune(r rune) bool {
	return r == '_' || r == '$' || unicode.IsLetter(r) || unicode.IsDigit(r)
}
