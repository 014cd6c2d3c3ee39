package engine

import (
	"math"
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
	return sign + n + " " + unitText
}

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
