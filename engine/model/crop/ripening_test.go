package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

// daysToRipe walks daily means of the air.
func daysToRipe(t *testing.T, air []float64) float64 {
	t.Helper()
	gain := make([]float64, len(air))
	for i, a := range air {
		gain[i] = StageGain(a)
	}
	d, ok := Reached(gain, 1, 0, 1)
	if !ok {
		t.Fatal("never ripe")
	}
	return d
}

func TestStageGain(t *testing.T) {
	// Adams, Cockshull & Cave 2001, Ann. Bot. 88:869-877 (abstract): days to ripe.
	for air, want := range map[float64]float64{14: 95, 18: 65, 22: 46, 26: 42} {
		near(t, "days to ripe", daysToRipe(t, []float64{air}), want, 1e-9)
	}
	// The straight-line form, -0.00066 + 0.001 T (Vanthoor et al. 2011, table 3,
	// after de Koning 1994): worked by hand; a sum of 1034 degree days at 20 degC.
	for air, want := range map[float64]float64{17: 61.2, 20: 51.7, 23: 44.8, 27: 38.0} {
		near(t, "straight line", 1/LinearStageGain(air), want, 0.1)
	}
	near(t, "degree days", 20/LinearStageGain(20), 1034, 2)
	// The two agree in the middle of what both measured; in the cool and at 26 degC
	// they do not (Adams 42 days, the line 39.5).
	for air := 20.0; air <= 24; air++ {
		near(t, "two forms", StageGain(air)/LinearStageGain(air), 1, 0.05)
	}
	// Twenty days at 18 degC gain 20/65; the rest at 22 degC takes 46 x 45/65 = 31.8
	// days more (worked by hand from Adams et al. 2001).
	air := make([]float64, 60)
	for i := range air {
		air[i] = 22
		if i < 20 {
			air[i] = 18
		}
	}
	near(t, "cool, then warm", daysToRipe(t, air), 52, 1)
	// Development follows the mean of 24 hours (Adams et al. 2001, abstract): 12 h at
	// 24 and 12 h at 14 degC are 19 degC, 59 days by the points at 18 and 22 degC.
	near(t, "day and night", daysToRipe(t, []float64{(24 + 14) / 2.}), 59, 1)
	// Cherry tomato, Columbus, Ohio, 2024: trusses 5 to 15 took 42.4 days at 23.7 to
	// 25.4 degC; cherry takes no factor.
	near(t, "cherry, warm", DaysFactor(Cherry)*daysToRipe(t, []float64{24.5}), 42.4, 3)
	// The Netherlands, 2019: large round, picked as whole trusses, 74.3 days at a
	// mean that takes a single fruit 60.8.
	near(t, "large, whole trusses", DaysFactor(Large)*60.8, 74.3, 2)
}

func TestStageGainEdges(t *testing.T) {
	near(t, "at the cold limit", StageGain(12), 0, 0)
	near(t, "frost", StageGain(-10), 0, 0)
	near(t, "hotter than measured", StageGain(40), StageGain(27), 0)
	last := 0.0
	for air := 8.0; air < 30; air += 0.01 {
		g := StageGain(air)
		if g < last || g > last+0.00015 {
			t.Fatalf("gain goes from %v to %v at %v degC", last, g, air)
		}
		last = g
	}
}

// crop of n weeks: set and air at random, with cold weeks, gaps and a bump.
func someSeason(r *rand.Rand, n int) (set, air []float64) {
	set, air = make([]float64, n), make([]float64, n)
	base := 10 + 12*r.Float64()
	for w := range set {
		air[w] = base + 8*math.Sin(float64(w)/8) + 3*r.NormFloat64()
		if r.IntN(4) > 0 {
			set[w] = 1000 * r.Float64()
		}
	}
	return set, air
}

func ripen(set, air []float64, spread float64) (ripe, hanging []float64) {
	n := len(set)
	gain := make([]float64, n)
	for w, a := range air {
		gain[w] = StageGain(a)
	}
	ripe, hanging = make([]float64, n), make([]float64, n)
	Ripening(ripe, hanging, set, gain, spread, make([]float64, n))
	return ripe, hanging
}

func running(x []float64) []float64 {
	y, s := make([]float64, len(x)), 0.0
	for i, v := range x {
		s += v
		y[i] = s
	}
	return y
}

func TestRipeningByHand(t *testing.T) {
	// At 18 degC a fruit takes 65 days (Adams et al. 2001): what is set evenly in one
	// week is ripe from 9 weeks and 2 days after that week began, to 10 weeks and 2
	// days: five sevenths, then two.
	set, air := make([]float64, 20), make([]float64, 20)
	set[3] = 70
	for w := range air {
		air[w] = 18
	}
	ripe, hanging := ripen(set, air, 0)
	for w := range ripe {
		want, left := 0.0, 0.0
		switch {
		case w == 12:
			want, left = 50, 20
		case w == 13:
			want = 20
		case w >= 3 && w < 12:
			left = 70
		}
		near(t, "ripe", ripe[w], want, 1e-9)
		near(t, "hanging", hanging[w], left, 1e-9)
	}
	// Picked loose over 14 days: a trapezoid that begins with the first fruit's day,
	// 9 weeks and 2 days on, and ends 14 days after the last one's. Its area, in
	// 1/98ths of the fruit (a rise of 7 days, a level of 7, a fall of 7): the first
	// 5 days 12.5; 12 days 24.5 + 35 = 59.5; 19 days 98 - 2; then all.
	ripe, hanging = ripen(set, air, 14)
	for i, share := range []float64{12.5, 47, 36.5, 2} {
		near(t, "loose", ripe[12+i], 70*share/98, 1e-9)
	}
	near(t, "none left", hanging[15], 0, 1e-9)
}

// Against the definition, done the long way: each week's fruit in a great many
// lots, each walked through its own temperatures.
func TestRipeningAgainstLots(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	const lots, n = 500, 40
	for range 6 {
		set, air := someSeason(r, n)
		gain := make([]float64, n)
		for w, a := range air {
			gain[w] = StageGain(a)
		}
		want := make([]float64, n)
		for w, fruit := range set {
			for lot := range lots {
				at, ok := Reached(gain, WeekDays, WeekDays*(float64(w)+(float64(lot)+0.5)/lots), 1)
				if ok && at < WeekDays*n {
					want[int(at/WeekDays)] += fruit / lots
				}
			}
		}
		got, _ := ripen(set, air, 0)
		for w := range got {
			near(t, "ripe", got[w], want[w], 12) // a few lots of 2 fruit may fall on either side of a week's edge
		}
	}
}

func TestRipeningLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	for round := range 300 {
		const n = 53
		set, air := someSeason(r, n)
		spread := 0.0
		if round%2 == 1 {
			spread = 20 * r.Float64()
		}
		ripe, hanging := ripen(set, air, spread)
		picked, total := running(ripe), running(set)
		for w := range ripe {
			if ripe[w] < 0 || hanging[w] < 0 {
				t.Fatalf("less than nothing: ripe %v, hanging %v", ripe[w], hanging[w])
			}
			near(t, "set = ripe + hanging", picked[w]+hanging[w], total[w], 1e-9*(1+total[w]))
		}

		// Warmer in any one week: at no time fewer picked in all.
		warm := append([]float64(nil), air...)
		at := r.IntN(n)
		warm[at] += 2 * r.Float64()
		warmRipe, _ := ripen(set, warm, spread)
		for w, p := range running(warmRipe) {
			if p < picked[w]-1e-9*(1+total[w]) {
				t.Fatalf("warming week %d makes fruit later: %v against %v by week %d", at, p, picked[w], w)
			}
		}

		// A thousandth of a degree in every week moves few fruit: of a stage of 1, each
		// week ahead gains at most 0.0001 (the steepest gain, in the fade from 13 to 12
		// degC, is 0.0094 a day and degree), so by the end of a long hang the front has
		// moved by hours. Only in weeks above 13 degC, where the front's pace is bounded.
		mild, bit := make([]float64, n), make([]float64, n)
		for w, a := range air {
			mild[w] = max(14, a)
			bit[w] = mild[w] + 0.001
		}
		a, _ := ripen(set, mild, spread)
		b, _ := ripen(set, bit, spread)
		for w, p := range running(b) {
			if d := p - running(a)[w]; d > 1000*0.02 {
				t.Fatalf("a thousandth of a degree moves %v fruit by week %d", d, w)
			}
		}

		// Two part crops, picked apart and together.
		other, _ := someSeason(r, n)
		both := make([]float64, n)
		for w := range both {
			both[w] = set[w]/2 + 3*other[w]
		}
		otherRipe, otherHanging := ripen(other, air, spread)
		bothRipe, bothHanging := ripen(both, air, spread)
		for w := range both {
			near(t, "linear, ripe", bothRipe[w], ripe[w]/2+3*otherRipe[w], 1e-8)
			near(t, "linear, hanging", bothHanging[w], hanging[w]/2+3*otherHanging[w], 1e-8)
		}
	}
}

func TestRipeningEdges(t *testing.T) {
	// No warmth, no ripe fruit; and none is lost when it stays cold.
	set, air := []float64{10, 20, 0, 0}, []float64{11, 11, 11, 11}
	ripe, hanging := ripen(set, air, 0)
	for w, want := range []float64{10, 30, 30, 30} {
		near(t, "ripe in the cold", ripe[w], 0, 0)
		near(t, "hanging in the cold", hanging[w], want, 1e-12)
	}
	// A cold month in the middle only delays.
	long := make([]float64, 30)
	cold := make([]float64, 30)
	set = make([]float64, 30)
	set[0] = 100
	for w := range long {
		long[w], cold[w] = 20, 20
		if w >= 4 && w < 8 {
			cold[w] = 8
		}
	}
	a, _ := ripen(set, long, 0)
	b, _ := ripen(set, cold, 0)
	for w := 4; w < 30; w++ {
		near(t, "four weeks later", b[w], a[w-4], 1e-9)
	}
	// Weeks as quick as a day's development, and none at all.
	quick, left := make([]float64, 3), make([]float64, 3)
	Ripening(quick, left, []float64{7, 7, 7}, []float64{1, 1, 1}, 0, make([]float64, 3))
	for w, want := range []float64{6, 7, 7} {
		near(t, "ripe the next day", quick[w], want, 1e-12)
		near(t, "one day's fruit hang", left[w], 1, 1e-12)
	}
	Ripening(nil, nil, nil, nil, 0, nil)
}

func TestRipeningKeepsNothing(t *testing.T) {
	set, air := someSeason(rand.New(rand.NewPCG(3, 3)), 53)
	gain := make([]float64, 53)
	for w, a := range air {
		gain[w] = StageGain(a)
	}
	ripe, hanging, work := make([]float64, 53), make([]float64, 53), make([]float64, 53)
	if n := testing.AllocsPerRun(20, func() { Ripening(ripe, hanging, set, gain, 12, work) }); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
}

func BenchmarkRipening(b *testing.B) {
	set, air := make([]float64, 53), make([]float64, 53)
	gain := make([]float64, 53)
	for w := range set {
		set[w], air[w] = 100, 18+2*math.Sin(float64(w)/8)
	}
	ripe, hanging, work := make([]float64, 53), make([]float64, 53), make([]float64, 53)
	for _, spread := range []float64{0, 12} {
		name := "together"
		if spread > 0 {
			name = "spread"
		}
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for w, a := range air {
					gain[w] = StageGain(a)
				}
				Ripening(ripe, hanging, set, gain, spread, work)
			}
		})
	}
}
