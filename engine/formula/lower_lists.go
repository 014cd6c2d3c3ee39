package formula

import (
	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

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
		if i < 0 || !x.Axes.Has(i) && !b.growing {
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
	if !b.dry && over.Has(b.src.Week) && b.inside(x.id) {
		return b.fault(n, msgLoopReach, n.Name)
	}
	return nil
}

func (b *builder) reduce(x operand, over array.Axes, r array.Reducer) int32 {
	if b.dry {
		return -1
	}
	v := value{op: vReduce, a: x.id, b: -1, c: -1, aux: int32(r), over: over, axes: x.Axes &^ over}
	return b.add(v)
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

// pick takes one cell along an axis.
func (b *builder) pick(x operand, axis, index int) (operand, *syntax.Error) {
	t := x.Type
	t.Axes &^= array.Only(axis)
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vPick, a: x.id, b: -1, c: -1, aux: int32(index), over: array.Only(axis), axes: t.Axes}
	return operand{t, b.add(v)}, nil
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
	if axis < 0 && b.growing {
		return x, nil
	}
	if axis < 0 {
		return x, b.fault(text, msgNoMember, text.Value, b.didYouMean(text.Value, known))
	}
	return b.pick(x, axis, index)
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
	if !x.Axes.Has(col.List) && !b.growing {
		return x, b.fault(n.Args[1], msgViaAxis, b.src.Space.Axes[col.List].Name)
	}
	t := x.Type
	t.Axes = x.Axes&^array.Only(col.List) | col.Axes
	t.Zero = false
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vVia, a: col.id, b: x.id, c: -1, aux: int32(col.List), axes: t.Axes}
	return operand{t, b.add(v)}, nil
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
	over := col.Axes &^ array.Only(b.src.Week) // of a column that changes week by week, every week is grouped by itself
	if !over.Within(x.Axes) && !b.growing || over == 0 || (x.Axes &^ over).Has(col.List) {
		return x, b.fault(n.Args[0], msgGroupAxis)
	}
	t := x.Type
	t.Axes = (x.Axes|col.Axes)&^over | array.Only(col.List)
	t.Zero = false
	if b.dry {
		return operand{t, -1}, nil
	}
	v := value{op: vGroup, a: col.id, b: x.id, c: -1, aux: int32(col.List), over: over, axes: t.Axes}
	return operand{t, b.add(v)}, nil
}
