package array

import "math"

// truth turns a comparison into 1 or 0 without a branch: the compiler makes the
// bool a bit, and the bit picks the pattern of 1.
func truth(b bool) float64 {
	var i uint64
	if b {
		i = 1
	}
	return math.Float64frombits(-i & 0x3FF0000000000000)
}

// CopyTo fills a row.
func (o *Operand) CopyTo(dst []float64) {
	if !o.Single {
		copy(dst, o.V)
		return
	}
	for i := range dst {
		dst[i] = o.X
	}
}

// Apply runs op over a row. Unary kernels do not look at b and c, binary ones not
// at c. dst may be the row of a, b or c, but not of the last two of a Clamp.
func (op Op) Apply(dst []float64, a, b, c *Operand, site int) {
	switch op {
	case MulAdd:
		mulAdd(dst, a, b, c)
		return
	case MulSub:
		mulSub(dst, a, b, c)
		return
	case SubMul:
		subMul(dst, a, b, c)
		return
	case Clamp:
		clamp(dst, a, b, c)
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
func binary(op Op, dst []float64, a, b *Operand, site int) {
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
		case DivSure:
			for i := range dst {
				dst[i] = av[i] / x
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
	if x != x {
		nothingOf(dst, x, v)
		return
	}
	v = v[:len(dst)]
	for i := range dst {
		r := min(v[i], x)
		if r != r {
			r = v[i]
		}
		dst[i] = r
	}
}

func largerOf(dst []float64, x float64, v []float64) {
	if x != x {
		nothingOf(dst, x, v)
		return
	}
	v = v[:len(dst)]
	for i := range dst {
		r := max(v[i], x)
		if r != r {
			r = v[i]
		}
		dst[i] = r
	}
}

// below gives v < x.
func below(dst, v []float64, x float64) {
	if x != x {
		nothingOf(dst, x, v)
		return
	}
	v = v[:len(dst)]
	for i := range dst {
		y := v[i]
		r := truth(y < x)
		if y != y {
			r = y
		}
		dst[i] = r
	}
}

// above gives v > x.
func above(dst, v []float64, x float64) {
	if x != x {
		nothingOf(dst, x, v)
		return
	}
	v = v[:len(dst)]
	for i := range dst {
		y := v[i]
		r := truth(y > x)
		if y != y {
			r = y
		}
		dst[i] = r
	}
}

// nothingOf gives what comes of x, which is blank or a fault, and each of v.
func nothingOf(dst []float64, x float64, v []float64) {
	for i := range dst {
		dst[i] = worse(x, v[i])
	}
}

func mulAdd(dst []float64, a, b, c *Operand) {
	n := len(dst)
	if a.Single {
		a, b = b, a
	}
	switch {
	case a.Single:
		product := One(a.X * b.X)
		Add.Apply(dst, &product, c, c, 0)
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

func mulSub(dst []float64, a, b, c *Operand) {
	n := len(dst)
	if a.Single {
		a, b = b, a
	}
	switch {
	case a.Single:
		product := One(a.X * b.X)
		Sub.Apply(dst, &product, c, c, 0)
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

func subMul(dst []float64, a, b, c *Operand) {
	n := len(dst)
	if a.Single {
		a, b = b, a
	}
	switch {
	case a.Single:
		product := One(a.X * b.X)
		Sub.Apply(dst, c, &product, c, 0)
	case b.Single && c.Single:
		av, x, y := a.V[:n], b.X, c.X
		for i := range dst {
			dst[i] = y - float64(av[i]*x)
		}
	case b.Single:
		av, x, cv := a.V[:n], b.X, c.V[:n]
		for i := range dst {
			dst[i] = cv[i] - float64(av[i]*x)
		}
	case c.Single:
		av, bv, y := a.V[:n], b.V[:n], c.X
		for i := range dst {
			dst[i] = y - float64(av[i]*bv[i])
		}
	default:
		av, bv, cv := a.V[:n], b.V[:n], c.V[:n]
		for i := range dst {
			dst[i] = cv[i] - float64(av[i]*bv[i])
		}
	}
}

// Repair comes after the row of a sum or a product (Add to DivSure but for Div,
// MulAdd to SubMul), where one operand can be blank and another a fault: the
// processor hands on whichever stands first, the language wants the fault.
// dst is not the row of an operand.
func Repair(dst []float64, operands ...*Operand) {
	known := true
	for _, x := range dst {
		known = known && x == x
	}
	if known {
		return
	}
	for _, o := range operands {
		if o.Single && !IsFault(o.X) {
			continue
		}
		for i, x := range dst {
			if x != x && IsBlank(x) && IsFault(o.At(i)) {
				dst[i] = o.At(i)
			}
		}
	}
}

func clamp(dst []float64, a, lo, hi *Operand) {
	if a.Single || !lo.Single || !hi.Single || lo.X != lo.X || hi.X != hi.X {
		Larger.Apply(dst, a, lo, lo, 0)
		Smaller.Apply(dst, &Operand{V: dst}, hi, hi, 0)
		return
	}
	av, l, h := a.V[:len(dst)], lo.X, hi.X
	for i := range dst {
		r := min(max(av[i], l), h)
		if r != r {
			r = av[i]
		}
		dst[i] = r
	}
}

func choose(dst []float64, a, b, c *Operand) {
	n := len(dst)
	if a.Single {
		switch {
		case a.X != a.X:
			b = a
		case a.X == 0:
			b = c
		}
		b.CopyTo(dst)
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
