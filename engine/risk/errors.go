package risk

import "fmt"

// All messages of the package stand here. They are shown to the person who wrote
// the literal, beside its place; the numbers in them are in the literal's own
// scale, shares as 0 to 1.

func errNotNumber() error {
	return fmt.Errorf("a range needs plain numbers no larger than %g", limit)
}

func errMiddleOutside(low, middle, high float64) error {
	return fmt.Errorf("the middle %g must lie between the edges %g and %g, not on or beyond them", middle, low, high)
}

func errBelowZero(low float64) error {
	return fmt.Errorf("the lower edge %g is below 0, but the amount is one that stays positive; write open after the range if it may go below", low)
}

func errOutsideShare(low, high float64) error {
	return fmt.Errorf("the edges %g and %g leave 0 to 100 %%, but the share is one that stays there; write open after the range if it may leave", low, high)
}

func errBounds(b Bounds) error {
	return fmt.Errorf("there are no bounds of kind %d", int(b))
}

func errNoWidth(low, high float64) error {
	return fmt.Errorf("the lower edge %g must be below the upper edge %g", low, high)
}

func errModeOutside(low, mode, high float64) error {
	return fmt.Errorf("the likeliest value %g must not lie outside %g to %g", mode, low, high)
}

func errChance(p float64) error {
	return fmt.Errorf("a chance lies between 0 and 100 %%, this is %g %%", 100*p)
}

func errLinkShare(share float64) error {
	return fmt.Errorf("a link is a number between -1 and 1, this is %g", share)
}

func errLinkSelf() error {
	return fmt.Errorf("an input cannot be linked with itself")
}

func errLinkNumber(n int) error {
	return fmt.Errorf("a link names an input that is not among the %d", n)
}

func errLinkCircle() error {
	return fmt.Errorf("the links go round in a circle: leave out the weakest of them")
}
