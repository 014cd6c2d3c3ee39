package array

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

var numbers = rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -1, 0.5, 2.5, -3, 7, 1e9, 1e-9, 1e59, -1e59, Blank, Fault(DividedByZero, 7), Fault(TooLarge, 8)})

// operand draws a row of n, or a single number.
func operand(t *rapid.T, n int, name string) Operand {
	if rapid.Bool().Draw(t, name+" single") {
		return One(numbers.Draw(t, name))
	}
	return Operand{V: rapid.SliceOfN(numbers, n, n).Draw(t, name)}
}

// TestRows: over a row every kernel gives what One gives for each cell: numbers to
// the bit, and nothing for nothing. After Repair, a blank for a blank and a fault
// for a fault too.
func TestRows(t *testing.T) {
	for op := Copy; op <= Select; op++ {
		if op == DivSure { // its promise does not hold for these numbers
			continue
		}
		t.Run(fmt.Sprint(op), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				n := rapid.IntRange(0, 9).Draw(t, "n")
				a, b, c := operand(t, n, "a"), operand(t, n, "b"), operand(t, n, "c")
				if op == Select || op == Not || op == And || op == Or { // these take 1, 0 or nothing
					a = asTruth(a)
					if op != Select {
						b = asTruth(b)
					}
				}
				dst := make([]float64, n)
				op.Apply(dst, &a, &b, &c, 3)
				for i := range dst {
					want := op.One(a.At(i), b.At(i), c.At(i), 3)
					if dst[i] != want && !(dst[i] != dst[i] && want != want) || want == 0 && math.Signbit(want) != math.Signbit(dst[i]) {
						t.Fatalf("op %d of %v, %v, %v: %v in a row, %v alone", op, a.At(i), b.At(i), c.At(i), dst[i], want)
					}
					if math.IsInf(dst[i], 0) && math.Abs(a.At(i)) <= Limit && op != Mul && op != MulAdd && op != MulSub && op != SubMul {
						t.Fatalf("op %d of %v, %v gives infinity", op, a.At(i), b.At(i))
					}
				}
				switch op {
				case Add, Sub, Mul:
					Repair(dst, &a, &b)
				case MulAdd, MulSub, SubMul:
					Repair(dst, &a, &b, &c)
				}
				for i := range dst {
					if want := op.One(a.At(i), b.At(i), c.At(i), 3); IsFault(want) != IsFault(dst[i]) || IsBlank(want) != IsBlank(dst[i]) {
						t.Fatalf("op %d of %v, %v, %v: repaired to %x, want %x", op, a.At(i), b.At(i), c.At(i), math.Float64bits(dst[i]), math.Float64bits(want))
					}
				}
			})
		})
	}
}

func asTruth(o Operand) Operand {
	f := func(x float64) float64 {
		if x != x {
			return x
		}
		return Truth(x > 0)
	}
	if o.Single {
		return One(f(o.X))
	}
	v := make([]float64, len(o.V))
	for i, x := range o.V {
		v[i] = f(x)
	}
	return Operand{V: v}
}

// TestNothing: what stands in a cell when there is no number.
func TestNothing(t *testing.T) {
	f := Fault(OutsideDomain, 123456)
	if !IsFault(f) || IsBlank(f) || IsFault(Blank) || !IsBlank(Blank) || IsBlank(0) || IsFault(0) {
		t.Fatal("blank and fault cannot be told apart")
	}
	if code, site := FaultOf(f); code != OutsideDomain || site != 123456 {
		t.Fatalf("fault %d at %d", code, site)
	}
	for _, c := range []struct {
		op      Op
		a, b    float64
		blank   bool
		code    FaultCode
		because string
	}{
		{Div, 0, 0, true, 0, "0/0 is blank"},
		{Div, 5, 0, false, DividedByZero, "a value divided by zero"},
		{Div, 1e59, 1e-9, false, TooLarge, "too large a quotient"},
		{Power, 10, 400, false, TooLarge, "a huge power"},
		{Power, -8, 1.0 / 3, false, OutsideDomain, "a root of a negative number"},
		{Power, 0, -1, false, DividedByZero, "one over zero"},
		{Root, -1, 0, false, OutsideDomain, "a root of a negative number"},
		{Log, 0, 0, false, OutsideDomain, "a logarithm of zero"},
		{Exp, 1000, 0, false, TooLarge, "a huge exponential"},
		{Add, Blank, Fault(TooLarge, 1), false, TooLarge, "a fault before a blank"},
		{Larger, Blank, 5, true, 0, "blank passes through comparison"},
		{Less, Blank, 5, true, 0, "blank passes through comparison"},
		{StepUp, 5, 0, false, OutsideDomain, "a step of zero"},
	} {
		x := c.op.One(c.a, c.b, 0, 9)
		if IsBlank(x) != c.blank || IsFault(x) == c.blank {
			t.Errorf("%s: %x", c.because, math.Float64bits(x))
		} else if code, _ := FaultOf(x); !c.blank && code != c.code {
			t.Errorf("%s: code %d", c.because, code)
		}
	}
	if got := StepUp.One(5.5, 0.25, 0, 0); got != 5.5 {
		t.Errorf("5.50 up to quarters is %v", got)
	}
}

// TestReducers against a plain loop: blanks are skipped, over blanks only nothing
// is known, and a fault stays.
func TestReducers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rows := rapid.SliceOfN(numbers, 0, 8).Draw(t, "rows")
		for _, r := range []Reducer{Total, Largest, Smallest, HowMany} {
			got := []float64{r.First()}
			want, known, fault := 0.0, 0, false
			for i, x := range rows {
				if i == 0 {
					r.Begin(got, &Operand{V: []float64{x}})
				} else {
					r.Take(got, &Operand{V: []float64{x}})
				}
				switch {
				case IsFault(x):
					fault = true
				case x == x && known == 0:
					want, known = x, 1
				case x == x:
					known++
					switch r {
					case Total:
						want += x
					case Largest:
						want = math.Max(want, x)
					case Smallest:
						want = math.Min(want, x)
					}
				}
			}
			switch {
			case fault:
				if !IsFault(got[0]) {
					t.Fatalf("%d of %v: %v, want a fault", r, rows, got[0])
				}
			case r == HowMany:
				if got[0] != float64(known) {
					t.Fatalf("how many of %v: %v", rows, got[0])
				}
			case known == 0:
				if !IsBlank(got[0]) {
					t.Fatalf("%d of %v: %v, want blank", r, rows, got[0])
				}
			case got[0] != want:
				t.Fatalf("%d of %v: %v, want %v", r, rows, got[0], want)
			}
		}
	})
}

// TestWalk: a walk visits every combination once, and each value's cell is the one
// its strides say.
func TestWalk(t *testing.T) {
	s := &Space{}
	for i, n := range []int{2, 3, 1, 4} {
		a := Axis{Name: fmt.Sprint("axis", i)}
		for j := range n {
			a.Members = append(a.Members, fmt.Sprint(j))
		}
		s.Axes = append(s.Axes, a)
	}
	rapid.Check(t, func(t *rapid.T) {
		sets := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 15), func(i int) Axes { return Axes(i) }), 3, 3).Draw(t, "sets")
		over := sets[0] | sets[1] | sets[2]
		w := NewWalk(s, over, Over(sets[0]), Over(sets[1]), Layout{In: sets[2], Along: sets[2] & sets[0]})
		n := 0
		seen := map[string]bool{}
		for more := true; more; more = w.Next() {
			rest, cell := n, [3]int{}
			list := over.List()
			for i := len(list) - 1; i >= 0; i-- {
				axis := list[i]
				at := rest % s.Axes[axis].Len()
				rest /= s.Axes[axis].Len()
				cell[0] += at * s.Stride(sets[0], axis)
				cell[1] += at * s.Stride(sets[1], axis)
				if sets[0].Has(axis) {
					cell[2] += at * s.Stride(sets[2], axis)
				}
			}
			if fmt.Sprint(cell[:]) != fmt.Sprint(w.Cell) {
				t.Fatalf("step %d over %b: %v, want %v", n, over, w.Cell, cell)
			}
			seen[fmt.Sprint(n)] = true
			n++
		}
		if n != s.Size(over) || n != w.Len() {
			t.Fatalf("%d steps over %d cells", n, s.Size(over))
		}
	})
	if got := s.Names(Only(3) | Only(0)); fmt.Sprint(got) != "[axis0 axis3]" {
		t.Error(got)
	}
	if s.Find("axis2") != 2 || s.Find("axis9") != -1 {
		t.Error("an axis is not found by its name")
	}
}
