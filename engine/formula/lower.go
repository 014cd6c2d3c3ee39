package formula

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

// lowerNode checks and lowers one line that is in no loop.
func (b *builder) lowerNode(k nodeKey) {
	n := b.nodes.at(k)
	if n.err = b.waiting(k, nil); n.err != nil {
		return
	}
	o, err := b.lineValue(k)
	if err != nil {
		n.err = err
		return
	}
	n.typ, n.id = o.Type, o.id
}

// waiting says what a line waits for: its own fault, or a line it reads that has one.
func (b *builder) waiting(k nodeKey, in map[nodeKey]bool) *syntax.Error {
	line := &b.src.Lines[k.line]
	if line.Broken != nil {
		return line.Broken
	}
	for _, n := range b.nodes.at(k).needs {
		if !in[n.to] && b.nodes.at(n.to).err != nil {
			e := msgWaits.fill(line.Place, line.Name, b.src.Lines[n.to.line].Name)
			if line.Formula != nil && line.Formula.Tree != nil {
				e.Place = line.Formula.At(n.span)
			}
			return e
		}
	}
	return nil
}

// lineValue lowers a line under its scenario: the plan's input or formula, then
// what the scenario, pins and --set put over it, in that order.
func (b *builder) lineValue(k nodeKey) (operand, *syntax.Error) {
	line := &b.src.Lines[k.line]
	b.at, b.formula, b.base, b.excess = k, line.Formula, nil, 0
	var o operand
	if line.Input != nil {
		o = operand{line.Input.Type, b.inputValue(line.Input)}
	} else {
		var err *syntax.Error
		if o, err = b.expr(line.Formula.Tree); err == nil {
			o, err = b.asLine(o, line)
		}
		if err == nil {
			err = b.bounded(line.Formula.Tree)
		}
		if err != nil {
			return o, err
		}
	}
	for _, i := range b.overrides[k.line] {
		if ov := &b.src.Overrides[i]; ov.Layer != ByScenario || ov.Scenario == k.context {
			var err *syntax.Error
			if o, err = b.override(o, ov, line); err != nil {
				return o, err
			}
		}
	}
	return o, nil
}

// inputValue gives the value of an input: one, however many scenarios use it.
func (b *builder) inputValue(in *Input) int32 {
	if b.dry {
		return -1
	}
	id, ok := b.inputs[in]
	if !ok {
		id = b.table(inputTable(in.Type.Axes, in.Plain, in.Sampler))
		b.inputs[in] = id
	}
	return id
}

// asLine brings the result of a formula to what the line declares.
func (b *builder) asLine(o operand, line *Line) (operand, *syntax.Error) {
	tree := line.Formula.Tree
	for _, axis := range o.Axes.List() {
		if r, ok := b.axisRec[axis]; ok {
			return o, b.fault(tree, msgLineRecords, b.src.Records[r].Name)
		}
	}
	if o.Kind != Quantity {
		if line.Unit != nil {
			return o, b.fault(tree, msgLineNoUnit, o.says(), line.Unit.String())
		}
		return o, nil
	}
	want := line.Unit
	if want == nil {
		want = o.Unit
		if !o.absolute() {
			want = b.src.Units.Simplify(o.Unit)
		}
	}
	if o.Zero && !want.Absolute {
		return operand{Type{Kind: Quantity, Unit: want, Axes: o.Axes}, o.id}, nil
	}
	if o.Zero || want.Dim != o.Unit.Dim || want.Absolute != o.Unit.Absolute {
		hint := "-> " + b.src.Units.Simplify(o.Unit).String()
		return o, b.fault(tree, msgLineUnit, want.String(), b.src.Units.Simplify(o.Unit).String(), hint)
	}
	return operand{Type{Kind: Quantity, Unit: want, Axes: o.Axes}, b.convert(o, want)}, nil
}

// override puts an input or a formula over what a line had.
func (b *builder) override(had operand, ov *Override, line *Line) (operand, *syntax.Error) {
	wrong := func(m msg, args ...any) *syntax.Error {
		return m.fill(ov.Place, line.Name, args...)
	}
	var o operand
	if ov.Input != nil {
		o = operand{ov.Input.Type, b.inputValue(ov.Input)}
	} else {
		base := had
		b.formula, b.base = ov.Formula, &base
		var err *syntax.Error
		if o, err = b.expr(ov.Formula.Tree); err == nil {
			err = b.bounded(ov.Formula.Tree)
		}
		if err != nil {
			return o, err
		}
		b.formula, b.base = line.Formula, nil
	}
	space := b.src.Space
	if extra := o.Axes &^ had.Axes; extra != 0 && !b.growing {
		return o, wrong(msgOverrideAxes, space.Names(extra)[0], line.Name)
	}
	if o.Kind != had.Kind || o.Kind == Words && o.List != had.List {
		return o, wrong(msgOverrideUnit, line.Name, had.says(), o.says())
	}
	id := o.id
	if o.Kind == Quantity {
		if !(o.Zero && !had.Unit.Absolute) && (o.Unit.Dim != had.Unit.Dim || o.Unit.Absolute != had.Unit.Absolute) {
			return o, wrong(msgOverrideUnit, line.Name, had.says(), o.says())
		}
		id = b.convert(o, had.Unit)
	}
	var axes array.Axes
	for _, c := range ov.Where {
		axes |= array.Only(c.Axis)
		if !had.Axes.Has(c.Axis) && !b.growing {
			return o, wrong(msgOverrideWhere, line.Name, space.Axes[c.Axis].Name)
		}
	}
	if ov.ForecastOnly && had.Axes.Has(b.src.Week) {
		axes |= array.Only(b.src.Week)
	}
	if axes != 0 && !b.dry {
		id = b.element(array.Select, b.constantTable(axes, b.mask(axes, ov)), id, had.id)
	}
	return operand{had.Type, b.widen(id, had.Axes)}, nil
}

// mask has 1 in the cells that an override holds for.
func (b *builder) mask(axes array.Axes, ov *Override) []float64 {
	cells := make([]float64, b.src.Space.Size(axes))
	list := axes.List()
	for i := range cells {
		rest, on := i, true
		for j := len(list) - 1; j >= 0; j-- {
			n := b.src.Space.Axes[list[j]].Len()
			at := rest % n
			rest /= n
			for _, c := range ov.Where {
				on = on && (c.Axis != list[j] || c.Index == at)
			}
			if list[j] == b.src.Week && ov.ForecastOnly && b.src.Standing.Closed(at) {
				on = false
			}
		}
		cells[i] = array.Truth(on)
	}
	return cells
}

// expr checks one node of a formula and lowers it. This is where a formula
// becomes values; nothing else walks the tree.
func (b *builder) expr(e syntax.Expr) (operand, *syntax.Error) {
	switch n := e.(type) {
	case *syntax.Number:
		return operand{Type{Kind: Quantity, Unit: b.one, Zero: n.Value == 0}, b.constant(n.Value)}, nil
	case *syntax.Name:
		return b.name(n)
	case *syntax.Text:
		return operand{}, b.fault(n, msgText)
	case *syntax.Unary:
		return b.unary(n)
	case *syntax.Binary:
		return b.binary(n)
	case *syntax.Choice:
		return b.choice(n)
	case *syntax.Call:
		return b.call(n)
	}
	panic("formula: a node the tree does not have")
}

func (b *builder) name(n *syntax.Name) (operand, *syntax.Error) {
	if b.base != nil && n.Full() == "base" {
		return *b.base, nil
	}
	i, ok := b.lineOf[n.Full()]
	if !ok {
		if n.Full() == "base" {
			return operand{}, b.fault(n, msgBase)
		}
		return operand{}, b.noName(n)
	}
	m := b.nodeOf(i)
	if m.err != nil {
		return operand{}, b.fault(n, msgWaits, b.src.Lines[i].Name)
	}
	return operand{m.typ, m.id}, nil
}

// nodeOf gives the node of a line that a formula reads. It is there, since the graph
// has read the same tree; unless only types are wanted, see checkScenarios.
func (b *builder) nodeOf(line int) *node {
	if m := b.nodes.at(nodeKey{line, b.context(line, b.at.context)}); m != nil {
		return m
	}
	return b.nodes.at(b.main(line))
}

func (b *builder) noName(n *syntax.Name) *syntax.Error {
	_, isList := b.listOf[n.Base]
	isRecords := false
	for _, r := range b.src.Records {
		isRecords = isRecords || r.Name == n.Base
	}
	if (isList || isRecords) && n.Column == "" {
		return b.fault(n, msgBareList, n.Base)
	}
	var names []string
	if isList || isRecords {
		for name := range b.lineOf {
			if len(name) > len(n.Base) && name[:len(n.Base)+1] == n.Base+"." {
				names = append(names, name[len(n.Base)+1:])
			}
		}
		return b.fault(n, msgNoColumn, n.Base, n.Column, b.didYouMean(n.Column, names))
	}
	for name := range b.lineOf {
		names = append(names, name)
	}
	return b.fault(n, msgNoName, n.Full(), b.didYouMean(n.Full(), names))
}

func (b *builder) unary(n *syntax.Unary) (operand, *syntax.Error) {
	x, err := b.expr(n.X)
	if err != nil {
		return x, err
	}
	if n.Op == "not" {
		if x.Kind != Truths {
			return x, b.fault(n.X, msgNotTruth, "not", x.says())
		}
		return operand{x.Type, b.element(array.Not, x.id)}, nil
	}
	if x.Kind != Quantity {
		return x, b.fault(n.X, msgNotNumber, "-", x.says())
	}
	if x.absolute() {
		return x, b.fault(n.X, msgAbsoluteProduct, x.says())
	}
	return operand{x.Type, b.element(array.Negate, x.id)}, nil
}

var compareOps = map[string]array.Op{"<": array.Less, "<=": array.LessEq, ">": array.Greater, ">=": array.GreaterEq, "==": array.Equal, "!=": array.Unequal}

func (b *builder) binary(n *syntax.Binary) (operand, *syntax.Error) {
	l, err := b.expr(n.L)
	if err != nil {
		return l, err
	}
	r, err := b.expr(n.R)
	if err != nil {
		return r, err
	}
	switch n.Op {
	case "+", "-":
		op := array.Add
		if n.Op == "-" {
			op = array.Sub
		}
		t, lu, ru, err := b.sum(n, l, r)
		if err != nil {
			return l, err
		}
		id := b.element(op, b.convert(l, lu), b.convert(r, ru))
		switch {
		case t.Kind == Dates: // whole days
			id = b.element(array.StepNear, id, b.constant(1))
		case l.absolute() && r.absolute(): // in degrees of the left one so far
			kelvin := b.src.Units.Kelvin()
			id = b.convert(operand{t, id}, kelvin)
			t.Unit = kelvin
		}
		return operand{t, id}, nil
	case "*":
		t, err := b.product(n, l, r)
		return operand{t, b.elementIf(err, array.Mul, 0, l.id, r.id)}, err
	case "/":
		t, err := b.product(n, l, r)
		return operand{t, b.elementIf(err, array.Div, b.site("/", n), l.id, r.id)}, err
	case "^":
		return b.power(n, l, r)
	case "and", "or":
		op := array.And
		if n.Op == "or" {
			op = array.Or
		}
		for i, x := range []operand{l, r} {
			if x.Kind != Truths {
				return x, b.fault([]syntax.Expr{n.L, n.R}[i], msgNotTruth, n.Op, x.says())
			}
		}
		return operand{Type{Kind: Truths, Axes: l.Axes | r.Axes}, b.element(op, l.id, r.id)}, nil
	}
	return b.compare(n, l, r)
}

func (b *builder) elementIf(err *syntax.Error, op array.Op, at int32, args ...int32) int32 {
	if err != nil {
		return -1
	}
	return b.elementAt(op, at, args...)
}

func (b *builder) compare(n *syntax.Binary, l, r operand) (operand, *syntax.Error) {
	t := Type{Kind: Truths, Axes: l.Axes | r.Axes}
	op := compareOps[n.Op]
	switch {
	case l.Kind == Quantity && r.Kind == Quantity:
		u, err := b.common(n, l, r)
		if err != nil {
			return l, err
		}
		return operand{t, b.element(op, b.convert(l, u), b.convert(r, u))}, nil
	case l.Kind == Dates && r.Kind == Dates,
		l.Kind == Truths && r.Kind == Truths && (n.Op == "==" || n.Op == "!="),
		l.Kind == Words && r.Kind == Words && l.List == r.List && (n.Op == "==" || n.Op == "!="):
		return operand{t, b.element(op, l.id, r.id)}, nil
	}
	return l, b.fault(n, msgCompare, l.says(), r.says())
}

// power: a whole power of a number with a unit, or any power of a plain one.
func (b *builder) power(n *syntax.Binary, l, r operand) (operand, *syntax.Error) {
	if l.Kind != Quantity || r.Kind != Quantity {
		return l, b.fault(n, msgNotNumber, n.Op, pickBad(l, r).says())
	}
	if l.absolute() {
		return l, b.fault(n.L, msgAbsoluteProduct, l.says())
	}
	if !r.plain() {
		return l, b.fault(n.R, msgPlainOnly, "a power", r.says())
	}
	t := Type{Kind: Quantity, Unit: b.one, Axes: l.Axes | r.Axes}
	exp, isConst := constantPower(n.R)
	if isConst && exp == float64(int(exp)) && exp >= -4 && exp <= 4 {
		u, err := b.src.Units.Pow(l.Unit, int(exp))
		if err != nil {
			return l, b.fault(n, msgUnitTooHigh)
		}
		t.Unit = u
		if exp == 1 {
			return operand{t, l.id}, nil
		}
		if exp == 2 {
			return operand{t, b.element(array.Mul, l.id, l.id)}, nil
		}
		return operand{t, b.elementAt(array.Power, b.site("^", n), l.id, r.id)}, nil
	}
	if !l.plain() {
		return l, b.fault(n.R, msgPowerUnit)
	}
	return operand{t, b.elementAt(array.Power, b.site("^", n), b.convert(l, b.one), b.convert(r, b.one))}, nil
}

func constantPower(e syntax.Expr) (float64, bool) {
	switch n := e.(type) {
	case *syntax.Number:
		return n.Value, true
	case *syntax.Unary:
		x, ok := constantPower(n.X)
		return -x, ok && n.Op == "-"
	}
	return 0, false
}

func (b *builder) choice(n *syntax.Choice) (operand, *syntax.Error) {
	cond, err := b.expr(n.Cond)
	if err != nil {
		return cond, err
	}
	if cond.Kind != Truths {
		return cond, b.fault(n.Cond, msgNotTruth, "a choice", cond.says())
	}
	x, err := b.expr(n.Then)
	if err != nil {
		return x, err
	}
	y, err := b.expr(n.Else)
	if err != nil {
		return y, err
	}
	t, xi, yi, err := b.alike(n.Else, x, y)
	if err != nil {
		return x, b.fault(n, msgBranches, x.says(), y.says())
	}
	t.Axes |= cond.Axes
	if !b.dry && b.isConst(xi, 1) && b.isConst(yi, 0) {
		return operand{t, cond.id}, nil // a condition is 1 or 0 already
	}
	return operand{t, b.element(array.Select, cond.id, xi, yi)}, nil
}

// isConst says whether a value is that number, to the bit.
func (b *builder) isConst(id int32, x float64) bool {
	v := &b.p.vals[id]
	return v.op == vConst && math.Float64bits(v.imm) == math.Float64bits(x)
}

// alike brings two operands to one type.
func (b *builder) alike(n syntax.Expr, x, y operand) (Type, int32, int32, *syntax.Error) {
	t := x.Type
	t.Axes |= y.Axes
	t.Zero = x.Zero && y.Zero
	if x.Kind != y.Kind || x.Kind == Words && x.List != y.List {
		return t, 0, 0, b.fault(n, msgCompare, x.says(), y.says())
	}
	if x.Kind != Quantity {
		return t, x.id, y.id, nil
	}
	u, err := b.common(n, x, y)
	if err != nil {
		return t, 0, 0, err
	}
	t.Unit = u
	return t, b.convert(x, u), b.convert(y, u), nil
}
