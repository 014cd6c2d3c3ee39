package engine_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// BenchmarkEdit measures an edit from its new text to plain values, without draws and
// without the disk: one input of the large starter book is to take less than 2 ms at
// the median, and one of a made-up book of 100,000 lines less than 10 ms. Beside them,
// the same book opened anew.
func BenchmarkEdit(b *testing.B) {
	made := func() string {
		var t strings.Builder
		t.WriteString("```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\n```\n```list house\n     | label | floor ft2\nlong | Long | 2880\n```\n```records picks\ndate | weight lb\n2027-03-01 | 5\n```\n```lines\n")
		for i := 0; i < 100_000; i += 2 {
			fmt.Fprintf(&t, "input_%d : 80 %% (68..88) // Label [source]\nline_%d = input_%d * 2 -> %%\n", i, i, i)
		}
		t.WriteString("```\n")
		return t.String()
	}
	_, hollow, _ := sheets.Book("tern_hollow")
	for _, c := range []struct {
		name, text string
		edit       func(n int) book.Edit
	}{
		{"Living", string(hollow), func(n int) book.Edit {
			return book.Edit{Kind: book.SetLine, Name: "living", Text: book.Verbatim(fmt.Sprintf("living : %d USD (40500..44500) // What the family lives on [invented]", 42000+n%997))}
		}},
		{"Wage", string(hollow), func(n int) book.Edit {
			return book.Edit{Kind: book.SetLine, Name: "wage", Text: book.Verbatim(fmt.Sprintf("wage : 18.%02d USD/h (17.20..20) // Hired hour, with taxes and insurance [invented]", n%97))}
		}},
		{"Shift", string(hollow), func(n int) book.Edit {
			return book.Edit{Kind: book.SetLine, Name: "outside_shift", Text: book.Verbatim(fmt.Sprintf("outside_shift : 0.%03d degF_diff (-2.5..2.5) // How much warmer than usual the season runs [invented]", n%997))}
		}},
		{"Cell", string(hollow), func(n int) book.Edit {
			return book.Edit{Kind: book.SetCell, Name: "house", Member: "long", Column: "fans", Text: book.Verbatim(fmt.Sprint(384 + n%97))}
		}},
		{"AddRecord", string(hollow), func(n int) book.Edit {
			return book.Edit{Kind: book.AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-10", "planting": "long_tomato", "weight": fmt.Sprint(n % 97)}}
		}},
		{"Large/Input", made(), func(n int) book.Edit {
			return book.Edit{Kind: book.SetLine, Name: "input_500", Text: book.Verbatim(fmt.Sprintf("input_500 : %d %% (68..88) // Label [source]", 69+n%19))}
		}},
		{"Large/Formula", made(), func(n int) book.Edit {
			return book.Edit{Kind: book.SetLine, Name: "line_500", Text: book.Verbatim(fmt.Sprintf("line_500 = input_500 * %d -> %%", 69+n%19))}
		}},
		{"Large/AddRecord", made(), func(n int) book.Edit {
			return book.Edit{Kind: book.AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-10", "weight": fmt.Sprint(n % 97)}}
		}},
	} {
		var d *engine.Desk
		b.Run(c.name, func(b *testing.B) {
			if d == nil {
				var err error
				if d, err = engine.Open("book.md", []byte(c.text), engine.Options{Today: week.Day(20500)}); err != nil {
					b.Fatal(err)
				}
			}
			var took []time.Duration
			n := 0
			for b.Loop() {
				n++
				e := c.edit(n)
				start := time.Now()
				doc, _, fault := e.Apply(d.Book.Doc)
				if fault != nil {
					b.Fatal(fault.Message)
				}
				d, _ = d.Next(doc)
				took = append(took, time.Since(start))
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "p50-ms")
			b.ReportMetric(float64(took[0].Microseconds())/1000, "min-ms")
		})
	}
	b.Run("peer: opened anew", func(b *testing.B) {
		for b.Loop() {
			if _, err := engine.Open("book.md", hollow, engine.Options{Today: week.Day(20500)}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
