package array

// Reducers take in one row after another. They skip blanks; over blanks only
// they stay blank; a fault stays a fault.

// Reducer says how rows are put together.
type Reducer uint8

const (
	Total Reducer = iota
	Largest
	Smallest
	HowMany // how many are known
)

// First is what a reducer has taken in before the first row.
func (r Reducer) First() float64 {
	if r == HowMany {
		return 0
	}
	return Blank
}

// Begin takes in the first row.
func (r Reducer) Begin(dst []float64, a *Operand) {
	if r == HowMany {
		clear(dst)
		r.Take(dst, a)
		return
	}
	a.CopyTo(dst)
}

// Take takes in one more row.
func (r Reducer) Take(dst []float64, a *Operand) {
	n := len(dst)
	if a.Single {
		for i := range dst {
			dst[i] = r.Join(dst[i], a.X)
		}
		return
	}
	av := a.V[:n]
	if r != Total {
		for i := range dst {
			dst[i] = r.Join(dst[i], av[i])
		}
		return
	}
	for i := range dst {
		s := dst[i] + av[i]
		if s != s { // blank so far, blank or fault here: rare after the first row
			s = r.Join(dst[i], av[i])
		}
		dst[i] = s
	}
}

// Join takes x into what a reducer has.
func (r Reducer) Join(have, x float64) float64 {
	switch {
	case IsFault(have):
		return have
	case x != x:
		if IsFault(x) {
			return x
		}
		return have
	case r == HowMany:
		return have + 1
	case have != have:
		return x
	case r == Total:
		return have + x
	case r == Largest:
		if x > have {
			return x
		}
	case r == Smallest:
		if x < have {
			return x
		}
	}
	return have
}
