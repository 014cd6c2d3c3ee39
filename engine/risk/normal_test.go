package risk

import "testing"

// Normal scores in any table of the normal distribution (e.g. NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.6.7.1), here to six decimals. The last
// three are the checks that Wichura (1988) prints with AS 241 (from memory).
func TestNormalScores(t *testing.T) {
	for u, z := range map[float64]float64{0.5: 0, 0.9: 1.281552, 0.95: 1.644854, 0.975: 1.959964, 0.99: 2.326348} {
		near(t, "score", NormalScore(u), z, 5e-7)
		near(t, "mirror", NormalScore(1-u), -z, 5e-7)
		near(t, "share", NormalShare(z), u, 1e-7)
	}
	near(t, "AS 241 check", NormalScore(0.25), -0.6744897501960817, 1e-15)
	near(t, "AS 241 check", NormalScore(0.001), -3.090232306167814, 1e-14)
	near(t, "AS 241 check", NormalScore(1e-20), -9.262340089798408, 1e-14)
}

func TestNormalShareUndoesScore(t *testing.T) {
	for _, u := range append(midpoints(999), ends[0], ends[1]) {
		near(t, "round trip", NormalShare(NormalScore(u)), u, 1e-14)
	}
	for z, want := range map[float64]float64{-40: ends[0], 40: ends[1]} {
		if got := NormalShare(z); got != want {
			t.Errorf("share below %g is %g, want %g", z, got, want)
		}
	}
}

func BenchmarkNormal(b *testing.B) {
	u, z := make([]float64, 1<<16), make([]float64, 1<<16)
	Key{Name: "fuel_price"}.Uniforms(0, u)
	for i := range u {
		z[i] = NormalScore(u[i])
	}
	b.Run("score", func(b *testing.B) {
		sum := 0.0
		for i := range b.N {
			sum += NormalScore(u[i%(1<<16)])
		}
		benchmarkSink = sum
	})
	b.Run("share", func(b *testing.B) {
		sum := 0.0
		for i := range b.N {
			sum += NormalShare(z[i%(1<<16)])
		}
		benchmarkSink = sum
	})
}
