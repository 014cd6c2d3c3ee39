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
	WetTakes = fact.New(fact.Fact{Name: "share of light at the plants that water on the film takes", Value: 0.20, Unit: "1", Low: 0.15, High: 0.25,
		Source: "S. Sanford, University of Wisconsin Extension, on greenhouse covers", Place: "condensation", Known: fact.Read})
)

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
