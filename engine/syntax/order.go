package syntax

// order follows the tokens of a formula: what is wanted next, which bracket is
// open, how deep it all is.
type order struct {
	tokens  []token
	wants   bool // an operand is wanted next
	frames  []frame
	choices []choice
	depth   int
}

// frame is an open bracket, or (the first) the whole formula.
type frame struct {
	open     int // token
	call     bool
	prefixes int // signs, nots and ^ that still wait for their operand's end
	choices  int // len(order.choices) when it opened
	compared bool
	negated  bool
}

// choice is a ? whose end has not come.
type choice struct {
	ask  int // token
	then bool
}

// checkOrder says what is wrong with the order or the nesting of the tokens,
// and tells each bracket its partner.
func checkOrder(tokens []token) *fault {
	if len(tokens) == 0 {
		return faultAt(0, 1, emptyFormula)
	}
	o := &order{tokens: tokens, wants: true, frames: []frame{{open: -1}}}
	for i := range tokens {
		if f := o.step(i); f != nil {
			return f
		}
		if o.depth > deepestFormula {
			return &fault{tokens[i].span(), deepFormula, nil}
		}
	}
	last := tokens[len(tokens)-1]
	if o.wants {
		return &fault{last.span(), endsEarly, []string{last.text}}
	}
	if f := o.top(); f.open >= 0 {
		return &fault{tokens[f.open].span(), openBracket, nil}
	}
	return o.endChoices()
}

func (o *order) top() *frame { return &o.frames[len(o.frames)-1] }

// fresh begins a new operand list: what came before in the frame is complete.
func (o *order) fresh() {
	f := o.top()
	o.depth -= f.prefixes
	f.prefixes, f.compared, f.negated = 0, false, false
	o.wants = true
}

// endChoices leaves the choices of the frame, which must have their other side.
func (o *order) endChoices() *fault {
	for len(o.choices) > o.top().choices {
		c := o.choices[len(o.choices)-1]
		if c.then {
			return &fault{o.tokens[c.ask].span(), openChoice, nil}
		}
		o.choices = o.choices[:len(o.choices)-1]
		o.depth--
	}
	return nil
}

func (o *order) step(i int) *fault {
	t := o.tokens[i]
	f := o.top()
	switch t.kind {
	case numberToken, nameToken, textToken:
		if !o.wants {
			return o.twoOperands(i)
		}
		if t.kind == textToken && !o.isArgument(i) {
			return &fault{t.span(), textPlace, nil}
		}
		o.wants = false
		return nil
	case openToken:
		call := !o.wants && o.tokens[i-1].kind == nameToken
		if !o.wants && !call {
			return o.twoOperands(i)
		}
		o.frames = append(o.frames, frame{open: i, call: call, choices: len(o.choices)})
		o.depth++
		o.wants = true
		return nil
	case operatorToken:
		return o.operator(i)
	}
	// What is left ends an operand.
	empty := t.kind == closeToken && f.call && f.open == i-1
	if o.wants && !empty {
		if t.kind == closeToken && f.open < 0 {
			return &fault{t.span(), strayBracket, nil}
		}
		return &fault{t.span(), missingOperand, []string{t.text}}
	}
	switch t.kind {
	case closeToken:
		if f.open < 0 {
			return &fault{t.span(), strayBracket, nil}
		}
		if e := o.endChoices(); e != nil {
			return e
		}
		o.tokens[f.open].partner, o.tokens[i].partner = i, f.open
		o.depth -= 1 + f.prefixes
		o.frames = o.frames[:len(o.frames)-1]
		o.wants = false
	case commaToken:
		if !f.call {
			return &fault{t.span(), strayComma, nil}
		}
		if e := o.endChoices(); e != nil {
			return e
		}
		o.fresh()
	case askToken:
		o.fresh()
		o.choices = append(o.choices, choice{i, true})
		o.depth++
	case colonToken:
		for len(o.choices) > f.choices && !o.choices[len(o.choices)-1].then {
			o.choices = o.choices[:len(o.choices)-1]
			o.depth--
		}
		if len(o.choices) == f.choices {
			return &fault{t.span(), strayColon, nil}
		}
		o.choices[len(o.choices)-1].then = false
		o.fresh()
	}
	return nil
}

// operator takes a sign before an operand, or an operator between two.
func (o *order) operator(i int) *fault {
	t, f := o.tokens[i], o.top()
	if o.wants {
		switch t.text {
		case "not":
			// The parser would take "a * not b * c" as a * (not (b * c)): a not stands
			// only where a whole condition begins.
			if i > 0 {
				p := o.tokens[i-1]
				if p.kind == operatorToken && p.text != "and" && p.text != "or" && p.text != "not" {
					return &fault{t.span(), notNeedsBrackets, nil}
				}
			}
			f.negated = true
		case "-", "+":
		default:
			return &fault{t.span(), missingOperand, []string{t.text}}
		}
		f.prefixes++
		o.depth++
		return nil
	}
	switch t.text {
	case "not":
		return o.twoOperands(i)
	case "and", "or":
		o.fresh()
		return nil
	}
	if f.negated {
		// The parser would take "not a > b" as (not a) > b.
		return &fault{t.span(), notNeedsBrackets, nil}
	}
	switch t.text {
	case "^":
		f.prefixes++
		o.depth++
		o.wants = true
		return nil
	case "<", "<=", ">", ">=", "==", "!=":
		if f.compared {
			return &fault{t.span(), chainedComparison, nil}
		}
		o.fresh()
		f.compared = true
		return nil
	}
	compared := f.compared
	o.fresh()
	f.compared = compared
	return nil
}

// isArgument says whether token i is, alone, what a function takes.
func (o *order) isArgument(i int) bool {
	if !o.top().call || i+1 >= len(o.tokens) {
		return false
	}
	before, after := o.tokens[i-1].kind, o.tokens[i+1].kind
	return (before == openToken || before == commaToken) && (after == closeToken || after == commaToken)
}

func (o *order) twoOperands(i int) *fault {
	t, p := o.tokens[i], o.tokens[i-1]
	if p.kind == numberToken && t.kind == nameToken {
		return &fault{Span{p.from, t.to}, unitInFormula, []string{p.text + " " + t.text}}
	}
	return &fault{t.span(), missingOperator, []string{p.text, t.text}}
}
