package library

import (
	"math"
	"testing"

	"wintertruss/engine/model/crop"
)

// A table that a card shows and the function beside it say the same: where the
// function goes through published points, through these.
func TestTablesAgreeWithModels(t *testing.T) {
	for _, c := range []struct {
		name   string
		rows   [][]float64
		model  func(x float64) float64
		within float64
	}{
		{"ripening", ripeningTable.Rows, func(air float64) float64 { return 1 / crop.StageGain(air) }, 1e-9},
		{"set_limit", setLimitTable.Rows, func(air float64) float64 { return 100 * crop.SetLimit(air) }, 1e-9},
		{"set_by_load", setByLoadTable.Rows, func(load float64) float64 { return 100 * crop.SetByLoad(crop.Pepper, load) }, 1e-9},
		{"truss_pace", paceTable.Rows, func(air float64) float64 { return 7 * (-0.2903 + 0.1454*math.Log(air)) }, 0.005}, // printed to two places
	} {
		if len(c.rows) < 4 {
			t.Errorf("%s: %d rows", c.name, len(c.rows))
		}
		for _, row := range c.rows {
			if got := c.model(row[0]); math.Abs(got-row[1]) > c.within+1e-9 {
				t.Errorf("%s at %v: %v, the table says %v", c.name, row[0], got, row[1])
			}
		}
	}
	for i, way := range pollinatedTable.Of[1:] { // bees are lowered by our own choice, and the card says so
		if share, ok := crop.Pollinated(way); !ok || math.Abs(100*share-pollinatedTable.Rows[i+1][0]) > 2 {
			t.Errorf("pollinated by %s: %v, the table says %v %%", way, share, pollinatedTable.Rows[i+1][0])
		}
	}
	sum := 0.0
	for _, row := range loadedTable.Rows {
		sum += row[0]
	}
	if math.Abs(sum-100) > 0.1 {
		t.Errorf("shares of growth add up to %v %%", sum)
	}
}

// The ranges of one response are the ends of the points that it was measured at.
func TestRangesAreThoseOfTables(t *testing.T) {
	rows := ripeningTable.Rows
	if m := ripeningMeasured[0]; m.Low != rows[0][0] || m.High != rows[len(rows)-1][0] {
		t.Errorf("ripening is said to be measured from %v to %v degC", m.Low, m.High)
	}
	rows = setByLoadTable.Rows
	if m := loadMeasured[0]; m.Low != rows[0][0] || m.High != rows[len(rows)-1][0] {
		t.Errorf("the set by load is said to be measured from %v to %v", m.Low, m.High)
	}
}
