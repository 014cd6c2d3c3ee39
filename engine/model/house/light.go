package house

import "wintertruss/engine/fact"

// Light for growth. Measured sun is energy over all colours; a crop counts
// quanta of the visible part. About 0.45 to 0.50 of sunlight is visible and a
// joule of that is about 4.6 umol.
var (
	MolInMegajoule = fact.New(fact.Fact{Name: "growing light in sunlight", Value: 2.07, Unit: "mol/MJ", Low: 2.06, High: 2.30,
		Source: "0.45 of sunlight at 4.6 umol/J under a clear sky, horti-generation.com; high end 0.50 at 4.6, manual of the R package bigleaf",
		Place:  "page on light units; entry Rg.to.PPFD", Known: fact.Read})
	CoverPasses = fact.New(fact.Fact{Name: "share of light that reaches the crop through double film and frame", Value: 0.70, Unit: "1", Low: 0.60, High: 0.75,
		Source: "whole-house figure of the trade; from memory", Place: "", Known: fact.Memory})
	SinglePasses = fact.New(fact.Fact{Name: "share of light that clean single film passes", Value: 0.90, Unit: "1", Low: 0.85, High: 0.92,
		Source: "S. Sanford, University of Wisconsin Extension, on greenhouse covers; the range is assumed", Place: "light transmission of single film", Known: fact.Read})
	DoublePasses = fact.New(fact.Fact{Name: "share of light that clean double film passes", Value: 0.80, Unit: "1", Low: 0.75, High: 0.83,
		Source: "S. Sanford, University of Wisconsin Extension, on greenhouse covers; the range is assumed", Place: "light transmission of double film", Known: fact.Read})
	PolycarbonatePasses = fact.New(fact.Fact{Name: "share of light that clean twin-wall polycarbonate passes", Value: 0.80, Unit: "1", Low: 0.78, High: 0.82,
		Source: extension, Place: "page Glazing materials", Known: fact.Read})
	GlassPasses = fact.New(fact.Fact{Name: "share of light that clean glass of 3 mm passes", Value: 0.88, Unit: "1", Low: 0.86, High: 0.91,
		Source: "National Greenhouse Manufacturers Association, text on glazing, as given by Stuppy; the range is assumed", Place: "table of light transmission", Known: fact.Quoted})
	FrameTakes = fact.New(fact.Fact{Name: "share of the light under the film that frame, wires and strings take", Value: 0.12, Unit: "1", Low: 0.05, High: 0.25, Known: fact.Assumed})
	WetTakes   = fact.New(fact.Fact{Name: "share of light at the plants that water on the film takes", Value: 0.20, Unit: "1", Low: 0.15, High: 0.25,
		Source: "S. Sanford, University of Wisconsin Extension, on greenhouse covers", Place: "condensation", Known: fact.Read})
)

// The share of light that clean covers pass, by the words a book uses. Of a film
// that keeps infrared in, the visible share is taken as that of plain film; of
// triple-wall panels no figure was found.
var coverPasses = []struct {
	kind  string
	share float64
}{
	{"single_poly", SinglePasses.Value},
	{"double_poly", DoublePasses.Value},
	{"double_poly_infrared", DoublePasses.Value},
	{"glass", GlassPasses.Value},
	{"polycarbonate", PolycarbonatePasses.Value},
}

// ClearCovers gives the words for covers that CoverLight knows.
func ClearCovers() []string {
	words := make([]string, len(coverPasses))
	for i, cover := range coverPasses {
		words[i] = cover.kind
	}
	return words
}

// CoverLight gives the share of light, 0 to 1, that a clean and dry cover of a
// kind passes; ok is false for a word it does not know. Ageing and dust are
// not in it: a measured share is better.
func CoverLight(kind string) (share float64, ok bool) {
	for _, cover := range coverPasses {
		if cover.kind == kind {
			return cover.share, true
		}
	}
	return 0, false
}

// Passed gives the share of the sun's light that comes to the plants:
//
//	passes x (1 - wet x wetTakes) x (1 - shaded)
//
// cover's share when dry, the share of the light hours in which water stands on
// the film and what it then takes (15 to 25 %, [WetTakes]), and what frame,
// wires, strings and drawn screens take of the rest. All are shares, 0 to 1;
// what lies outside counts as the nearer end.
func Passed(passes, wet, wetTakes, shaded float64) float64 {
	return share(passes) * (1 - share(wet)*share(wetTakes)) * (1 - share(shaded))
}

// share holds x to 0..1.
func share(x float64) float64 { return max(0, min(1, x)) }

// QuantaFromPower gives the growing light of sunlight, umol/m2/s: power in
// W/m2, the visible share of it, and the quanta of a visible joule in umol/J.
func QuantaFromPower(power, visibleShare, quantaPerJoule float64) float64 {
	return power * visibleShare * quantaPerJoule
}

// InsideLight gives a day's growing light at the crop, mol/m2/d, from the sun
// outside (MJ/m2/d), the growing light in it (mol/MJ) and the share the house
// passes.
func InsideLight(sun, molPerMegajoule, passes float64) float64 {
	return sun * molPerMegajoule * passes
}
