package formula

import (
	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
)

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
	// A unit has a root only when it is the square of one, and then the number's
	// root belongs to it; a share is made a plain number first, for % has none.
	if x.plain() {
		return operand{Type{Kind: Quantity, Unit: b.one, Axes: x.Axes}, b.elementAt(array.Root, b.site(n.Name, n), b.convert(x, b.one))}, nil
	}
	u, ok := b.src.Units.Root(x.Unit)
	if !ok {
		return x, b.fault(n.Args[0], msgNotSquare, x.says())
	}
	return operand{Type{Kind: Quantity, Unit: u, Axes: x.Axes}, b.elementAt(array.Root, b.site(n.Name, n), x.id)}, nil
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
	return x, b.fault(t, msgNoMember, t.Value, b.didYouMean(t.Value, known))
}
