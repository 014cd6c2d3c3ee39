package ui

import (
	"slices"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
)

// reader gathers what a formula is made of, and how each goes in.
type reader struct {
	d     *engine.Desk
	names []string
	signs []string
}

// reads names what a formula is made of: lines and columns, each once; of a list
// whose name stands alone, the list. The signs say how each goes in where it stands
// first: "+" or "-" for a term of the sum, "*" or "/" for a further factor of one.
func reads(d *engine.Desk, l *syntax.Line) (names, signs []string) {
	if l.Formula == nil || l.Formula.Tree == nil {
		return nil, nil
	}
	r := &reader{d: d}
	r.walk(l.Formula.Tree, "+")
	if !slices.ContainsFunc(r.signs, func(s string) bool { return s != "" && s != "+" }) && len(r.signs) < 2 {
		return r.names, nil // one thing, taken as it is
	}
	return r.names, r.signs
}

// keepsSign holds the functions that only gather or choose among the cells of their
// argument, so that a sum of theirs is a sum of what they are given.
var keepsSign = []string{"total", "only", "at", "now", "this_week", "via", "grouped"}

func (r *reader) walk(e syntax.Expr, sign string) {
	switch e := e.(type) {
	case *syntax.Name:
		name := e.Full()
		if slices.Contains(r.names, name) {
			return
		}
		if r.d.Has(name) || e.Column == "" && r.d.Book.List(e.Base) != nil {
			r.names, r.signs = append(r.names, name), append(r.signs, sign)
		}
	case *syntax.Unary:
		if e.Op == "-" {
			sign = flipped(sign)
		} else {
			sign = ""
		}
		r.walk(e.X, sign)
	case *syntax.Binary:
		left, right := sign, ""
		switch e.Op {
		case "+":
			right = sign
		case "-":
			right = flipped(sign)
		case "*", "/":
			if right = e.Op; sign == "" {
				right = ""
			}
		default: // powers, comparisons
			left = ""
		}
		r.walk(e.L, left)
		r.walk(e.R, right)
	case *syntax.Choice:
		r.walk(e.Cond, "")
		r.walk(e.Then, sign)
		r.walk(e.Else, sign)
	case *syntax.Call:
		for i, a := range e.Args {
			s := ""
			if slices.Contains(keepsSign, e.Name) && (i == 0) != (e.Name == "via") {
				s = sign
			}
			r.walk(a, s)
		}
	}
}

// flipped gives the sign of a term that is taken off. Further factors and what stands
// inside a function stay what they are.
func flipped(sign string) string {
	switch sign {
	case "+":
		return "-"
	case "-":
		return "+"
	}
	return sign
}
