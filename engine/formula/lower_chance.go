package formula

import (
	"wintertruss/engine/syntax"
)

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
		t := x.Type
		t.Zero = false
		return b.overDraws(n, x, value{op: vEdge, imm: p}, t)
	}
}

// overDraws makes a value of all draws of x; it is blank until they are done.
func (b *builder) overDraws(n *syntax.Call, x operand, v value, t Type) (operand, *syntax.Error) {
	if b.dry {
		return operand{t, -1}, nil
	}
	if b.inside(x.id) {
		return x, b.fault(n, msgLoopReach, n.Name)
	}
	v.a, v.b, v.c, v.axes = x.id, -1, -1, x.Axes
	return operand{t, b.add(v)}, nil
}
