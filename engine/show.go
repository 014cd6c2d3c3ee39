package engine

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Show writes a number with its unit as a person reads it: rounded to what it
// deserves, thousands apart, money with its sign.
func Show(x float64, unitText string) string {
	if x != x {
		return "not known"
	}
	money, per, isMoney := moneyUnit(unitText)
	digits := digitsFor(x, unitText, isMoney, per)
	n := group(strconv.FormatFloat(math.Abs(x), 'f', digits, 64))
	sign := ""
	if x < 0 && strings.Trim(n, "0.,") != "" {
		sign = "-"
	}
	switch {
	case isMoney && money == "USD":
		return sign + "$" + n + per
	case isMoney:
		return sign + n + " " + money + per
	case unitText == "1" || unitText == "":
		return sign + n
	case unitText == "%":
		return sign + n + " %"
	}
	return sign + n + " " + counted(n, unitText)
}

// counted gives the unit behind a number as it is said: 3 trusses, 1 truss, 3 lb,
// 3 fruit. Only a unit that is one whole word has a plural.
func counted(n, unitText string) string {
	if n == "1" || n == "1.00" || len(unitText) < 3 || unitText == "fruit" || slices.Contains(abbreviations, unitText) ||
		strings.ContainsFunc(unitText, func(r rune) bool { return r != '_' && (r < 'a' || r > 'z') }) {
		return unitText
	}
	if strings.HasSuffix(unitText, "s") || strings.HasSuffix(unitText, "x") || strings.HasSuffix(unitText, "ch") || strings.HasSuffix(unitText, "sh") {
		return unitText + "es"
	}
	return unitText + "s"
}

// abbreviations are the units in small letters that are no words.
var abbreviations = []string{"gal", "min", "mol", "mmol", "umol", "meq", "deg", "ppm"}

// moneyUnit splits "USD/lb" into the currency and "/lb".
func moneyUnit(text string) (code, per string, ok bool) {
	code = text
	if i := strings.IndexAny(text, "/*"); i >= 0 {
		code, per = text[:i], text[i:]
	}
	if len(code) != 3 || strings.ToUpper(code) != code || strings.ContainsAny(code, "0123456789") || code == "BTU" {
		return "", "", false
	}
	return code, per, true
}

// digitsFor: whole money from a hundred on, prices to the cent, ratios to two
// places, other amounts to about three figures.
func digitsFor(x float64, unitText string, isMoney bool, per string) int {
	a := math.Abs(x)
	switch {
	case isMoney && per != "":
		return 2
	case isMoney && a >= 100:
		return 0
	case isMoney, unitText == "1":
		return 2
	case a >= 100:
		return 0
	case a >= 10:
		return 1
	case a == 0:
		return 0
	}
	return 2
}

func group(s string) string {
	whole, rest, dot := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if dot {
		return whole + "." + rest
	}
	return whole
}
