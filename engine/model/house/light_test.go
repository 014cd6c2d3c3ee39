package house

import "testing"

// Manual of the R package bigleaf, entry Rg.to.PPFD: 500 W/m2 of sun, half of it
// visible at 4.6 umol/J, is 1150 umol/m2/s.
func TestPublishedQuanta(t *testing.T) {
	near(t, "quanta", QuantaFromPower(500, 0.5, 4.6), 1150, 0)
}

// A January day of 8.69 MJ/m2 through a cover that passes 0.70, by hand:
// 8.69 x 2.07 x 0.70 = 12.59 mol. The factor is the visible share times the
// quanta of a joule: 0.45 x 4.6 low, 0.50 x 4.6 high.
func TestInsideLight(t *testing.T) {
	near(t, "inside", InsideLight(8.69, MolInMegajoule.Value, CoverPasses.Value), 12.59, 0.01)
	near(t, "factor", MolInMegajoule.Value, QuantaFromPower(1, 0.45, 4.6), 1e-12)
	near(t, "high end", MolInMegajoule.High, QuantaFromPower(1, 0.50, 4.6), 1e-12)
}
