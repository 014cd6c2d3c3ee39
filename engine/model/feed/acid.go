package feed

// Alkalinity is what of a water binds acid, mostly bicarbonate; a laboratory gives
// it as if it were calcium carbonate, mg/L. Half a mole of that carbonate binds one
// equivalent of acid.

// AlkalinityCharge gives alkalinity, mg/L of calcium carbonate, in equivalents, meq/L.
func AlkalinityCharge(asCarbonate float64) float64 {
	return asCarbonate / ((massCa + massC + 3*massO) / 2)
}

// AcidNeeded gives the acid that leaves only so much alkalinity, meq/L, from
// alkalinity as calcium carbonate, mg/L: never less than none.
func AcidNeeded(alkalinity, kept float64) float64 {
	return max(0, AlkalinityCharge(alkalinity)-AlkalinityCharge(kept))
}

// Acids are the words for the acids that growers use.
var Acids = [...]string{"nitric", "phosphoric", "sulfuric"}

// AcidBrings gives what an acid brings of an element with each equivalent, mg/meq:
// nitric acid one nitrogen, phosphoric one phosphorus (at the pH of a feed it gives
// one of its three), sulfuric half a sulfur. No to a word that is none of [Acids].
func AcidBrings(acid string, e Element) (float64, bool) {
	switch acid {
	case "nitric":
		if e == Nitrogen {
			return massN, true
		}
	case "phosphoric":
		if e == Phosphorus {
			return massP, true
		}
	case "sulfuric":
		if e == Sulfur {
			return massS / 2, true
		}
	default:
		return 0, false
	}
	return 0, true
}
