package array

// Reducers take in one row after another. They skip blanks; over blanks only
// they stay blank; a fault stays a fault. dst starts as blank.

// Reducer says how rows are put together.
type Reducer uint8

const (
	Total Reducer = iota
	Largest
	Smallest
	HowMany // how many are known
)

// Begin makes dst ready for the first row.
func (r Reducer) Begin(dst []float64) {
	x := Blank
	if r == HowMany {
		x = 0
	}
	for i := range dst {
		dst[i] = x
	}
}

// Take takes in one row.
func (r Reducer) Take(dst []float64, a Operand) {
	n := len(dst)
	if a.Single {
		for i := range dst {
			dst[i] = r.join(dst[i], a.X)
		}
		return
	}
	av := a.V[:n]
	if r != Total {
		for i := range dst {
			dst[i] = r.join(dst[i], av[i])
		}
		return
	}
	for i := range dst {
		s := dst[i] + av[i]
		if s != s { // blank so far, blank or fault here: rare after the first row
			s = r.join(dst[i], av[i])
		}
		dst[i] = s
	}
}

func (r Reducer) join(have, x float64) float64 {
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
