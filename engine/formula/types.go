package formula

import (
	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// Type is what is known of a value before anything runs.
type Type struct {
	Kind Takes
	Unit *unit.Unit // Quantity only
	Axes array.Axes
	// List is, for Words, the axis whose members they are, or -1 for kinds.
	List int
	// Zero marks the literal 0, and what is made of nothing else by + - and choices:
	// it fits every unit but an absolute temperature.
	Zero bool
}

// Plain says whether it is a number without a unit.
func (t Type) plain() bool { return t.Kind == Quantity && (t.Zero || t.Unit.IsPlain()) }

func (t Type) absolute() bool { return t.Kind == Quantity && t.Unit.Absolute }

// says names the kind of a value in the grower's words.
func (t Type) says() string {
	switch t.Kind {
	case Quantity:
		if t.Zero {
			return "0"
		}
		if t.Unit.IsPlain() {
			return "a plain number"
		}
		return t.Unit.String()
	case Truths:
		return "yes or no"
	case Dates:
		return "a date"
	}
	return "a word"
}

// operand is a checked part of a formula: its type and the value that holds it.
type operand struct {
	Type
	id int32
}

// sum gives the type of a + b or a - b, and how each side must be converted
// (nil: as it is). The difference of two absolutes comes in degrees of the left one.
func (b *builder) sum(n *syntax.Binary, l, r operand) (t Type, lu, ru *unit.Unit, err *syntax.Error) {
	axes := l.Axes | r.Axes
	minus := n.Op == "-"
	switch {
	case l.Kind == Dates || r.Kind == Dates:
		return b.dateSum(n, l, r, axes, minus)
	case l.Kind != Quantity || r.Kind != Quantity:
		return t, nil, nil, b.fault(n, msgNotNumber, n.Op, pickBad(l, r).says())
	case l.absolute() && r.absolute():
		if !minus {
			return t, nil, nil, b.fault(n, msgTwoAbsolutes)
		}
		return Type{Kind: Quantity, Unit: b.src.Units.Difference(l.Unit), Axes: axes}, nil, l.Unit, nil
	case l.absolute() || r.absolute():
		if r.absolute() && minus {
			return t, nil, nil, b.fault(n, msgFromAbsolute)
		}
		abs, diff := l, r
		if r.absolute() {
			abs, diff = r, l
		}
		d := b.src.Units.Difference(abs.Unit)
		if diff.Zero || diff.Unit.Dim != d.Dim {
			return t, nil, nil, b.fault(n, msgAbsolutePlus, abs.says(), diff.says())
		}
		t = Type{Kind: Quantity, Unit: abs.Unit, Axes: axes}
		if r.absolute() {
			return t, d, nil, nil
		}
		return t, nil, d, nil
	}
	u, err := b.common(n, l, r)
	if err != nil {
		return t, nil, nil, err
	}
	return Type{Kind: Quantity, Unit: u, Axes: axes, Zero: l.Zero && r.Zero}, u, u, nil
}

// dateSum: date plus or minus time is a date, date minus date is days.
func (b *builder) dateSum(n *syntax.Binary, l, r operand, axes array.Axes, minus bool) (Type, *unit.Unit, *unit.Unit, *syntax.Error) {
	day := b.day
	switch {
	case l.Kind == Dates && r.Kind == Dates && minus:
		return Type{Kind: Quantity, Unit: day, Axes: axes}, nil, nil, nil
	case l.Kind == Dates && r.Kind == Quantity && (r.Zero || r.Unit.Dim == day.Dim):
		return Type{Kind: Dates, Axes: axes}, nil, day, nil
	case r.Kind == Dates && l.Kind == Quantity && !minus && (l.Zero || l.Unit.Dim == day.Dim):
		return Type{Kind: Dates, Axes: axes}, day, nil, nil
	}
	return Type{}, nil, nil, b.fault(n, msgDateSum, l.says(), n.Op, r.says())
}

// common gives the unit in which two numbers meet: the left one's, unless the left is a literal 0.
func (b *builder) common(n syntax.Expr, l, r operand) (*unit.Unit, *syntax.Error) {
	switch {
	case l.Zero && r.Zero:
		return l.Unit, nil
	case l.Zero && !r.Unit.Absolute:
		return r.Unit, nil
	case r.Zero && !l.Unit.Absolute:
		return l.Unit, nil
	case l.Zero || r.Zero, l.Unit.Dim != r.Unit.Dim, l.Unit.Absolute != r.Unit.Absolute:
		return nil, b.fault(n, msgUnitsDiffer, l.says(), r.says())
	}
	return l.Unit, nil
}

func pickBad(l, r operand) operand {
	if l.Kind != Quantity {
		return l
	}
	return r
}

// product gives the type of a * b or a / b. Nothing is converted: the unit carries the factor.
func (b *builder) product(n *syntax.Binary, l, r operand) (Type, *syntax.Error) {
	for _, x := range []operand{l, r} {
		if x.Kind != Quantity {
			return Type{}, b.fault(n, msgNotNumber, n.Op, x.says())
		}
		if x.absolute() {
			return Type{}, b.fault(n, msgAbsoluteProduct, x.says())
		}
	}
	u := b.src.Units
	t := Type{Kind: Quantity, Axes: l.Axes | r.Axes}
	if n.Op == "*" {
		t.Unit = u.Mul(l.Unit, r.Unit)
	} else {
		t.Unit = u.Div(l.Unit, r.Unit)
	}
	if t.Unit.Beyond() {
		return Type{}, b.fault(n, msgUnitTooHigh)
	}
	return t, nil
}
