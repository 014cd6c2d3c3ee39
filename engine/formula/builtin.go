package formula

import (
	"sort"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// The functions here are lowered by the compiler itself, since their result
// depends on the axes, the names or the scenario of their arguments. Their cards
// stand in package library like all others.

type builtin struct {
	least, most int
	says        string // how many arguments, in words
	lower       func(b *builder, n *syntax.Call) (operand, *syntax.Error)
}

var builtins map[string]builtin

func init() { // not a literal: the functions read the table
	builtins = map[string]builtin{
		"absolute":     {1, 1, "one number", (*builder).lowerAbsolute},
		"root":         {1, 1, "one number", (*builder).lowerRoot},
		"exponential":  {1, 1, "one plain number", plainFunction(array.Exp)},
		"logarithm":    {1, 1, "one plain number", plainFunction(array.Log)},
		"smaller_of":   {2, 8, "two to eight numbers", several(array.Smaller)},
		"larger_of":    {2, 8, "two to eight numbers", several(array.Larger)},
		"clamp":        {3, 3, "a number, the least and the most", (*builder).lowerClamp},
		"rounded":      {2, 2, "a number and a step", step(array.StepNear)},
		"rounded_up":   {2, 2, "a number and a step", step(array.StepUp)},
		"rounded_down": {2, 2, "a number and a step", step(array.StepDown)},
		"blend":        {3, 3, "two numbers and a share", (*builder).lowerBlend},
		"is_known":     {1, 1, "one value", (*builder).lowerKnown},
		"is":           {2, 2, "a column and a quoted word", (*builder).lowerIs},

		"total":        {1, 8, "a value and the axes to add up over", reduction(array.Total)},
		"mean_over":    {1, 8, "a value and the axes to average over", (*builder).lowerMean},
		"largest":      {1, 8, "a value and axes", reduction(array.Largest)},
		"smallest":     {1, 8, "a value and axes", reduction(array.Smallest)},
		"how_many":     {1, 8, "a value and axes", reduction(array.HowMany)},
		"share_of":     {1, 8, "a value and the axes of its whole", (*builder).lowerShare},
		"earlier":      {2, 2, "a weekly line and what stood before the season", (*builder).lowerEarlier},
		"weeks_before": {2, 3, "a weekly line, a number of weeks, and what stood before the season", (*builder).lowerWeeksBefore},
		"only":         {2, 2, "a value and a quoted member", (*builder).lowerOnly},
		"at":           {2, 2, "a weekly value and a quoted week", (*builder).lowerAt},
		"this_week":    {1, 1, "a weekly value", (*builder).lowerNow},
		"via":          {2, 2, "a column that names members, and a value over them", (*builder).lowerVia},
		"grouped":      {2, 2, "a value, and a column that says where each belongs", (*builder).lowerGrouped},
		"under":        {2, 2, "a quoted scenario and a value", (*builder).lowerUnder},
		"measure":      {1, 1, "a quoted number with its unit, a date or a week", (*builder).lowerMeasure},
		"odds":         {1, 1, "a condition", (*builder).lowerOdds},
		"low_edge":     {1, 1, "a value", edge(0.1)},
		"high_edge":    {1, 1, "a value", edge(0.9)},
	}
}

// Lowered lists the functions that the compiler lowers itself.
func Lowered() []string {
	var names []string
	for n := range builtins {
		names = append(names, n)
	}
	sort.Strings(names)
	return names
}

// mostCompared bounds the words that hints are looked for among: in a large book
// with many unknown names the first ones get a hint.
const mostCompared = 1_000_000

func (b *builder) didYouMean(word string, known []string) string {
	if b.compared += len(known); b.compared > mostCompared {
		return ""
	}
	return syntax.DidYouMean(word, known)
}

func (b *builder) call(n *syntax.Call) (operand, *syntax.Error) {
	if f, ok := builtins[n.Name]; ok {
		if len(n.Args) < f.least || len(n.Args) > f.most {
			return operand{}, b.fault(n, msgArity, n.Name, f.says, len(n.Args), "")
		}
		return f.lower(b, n)
	}
	fn := b.src.Functions[n.Name]
	if fn == nil || fn.Kernel == nil {
		known := Lowered()
		for name := range b.src.Functions {
			known = append(known, name)
		}
		place := &syntax.Name{Span_: n.NameSpan}
		return operand{}, b.fault(place, msgNoFunction, n.Name, b.didYouMean(n.Name, known))
	}
	return b.kernelCall(n, fn)
}

func (b *builder) lowerUnder(n *syntax.Call) (operand, *syntax.Error) {
	text, ok := n.Args[0].(*syntax.Text)
	if !ok {
		return operand{}, b.fault(n.Args[0], msgArgText, n.Name, "the scenario", "\"left_cold\"")
	}
	if _, ok := b.affected[text.Value]; !ok {
		return operand{}, b.fault(text, msgNoScenario, text.Value, b.didYouMean(text.Value, b.src.Scenarios))
	}
	at := b.at
	b.at.context = text.Value
	o, err := b.expr(n.Args[1])
	b.at = at
	return o, err
}

func (b *builder) lowerMeasure(n *syntax.Call) (operand, *syntax.Error) {
	text, ok := n.Args[0].(*syntax.Text)
	if !ok {
		return operand{}, b.fault(n.Args[0], msgArgText, n.Name, "the measure", "measure(\"15 degC\")")
	}
	x, u, err := b.src.Literal(text.Value)
	if err != nil {
		return operand{}, b.fault(text, msgLiteral, err.Message, err.Hint)
	}
	if u == nil {
		return operand{Type{Kind: Dates}, b.constant(x)}, nil
	}
	return operand{Type{Kind: Quantity, Unit: u}, b.constant(x)}, nil
}
