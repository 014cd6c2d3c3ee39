package house

import "wintertruss/engine/fact"

// Heat leaves a house in two ways that each grow with how much warmer it is
// inside:
//
//	loss = U A + 0.018 n V
//
// through the cover (U by kind of cover, A its surface with the ends) and with
// the air that leaks (n changes an hour of the volume V, 0.018 BTU/ft3/degF the
// heat air holds). This is the form of the engineering practice and of every
// extension sheet. Left out, and so the user's to add through U: the edge along
// the ground, wind above about 15 mph, a clear night sky over plain film, and
// wet film, which works the other way.

const extension = "Extension Foundation, Farm energy learning modules, unit Greenhouses"

// What covers lose, per surface and degree, as the trade gives it.
var (
	LossSinglePoly = fact.New(fact.Fact{Name: "heat a single film loses", Value: 1.15, Unit: "BTU/h/ft2/degF", Low: 1.0, High: 1.2,
		Source: extension + " (range of any single layer; the middle is from memory of ASAE EP406)", Place: "page Glazing materials", Known: fact.Read})
	LossDoublePoly = fact.New(fact.Fact{Name: "heat an inflated double film loses", Value: 0.70, Unit: "BTU/h/ft2/degF", Low: 0.60, High: 0.70,
		Source: extension, Place: "page Glazing materials (any double layer 0.6 to 0.7)", Known: fact.Read})
	LossGlass = fact.New(fact.Fact{Name: "heat a single glass loses", Value: 1.13, Unit: "BTU/h/ft2/degF", Low: 1.0, High: 1.2,
		Source: extension + " (range of any single layer; the middle is from memory of ASAE EP406)", Place: "page Glazing materials", Known: fact.Read})
	LossPolycarbonate = fact.New(fact.Fact{Name: "heat an 8 mm twin-wall polycarbonate loses", Value: 0.53, Unit: "BTU/h/ft2/degF", Low: 0.53, High: 0.65,
		Source: "Rimol Greenhouse Systems, How to size a greenhouse heating system; the high end from an R-value of 1.54 for 6 mm (S. Awad 2012, Consider the R-value)",
		Place:  "step 2, U-factor", Known: fact.Read})
	LossTriplePolycarbonate = fact.New(fact.Fact{Name: "heat a triple-wall polycarbonate loses", Value: 0.42, Unit: "BTU/h/ft2/degF", Low: 0.38, High: 0.50,
		Source: "NRAES-33, Greenhouse Engineering (Aldrich and Bartok); from memory", Place: "table of heat transfer coefficients", Known: fact.Memory})
	InfraredFilmSaves = fact.New(fact.Fact{Name: "share of the loss that an infrared film inside saves", Value: 0.15, Unit: "1", Low: 0.10, High: 0.20,
		Source: "University of Wisconsin Extension, Greenhouse energy: heat loss (15 to 20 %); J. W. Bartok (at least 10 %)", Place: "section IR and anti-condensation treated films", Known: fact.Read})
	ScreenSaves = fact.New(fact.Fact{Name: "share of the cover's loss that a closed thermal screen saves", Value: 0.30, Unit: "1", Low: 0.20, High: 0.50,
		Source: "Geoola, Kashti, Levi and Brickman 2009, Polymer Testing; the range is assumed", Place: "abstract", Known: fact.Read})
)

// The air that leaks.
var (
	AirHolds = fact.New(fact.Fact{Name: "heat that air holds", Value: 0.018, Unit: "BTU/ft3/degF", Low: 0.017, High: 0.020,
		Source: "ASHRAE Handbook of Fundamentals: standard air, 0.075 lb/ft3 of 0.24 BTU/lb/degF", Place: "chapter on nonresidential heat loads", Known: fact.Quoted})
	AirChangesDoublePoly = fact.New(fact.Fact{Name: "air changes of a new double-film house", Value: 0.75, Unit: "1/h", Low: 0.5, High: 1.0,
		Source: "NRAES-33, Greenhouse Engineering (Aldrich and Bartok); from memory", Place: "table of natural air exchange", Known: fact.Memory})
	AirChangesGlassNew = fact.New(fact.Fact{Name: "air changes of a new glass house", Value: 1.0, Unit: "1/h", Low: 0.75, High: 1.5,
		Source: "NRAES-33, Greenhouse Engineering (Aldrich and Bartok); from memory", Place: "table of natural air exchange", Known: fact.Memory})
	AirChangesGlassOld = fact.New(fact.Fact{Name: "air changes of an old glass house in good repair", Value: 1.5, Unit: "1/h", Low: 1, High: 2,
		Source: "NRAES-33, Greenhouse Engineering (Aldrich and Bartok); from memory", Place: "table of natural air exchange", Known: fact.Memory})
	AirChangesPoor = fact.New(fact.Fact{Name: "air changes of an old house in poor repair", Value: 3, Unit: "1/h", Low: 2, High: 4,
		Source: "NRAES-33, Greenhouse Engineering (Aldrich and Bartok); from memory", Place: "table of natural air exchange", Known: fact.Memory})
)

// airHoldsSI is AirHolds in J/m3/K.
var airHoldsSI = func() float64 {
	foot := MetresInFoot.Value
	return AirHolds.Value * JoulesInBTU.Value / (foot * foot * foot) * FahrenheitInKelvin.Value
}()

// The covers by the words a book uses, in W/m2/K.
var coverLoss = []struct {
	kind string
	loss float64
}{
	{"single_poly", lossFromUS(LossSinglePoly.Value)},
	{"double_poly", lossFromUS(LossDoublePoly.Value)},
	{"double_poly_infrared", lossFromUS(LossDoublePoly.Value) * (1 - InfraredFilmSaves.Value)},
	{"glass", lossFromUS(LossGlass.Value)},
	{"polycarbonate", lossFromUS(LossPolycarbonate.Value)},
	{"triple_polycarbonate", lossFromUS(LossTriplePolycarbonate.Value)},
}

// Covers gives the words for covers that CoverLoss knows.
func Covers() []string {
	words := make([]string, len(coverLoss))
	for i, cover := range coverLoss {
		words[i] = cover.kind
	}
	return words
}

// CoverLoss gives what a kind of cover loses, W/m2/K; ok is false for a word it
// does not know.
func CoverLoss(kind string) (loss float64, ok bool) {
	for _, cover := range coverLoss {
		if cover.kind == kind {
			return cover.loss, true
		}
	}
	return 0, false
}

// AirLoss gives the heat that leaves with leaking air, W/K: changes of air an
// hour times the volume in m3 times what air holds.
func AirLoss(changesPerHour, volume float64) float64 {
	return changesPerHour * volume * airHoldsSI / secondsInHour
}
