package feed

import (
	"testing"
)

// The University of Arizona's tomato recipe holds 21.15 meq of cations; 2.20 mS/cm by
// the equation (both own arithmetic on published figures).
func TestConductivity(t *testing.T) {
	cations := 341*ChargeOf(Potassium) + 170*ChargeOf(Calcium) + 48*ChargeOf(Magnesium)
	near(t, "cations", cations, 21.15, 0.01)
	near(t, "conductivity", Conductivity(cations), 2.20, 0.005)
	near(t, "water", Conductivity(0), 0, 0)
	near(t, "no cation", ChargeOf(Nitrogen)+ChargeOf(Sulfur), 0, 0)
	near(t, "18 mg of ammonium, 14 of its nitrogen", 14.007*ChargeOf(Ammonium), 1, 1e-12)
	near(t, "23 mg of sodium", 22.99*ChargeOf(Sodium), 1, 1e-12)
}

// 100 mg/L of calcium carbonate are 2 meq/L, near enough (Standard Methods for the
// Examination of Water and Wastewater, 2320, from memory: 50,000 mg of carbonate an equivalent).
func TestAcid(t *testing.T) {
	near(t, "alkalinity", AlkalinityCharge(100), 2, 0.003)
	near(t, "acid", AcidNeeded(200, 50), 3, 0.005)
	near(t, "soft water", AcidNeeded(40, 50), 0, 0)
	// One mole of nitric acid, one equivalent, brings one mole of nitrogen.
	n, ok := AcidBrings("nitric", Nitrogen)
	near(t, "nitrogen", n, 14.007, 0)
	p, ok2 := AcidBrings("phosphoric", Phosphorus)
	s, ok3 := AcidBrings("sulfuric", Sulfur)
	near(t, "phosphorus and sulfur", p+s, 30.974+16.03, 1e-12)
	none, ok4 := AcidBrings("nitric", Sulfur)
	if _, known := AcidBrings("lemon", Nitrogen); known || !ok || !ok2 || !ok3 || !ok4 || none != 0 {
		t.Error("acids")
	}
}
