package risk

import "math"

// Link says that two inputs, by their numbers, lean the same way (Strength above 0)
// or opposite ways (below 0), as a rank correlation from -1 to 1.
type Link struct {
	First, Second int
	Strength      float64
}

// Linked bends the draws v towards or away from u, in place, so that the rank
// correlation of the two is share, from -1 to 1: a Gaussian copula,
//
//	z_v <- r z_u + sqrt(1 - r^2) z_v      r = 2 sin(pi share / 6)
//
// on normal scores. Both must have been independent; u is left as it is, and v is
// uniform as before. Of inputs drawn for each week link the vectors week by week,
// after Persistent, not before: then the share holds in each week.
//
// Source: the relation of r to Spearman's rank correlation in the bivariate normal
// distribution, Pearson (1907), On Further Methods of Determining Correlation (from
// memory).
func Linked(u, v []float64, share float64) {
	if !(-1 <= share && share <= 1) {
		panic("risk: link outside -1..1")
	}
	if len(u) != len(v) {
		panic("risk: linked draws of different length")
	}
	if share == 0 {
		return
	}
	r := scoreCorrelation(share)
	own := math.Sqrt(max(0, 1-r*r))
	for i := range v {
		v[i] = NormalShare(float64(r*NormalScore(u[i])) + float64(own*NormalScore(v[i])))
	}
}

// scoreCorrelation gives the correlation of normal scores that makes a rank
// correlation.
func scoreCorrelation(rank float64) float64 { return 2 * math.Sin(math.Pi*rank/6) }

// LinkOrder arranges the links among n inputs so that Linked(u[First], u[Second],
// Strength), called in that order, gives every pair its strength: in each group of
// linked inputs the lowest number stays as it was, and the others follow from it
// outward. Two inputs that are linked only through a third are related only through
// it. Links that close a circle are refused, since their strengths can contradict
// each other.
func LinkOrder(n int, links []Link) ([]Link, error) {
	neighbours := make([][]Link, n)
	for _, l := range links {
		switch {
		case l.First < 0 || l.First >= n || l.Second < 0 || l.Second >= n:
			return nil, errLinkNumber(n)
		case l.First == l.Second:
			return nil, errLinkSelf()
		case !(-1 <= l.Strength && l.Strength <= 1):
			return nil, errLinkShare(l.Strength)
		}
		neighbours[l.First] = append(neighbours[l.First], l)
		neighbours[l.Second] = append(neighbours[l.Second], Link{l.Second, l.First, l.Strength})
	}
	ordered := make([]Link, 0, len(links))
	reached := make([]bool, n)
	var reach func(from int)
	reach = func(from int) {
		reached[from] = true
		for _, l := range neighbours[from] {
			if !reached[l.Second] {
				ordered = append(ordered, l)
				reach(l.Second)
			}
		}
	}
	for root := range n {
		if !reached[root] {
			reach(root)
		}
	}
	// A forest is reached through all its links; a link left over closes a circle.
	if len(ordered) < len(links) {
		return nil, errLinkCircle()
	}
	return ordered, nil
}
