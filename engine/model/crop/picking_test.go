package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestPickShare(t *testing.T) {
	// Monday and Thursday, by hand: Monday takes Friday to Monday, Thursday the rest.
	days := [WeekDays]bool{0: true, 3: true}
	for day, want := range map[int]float64{0: 4. / 7, 1: 0, 3: 3. / 7, 6: 0} {
		near(t, "share", PickShare(days, day), want, 1e-12)
	}
	near(t, "once a week", PickShare([WeekDays]bool{2: true}, 2), 1, 0)
	near(t, "after Thursday", UnpickedDays(days), 3, 0)
	near(t, "after Sunday", UnpickedDays([WeekDays]bool{6: true}), 0, 0)
	near(t, "no pick", UnpickedDays([WeekDays]bool{}), 7, 0)
	for pattern := 1; pattern < 128; pattern++ {
		sum := 0.0
		for day := range days {
			days[day] = pattern>>day&1 == 1
		}
		for day := range days {
			sum += PickShare(days, day)
		}
		near(t, "a week's shares", sum, 1, 1e-12)
	}
}

func TestPickingByHand(t *testing.T) {
	// 70 ripen each week, 30 of them after Thursday. In the second week nobody picks,
	// and a tenth of what is missed goes soft: 40+30 = 70 at the pick, 63 left with
	// the 30 that came later.
	ripe, share := []float64{70, 70, 70}, []float64{1, 0, 1}
	picked, waiting, overripe := make([]float64, 3), make([]float64, 3), make([]float64, 3)
	Picking(picked, waiting, overripe, ripe, share, 0.9, 3, -1)
	for w, want := range [][3]float64{{40, 30, 0}, {0, 93, 7}, {133, 30, 0}} {
		near(t, "picked", picked[w], want[0], 1e-9)
		near(t, "waiting", waiting[w], want[1], 1e-9)
		near(t, "overripe", overripe[w], want[2], 1e-9)
	}
}

func TestPickingKeepsCount(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for range 200 {
		n := 1 + r.IntN(60)
		ripe, _ := someSeason(r, n)
		share, keeps, unpicked := make([]float64, n), r.Float64(), 7*r.Float64()
		for w := range share {
			share[w] = r.Float64()
		}
		picked, waiting, overripe := make([]float64, n), make([]float64, n), make([]float64, n)
		Picking(picked, waiting, overripe, ripe, share, keeps, unpicked, -1)
		came, gone := running(ripe), running(picked)
		soft := running(overripe)
		for w := range came {
			near(t, "picked, overripe and waiting", gone[w]+soft[w]+waiting[w], came[w], 1e-9*max(1, came[w]))
			if picked[w] < 0 || waiting[w] < 0 || overripe[w] < 0 {
				t.Fatalf("below nothing: %v, %v, %v", picked[w], waiting[w], overripe[w])
			}
		}
		// More hands never pick less over the season.
		for w := range share {
			share[w] = min(1, share[w]+0.1)
		}
		more := make([]float64, n)
		Picking(more, waiting, overripe, ripe, share, keeps, unpicked, -1)
		if a, b := gone[n-1], running(more)[n-1]; b < a-1e-9*a {
			t.Fatalf("more hands pick %v, less pick %v", b, a)
		}
	}
}

func TestGrading(t *testing.T) {
	// Tables of the normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1): 0.15866
	// below -1, where its density is 0.24197. Fruit of 100 g with a deviation of 25 g:
	// below 75 g lie 15.9 % of the fruit and 0.15866 - 0.25 x 0.24197 = 9.82 % of the
	// weight; below the mean half of the fruit and 0.5 - 0.25 x 0.39894 = 40.0 %.
	near(t, "below 75 g", TooSmall(100, 75, 0.25), 0.09817, 1e-5)
	near(t, "below the mean", TooSmall(100, 100, 0.25), 0.40026, 1e-5)
	near(t, "all alike, large enough", TooSmall(100, 90, 0), 0, 0)
	near(t, "all alike, too small", TooSmall(80, 90, 0), 1, 0)
	// The same by summing over fruit.
	r := rand.New(rand.NewPCG(12, 12))
	small, all := 0.0, 0.0
	for range 200_000 {
		w := 100 + 25*r.NormFloat64()
		all += w
		if w < 80 {
			small += w
		}
	}
	near(t, "by summing", TooSmall(100, 80, 0.25), small/all, 0.003)
	for least := 0.0; least < 300; least++ {
		if a, b := TooSmall(100, least, 0.25), TooSmall(100, least+1, 0.25); a < 0 || b > 1 || b < a-1e-12 {
			t.Fatalf("%v at %v g, %v at the next", a, least, b)
		}
		if a, b := TooSmall(100, least, 0.25), TooSmall(101, least, 0.25); b > a+1e-12 {
			t.Fatalf("heavier fruit, more too small: %v, %v at %v g", a, b, least)
		}
	}

	// Drier bags, more rot (Pires et al. 2011): usual when watered often, no more than all.
	near(t, "watered often", Rotten(0.02, 0), 0.02, 0)
	if !(Rotten(0.02, 1) > Rotten(0.02, 0.5) && Rotten(0.02, 0.5) > 0.02 && Rotten(1, 1) == 1) {
		t.Error("dry bags do not raise the rot")
	}
	// Cherry, Ohio 2024: 14.1 % of the weight out, as cracked.
	near(t, "sound", Sound(0.141, 0, 0), 0.859, 1e-12)
	near(t, "by chance together", Sound(0.5, 0.5, 0), 0.25, 1e-12)
	// Cherry 8.1 to 9.6 % dry, above round fruit of 5 to 6 %.
	if c := DryMatter(Cherry); c < 0.081 || c > 0.096 || DryMatter(Large) >= c || DryMatter(Cluster) >= c {
		t.Error("dry matter out of order")
	}
}

func TestAlive(t *testing.T) {
	alive := make([]float64, 4)
	Alive(alive, []float64{0, 0.1, 0.1, 1})
	for w, want := range []float64{1, 0.9, 0.81, 0} {
		near(t, "alive", alive[w], want, 1e-12)
	}
	if math.Signbit(alive[3]) {
		t.Error("cleared below nothing")
	}
}
