package feed

import "wintertruss/engine/fact"

// Element is what a recipe names. Ammonium is the nitrogen that comes as ammonium;
// it is counted in nitrogen too.
type Element int

const (
	Nitrogen Element = iota
	Ammonium
	Phosphorus
	Potassium
	Calcium
	Magnesium
	Sulfur
	Sodium
	Chloride
	Iron
	Manganese
	Zinc
	Boron
	Copper
	Molybdenum
	elementCount
)

// Elements are the words for them, in their order.
var Elements = [elementCount]string{"nitrogen", "ammonium", "phosphorus", "potassium", "calcium", "magnesium", "sulfur", "sodium", "chloride",
	"iron", "manganese", "zinc", "boron", "copper", "molybdenum"}

// ElementOf gives the element of a word; no to a word that is none of [Elements].
func ElementOf(word string) (Element, bool) {
	for e, w := range Elements {
		if w == word {
			return Element(e), true
		}
	}
	return 0, false
}

// mass registers a molar mass, g/mol. They were written down from memory; the test
// holds what they make of each salt against labels of bags and a program with masses of its own.
func mass(symbol string, value float64) float64 {
	return fact.New(fact.Fact{Name: "molar mass of " + symbol, Value: value, Unit: "g/mol", Low: value, High: value,
		Source: "IUPAC Commission on Isotopic Abundances and Atomic Weights, abridged standard atomic weights 2021", Known: fact.Memory}).Value
}

var (
	massH  = mass("hydrogen", 1.008)
	massB  = mass("boron", 10.81)
	massC  = mass("carbon", 12.011)
	massN  = mass("nitrogen", 14.007)
	massO  = mass("oxygen", 15.999)
	massNa = mass("sodium", 22.990)
	massMg = mass("magnesium", 24.305)
	massP  = mass("phosphorus", 30.974)
	massS  = mass("sulfur", 32.06)
	massCl = mass("chlorine", 35.45)
	massK  = mass("potassium", 39.098)
	massCa = mass("calcium", 40.078)
	massMn = mass("manganese", 54.938)
	massCu = mass("copper", 63.546)
	massZn = mass("zinc", 65.38)
	massMo = mass("molybdenum", 95.95)
)

// Labels of bags whose goods are no pure compound.
var (
	limeNitrogen = fact.New(fact.Fact{Name: "nitrogen in calcium nitrate of fertiliser grade", Value: 0.155, Unit: "1", Low: 0.150, High: 0.1555,
		Source: "label of the grade; 5Ca(NO3)2.NH4NO3.10H2O by its formula holds 15.55 %; Mattson 2018, e-GRO, reckons with 15.5 %", Place: "worked example on feed", Known: fact.Read})
	limeAmmonium = fact.New(fact.Fact{Name: "nitrogen as ammonium in calcium nitrate of fertiliser grade", Value: 0.011, Unit: "1", Low: 0.010, High: 0.013,
		Known: fact.CommonPractice})
	limeCalcium = fact.New(fact.Fact{Name: "calcium in calcium nitrate of fertiliser grade", Value: 0.19, Unit: "1", Low: 0.185, High: 0.19,
		Source: "label of the grade; its formula holds 18.5 %", Known: fact.CommonPractice})
	chelateIron = fact.New(fact.Fact{Name: "iron in a chelate as sold", Value: 0.10, Unit: "1", Low: 0.06, High: 0.13,
		Known: fact.CommonPractice})
)

// dissolve registers how much of a salt a litre of water at 20 degC takes, g/L.
func dissolve(salt string, value, low, high float64) fact.Fact {
	return fact.New(fact.Fact{Name: "what a litre of water at 20 degC dissolves of " + salt, Value: value, Unit: "g/L", Low: low, High: high,
		Source: "handbooks of chemistry", Known: fact.Memory})
}

// dissolved holds the salts that strong solutions are made of, by their words. Two
// salts with one ion in common dissolve less beside each other, and cold water takes
// less: the figures are a limit that is not to be neared.
var dissolved = map[string]fact.Fact{
	"calcium_nitrate":         dissolve("calcium nitrate of fertiliser grade", 1200, 1000, 1300),
	"potassium_nitrate":       dissolve("potassium nitrate", 316, 300, 320),
	"monopotassium_phosphate": dissolve("monopotassium phosphate", 226, 220, 250),
	"potassium_sulfate":       dissolve("potassium sulfate", 111, 100, 120),
	"epsom":                   dissolve("Epsom salt", 710, 600, 750),
	"monoammonium_phosphate":  dissolve("monoammonium phosphate", 370, 350, 400),
	"ammonium_nitrate":        dissolve("ammonium nitrate", 1900, 1800, 1950),
}

// Dissolves gives how much of a salt a litre of water at 20 degC takes, g/L; no where
// it is not known here.
func (s Salt) Dissolves() (float64, bool) {
	f, ok := dissolved[salts[s].word]
	return f.Value, ok
}

// Salt is a fertiliser by its kind.
type Salt int

// compound is a salt's word and its share of each element.
type compound struct {
	word  string
	share [elementCount]float64
}

// pure gives a pure compound: its molar mass, g/mol, and the grams of each element
// in a mole.
func pure(word string, molar float64, of map[Element]float64) compound {
	c := compound{word: word}
	for e, grams := range of {
		c.share[e] = grams / molar
	}
	return c
}

var (
	massNO3 = massN + 3*massO
	massNH4 = massN + 4*massH
	massSO4 = massS + 4*massO
	massH2O = 2*massH + massO
)

// salts are the fertilisers known. Of a pure compound the shares follow from its
// formula: atoms x molar mass / molar mass of the whole.
var salts = []compound{
	{"calcium_nitrate", [elementCount]float64{Nitrogen: limeNitrogen.Value, Ammonium: limeAmmonium.Value, Calcium: limeCalcium.Value}},
	pure("calcium_nitrate_pure", massCa+2*massNO3+4*massH2O, map[Element]float64{Calcium: massCa, Nitrogen: 2 * massN}),
	pure("potassium_nitrate", massK+massNO3, map[Element]float64{Potassium: massK, Nitrogen: massN}),
	pure("monopotassium_phosphate", massK+2*massH+massP+4*massO, map[Element]float64{Potassium: massK, Phosphorus: massP}),
	pure("potassium_sulfate", 2*massK+massSO4, map[Element]float64{Potassium: 2 * massK, Sulfur: massS}),
	pure("epsom", massMg+massSO4+7*massH2O, map[Element]float64{Magnesium: massMg, Sulfur: massS}),
	pure("monoammonium_phosphate", massNH4+2*massH+massP+4*massO, map[Element]float64{Nitrogen: massN, Ammonium: massN, Phosphorus: massP}),
	pure("ammonium_nitrate", massNH4+massNO3, map[Element]float64{Nitrogen: 2 * massN, Ammonium: massN}),
	pure("magnesium_nitrate", massMg+2*massNO3+6*massH2O, map[Element]float64{Magnesium: massMg, Nitrogen: 2 * massN}),
	pure("potassium_chloride", massK+massCl, map[Element]float64{Potassium: massK, Chloride: massCl}),
	pure("calcium_chloride", massCa+2*massCl, map[Element]float64{Calcium: massCa, Chloride: 2 * massCl}),
	{"iron_chelate", [elementCount]float64{Iron: chelateIron.Value}},
	pure("manganese_sulfate", massMn+massSO4+massH2O, map[Element]float64{Manganese: massMn, Sulfur: massS}),
	pure("zinc_sulfate", massZn+massSO4+7*massH2O, map[Element]float64{Zinc: massZn, Sulfur: massS}),
	pure("copper_sulfate", massCu+massSO4+5*massH2O, map[Element]float64{Copper: massCu, Sulfur: massS}),
	pure("boric_acid", 3*massH+massB+3*massO, map[Element]float64{Boron: massB}),
	pure("sodium_molybdate", 2*massNa+massMo+4*massO+2*massH2O, map[Element]float64{Molybdenum: massMo, Sodium: 2 * massNa}),
}

// Salts gives the words for the salts known, in their order.
func Salts() []string {
	words := make([]string, len(salts))
	for i, s := range salts {
		words[i] = s.word
	}
	return words
}

// SaltOf gives the salt of a word; no to a word that is none of [Salts].
func SaltOf(word string) (Salt, bool) {
	for i := range salts {
		if salts[i].word == word {
			return Salt(i), true
		}
	}
	return 0, false
}

// Share gives what part of a salt's weight an element is, 0 to 1.
func (s Salt) Share(e Element) float64 { return salts[s].share[e] }

// PhosphorusInOxide and PotassiumInOxide turn what labels give, P2O5 and K2O, into
// the elements that recipes give: shares of the weight.
func PhosphorusInOxide() float64 { return 2 * massP / (2*massP + 5*massO) }

// PotassiumInOxide is the potassium in K2O.
func PotassiumInOxide() float64 { return 2 * massK / (2*massK + massO) }
