package risk

import (
	"math"
	"testing"

	"wintertruss/engine/array"
)

// The whole ladder, one count after the other.
func TestVerdictLadder(t *testing.T) {
	words := [21]string{"No", "No", "No", "No", "No", "No", "No", "No",
		"Doubtful", "Doubtful", "Doubtful", "Doubtful",
		"Probably", "Probably", "Probably", "Probably",
		"Very likely", "Very likely", "Very likely", "Yes", "Yes"}
	for n, want := range words {
		if word, of20 := Verdict(float64(n) / 20); word != want || of20 != n {
			t.Errorf("%d of 20: %s, %d", n, word, of20)
		}
	}
}

// The nearest count, the lower at equal distance; twenty only when all hold.
func TestVerdictRounding(t *testing.T) {
	for odds, want := range map[float64]int{0: 0, 0.025: 0, 0.0251: 1, 0.925: 18, 0.9251: 19, 0.95: 19, 0.97: 19, 0.975: 19, 0.999: 19, 1023.0 / 1024: 19, 1: 20, 0.375: 7, 0.3751: 8} {
		if _, got := Verdict(odds); got != want {
			t.Errorf("%g: %d of 20, want %d", odds, got, want)
		}
	}
	for _, odds := range []float64{math.NaN(), -0.1, 1.1} {
		if word, of20 := Verdict(odds); word != "" || of20 != 0 {
			t.Errorf("%g: %s, %d", odds, word, of20)
		}
	}
}

// answers gives a condition's draws: so many hold, fail, are blank.
func answers(hold, fail, unknown int) []float64 {
	var x []float64
	for range hold {
		x = append(x, 1)
	}
	for range fail {
		x = append(x, 0)
	}
	for i := range unknown {
		x = append(x, []float64{array.Blank, array.Fault(array.DividedByZero, 1)}[i%2])
	}
	return x
}

func TestOddsSkipUnknown(t *testing.T) {
	near(t, "odds", Odds(answers(30, 10, 17)), 0.75, 0)
	near(t, "any number but 0 holds", Odds([]float64{-2, 0, 0.5, 3}), 0.75, 0)
	for _, x := range [][]float64{nil, answers(0, 0, 9)} {
		if got := Odds(x); !math.IsNaN(got) {
			t.Errorf("odds %g of nothing", got)
		}
	}
}

func TestVerdictIsEarned(t *testing.T) {
	for _, c := range []struct {
		hold, fail, unknown int
		word                string
		of20                int
		ok                  bool
	}{
		{150, 50, 0, "Probably", 15, true},
		{199, 0, 0, "", 0, false}, // too few
		{200, 0, 0, "Yes", 20, true},
		{0, 0, 1024, "", 0, false}, // nothing known
		{973, 0, 51, "Yes", 20, true},
		{972, 0, 52, "", 0, false}, // more than one in twenty unknown
		{0, 1024, 0, "No", 0, true},
	} {
		word, of20, ok := Earn(answers(c.hold, c.fail, c.unknown)).Verdict()
		if word != c.word || of20 != c.of20 || ok != c.ok {
			t.Errorf("%+v: %q, %d, %v", c, word, of20, ok)
		}
	}
}
