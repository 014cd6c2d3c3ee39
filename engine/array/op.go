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
	DivSure             // a / b, where b is known not to be 0 and the result to be within Limit
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
	Known               // 1 where a is known, 0 where it is blank; a fault stays one
	MulAdd              // a*b + c, rounded twice
	MulSub              // a*b - c, rounded twice
	SubMul              // c - a*b, rounded twice
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

// At gives the number at place i of the row.
func (o Operand) At(i int) float64 {
	if o.Single || o.V == nil {
		return o.X
	}
	return o.V[i]
}

// Part gives places from .. to-1 of the row.
func (o Operand) Part(from, to int) Operand {
	if o.Single {
		return o
	}
	return Operand{V: o.V[from:to]}
}

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
	case DivSure:
		return orWorse(a/b, a, b)
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
		if IsFault(a) {
			return a
		}
		return Truth(a == a)
	case MulAdd:
		return Add.One(Mul.One(a, b, 0, site), c, 0, site)
	case MulSub:
		return Sub.One(Mul.One(a, b, 0, site), c, 0, site)
	case SubMul:
		return Sub.One(c, Mul.One(a, b, 0, site), 0, site)
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
// Rows leave this to the processor, which hands on the first operand that is
// nothing; where that can be the wrong one, Repair comes after.
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
