package feed

import "math"

// How many salts and elements one feed may have: more than any injector serves.
const (
	MostSalts    = 24
	MostElements = 24
)

// Dose finds the salts that come nearest to a recipe, mg/L: those that make
//
//	sum over elements of ((sum over salts of share x dose) - add)^2 / aim^2
//
// least, with no dose below zero (Lawson & Hanson 1974, Solving Least Squares
// Problems, chapter 23: the salts in use form the passive set). share is what part
// of each salt each element is, element by element (a row is an element); add is
// what the water lacks of it, mg/L, and below zero where the water holds more than
// the recipe; aim is the recipe's own figure, so that an element is missed by the
// same part of it and not by the same weight. An element whose aim is not above
// zero, or not known, is not aimed at: it comes as it falls.
//
// Where the salts can make the recipe they make it exactly; what they cannot is
// shared out, and is the shortfall or the overshoot that the caller names. With
// more salts than elements several ways are exact, and one of them is given.
func Dose(share, add, aim, dose []float64) {
	n := len(dose)
	var normal [MostSalts][MostSalts]float64 // A'A, with rows of A divided by aim
	var right [MostSalts]float64             // A'b
	for e, wanted := range aim {
		if !(wanted > 0) || math.IsInf(wanted, 0) {
			continue
		}
		row := share[e*n : (e+1)*n]
		b := add[e] / wanted
		for i, a := range row {
			right[i] += a / wanted * b
			for j, c := range row {
				normal[i][j] += a / wanted * (c / wanted)
			}
		}
	}
	var used [MostSalts]bool
	var x, try [MostSalts]float64
	const tiny = 1e-10
	for range 3 * n { // each round takes a salt in; a few go out again
		best, at := 0.0, -1
		for i := range n {
			if used[i] || normal[i][i] <= 0 {
				continue
			}
			gain := right[i]
			for j := range n {
				gain -= normal[i][j] * x[j]
			}
			if gain /= math.Sqrt(normal[i][i]); gain > best { // against the salt's own size
				best, at = gain, i
			}
		}
		if at < 0 || best < tiny {
			break
		}
		used[at] = true
		for {
			if !solve(&normal, &right, &used, &try, n) {
				used[at] = false // says nothing that the others do not say
				copy(dose, x[:n])
				return
			}
			step, out := 1.0, -1
			for i := range n {
				if used[i] && try[i] <= 0 {
					if s := x[i] / (x[i] - try[i]); out < 0 || s < step {
						step, out = s, i
					}
				}
			}
			if out < 0 {
				x = try
				break
			}
			for i := range n {
				if used[i] {
					x[i] += step * (try[i] - x[i])
				}
			}
			used[out], x[out] = false, 0
		}
	}
	copy(dose, x[:n])
}

// solve finds the doses of the salts in use that fit best, whatever their sign, by
// Cholesky's triangles; no when two salts in use say the same.
func solve(normal *[MostSalts][MostSalts]float64, right *[MostSalts]float64, used *[MostSalts]bool, x *[MostSalts]float64, n int) bool {
	var l [MostSalts][MostSalts]float64
	var in [MostSalts]int
	m := 0
	for i := range n {
		x[i] = 0
		if used[i] {
			in[m] = i
			m++
		}
	}
	var y [MostSalts]float64
	for a := range m {
		for b := range a + 1 {
			s := normal[in[a]][in[b]]
			for k := range b {
				s -= l[a][k] * l[b][k]
			}
			if a != b {
				l[a][b] = s / l[b][b]
				continue
			}
			if s <= 1e-12*normal[in[a]][in[a]] {
				return false
			}
			l[a][a] = math.Sqrt(s)
		}
		s := right[in[a]]
		for k := range a {
			s -= l[a][k] * y[k]
		}
		y[a] = s / l[a][a]
	}
	for a := m - 1; a >= 0; a-- {
		s := y[a]
		for k := a + 1; k < m; k++ {
			s -= l[k][a] * x[in[k]]
		}
		x[in[a]] = s / l[a][a]
	}
	return true
}

// Clash says whether two salts may not share a strong solution: calcium with a
// sulfate or a phosphate makes gypsum or calcium phosphate, which falls out as mud
// and plugs the lines (common practice; e-GRO lists it as a step of mixing).
func Clash(a, b Salt) bool { return bindsCalcium(a) && calcic(b) || bindsCalcium(b) && calcic(a) }

func calcic(s Salt) bool       { return s.Share(Calcium) > 0 }
func bindsCalcium(s Salt) bool { return s.Share(Sulfur) > 0 || s.Share(Phosphorus) > 0 }
