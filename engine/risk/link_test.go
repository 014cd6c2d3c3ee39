package risk

import (
	"cmp"
	"math"
	"slices"
	"testing"
)

func ranks(x []float64) []float64 {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(x[a], x[b]) })
	rank := make([]float64, len(x))
	for place, i := range order {
		rank[i] = float64(place)
	}
	return rank
}

// spearman is 1 - 6 sum d² / (n (n²-1)) (Spearman 1904), without ties.
func spearman(x, y []float64) float64 {
	a, b, sum := ranks(x), ranks(y), 0.0
	for i := range a {
		sum += (a[i] - b[i]) * (a[i] - b[i])
	}
	n := float64(len(a))
	return 1 - 6*sum/(n*(n*n-1))
}

// r = 2 sin(pi rho/6) (Pearson 1907) has closed forms: sin 15° = (sqrt 6 - sqrt
// 2)/4, and is 0, 1 and -1 where rho is.
func TestScoreCorrelation(t *testing.T) {
	near(t, "half", scoreCorrelation(0.5), (math.Sqrt(6)-math.Sqrt(2))/2, 1e-15)
	near(t, "half", scoreCorrelation(0.5), 0.517638, 1e-6)
	for _, rank := range []float64{-1, 0, 1} {
		near(t, "whole", scoreCorrelation(rank), rank, 1e-15)
	}
}

// The rank correlation is as asked, and the draws are as uniform as before. At
// 4,096 draws chance makes about 0.02.
func TestLinkedHasItsRankCorrelation(t *testing.T) {
	for _, share := range []float64{-1, -0.4, -0.3, 0, 0.3, 0.5, 0.8, 1} {
		u, v := draws(Key{Name: "outside_shift"}, 4096), draws(Key{Name: "fuel_price"}, 4096)
		untouched := slices.Clone(u)
		Linked(u, v, share)
		near(t, "rank correlation", spearman(u, v), share, 0.06)
		if !slices.Equal(u, untouched) {
			t.Error("the first input changed")
		}
		if math.Abs(share) == 1 {
			near(t, "rank correlation", spearman(u, v), share, 1e-9)
		}
		mean, square := 0.0, 0.0
		for _, x := range v {
			mean += x / 4096
			square += (x - 0.5) * (x - 0.5) / 4096
		}
		near(t, "mean", mean, 0.5, 5*0.0045)
		near(t, "variance", square, 1.0/12, 5*0.0012)
	}
}

func TestLinkOrder(t *testing.T) {
	// 1 is linked with 3 and 4, 3 with 0, whichever way they are written; 2 is
	// alone.
	links := []Link{{1, 4, 0.5}, {3, 1, -0.6}, {3, 0, 0.7}}
	ordered, err := LinkOrder(5, links)
	if err != nil {
		t.Fatal(err)
	}
	if want := []Link{{0, 3, 0.7}, {3, 1, -0.6}, {1, 4, 0.5}}; !slices.Equal(ordered, want) {
		t.Errorf("%v, want %v", ordered, want)
	}
	var us [5][]float64
	for i := range us {
		us[i] = draws(Key{Member: string(rune('a' + i))}, 4096)
	}
	alone := slices.Clone(us[2])
	for _, l := range ordered {
		Linked(us[l.First], us[l.Second], l.Strength)
	}
	for _, l := range links {
		near(t, "rank correlation", spearman(us[l.First], us[l.Second]), l.Strength, 0.06)
	}
	// Related only through others: the score correlations multiply along the way.
	near(t, "0 and 1", scoresAgree(us[0], us[1]), scoreCorrelation(0.7)*scoreCorrelation(-0.6), 0.06)
	near(t, "2 and 1", spearman(us[2], us[1]), 0, 0.06)
	if !slices.Equal(us[2], alone) {
		t.Error("an input without links changed")
	}
}

func TestLinksRefused(t *testing.T) {
	for want, links := range map[string][]Link{
		"the links go round in a circle: leave out the weakest of them": {{0, 1, 0.9}, {1, 2, 0.9}, {2, 0, -0.9}},
		"an input cannot be linked with itself":                         {{1, 1, 0.5}},
		"a link is a number between -1 and 1, this is 1.2":              {{0, 1, 1.2}},
		"a link names an input that is not among the 3":                 {{0, 3, 0.2}},
	} {
		if _, err := LinkOrder(3, links); err == nil || err.Error() != want {
			t.Errorf("%v: %v, want %s", links, err, want)
		}
	}
	if _, err := LinkOrder(3, []Link{{0, 1, 0.5}, {1, 0, 0.5}}); err == nil {
		t.Error("the same pair twice was not refused")
	}
}
