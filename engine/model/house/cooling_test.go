package house

import (
	"math"
	"testing"
)

// By hand, in the units of the trade: a 30 x 96 ft arch of 9 on 4 ft at 0.70 and 0.75
// changes loses 3,849 BTU/h/degF and holds 29,987 ft3 x 0.018 = 540 BTU/degF in its
// air: at 62 degF and 0 degF outside ln(62/32) x 540/3849 h = 5.6 minutes. With 4,000
// lb of water, which holds 4,000 BTU/degF by the BTU's own definition, 0.78 h.
func TestHoursToFreezing(t *testing.T) {
	shape := Arch(96*foot, 30*foot, 4*foot, 9*foot)
	double, _ := CoverLoss("double_poly")
	loss := double*shape.Surface() + AirLoss(0.75, shape.Volume)
	near(t, "loss", loss/btuPerF, 3849, 1)
	near(t, "air", AirHeld(shape.Volume)/(btuPerF*3600), 540, 1)
	const pound = 0.45359237
	near(t, "water", WaterHeld(4000*pound)/(btuPerF*3600), 4000, 10)
	soonest := HoursToFreezing(AirHeld(shape.Volume), loss, fromF(62), fromF(0))
	latest := HoursToFreezing(AirHeld(shape.Volume)+WaterHeld(4000*pound), loss, fromF(62), fromF(0))
	near(t, "minutes, air alone", 60*soonest, 5.57, 0.02)
	near(t, "hours, with wet bags", latest, 0.780, 0.002)
}

// Laws: it takes longer from warmer, in milder air, with more warmth held and less
// lost; the steps add up: from 20 to 10 and from 10 on is from 20 on. Walking the
// cooling in small steps comes to the same.
func TestCoolingLaws(t *testing.T) {
	base := HoursToFreezing(4e6, 2000, 15, -10)
	for what, longer := range map[string]float64{
		"warmer": HoursToFreezing(4e6, 2000, 17, -10), "milder": HoursToFreezing(4e6, 2000, 15, -8),
		"more held": HoursToFreezing(5e6, 2000, 15, -10), "less lost": HoursToFreezing(4e6, 1500, 15, -10),
	} {
		if !(longer > base) {
			t.Errorf("%s: %v h, else %v h", what, longer, base)
		}
	}
	air, hours := 15.0, 0.0
	for ; air > 0; hours += 1e-5 {
		air -= 2000 * (air + 10) / 4e6 * 1e-5 * secondsInHour
	}
	near(t, "in steps", hours, base, 1e-3)
	near(t, "at freezing", HoursToFreezing(4e6, 2000, 0, -10), 0, 0)
	near(t, "below freezing", HoursToFreezing(4e6, 2000, -3, -10), 0, 0)
	if !math.IsInf(HoursToFreezing(4e6, 2000, 15, 0), 1) || !math.IsInf(HoursToFreezing(4e6, 2000, 15, 4), 1) {
		t.Error("a house freezes while it does not freeze outside")
	}
}

// ASHRAE gives 143.5 BTU for a pound of ice (from memory), so a pound on each of
// 2,880 ft2 takes 413,000 BTU, and twice that when half passes out.
func TestSnowHeat(t *testing.T) {
	const pound = 0.45359237
	near(t, "a pound", SnowHeat(pound, 1)/btu*1e6, 143.5, 0.2)
	near(t, "a house", SnowHeat(2880*pound, 0.5)/mmbtu, 0.826, 0.001)
}
