package array

import "math"

// Op is what a kernel computes.
type Op uint8

const (
	Copy      Op = iota // a
	Guard               // a, a fault when larger than Limit
	Negate              // -a
	Absolute            // |a|
	Root                // square root of a
	Exp                 // e^a
	Log                 // natural logarithm of a
	Not                 // 1 - a
	Add                 // a + b
	Sub                 // a - b
	Mul                 // a * b
	Div                 // a / b
	Power               // a ^ b
	Smaller             // the smaller of a and b
	Larger              // the larger of a and b
	Less                // a < b, and so on: 1 or 0
	LessEq              //
	Greater             //
	GreaterEq           //
	Equal               //
	Unequal             //
	And                 // a and b
	Or                  // a or b
	StepNear            // a to the nearest multiple of b, half away from zero
	StepUp              // a up to a multiple of b
	StepDown            // a down to a multiple of b
	Known               // 1 where a is known, 0 where it is blank
	MulAdd              // a*b + c, rounded twice
	MulSub              // a*b - c, rounded twice
	Clamp               // a, not below b and not above c
	Select              // b where a is true, c where it is not
)

// Operand is one argument of a kernel: a row of numbers, or a single one that
// stands for the whole row.
type Operand struct {
	V      []float64
	X      float64
	Single bool
}

// One gives the operand of a single number.
func One(x float64) Operand { return Operand{X: x, Single: true} }

// One gives op over single numbers. site goes into faults. It is the definition
// that the loops below repeat.
func (op Op) One(a, b, c float64, site int) float64 {
	switch op {
	case Copy:
		return a
	case Guard:
		if math.Abs(a) > Limit {
			return Fault(TooLarge, site)
		}
		return a
	case Negate:
		return -a
	case Absolute:
		return math.Abs(a)
	case Root:
		if a < 0 {
			return Fault(OutsideDomain, site)
		}
		return math.Sqrt(a)
	case Exp:
		return checked(a, 0, math.Exp(a), site)
	case Log:
		if a <= 0 {
			return Fault(OutsideDomain, site)
		}
		if a != a {
			return a
		}
		return math.Log(a)
	case Not:
		return 1 - a
	case Add:
		return orWorse(a+b, a, b)
	case Sub:
		return orWorse(a-b, a, b)
	case Mul:
		return orWorse(a*b, a, b)
	case Div:
		return divide(a, b, site)
	case Power:
		if a != a || b != b {
			return worse(a, b)
		}
		if a < 0 && b != math.Trunc(b) {
			return Fault(OutsideDomain, site)
		}
		if a == 0 && b < 0 {
			return Fault(DividedByZero, site)
		}
		return checked(a, b, math.Pow(a, b), site)
	case Smaller:
		if a != a || b != b {
			return worse(a, b)
		}
		return min(a, b)
	case Larger:
		if a != a || b != b {
			return worse(a, b)
		}
		return max(a, b)
	case And, Or, Less, LessEq, Greater, GreaterEq, Equal, Unequal:
		if a != a || b != b {
			return worse(a, b)
		}
		return Truth(op.holds(a, b))
	case StepNear, StepUp, StepDown:
		if a != a || b != b {
			return worse(a, b)
		}
		if b <= 0 {
			return Fault(OutsideDomain, site)
		}
		return checked(a, b, toStep(op, a, b), site)
	case Known:
		return Truth(!IsBlank(a))
	case MulAdd:
		return Add.One(Mul.One(a, b, 0, site), c, 0, site)
	case MulSub:
		return Sub.One(Mul.One(a, b, 0, site), c, 0, site)
	case Clamp:
		return Smaller.One(Larger.One(a, b, 0, site), c, 0, site)
	case Select:
		if a != a {
			return a
		}
		if a != 0 {
			return b
		}
		return c
	}
	panic("array: unknown op")
}

func (op Op) holds(a, b float64) bool {
	switch op {
	case Less:
		return a < b
	case LessEq:
		return a <= b
	case Greater:
		return a > b
	case GreaterEq:
		return a >= b
	case Equal:
		return a == b
	case Unequal:
		return a != b
	case And:
		return a != 0 && b != 0
	}
	return a != 0 || b != 0
}

// worse gives what comes of two cells of which one at least holds nothing: a fault before a blank.
func worse(a, b float64) float64 {
	if IsFault(a) {
		return a
	}
	if IsFault(b) {
		return b
	}
	return Blank
}

// orWorse gives x unless it is nothing; then a fault of a or b before a blank.
// The rows below leave this to the processor, which hands on the first operand
// that is nothing: in a draw, a blank and a fault count alike.
func orWorse(x, a, b float64) float64 {
	if x == x {
		return x
	}
	return worse(a, b)
}

// checked gives x, or a fault when it left the numbers though a and b did not.
func checked(a, b, x float64, site int) float64 {
	if math.Abs(x) <= Limit {
		return x
	}
	if a != a || b != b {
		return worse(a, b)
	}
	return Fault(TooLarge, site)
}

func divide(a, b float64, site int) float64 {
	r := a / b
	if math.Abs(r) <= Limit {
		return r
	}
	switch {
	case a != a || b != b:
		return worse(a, b)
	case b != 0:
		return Fault(TooLarge, site)
	case a == 0:
		return Blank
	}
	return Fault(DividedByZero, site)
}

// toStep rounds to a step. A quotient that is a whole number but for the last
// bits of the division counts as whole, so that 5.50 up to steps of 0.25 stays 5.50.
func toStep(op Op, a, step float64) float64 {
	q := a / step
	whole := math.Round(q)
	if math.Abs(q-whole) <= 1e-9*math.Max(1, math.Abs(q)) {
		return whole * step
	}
	switch op {
	case StepUp:
		return math.Ceil(q) * step
	case StepDown:
		return math.Floor(q) * step
	}
	return whole * step
}

// truth turns a comparison into 1 or 0 without a branch: the compiler makes the
// bool a bit, and the bit picks the pattern of 1.
func truth(b bool) float64 {
	var i uint64
	if b {
		i = 1
	}
	return math.Float64frombits(-i & 0x3FF0000000000000)
}

// Apply runs op over a row. Unary kernels ignore b and c, binary ones c.
func (op Op) Apply(dst []float64, a, b, c Operand, site int) {
	switch op {
	case MulAdd:
		mulAdd(dst, a, b, c)
		return
	case MulSub:
		mulSub(dst, a, b, c)
		return
	case Clamp:
		clamp(dst, a, b, c, site)
		return
	case Select:
		choose(dst, a, b, c)
		return
	}
	if a.Single && (b.Single || op < Add || op == Known) {
		x := op.One(a.X, b.X, c.X, site)
		for i := range dst {
			dst[i] = x
		}
		return
	}
	if op < Add || op == Known {
		unary(op, dst, a.V, site)
		return
	}
	binary(op, dst, a, b, site)
}

func unary(op Op, dst, a []float64, site int) {
	a = a[:len(dst)]
	switch op {
	case Copy:
		copy(dst, a)
	case Negate:
		for i := range dst {
			dst[i] = -a[i]
		}
	case Absolute:
		for i := range dst {
			dst[i] = math.Abs(a[i])
		}
	case Guard:
		for i := range dst {
			x := a[i]
			if math.Abs(x) > Limit {
				x = Fault(TooLarge, site)
			}
			dst[i] = x
		}
	default:
		for i := range dst {
			dst[i] = op.One(a[i], 0, 0, site)
		}
	}
}

// binary has each common loop in its three forms, so that the compiler keeps the
// single number in a register and drops the bound checks.
func binary(op Op, dst []float64, a, b Operand, site int) {
	n := len(dst)
	switch {
	case a.Single:
		x, bv := a.X, b.V[:n]
		switch op {
		case Add:
			for i := range dst {
				dst[i] = x + bv[i]
			}
		case Sub:
			for i := range dst {
				dst[i] = x - bv[i]
			}
		case Mul:
			for i := range dst {
				dst[i] = x * bv[i]
			}
		case Smaller:
			smallerOf(dst, x, bv)
		case Larger:
			largerOf(dst, x, bv)
		case Less:
			above(dst, bv, x)
		case Greater:
			below(dst, bv, x)
		default:
			for i := range dst {
				dst[i] = op.One(x, bv[i], 0, site)
			}
		}
	case b.Single:
		av, x := a.V[:n], b.X
		switch op {
		case Add:
			for i := range dst {
				dst[i] = av[i] + x
			}
		case Sub:
			for i := range dst {
				dst[i] = av[i] - x
			}
		case Mul:
			for i := range dst {
				dst[i] = av[i] * x
			}
		case Div:
			for i := range dst {
				r := av[i] / x
				if !(math.Abs(r) <= Limit) {
					r = divide(av[i], x, site)
				}
				dst[i] = r
			}
		case Smaller:
			smallerOf(dst, x, av)
		case Larger:
			largerOf(dst, x, av)
		case Less:
			below(dst, av, x)
		case Greater:
			above(dst, av, x)
		default:
			for i := range dst {
				dst[i] = op.One(av[i], x, 0, site)
			}
		}
	default:
		av, bv := a.V[:n], b.V[:n]
		switch op {
		case Add:
			for i := range dst {
				dst[i] = av[i] + bv[i]
			}
		case Sub:
			for i := range dst {
				dst[i] = av[i] - bv[i]
			}
		case Mul:
			for i := range dst {
				dst[i] = av[i] * bv[i]
			}
		case Div:
			for i := range dst {
				r := av[i] / bv[i]
				if !(math.Abs(r) <= Limit) {
					r = divide(av[i], bv[i], site)
				}
				dst[i] = r
			}
		case Smaller:
			for i := range dst {
				r := min(av[i], bv[i])
				if r != r {
					r = worse(av[i], bv[i])
				}
				dst[i] = r
			}
		case Larger:
			for i := range dst {
				r := max(av[i], bv[i])
				if r != r {
					r = worse(av[i], bv[i])
				}
				dst[i] = r
			}
		case Less:
			for i := range dst {
				x, y := av[i], bv[i]
				r := truth(x < y)
				if x != x || y != y {
					r = worse(x, y)
				}
				dst[i] = r
			}
		default:
			for i := range dst {
				dst[i] = op.One(av[i], bv[i], 0, site)
			}
		}
	}
}

func smallerOf(dst []float64, x float64, v []float64) {
	v = v[:len(dst)]
	for i := range dst {
		r := min(v[i], x)
		if r != r {
			r = worse(v[i], x)
		}
		dst[i] = r
	}
}

func largerOf(dst []float64, x float64, v []float64) {
	v = v[:len(dst)]
	for i := range dst {
		r := max(v[i], x)
		if r != r {
			r = worse(v[i], x)
		}
		dst[i] = r
	}
}

// below gives v < x.
func below(dst, v []float64, x float64) {
	v = v[:len(dst)]
	for i := range dst {
		y := v[i]
		r := truth(y < x)
		if y != y || x != x {
			r = worse(y, x)
		}
		dst[i] = r
	}
}

// above gives v > x.
func above(dst, v []float64, x float64) {
	v = v[:len(dst)]
	for i := range dst {
		y := v[i]
		r := truth(y > x)
		if y != y || x != x {
			r = worse(y, x)
		}
		dst[i] = r
	}
}

func mulAdd(dst []float64, a, b, c Operand) {
	n := len(dst)
	if a.Single {
		a, b = b, a
	}
	switch {
	case a.Single:
		binary3(Add, dst, One(a.X*b.X), c)
	case b.Single && c.Single:
		av, x, y := a.V[:n], b.X, c.X
		for i := range dst {
			dst[i] = float64(av[i]*x) + y
		}
	case b.Single:
		av, x, cv := a.V[:n], b.X, c.V[:n]
		for i := range dst {
			dst[i] = float64(av[i]*x) + cv[i]
		}
	case c.Single:
		av, bv, y := a.V[:n], b.V[:n], c.X
		for i := range dst {
			dst[i] = float64(av[i]*bv[i]) + y
		}
	default:
		av, bv, cv := a.V[:n], b.V[:n], c.V[:n]
		for i := range dst {
			dst[i] = float64(av[i]*bv[i]) + cv[i]
		}
	}
}

func mulSub(dst []float64, a, b, c Operand) {
	n := len(dst)
	if a.Single {
		a, b = b, a
	}
	switch {
	case a.Single:
		binary3(Sub, dst, One(a.X*b.X), c)
	case b.Single && c.Single:
		av, x, y := a.V[:n], b.X, c.X
		for i := range dst {
			dst[i] = float64(av[i]*x) - y
		}
	case b.Single:
		av, x, cv := a.V[:n], b.X, c.V[:n]
		for i := range dst {
			dst[i] = float64(av[i]*x) - cv[i]
		}
	case c.Single:
		av, bv, y := a.V[:n], b.V[:n], c.X
		for i := range dst {
			dst[i] = float64(av[i]*bv[i]) - y
		}
	default:
		av, bv, cv := a.V[:n], b.V[:n], c.V[:n]
		for i := range dst {
			dst[i] = float64(av[i]*bv[i]) - cv[i]
		}
	}
}

// binary3 is binary for operands of which both may be single.
func binary3(op Op, dst []float64, a, b Operand) { op.Apply(dst, a, b, Operand{}, 0) }

func clamp(dst []float64, a, lo, hi Operand, site int) {
	if a.Single || !lo.Single || !hi.Single || lo.X != lo.X || hi.X != hi.X {
		Larger.Apply(dst, a, lo, Operand{}, site)
		Smaller.Apply(dst, Operand{V: dst}, hi, Operand{}, site)
		return
	}
	av, l, h := a.V[:len(dst)], lo.X, hi.X
	for i := range dst {
		r := min(max(av[i], l), h)
		if r != r {
			r = worse(av[i], av[i])
		}
		dst[i] = r
	}
}

func choose(dst []float64, a, b, c Operand) {
	n := len(dst)
	if a.Single {
		switch {
		case a.X != a.X:
			b = One(a.X)
		case a.X == 0:
			b = c
		}
		Copy.Apply(dst, b, Operand{}, Operand{}, 0)
		return
	}
	av := a.V[:n]
	if b.Single && c.Single {
		x, y := math.Float64bits(b.X), math.Float64bits(c.X)
		for i := range dst {
			r, t := x, av[i]
			if t == 0 {
				r = y
			}
			if t != t {
				r = math.Float64bits(t)
			}
			dst[i] = math.Float64frombits(r)
		}
		return
	}
	if b.Single || c.Single {
		for i := range dst {
			x, y := b.X, c.X
			if !b.Single {
				x = b.V[i]
			}
			if !c.Single {
				y = c.V[i]
			}
			r, t := x, av[i]
			if t == 0 {
				r = y
			}
			if t != t {
				r = t
			}
			dst[i] = r
		}
		return
	}
	bv, cv := b.V[:n], c.V[:n]
	for i := range dst {
		r, t := math.Float64bits(bv[i]), av[i]
		if t == 0 {
			r = math.Float64bits(cv[i])
		}
		if t != t {
			r = math.Float64bits(t)
		}
		dst[i] = math.Float64frombits(r)
	}
}
