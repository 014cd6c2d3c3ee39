package library

import (
	"math"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/money"
	"wintertruss/engine/week"
)

// TestOwnershipCharge: the model's own tests hold the equation; here it is asked
// by name. 12,370.89 is worked out by hand (a course example prints 12,371).
func TestOwnershipCharge(t *testing.T) {
	run := func(arguments ...float64) *formula.Call {
		c := formula.NewCall(loanSeason(), week.Standing{}, oneEach(arguments...), nil, blankOutputs(1, 1))
		cashFunctions()[0].Kernel.Run(c)
		return c
	}
	if got := run(50000, 5000, 5, 0.10).Out[0][0]; math.Abs(got-12370.89) > 0.01 {
		t.Errorf("charge %v", got)
	}
	if c := run(50000, 5000, 0, 0.10); c.Refused() != money.ErrLife.Error() {
		t.Errorf("no life: %q", c.Refused())
	}
	if c := run(50000, array.Blank, 5, 0.10); !array.IsBlank(c.Out[0][0]) {
		t.Errorf("blank salvage: %v", c.Out[0][0])
	}
}
