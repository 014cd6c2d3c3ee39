package formula

import (
	"sort"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
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
		"now":          {1, 1, "a weekly value", (*builder).lowerNow},
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

func didYouMean(word string, known []string) string {
	if n := syntax.Nearest(word, known); n != "" {
		return "did you mean " + n + "?"
	}
	return ""
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
		return operand{}, b.fault(place, msgNoFunction, n.Name, didYouMean(n.Name, known))
	}
	return b.kernelCall(n, fn)
}

// number lowers an argument that must be a number.
func (b *builder) number(n *syntax.Call, i int) (operand, *syntax.Error) {
	o, err := b.expr(n.Args[i])
	if err == nil && o.Kind != Quantity {
		err = b.fault(n.Args[i], msgNotNumber, n.Name, o.says())
	}
	return o, err
}

func (b *builder) lowerAbsolute(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err == nil && x.absolute() {
		err = b.fault(n.Args[0], msgAbsoluteProduct, x.says())
	}
	if err != nil {
		return x, err
	}
	return operand{x.Type, b.element(array.Absolute, x.id)}, nil
}

func (b *builder) lowerRoot(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err != nil {
		return x, err
	}
	if x.absolute() {
		return x, b.fault(n.Args[0], msgAbsoluteProduct, x.says())
	}
	u, ok := b.src.Units.Root(x.Unit)
	if !ok {
		return x, b.fault(n.Args[0], msgNotSquare, x.says())
	}
	// The root of the number belongs to the root of the unit only when the unit's
	// factor has an exact root; %: 0.01 -> 0.1. So plain shares are made plain first.
	if x.plain() {
		return operand{Type{Kind: Quantity, Unit: b.one, Axes: x.Axes}, b.elementAt(array.Root, b.site(n.Name, n), b.convert(x, b.one))}, nil
	}
	square, err2 := b.src.Units.Pow(u, 2)
	if err2 != nil {
		return x, b.fault(n.Args[0], msgNotSquare, x.says())
	}
	return operand{Type{Kind: Quantity, Unit: u, Axes: x.Axes}, b.elementAt(array.Root, b.site(n.Name, n), b.convert(x, square))}, nil
}

func plainFunction(op array.Op) func(*builder, *syntax.Call) (operand, *syntax.Error) {
	return func(b *builder, n *syntax.Call) (operand, *syntax.Error) {
		x, err := b.number(n, 0)
		if err == nil && !x.plain() {
			err = b.fault(n.Args[0], msgPlainOnly, n.Name, x.says())
		}
		if err != nil {
			return x, err
		}
		return operand{Type{Kind: Quantity, Unit: b.one, Axes: x.Axes}, b.elementAt(op, b.site(n.Name, n), b.convert(x, b.one))}, nil
	}
}

// several takes the smaller or larger of numbers or dates.
func several(op array.Op) func(*builder, *syntax.Call) (operand, *syntax.Error) {
	return func(b *builder, n *syntax.Call) (operand, *syntax.Error) {
		acc, err := b.expr(n.Args[0])
		for _, a := range n.Args[1:] {
			if err != nil {
				return acc, err
			}
			var x operand
			if x, err = b.expr(a); err != nil {
				return x, err
			}
			if acc.Kind != Quantity && acc.Kind != Dates {
				return acc, b.fault(n.Args[0], msgNotNumber, n.Name, acc.says())
			}
			var t Type
			var xi, yi int32
			if t, xi, yi, err = b.alike(a, acc, x); err == nil {
				acc = operand{t, b.element(op, xi, yi)}
			}
		}
		return acc, err
	}
}

func (b *builder) lowerClamp(n *syntax.Call) (operand, *syntax.Error) {
	var o [3]operand
	for i := range o {
		var err *syntax.Error
		if o[i], err = b.number(n, i); err != nil {
			return o[i], err
		}
	}
	t, x, lo, err := b.alike(n.Args[1], o[0], o[1])
	if err != nil {
		return o[0], err
	}
	t2, x2, hi, err := b.alike(n.Args[2], operand{t, x}, o[2])
	if err != nil {
		return o[0], err
	}
	if o[0].Zero && o[1].Zero { // 0 took the unit of the last
		lo = b.convert(operand{o[1].Type, lo}, t2.Unit)
	}
	return operand{t2, b.element(array.Clamp, x2, lo, hi)}, nil
}

func step(op array.Op) func(*builder, *syntax.Call) (operand, *syntax.Error) {
	return func(b *builder, n *syntax.Call) (operand, *syntax.Error) {
		x, err := b.number(n, 0)
		if err != nil {
			return x, err
		}
		s, err := b.number(n, 1)
		if err != nil {
			return s, err
		}
		if x.absolute() {
			return x, b.fault(n.Args[0], msgAbsoluteProduct, x.says())
		}
		t, xi, si, err := b.alike(n.Args[1], x, s)
		if err != nil {
			return x, err
		}
		return operand{t, b.elementAt(op, b.site(n.Name, n), xi, si)}, nil
	}
}

// lowerBlend: a + (b - a) * share, also of two temperatures.
func (b *builder) lowerBlend(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err != nil {
		return x, err
	}
	y, err := b.number(n, 1)
	if err != nil {
		return y, err
	}
	s, err := b.number(n, 2)
	if err != nil {
		return s, err
	}
	if !s.plain() {
		return s, b.fault(n.Args[2], msgPlainOnly, n.Name, s.says())
	}
	t, xi, yi, err := b.alike(n.Args[1], x, y)
	if err != nil {
		return x, err
	}
	t.Axes |= s.Axes
	gap := b.element(array.Sub, yi, xi)
	return operand{t, b.element(array.Add, xi, b.element(array.Mul, gap, b.convert(s, b.one)))}, nil
}

func (b *builder) lowerKnown(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	if x.Kind > Words {
		return x, b.fault(n.Args[0], msgLineKind, x.says())
	}
	return operand{Type{Kind: Truths, Axes: x.Axes}, b.element(array.Known, x.id)}, nil
}

// lowerIs: whether a word column names this member or kind.
func (b *builder) lowerIs(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	t, ok := n.Args[1].(*syntax.Text)
	if x.Kind != Words {
		return x, b.fault(n.Args[0], msgNotReference, n.Name, x.says())
	}
	if !ok {
		return x, b.fault(n.Args[1], msgArgText, n.Name, "the word", "\"tomato\"")
	}
	known := b.src.Words
	if x.List >= 0 {
		known = b.src.Space.Axes[x.List].Members
	}
	for i, w := range known {
		if w == t.Value {
			return operand{Type{Kind: Truths, Axes: x.Axes}, b.element(array.Equal, x.id, b.constant(float64(i)))}, nil
		}
	}
	return x, b.fault(t, msgNoMember, t.Value, didYouMean(t.Value, known))
}

// axesOf reads the axes after the first argument; none means all.
func (b *builder) axesOf(n *syntax.Call, x operand) (array.Axes, *syntax.Error) {
	if x.Axes == 0 {
		return 0, b.fault(n.Args[0], msgNoAxes)
	}
	if len(n.Args) == 1 {
		return x.Axes, nil
	}
	var over array.Axes
	for _, a := range n.Args[1:] {
		name, ok := a.(*syntax.Name)
		if !ok || name.Column != "" {
			return 0, b.fault(a, msgAxisName, n.Name)
		}
		i := b.src.Space.Find(name.Base)
		if i < 0 || !x.Axes.Has(i) {
			has := b.src.Space.Names(x.Axes)
			hint := "it has " + join(has)
			return 0, b.fault(a, msgNoAxis, name.Base, hint)
		}
		over |= array.Only(i)
	}
	return over, nil
}

func join(words []string) string {
	switch len(words) {
	case 0:
		return "none"
	case 1:
		return words[0]
	}
	s := words[0]
	for _, w := range words[1 : len(words)-1] {
		s += ", " + w
	}
	return s + " and " + words[len(words)-1]
}

// reaches refuses to look along the weeks of a line that is still being computed.
func (b *builder) reaches(n *syntax.Call, x operand, over array.Axes) *syntax.Error {
	if !b.dry && b.loop >= 0 && over.Has(b.src.Week) && b.p.vals[x.id].loop == b.loop {
		return b.fault(n, msgLoopReach, n.Name)
	}
	return nil
}

func (b *builder) reduce(x operand, over array.Axes, r array.Reducer) int32 {
	if b.dry {
		return -1
	}
	v := value{op: vReduce, a: x.id, b: -1, c: -1, aux: int32(r), over: over, axes: x.Axes &^ over, loop: -1}
	if w := b.p.vals[x.id].loop; w >= 0 && w == b.loop {
		v.loop = w
	}
	size := b.size[x.id]
	if r == array.Total || r == array.HowMany {
		size += constSize(float64(b.src.Space.Size(over)))
	}
	return b.add(v, size)
}

func reduction(r array.Reducer) func(*builder, *syntax.Call) (operand, *syntax.Error) {
	return func(b *builder, n *syntax.Call) (operand, *syntax.Error) {
		x, err := b.expr(n.Args[0])
		if err != nil {
			return x, err
		}
		over, err := b.axesOf(n, x)
		if err == nil {
			err = b.reaches(n, x, over)
		}
		if err != nil {
			return x, err
		}
		t := Type{Kind: x.Kind, Unit: x.Unit, Axes: x.Axes &^ over, List: x.List}
		switch {
		case r == array.HowMany:
			t = Type{Kind: Quantity, Unit: b.one, Axes: t.Axes}
		case x.Kind == Truths && r == array.Total:
			t = Type{Kind: Quantity, Unit: b.one, Axes: t.Axes}
		case x.Kind == Quantity && !(x.absolute() && r == array.Total), x.Kind == Dates && r != array.Total:
		case x.absolute():
			return x, b.fault(n.Args[0], msgTwoAbsolutes)
		default:
			return x, b.fault(n.Args[0], msgNotNumber, n.Name, x.says())
		}
		return operand{t, b.reduce(x, over, r)}, nil
	}
}

func (b *builder) lowerMean(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err != nil {
		return x, err
	}
	over, err := b.axesOf(n, x)
	if err == nil {
		err = b.reaches(n, x, over)
	}
	if err != nil {
		return x, err
	}
	sum, count := b.reduce(x, over, array.Total), b.reduce(x, over, array.HowMany)
	return operand{Type{Kind: Quantity, Unit: x.Unit, Axes: x.Axes &^ over}, b.elementAt(array.Div, b.site(n.Name, n), sum, count)}, nil
}

func (b *builder) lowerShare(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err != nil {
		return x, err
	}
	over, err := b.axesOf(n, x)
	if err == nil {
		err = b.reaches(n, x, over)
	}
	if err == nil && x.absolute() {
		err = b.fault(n.Args[0], msgAbsoluteProduct, x.says())
	}
	if err != nil {
		return x, err
	}
	return operand{Type{Kind: Quantity, Unit: b.one, Axes: x.Axes}, b.elementAt(array.Div, b.site(n.Name, n), x.id, b.reduce(x, over, array.Total))}, nil
}

func (b *builder) lowerEarlier(n *syntax.Call) (operand, *syntax.Error) {
	start, err := b.expr(n.Args[1])
	if err != nil {
		return start, err
	}
	if name, ok := n.Args[0].(*syntax.Name); ok && b.inLoop != nil {
		if i, ok := b.lineOf[name.Full()]; ok {
			k := nodeKey{i, b.context(i, b.at.context)}
			if b.inLoop[k] {
				t, _, si, err := b.alike(n.Args[1], operand{b.nodes[k].typ, -1}, start)
				if err != nil || b.dry {
					return operand{t, -1}, err
				}
				id := b.push(value{op: vEarlier, a: -1, b: si, c: -1, aux: 1, axes: t.Axes, loop: b.loop}, guardSize)
				b.fixes = append(b.fixes, fix{id, k})
				return operand{t, b.elementAt(array.Guard, b.site(n.Name, n), id)}, nil
			}
		}
	}
	if b.inLoop != nil {
		inside := false
		b.reads(n.Args[0], true, nil, func(line int, _ bool, _ *string, _ syntax.Expr) {
			inside = inside || b.inLoop[nodeKey{line, b.context(line, b.at.context)}]
		})
		if inside {
			return start, b.fault(n.Args[0], msgLoopEarlier)
		}
	}
	return b.shift(n, 1, start)
}

func (b *builder) lowerWeeksBefore(n *syntax.Call) (operand, *syntax.Error) {
	k, ok := constantPower(n.Args[1])
	if !ok || k != float64(int(k)) || k < 0 || k > mostWeeks {
		return operand{}, b.fault(n.Args[1], msgWeeksNumber, n.Name)
	}
	if len(n.Args) == 3 {
		start, err := b.expr(n.Args[2])
		if err != nil {
			return start, err
		}
		return b.shift(n, int(k), start)
	}
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	blank := x
	blank.Axes, blank.id = 0, b.constant(array.Blank)
	return b.shift(n, int(k), blank)
}

// shift looks k weeks back along a line that is no part of the loop being lowered.
func (b *builder) shift(n *syntax.Call, k int, start operand) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	week := array.Only(b.src.Week)
	if x.Axes&week == 0 {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	if err := b.reaches(n, x, week); err != nil {
		return x, err
	}
	t, xi, si, err := b.alike(n.Args[len(n.Args)-1], x, start)
	if err != nil || b.dry {
		return operand{t, -1}, err
	}
	if k == 0 {
		return operand{t, xi}, nil
	}
	size := max(b.size[xi], b.size[si])
	return operand{t, b.add(value{op: vEarlier, a: xi, b: si, c: -1, aux: int32(k), axes: t.Axes, loop: -1}, size)}, nil
}

// pick takes one cell along an axis.
func (b *builder) pick(x operand, axis, index int) (operand, *syntax.Error) {
	t := x.Type
	t.Axes &^= array.Only(axis)
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vPick, a: x.id, b: -1, c: -1, aux: int32(index), over: array.Only(axis), axes: t.Axes, loop: -1}
	if w := b.p.vals[x.id].loop; w >= 0 && w == b.loop {
		v.loop = w
	}
	return operand{t, b.add(v, b.size[x.id])}, nil
}

func (b *builder) lowerOnly(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	text, ok := n.Args[1].(*syntax.Text)
	if !ok {
		return x, b.fault(n.Args[1], msgArgText, n.Name, "the member", "\"long_tomato\"")
	}
	axis, index := -1, 0
	var known []string
	for _, i := range x.Axes.List() {
		if i == b.src.Week {
			continue
		}
		for j, m := range b.src.Space.Axes[i].Members {
			known = append(known, m)
			if m == text.Value {
				if axis >= 0 {
					return x, b.fault(text, msgTwoMembers, m)
				}
				axis, index = i, j
			}
		}
	}
	if axis < 0 {
		return x, b.fault(text, msgNoMember, text.Value, didYouMean(text.Value, known))
	}
	return b.pick(x, axis, index)
}

func (b *builder) lowerAt(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	text, ok := n.Args[1].(*syntax.Text)
	if !ok {
		return x, b.fault(n.Args[1], msgArgText, n.Name, "the week", "\"2027-W12\"")
	}
	if !x.Axes.Has(b.src.Week) {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	season := "the season runs " + b.src.Season.First.String() + " .. " + b.src.Season.Last.String()
	w, werr := week.ParseWeek(text.Value)
	if werr != nil {
		return x, b.fault(text, msgNoWeek, text.Value, season)
	}
	i, ok := b.src.Season.Index(w)
	if !ok {
		return x, b.fault(text, msgNoWeek, text.Value, season)
	}
	if err := b.reaches(n, x, array.Only(b.src.Week)); err != nil {
		return x, err
	}
	return b.pick(x, b.src.Week, i)
}

func (b *builder) lowerNow(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	if !x.Axes.Has(b.src.Week) {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	if err := b.reaches(n, x, array.Only(b.src.Week)); err != nil {
		return x, err
	}
	return b.pick(x, b.src.Week, b.src.Standing.Now())
}

// reference lowers a column that names members of a list.
func (b *builder) reference(n *syntax.Call, i int) (operand, *syntax.Error) {
	col, err := b.expr(n.Args[i])
	if err != nil {
		return col, err
	}
	if col.Kind != Words || col.List < 0 {
		return col, b.fault(n.Args[i], msgNotReference, n.Name, col.says())
	}
	return col, nil
}

func (b *builder) lowerVia(n *syntax.Call) (operand, *syntax.Error) {
	col, err := b.reference(n, 0)
	if err != nil {
		return col, err
	}
	x, err := b.expr(n.Args[1])
	if err != nil {
		return x, err
	}
	if !x.Axes.Has(col.List) {
		return x, b.fault(n.Args[1], msgViaAxis, b.src.Space.Axes[col.List].Name)
	}
	t := x.Type
	t.Axes = x.Axes&^array.Only(col.List) | col.Axes
	t.Zero = false
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vVia, a: col.id, b: x.id, c: -1, aux: int32(col.List), axes: t.Axes, loop: -1}
	if w := b.p.vals[x.id].loop; w >= 0 && w == b.loop {
		v.loop = w
	}
	return operand{t, b.add(v, b.size[x.id])}, nil
}

func (b *builder) lowerGrouped(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.number(n, 0)
	if err != nil {
		return x, err
	}
	col, err := b.reference(n, 1)
	if err != nil {
		return col, err
	}
	if x.absolute() {
		return x, b.fault(n.Args[0], msgTwoAbsolutes)
	}
	if !col.Axes.Within(x.Axes) || col.Axes == 0 || x.Axes.Has(col.List) {
		return x, b.fault(n.Args[0], msgGroupAxis)
	}
	t := x.Type
	t.Axes = x.Axes&^col.Axes | array.Only(col.List)
	t.Zero = false
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vGroup, a: col.id, b: x.id, c: -1, aux: int32(col.List), over: col.Axes, axes: t.Axes, loop: -1}
	if w := b.p.vals[x.id].loop; w >= 0 && w == b.loop {
		v.loop = w
	}
	return operand{t, b.add(v, b.size[x.id]+constSize(float64(b.src.Space.Size(col.Axes))))}, nil
}

func (b *builder) lowerUnder(n *syntax.Call) (operand, *syntax.Error) {
	text, ok := n.Args[0].(*syntax.Text)
	if !ok {
		return operand{}, b.fault(n.Args[0], msgArgText, n.Name, "the scenario", "\"left_cold\"")
	}
	if _, ok := b.affected[text.Value]; !ok {
		return operand{}, b.fault(text, msgNoScenario, text.Value, didYouMean(text.Value, b.src.Scenarios))
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

func (b *builder) lowerOdds(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	if x.Kind != Truths {
		return x, b.fault(n.Args[0], msgNotTruth, n.Name, x.says())
	}
	return b.overDraws(n, x, value{op: vOdds}, Type{Kind: Quantity, Unit: b.one, Axes: x.Axes})
}

func edge(p float64) func(*builder, *syntax.Call) (operand, *syntax.Error) {
	return func(b *builder, n *syntax.Call) (operand, *syntax.Error) {
		x, err := b.number(n, 0)
		if err != nil {
			return x, err
		}
		return b.overDraws(n, x, value{op: vEdge, imm: p}, x.Type)
	}
}

// overDraws makes a value of all draws of x; it is blank until they are done.
func (b *builder) overDraws(n *syntax.Call, x operand, v value, t Type) (operand, *syntax.Error) {
	if b.dry {
		return operand{t, -1}, nil
	}
	if b.loop >= 0 && b.p.vals[x.id].loop == b.loop {
		return x, b.fault(n, msgLoopReach, n.Name)
	}
	v.a, v.b, v.c, v.axes, v.loop = x.id, -1, -1, x.Axes, -1
	return operand{t, b.add(v, max(b.size[x.id], 0))}, nil
}

// mostWeeks is the longest season, and so the furthest anyone can look back.
const mostWeeks = 260
