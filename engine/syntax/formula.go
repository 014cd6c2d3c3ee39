package syntax

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/parser"
)

// ParseFormula reads one formula, such as "price * grouped(harvest, planting.crop)".
// at is the place of its first character. functions holds the names that may be
// called; nil accepts any, and leaves unknown ones to the caller. The tree's spans
// count characters from the start of text.
func ParseFormula(text string, at Place, functions map[string]bool) (Expr, *Error) {
	tree, f := parseFormula(text, functions)
	if f != nil {
		place := Place{at.Line, at.Col + f.span.From, max(1, f.span.To-f.span.From)}
		return nil, f.m.at(place, f.args...)
	}
	return tree, nil
}

func parseFormula(text string, functions map[string]bool) (Expr, *fault) {
	if len(text) > longestFormula {
		return nil, faultAt(0, 1, longFormula, strconv.Itoa(len(text)))
	}
	tokens, f := scanFormula(text)
	if f != nil {
		return nil, f
	}
	if f = checkOrder(tokens); f != nil {
		return nil, f
	}
	if functions != nil {
		if f = checkCalls(tokens, functions); f != nil {
			return nil, f
		}
	}
	configuration := host // a copy: the parser keeps a cache in it
	parsed, err := parser.ParseWithConfig(text, &configuration)
	whole := Span{tokens[0].from, tokens[len(tokens)-1].to}
	if err != nil {
		return nil, &fault{whole, unreadable, nil}
	}
	r := &treeReader{tokens: tokens, starts: make([]int, tokens[len(tokens)-1].to+1)}
	for i, t := range tokens {
		r.starts[t.from] = i
	}
	tree, _, _, ok := r.read(parsed.Node)
	if !ok {
		return nil, &fault{whole, unreadable, nil}
	}
	return tree, nil
}

// checkCalls refuses a call of a name that is no function.
func checkCalls(tokens []token, functions map[string]bool) *fault {
	for i, t := range tokens {
		if t.kind != nameToken || i+1 == len(tokens) || tokens[i+1].kind != openToken || functions[t.text] {
			continue
		}
		advice := cmp.Or(DidYouMean(t.text, sortedKeys(functions)), "the function cards list them all")
		return &fault{t.span(), unknownFunction, []string{t.text, advice}}
	}
	return nil
}

// host is the parser's configuration. Its own functions are shut off, and their
// names are declared as ours would be: only then does a call of any name, its
// own included, come out as a plain call.
var host = func() conf.Config {
	c := conf.CreateNew()
	// A token makes at most two nodes, and a token has at least one byte, so this
	// never refuses what the length allows.
	c.MaxNodes = 2 * longestFormula
	c.DisableIfOperator = true
	for name := range c.Builtins {
		c.Disabled[name] = true
		c.Functions[name] = &builtin.Function{Name: name}
	}
	return *c
}()

// treeReader turns the parser's tree into ours. Places come from our own tokens:
// the parser gives an operator's place for the whole of two operands, the place of
// the token after it for a choice, and nothing for a closing bracket.
type treeReader struct {
	tokens []token
	starts []int // character -> the token that starts there
}

// read gives our node and its first and last token, brackets around it included.
// The recursion is as deep as the tree, which 2,000 bytes bound.
func (r *treeReader) read(n ast.Node) (e Expr, first, last int, ok bool) {
	switch n := n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		first = r.starts[n.Location().From]
		last = first
		t := r.tokens[first]
		x, err := strconv.ParseFloat(t.text, 64)
		if err != nil {
			return nil, 0, 0, false
		}
		e = &Number{t.span(), x, t.text}
	case *ast.StringNode:
		first = r.starts[n.Location().From]
		last = first
		e = &Text{r.tokens[first].span(), r.tokens[first].text}
	case *ast.IdentifierNode:
		first = r.starts[n.Location().From]
		last = first
		e = &Name{Span_: r.tokens[first].span(), Base: n.Value}
	case *ast.MemberNode:
		id, isName := n.Node.(*ast.IdentifierNode)
		if !isName {
			return nil, 0, 0, false
		}
		first = r.starts[id.Location().From]
		last = first
		base, column, _ := strings.Cut(r.tokens[first].text, ".")
		e = &Name{r.tokens[first].span(), base, column}
	case *ast.UnaryNode:
		x, _, to, fine := r.read(n.Node)
		if !fine {
			return nil, 0, 0, false
		}
		first, last = r.starts[n.Location().From], to
		if n.Operator == "+" { // a sign that changes nothing
			e = x
		} else {
			e = &Unary{r.span(first, last), n.Operator, x}
		}
	case *ast.BinaryNode:
		left, from, _, fine := r.read(n.Left)
		if !fine {
			return nil, 0, 0, false
		}
		right, _, to, fine := r.read(n.Right)
		if !fine {
			return nil, 0, 0, false
		}
		first, last = from, to
		e = &Binary{r.span(first, last), n.Operator, left, right}
	case *ast.ConditionalNode:
		cond, from, _, a := r.read(n.Cond)
		then, _, _, b := r.read(n.Exp1)
		other, _, to, c := r.read(n.Exp2)
		if !a || !b || !c {
			return nil, 0, 0, false
		}
		first, last = from, to
		e = &Choice{r.span(first, last), cond, then, other}
	case *ast.CallNode:
		id, isName := n.Callee.(*ast.IdentifierNode)
		if !isName {
			return nil, 0, 0, false
		}
		first = r.starts[id.Location().From]
		last = r.tokens[first+1].partner
		call := &Call{Span_: r.span(first, last), Name: id.Value, NameSpan: r.tokens[first].span()}
		for _, a := range n.Arguments {
			x, _, _, fine := r.read(a)
			if !fine {
				return nil, 0, 0, false
			}
			call.Args = append(call.Args, x)
		}
		e = call
	default:
		return nil, 0, 0, false
	}
	// Brackets that hold just this node belong to the node's outer reach.
	for first > 0 && last+1 < len(r.tokens) {
		open := r.tokens[first-1]
		isCall := first > 1 && r.tokens[first-2].kind == nameToken
		if open.kind != openToken || open.partner != last+1 || isCall {
			break
		}
		first, last = first-1, last+1
	}
	return e, first, last, true
}

func (r *treeReader) span(first, last int) Span {
	return Span{r.tokens[first].from, r.tokens[last].to}
}
