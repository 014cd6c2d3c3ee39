package syntax

import "strings"

// readCondition reads "formula compare literal-or-name", or a bare formula. With
// and, or, a choice or a second comparison outside brackets it is a bare formula,
// and no unit may stand in it.
func readCondition(c cut) (Condition, *Error) {
	c = c.trim()
	out := Condition{Text: c.String(), Place: c.place()}
	from, to := comparison(c.String())
	var e *Error
	if from < 0 {
		out.Left, e = readFormula(c)
		return out, e
	}
	if out.Left, e = readFormula(c.part(0, from)); e != nil {
		return out, e
	}
	out.Op = c.part(from, to).String()
	right := c.after(to).trim()
	if right.empty() {
		return out, endsEarly.at(c.part(from, to).place(), out.Op)
	}
	if base, _, _ := strings.Cut(right.String(), "."); isName(base) && base != "yes" && base != "no" {
		if e := checkFullName(right); e != nil {
			return out, e
		}
		out.Right, e = readFormula(right)
		return out, e
	}
	l, e := readLiteral(right)
	if e != nil {
		if isFormula(right) {
			return out, conditionRight.at(right.place(), right.String())
		}
		return out, e
	}
	if l.Kind == EvenForm || l.Kind == LikelyForm || l.Kind == ChanceForm || l.HasRange || l.Open {
		return out, conditionRight.at(right.place(), right.String())
	}
	out.Literal = &l
	return out, nil
}

func isFormula(c cut) bool {
	_, f := parseFormula(c.String(), nil)
	return f == nil
}

// comparison gives the place of the one comparison outside brackets and quotes;
// -1 when there is none, or more than that one stands beside it.
func comparison(s string) (from, to int) {
	from = -1
	depth, quoted := 0, false
	for i := 0; i < len(s); i++ {
		b := s[i]
		if b == '"' {
			quoted = !quoted
		}
		if quoted {
			continue
		}
		switch b {
		case '(':
			depth++
		case ')':
			depth--
		}
		if depth > 0 {
			continue
		}
		switch {
		case b == '?':
			return -1, -1
		case isNameByte(b):
			n := wordLength(s[i:])
			if w := s[i : i+n]; w == "and" || w == "or" || w == "not" {
				return -1, -1
			}
			i += n - 1
		case b == '<' || b == '>' || (b == '=' || b == '!') && strings.HasPrefix(s[i+1:], "="):
			if from >= 0 {
				return -1, -1
			}
			from, to = i, i+1
			if strings.HasPrefix(s[to:], "=") {
				to++
				i++
			}
		}
	}
	return from, to
}
