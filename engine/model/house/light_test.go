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

// S. Sanford, University of Wisconsin Extension: double film lets about 80 % of
// the light through, condensation takes a further 15 to 25 % at plant level: 60
// to 68 % left. With a frame that is the 0.60 to 0.70 of whole houses and below.
func TestPassed(t *testing.T) {
	double, _ := CoverLight("double_poly")
	near(t, "wet, low", Passed(double, 1, WetTakes.Low, 0), 0.68, 1e-12)
	near(t, "wet, high", Passed(double, 1, WetTakes.High, 0), 0.60, 1e-12)
	near(t, "dry house with its frame", Passed(double, 0, WetTakes.Value, FrameTakes.Value), CoverPasses.Value, 0.01)
	single, _ := CoverLight("single_poly")
	near(t, "single film", single, 0.90, 0.005)
	for _, kind := range ClearCovers() {
		share, ok := CoverLight(kind)
		if _, known := CoverLoss(kind); !ok || !known || share <= 0 || share >= 1 {
			t.Errorf("%s passes %v, %v; its loss is known: %v", kind, share, ok, known)
		}
	}
	if _, ok := CoverLight("triple_polycarbonate"); ok {
		t.Error("knows a figure that was not found")
	}
	// More water or shade never lets more through; nothing leaves 0..1.
	for passes := -0.2; passes <= 1.2; passes += 0.1 {
		for taken := -0.2; taken <= 1.2; taken += 0.1 {
			wet, shaded := Passed(passes, taken, 0.2, 0.1), Passed(passes, 0.5, 0.2, taken)
			if wet < Passed(passes, taken+0.1, 0.2, 0.1)-1e-12 || shaded < Passed(passes, 0.5, 0.2, taken+0.1)-1e-12 || wet < 0 || wet > 1 || shaded < 0 || shaded > 1 {
				t.Fatalf("passes %v, taken %v: %v wet, %v shaded", passes, taken, wet, shaded)
			}
		}
	}
}
