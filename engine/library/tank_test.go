package library

import (
	"testing"

	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// The weeks of house.Tank's worked example, one after another; a start left out is a
// full tank, and nothing is known after a week that is not.
func TestTankThroughTheWeeks(t *testing.T) {
	run := func(start float64, used ...float64) (outs [3][]float64, refused string) {
		for i := range outs {
			outs[i] = make([]float64, len(used))
		}
		c := formula.NewCall(week.Season{}, week.Standing{}, [][]float64{used, {800}, {250}, {start}}, nil, outs[:])
		followTank(c)
		return outs, c.Refused()
	}
	outs, _ := run(-1, 300, 300, 1700, 0, 450)
	sameRow(t, "deliveries", outs[tankDeliveries], row(0, 1, 3, 0, 1))
	sameRow(t, "brought", outs[tankBrought], row(0, 550, 1650, 0, 550))
	sameRow(t, "left", outs[tankLeft], row(500, 750, 700, 700, 800))
	outs, _ = run(800, 300, blank, 300)
	sameRow(t, "left, a week not known", outs[tankLeft], row(500, blank, blank))
	outs, _ = run(blank, 300)
	sameRow(t, "left, the start not known", outs[tankLeft], row(blank))
	for _, c := range [][2]float64{{250, 800}, {800, -1}, {0, 0}} {
		call := formula.NewCall(week.Season{}, week.Standing{}, [][]float64{{1}, {c[0]}, {c[1]}, {0}}, nil, [][]float64{{0}, {0}, {0}})
		followTank(call)
		if call.Refused() == "" {
			t.Errorf("a tank that holds %v and is filled at %v is taken", c[0], c[1])
		}
	}
}
