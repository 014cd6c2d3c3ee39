package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// told writes a literal out, field by field.
func told(l Literal) string {
	var s string
	switch l.Kind {
	case PlainNumber:
		s = l.Number.String()
		if l.HasRange {
			s += fmt.Sprintf(" from %s to %s", l.Low, l.High)
		}
		if l.PlusMinus {
			s += " by half-width"
		}
	case EvenForm:
		s = fmt.Sprintf("even %s %s", l.Low, l.High)
	case LikelyForm:
		s = fmt.Sprintf("likely %s %s %s", l.Low, l.Number, l.High)
	case ChanceForm:
		s = fmt.Sprintf("chance %s", l.Number)
	case DateLiteral:
		s = "day " + l.Word
	case WeekLiteral:
		s = "week " + l.Word
	case YesNo:
		s = "truth " + l.Word
	case QuotedText:
		s = "text " + l.Word
	case KindWord:
		s = "kind " + l.Word
	}
	if l.Open {
		s += " open"
	}
	if l.Unit.Text != "" {
		s += " in " + l.Unit.Text
	}
	return s
}

func TestLiterals(t *testing.T) {
	for text, want := range map[string]string{
		"80 %":                  "80 in %",
		"80%":                   "80 in %",
		"80 % (68..88)":         "80 from 68 to 88 in %",
		"80%(68..88)":           "80 from 68 to 88 in %",
		"80 % ( 68 .. 88 )":     "80 from 68 to 88 in %",
		"80 +- 4 %":             "80 from 76 to 84 by half-width in %",
		"80+-4 %":               "80 from 76 to 84 by half-width in %",
		"78 +- 4":               "78 from 74 to 82 by half-width",
		"0.1 +- 0.02 USD/lb":    "0.1 from 0.08 to 0.12 by half-width in USD/lb",
		"2.2 (2.1..2.3)":        "2.2 from 2.1 to 2.3",
		"0 K (-1.5..1.5)":       "0 from -1.5 to 1.5 in K",
		"-1.8":                  "-1.8",
		"+3 d":                  "3 in d",
		".5 in":                 "0.5 in in",
		"1.5e3 kg":              "1500 in kg",
		"120 lb (90..150) open": "120 from 90 to 150 open in lb",
		"120 lb open":           "120 open in lb",
		"3 open":                "3 open",
		"0.75 1/h":              "0.75 in 1/h",
		"3.50 USD/gal":          "3.5 in USD/gal",
		"0.7 BTU/h/ft2/degF":    "0.7 in BTU/h/ft2/degF",
		"8 %/year":              "8 in %/year",
		"2 degC_diff":           "2 in degC_diff",
		"3 kg*m2/s":             "3 in kg*m2/s",
		"3 1":                   "3 in 1",
		"even(1..3)":            "even 1 3",
		"even(1..3) d":          "even 1 3 in d",
		"even ( -3 .. -1 ) K":   "even -3 -1 in K",
		"likely(1,2,4)":         "likely 1 2 4",
		"likely(1, 1, 4) h":     "likely 1 1 4 in h",
		"chance(4 %)":           "chance 4",
		"chance(0.5%)":          "chance 0.5",
		"chance(0 %)":           "chance 0",
		"2026-10-12":            "day 2026-10-12",
		"2026-W33":              "week 2026-W33",
		"yes":                   "truth yes",
		"no":                    "truth no",
		`"a // b | c; d, e"`:    "text a // b | c; d, e",
		`""`:                    "text ",
		`"東屋 \ größte"`:         `text 東屋 \ größte`,
		"arch":                  "kind arch",
		"double_poly":           "kind double_poly",
		"open":                  "kind open",
		"Saturday":              "kind Saturday",
		"999999999999999.99":    "999999999999999.99",
		// Exact: neither of these is a binary fraction of 64 bits.
		"0.1":                             "0.1",
		"123456789012.123456789012345678": "123456789012.123456789012345678",
	} {
		l, e := ParseLiteral(" "+text+"\t", Place{3, 5, 1})
		if e != nil {
			t.Errorf("%q: %s (%s)", text, e.Message, e.Hint)
			continue
		}
		if got := told(*l); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
		if l.Text != text || l.Place != (Place{3, 6, len([]rune(text))}) {
			t.Errorf("%q: text %q at %v", text, l.Text, l.Place)
		}
		if l.Unit.Text != "" && covered("\n\n    "+" "+text, l.Unit.Place) != l.Unit.Text {
			t.Errorf("%q: unit at %v", text, l.Unit.Place)
		}
	}
}

func TestSchedulesAndLists(t *testing.T) {
	for text, want := range map[string]string{
		"62":                   "62",
		"62; 64 from 2027-W09": "62 | 64 @2027-W09",
		"62 degF;64 from 2027-W09 ; 66 degC  from  2027-W10": "62 in degF | 64 in degF @2027-W09 | 66 in degC @2027-W10",
		"62 (60..64); even(1..3) from 2028-W01":              "62 from 60 to 64 | even 1 3 @2028-W01",
		"arch; gothic from 2027-W09":                         "kind arch | kind gothic @2027-W09",
		"yes; no from 2026-W53":                              "truth yes | truth no @2026-W53",
		`"from; here"; "from, there" from 2027-W09`:          "text from; here | text from, there @2027-W09",
		"33, 36,45 degF":                                     "33 in degF, 36 in degF, 45 in degF",
		"33 degF, 36 degF":                                   "33 in degF, 36 in degF",
		"1, 2.5, -3":                                         "1, 2.5, -3",
		"likely(1, 2, 4) h":                                  "likely 1 2 4 in h",
	} {
		v, e := ParseValues(text, Place{1, 1, 1})
		if e != nil {
			t.Errorf("%q: %s (%s)", text, e.Message, e.Hint)
			continue
		}
		var words []string
		for _, p := range v.Pieces {
			w := told(p.Literal)
			if p.From.Text != "" {
				w += " @" + p.From.Text
				if covered(text, p.From.Place) != p.From.Text {
					t.Errorf("%q: week at %v", text, p.From.Place)
				}
			}
			words = append(words, w)
		}
		got := strings.Join(words, " | ")
		words = nil
		for _, l := range v.Each {
			words = append(words, told(l))
		}
		got += strings.Join(words, ", ")
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

func TestUnitHints(t *testing.T) {
	for text, want := range map[string]string{"75 °F": "here: degF", "10 m²": "here: m2", "300 µmol/mol": "here: umol/mol", "3 €/kg": "here: EUR/kg"} {
		_, e := ParseLiteral(text, Place{1, 1, 1})
		if e == nil || e.Code != badUnit.code || !strings.Contains(e.Hint, want) {
			t.Errorf("%q: %+v", text, e)
		}
	}
}

func TestNearest(t *testing.T) {
	for word, want := range map[string]string{
		"line": "lines", "setings": "settings", "recrods": "records", "Lines": "lines", "lnies": "lines",
		"text": "", "go": "", "json": "", "python": "", "csv": "", "rust": "", "dart": "", "": "",
		strings.Repeat("lines", 20): "",
	} {
		if got := Nearest(word, shapeWords); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}
