package library

import (
	"testing"

	"wintertruss/engine/array"
)

const (
	btuMJ  = 1055.05585262e-6
	gallon = 3.785411784
	pound  = 0.45359237
)

// Bartok 2013, Comparing fuel costs (University of Connecticut): a gallon of oil
// at 70 per cent is a million BTU over 10.3, a ton of pellets at 80 per cent 13.1 million.
func TestFuelFunctions(t *testing.T) {
	oil := single(t, "fuel_volume", 1e6*btuMJ, 138500*btuMJ/gallon, 0.70) / gallon
	near(t, "gallons of oil for a million BTU", oil, 10.3, 0.05)
	pellets := single(t, "fuel_weight", 13.1e6*btuMJ, 8200*btuMJ/pound, 0.80) / pound / 2000
	near(t, "tons of pellets for 13.1 million BTU", pellets, 1, 0.005)
}

func TestFuelRefusals(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	for _, arguments := range [][]float64{{100, 0, 0.8}, {100, 25, 0}, {100, 25, 1.2}, {100, -25, 0.8}} {
		if _, refused := results(t, "fuel_volume", season, arguments, nil); refused == "" {
			t.Errorf("%v is not refused", arguments)
		}
	}
	if got := single(t, "fuel_weight", array.Blank, 19, 0.8); !array.IsBlank(got) {
		t.Errorf("blank heat: %v", got)
	}
	near(t, "no heat", single(t, "fuel_volume", 0, 25, 0.8), 0, 0)
}
