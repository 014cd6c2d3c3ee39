package book

import (
	"fmt"
	"strings"
	"testing"

	"wintertruss/engine/syntax"
)

// large gives a book of n lines, half inputs and half computed.
func large(n int) string {
	var t strings.Builder
	t.WriteString(base + "```lines\n")
	for i := 0; i < n; i += 2 {
		fmt.Fprintf(&t, "input_%d over house : 80 %% (68..88) // Label [source]\nline_%d = input_%d * 2 -> %%\n", i, i, i)
	}
	t.WriteString("```\n")
	return t.String()
}

// faulty gives books whose every row is wrong, where the work for messages and
// hints could grow with the square of the book.
func faulty(n int) map[string]string {
	wide := func(cell string, n int) string {
		var t strings.Builder
		for i := range n {
			t.WriteString(strings.ReplaceAll(cell, "#", itoa(i)))
		}
		return t.String()
	}
	rows := func(open, row string) string { return large(n) + open + wide(row, n) + "```\n" }
	return map[string]string{
		"units":     rows("```lines\n", "a_# : 3 lbb#\n"),
		"axes":      rows("```lines\n", "a_# over hause# : 3\n"),
		"names":     rows("```pins\n", "inpt_# : 3 %\n"),
		"members":   rows("```pins\n", "input_0 @ lang# : 3 %\n"),
		"scenarios": strings.Repeat("```scenario a\nset_share : 3 %\n```\n", n/2) + large(n/2),
		"settings":  rows("```settings\n", "seson# : 3\n"),
		"columns":   large(n) + "```list wide\n" + wide("| a_# lbb ", n) + "\nrow " + wide("| 3 ", n) + "\n```\n",
		"answers":   rows("```answers\n", "pays : plants\n"),
	}
}

func TestLarge(t *testing.T) {
	b := assembled(large(100_000))
	same(t, "lines", len(b.Lines), 100_004)
	same(t, "faults", len(b.Errors), 0)
	for why, text := range faulty(4_000) {
		doc := syntax.Read("book.md", []byte(text))
		b := Assemble(doc, today)
		if len(b.Errors) == 0 {
			t.Errorf("%s: no fault was found", why)
		}
		if len(b.Lines) < 2_000 {
			t.Errorf("%s: the lines are gone", why)
		}
	}
}

func BenchmarkAssemble(b *testing.B) {
	for _, n := range []int{10_000, 100_000} {
		doc := syntax.Read("book.md", []byte(large(n)))
		b.Run(fmt.Sprintf("lines=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				Assemble(doc, today)
			}
		})
	}
	for why, text := range faulty(100_000) {
		doc := syntax.Read("book.md", []byte(text))
		b.Run("faulty="+why, func(b *testing.B) {
			for range b.N {
				Assemble(doc, today)
			}
		})
	}
}
