package risk

import (
	"math"
	"slices"
	"testing"
)

func weekly(name string, weeks, n int) [][]float64 {
	us := make([][]float64, weeks)
	for w := range us {
		us[w] = draws(Key{1, name, "", 2950 + w}, n)
	}
	return us
}

// correlation of the normal scores of two vectors of uniforms.
func scoresAgree(u, v []float64) float64 {
	sum := 0.0
	for i := range u {
		sum += NormalScore(u[i]) * NormalScore(v[i])
	}
	return sum / float64(len(u))
}

// A first-order autoregression keeps k^h after h weeks (Box and Jenkins 1970,
// section 3.2), and each week stays uniform. Averaged over the pairs of weeks, with
// 2,048 draws, the correlation is certain to about 0.005.
func TestPersistentFadesByPowers(t *testing.T) {
	const weeks, n = 30, 2048
	for _, keeps := range []float64{0.6, 0.9, -0.4} {
		us := weekly("outside_shift", weeks, n)
		Persistent(us, keeps)
		for lag := 1; lag <= 3; lag++ {
			sum := 0.0
			for w := lag; w < weeks; w++ {
				sum += scoresAgree(us[w-lag], us[w]) / float64(weeks-lag)
			}
			near(t, "correlation", sum, math.Pow(keeps, float64(lag)), 0.025)
		}
		for w, week := range us {
			mean, square := 0.0, 0.0
			for _, u := range week {
				if u < ends[0] || u > ends[1] {
					t.Fatalf("week %d: draw %g", w, u)
				}
				mean += u / n
				square += (u - 0.5) * (u - 0.5) / n
			}
			// Plain draws: standard errors sqrt(1/12/n) = 0.0064 and
			// sqrt(1/180/n) = 0.0016.
			near(t, "mean", mean, 0.5, 5*0.0064)
			near(t, "variance", square, 1.0/12, 5*0.0016)
		}
	}
}

func TestPersistentEdges(t *testing.T) {
	before := weekly("a", 4, 64)
	none, all := weekly("a", 4, 64), weekly("a", 4, 64)
	Persistent(none, 0)
	Persistent(all, 1)
	Persistent(nil, 0.5)
	for w := range before {
		if !slices.Equal(none[w], before[w]) {
			t.Errorf("keeping nothing changed week %d", w)
		}
		for i := range all[w] {
			near(t, "keeping all repeats the first week", all[w][i], before[0][i], 1e-14)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("no panic for a persistence of 1.5")
		}
	}()
	Persistent(none, 1.5)
}

// Draws are independent of each other: the same in blocks as in one piece.
func TestPersistentInBlocks(t *testing.T) {
	whole, pieces := weekly("a", 6, 256), weekly("a", 6, 256)
	Persistent(whole, 0.6)
	for first := 0; first < 256; first += 64 {
		block := make([][]float64, len(pieces))
		for w := range pieces {
			block[w] = pieces[w][first : first+64]
		}
		Persistent(block, 0.6)
	}
	for w := range whole {
		if !slices.Equal(whole[w], pieces[w]) {
			t.Errorf("week %d differs", w)
		}
	}
}

func BenchmarkPersistent(b *testing.B) {
	fresh, us := weekly("a", 52, 1024), weekly("a", 52, 1024)
	for range b.N {
		// Bending bent draws again would push them all to the ends.
		for w := range us {
			copy(us[w], fresh[w])
		}
		Persistent(us, 0.6)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/52/1024, "ns/draw")
}
