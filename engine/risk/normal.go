package risk

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// step is half the distance between two neighbouring uniforms, and the least of
// them.
const step = 1.0 / (1 << 33)

// NormalScore gives the value that a share u of the standard normal distribution
// stays below, to about 16 digits; u in (0,1). Source: Wichura, M. J. (1988)
// Algorithm AS 241, Applied Statistics 37(3):477-484, as gonum has it.
func NormalScore(u float64) float64 { return mathext.NormalQuantile(u) }

// NormalShare undoes NormalScore: the share of the standard normal distribution
// below z, kept between 2^-33 and 1 - 2^-33 as all uniforms of this package are.
func NormalShare(z float64) float64 {
	u := 0.5 * math.Erfc(-z/math.Sqrt2)
	return max(step, min(u, 1-step))
}
