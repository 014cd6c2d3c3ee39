package unit

import (
	"sort"
	"strconv"
	"strings"
)

// maxPower bounds every power of a symbol and of a base dimension.
const maxPower = 12

// Dim is the dimension of a unit. Dims are compared with == and may be the
// keys of a map. The zero Dim is the one of a plain number.
type Dim struct {
	// key is "L2 M1 T-3": the bases in order of the alphabet. The letters of
	// physics (ISO 80000: L M T, I for current, N for amount; K here for
	// temperature and E for charge equivalents) are single capitals, money has
	// three capitals, things are in lower case: they cannot collide.
	key string
}

// beyondDim is the dimension of a unit whose powers passed the bound.
var beyondDim = Dim{"beyond"}

// String writes the dimension for a person who looks for a fault in the
// program, such as "L2 M1 T-3"; "1" for a plain number.
func (d Dim) String() string {
	if d == (Dim{}) {
		return "1"
	}
	return d.key
}

// power is one base dimension and its power, never 0.
type power struct {
	base string
	n    int
}

// powers is a product of powers, bases in order of the alphabet.
type powers []power

// times gives p times q to the power n.
func (p powers) times(q powers, n int) powers {
	sum := make(map[string]int, len(p)+len(q))
	for _, x := range p {
		sum[x.base] += x.n
	}
	for _, x := range q {
		sum[x.base] += x.n * n
	}
	product := make(powers, 0, len(sum))
	for base, n := range sum {
		if n != 0 {
			product = append(product, power{base, n})
		}
	}
	sort.Slice(product, func(i, j int) bool { return product[i].base < product[j].base })
	return product
}

// dim gives the Dim, and false when a power passes the bound.
func (p powers) dim() (Dim, bool) {
	var b strings.Builder
	for i, x := range p {
		if x.n > maxPower || x.n < -maxPower {
			return beyondDim, false
		}
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(x.base)
		b.WriteString(strconv.Itoa(x.n))
	}
	return Dim{b.String()}, true
}

// split writes p as a primitive direction and how often it is taken: volume is
// length, taken 3 times. Two dimensions are powers of a common one exactly
// when their directions are the same. The first power of a direction is
// positive.
func (p powers) split() (direction Dim, times int) {
	for _, x := range p {
		times = commonDivisor(times, x.n)
	}
	if times == 0 {
		return Dim{}, 0
	}
	if p[0].n < 0 {
		times = -times
	}
	primitive := make(powers, len(p))
	for i, x := range p {
		primitive[i] = power{x.base, x.n / times}
	}
	direction, _ = primitive.dim()
	return direction, times
}

func commonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	if a < 0 {
		return -a
	}
	return a
}

// Dimensions that have a name, by their key.
var named = map[Dim]string{
	{}:                "a plain number",
	{"L1"}:            "a length",
	{"L2"}:            "an area",
	{"L3"}:            "a volume",
	{"M1"}:            "a mass",
	{"T1"}:            "a time",
	{"K1"}:            "a temperature difference",
	{"N1"}:            "an amount of substance",
	{"E1"}:            "a charge in equivalents",
	{"L2 M1 T-2"}:     "an energy",
	{"L2 M1 T-3"}:     "a power",
	{"L-3 M1"}:        "a concentration",
	{"L-2 M1"}:        "a mass per area",
	{"K-1 M1 T-3"}:    "a heat loss per area and degree",
	{"M1 T-3"}:        "a power per area",
	{"M1 T-2"}:        "an energy per area",
	{"I2 L-2 M-1 T3"}: "an electric conductance",
	{"T-1"}:           "a rate",
	{"L1 T-1"}:        "a speed, or a depth per time",
}

// words says in a grower's words what the dimension is; "" when it has no name.
func (d Dim) words() string {
	if name, ok := named[d]; ok {
		return name
	}
	switch base, kind := d.single(); kind {
	case isMoney:
		return "money"
	case isThing:
		return "a count of " + base
	}
	return ""
}

type kind int

const (
	isPhysics kind = iota
	isMoney
	isThing
	isMixed // a product, or a power that is not 1
)

// single gives the base of a dimension that is one base to the power 1, and
// what kind it is.
func (d Dim) single() (base string, k kind) {
	base, ok := strings.CutSuffix(d.key, "1")
	switch {
	case !ok || strings.ContainsAny(base, " -0123456789"):
		return "", isMixed
	case base[0] >= 'a':
		return base, isThing
	case len(base) == 3:
		return base, isMoney
	}
	return base, isPhysics
}
