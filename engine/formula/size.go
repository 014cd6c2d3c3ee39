package formula

import (
	"math"

	"wintertruss/engine/array"
)

// Infinity must never stand in a cell, but looking at every sum and product would
// cost as much as computing them. So the compiler bounds every value by a power of
// ten before anything runs, and guards only those that could leave the numbers.
//
// A draw is cut at 1e18. A typed input is taken to stay within ten times what it
// is; Update sends a larger one back to Compile. What can grow beyond 1e290 is
// guarded, and is then a number within array.Limit or a fault. Between that limit
// and 1e290 a cell may be the one or the other; nothing that is grown or paid for
// comes near.
const (
	drawnSize = 18
	headroom  = 1
	guardSize = 60
	inMath    = 290
)

// constSize is the power of ten that bounds a number.
func constSize(x float64) float64 {
	if x == 0 || x != x {
		return 0
	}
	return math.Max(0, math.Log10(math.Abs(x)))
}

// inputTable makes the table of an input's cells.
func inputTable(axes array.Axes, plain []float64, sampler Sampler) table {
	t := table{axes: axes, plain: plain, sampler: sampler}
	if sampler != nil {
		t.size = drawnSize
	}
	for _, x := range plain {
		t.size = math.Max(t.size, constSize(x)+headroom)
	}
	return t
}

// holds says whether other cells are within what the compiler took an input to be.
func (t *table) holds(plain []float64) bool {
	for _, x := range plain {
		if constSize(x) > t.size {
			return false
		}
	}
	return true
}

// sizeOf bounds a value by a power of ten, from the bounds of what it is made of.
func (b *builder) sizeOf(v *value) float64 {
	of := func(i int32) float64 {
		if i < 0 {
			return 0
		}
		return b.size[i]
	}
	x, y, z := of(v.a), of(v.b), of(v.c)
	switch v.op {
	case vConst:
		return constSize(v.imm)
	case vInput:
		return b.p.tables[v.aux].size
	case vReduce:
		return x + constSize(float64(b.src.Space.Size(v.over)))
	case vGroup:
		return y + constSize(float64(b.src.Space.Size(v.over)))
	case vVia:
		return y
	case vCall, vOutput:
		return guardSize
	case vOdds:
		return 0
	case vElement:
		if v.eop == array.DivSure {
			return x + constSize(1/b.p.vals[v.b].imm)
		}
		return growth(v.eop, x, y, z)
	}
	return math.Max(x, y)
}

// growth bounds the result of a kernel over cells. A sum can be twice as large.
func growth(op array.Op, x, y, z float64) float64 {
	const twice = 0.31
	switch op {
	case array.Mul:
		return x + y
	case array.Add, array.Sub:
		return math.Max(x, y) + twice
	case array.MulAdd, array.MulSub, array.SubMul:
		return math.Max(x+y, z) + twice
	case array.Div, array.Power, array.Exp, array.Guard, array.StepNear, array.StepUp, array.StepDown:
		return guardSize
	case array.Log:
		return 3
	case array.Select, array.Clamp:
		return math.Max(y, z)
	case array.Less, array.LessEq, array.Greater, array.GreaterEq, array.Equal, array.Unequal, array.And, array.Or, array.Not, array.Known:
		return 0
	}
	return math.Max(x, math.Max(y, z))
}

// mostBounds is how many bounds guardLoop works out before it gives up.
const mostBounds = 1_000_000

// guardLoop bounds a loop that was just lowered, week by week: what goes round may
// grow every time. When it stays within the numbers to the end of the season, as
// stocks and balances do, nothing is guarded; else every row that is carried over
// to the next week is.
func (b *builder) guardLoop() {
	first := int(b.loop)
	weeks := b.src.Season.Len()
	carried := map[int32]float64{}
	for _, r := range b.open {
		carried[r.value] = b.size[b.p.vals[r.value].b]
	}
	size := append([]float64(nil), b.size[first:]...) // as it is when the rows are guarded
	if weeks*len(size) <= mostBounds {
		for range weeks {
			within := true
			for i := first; i < len(b.p.vals); i++ {
				v := &b.p.vals[i]
				if v.loop != b.loop {
					continue
				}
				if c, ok := carried[int32(i)]; ok {
					b.size[i] = c
				} else {
					b.size[i] = b.sizeOf(v)
				}
				within = within && b.size[i] <= inMath
			}
			if !within {
				break
			}
			for i := range carried {
				carried[i] = math.Max(carried[i], b.size[b.p.vals[i].a])
			}
			weeks--
		}
	}
	if weeks == 0 {
		return
	}
	copy(b.size[first:], size)
	for _, r := range b.open {
		b.p.vals[r.value].eop = array.Guard
	}
}
