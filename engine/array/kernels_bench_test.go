package array

import (
	"fmt"
	"testing"
)

// BenchmarkKernels measures kernels on rows that lie in the fastest cache.
func BenchmarkKernels(b *testing.B) {
	for _, n := range []int{128, 512} {
		rows := make([][]float64, 4)
		for r := range rows {
			rows[r] = make([]float64, n)
			for i := range rows[r] {
				rows[r][i] = float64((i*7+r*3)%17) - 5 + 0.25
			}
		}
		x, y, z, dst := Operand{V: rows[0]}, Operand{V: rows[1]}, Operand{V: rows[2]}, rows[3]
		for _, c := range []struct {
			name    string
			op      Op
			a, b, c Operand
		}{
			{"copy", Copy, x, Operand{}, Operand{}},
			{"guard", Guard, x, Operand{}, Operand{}},
			{"absolute", Absolute, x, Operand{}, Operand{}},
			{"add", Add, x, y, Operand{}},
			{"add-number", Add, x, One(3), Operand{}},
			{"multiply", Mul, x, y, Operand{}},
			{"divide", Div, x, y, Operand{}},
			{"smaller", Smaller, x, y, Operand{}},
			{"smaller-number", Smaller, x, One(3), Operand{}},
			{"less", Less, x, y, Operand{}},
			{"less-number", Less, x, One(3), Operand{}},
			{"multiply-add", MulAdd, x, y, z},
			{"multiply-add-numbers", MulAdd, x, One(2), One(3)},
			{"clamp", Clamp, x, One(0), One(1)},
			{"choose", Select, Operand{V: truths(n)}, x, y},
		} {
			b.Run(fmt.Sprintf("%s-%d", c.name, n), func(b *testing.B) {
				for b.Loop() {
					c.op.Apply(dst, &c.a, &c.b, &c.c, 0)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/number")
			})
		}
		b.Run(fmt.Sprintf("total-%d", n), func(b *testing.B) {
			clear(dst)
			for b.Loop() {
				Total.Take(dst, &x)
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/number")
		})
	}
}

func truths(n int) []float64 {
	t := make([]float64, n)
	for i := range t {
		t[i] = Truth(i*i%5 < 2)
	}
	return t
}
