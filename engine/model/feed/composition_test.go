package feed

import (
	"math"
	"testing"
)

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, within)
	}
}

func shareOf(t testing.TB, salt string, e Element) float64 {
	t.Helper()
	s, ok := SaltOf(salt)
	if !ok {
		t.Fatalf("no salt %s", salt)
	}
	return s.Share(e)
}

// What the masses make of each salt, against labels of bags and against the program
// periodictable 1.6.0, which has masses of its own.
func TestSharesOfSalts(t *testing.T) {
	for _, c := range []struct {
		salt         string
		e            Element
		want, within float64
		source       string
	}{
		{"calcium_nitrate", Nitrogen, 0.155, 0, "label 15.5-0-0"},
		{"calcium_nitrate", Calcium, 0.19, 0, "label, 19 % Ca"},
		{"calcium_nitrate_pure", Calcium, 0.1697, 5e-5, "periodictable 1.6.0"},
		{"calcium_nitrate_pure", Nitrogen, 0.1186, 5e-5, "periodictable 1.6.0"},
		{"potassium_nitrate", Nitrogen, 0.137, 0.002, "label 13.7-0-46"},
		{"potassium_nitrate", Potassium, 0.46 * 0.8301, 0.006, "label 13.7-0-46, K2O to K"},
		{"monopotassium_phosphate", Phosphorus, 0.52 * 0.4364, 0.001, "label 0-52-34, P2O5 to P"},
		{"monopotassium_phosphate", Potassium, 0.34 * 0.8301, 0.006, "label 0-52-34"},
		{"potassium_sulfate", Potassium, 0.54 * 0.8301, 0.001, "pure: 54 % K2O"},
		{"potassium_sulfate", Sulfur, 0.184, 1e-4, "periodictable 1.6.0"},
		{"epsom", Magnesium, 0.0986, 5e-5, "periodictable 1.6.0; bags 9.7 to 10 %"},
		{"epsom", Sulfur, 0.1301, 5e-5, "periodictable 1.6.0"},
		{"monoammonium_phosphate", Phosphorus, 0.61 * 0.4364, 0.005, "label 12-61-0"},
		{"monoammonium_phosphate", Nitrogen, 0.12, 0.002, "label 12-61-0"},
		{"ammonium_nitrate", Nitrogen, 0.35, 5e-5, "periodictable 1.6.0"},
		{"potassium_chloride", Potassium, 0.5245, 5e-5, "periodictable 1.6.0"},
		{"calcium_chloride", Calcium, 0.3611, 5e-5, "periodictable 1.6.0"},
		{"magnesium_nitrate", Magnesium, 0.0948, 5e-5, "periodictable 1.6.0"},
		{"boric_acid", Boron, 0.1748, 5e-5, "periodictable 1.6.0"},
		{"manganese_sulfate", Manganese, 0.3251, 5e-5, "periodictable 1.6.0"},
		{"zinc_sulfate", Zinc, 0.2274, 5e-5, "periodictable 1.6.0"},
		{"copper_sulfate", Copper, 0.2545, 5e-5, "periodictable 1.6.0"},
		{"sodium_molybdate", Molybdenum, 0.3966, 5e-5, "periodictable 1.6.0"},
	} {
		near(t, c.salt+" "+Elements[c.e]+" ("+c.source+")", shareOf(t, c.salt, c.e), c.want, c.within+1e-12)
	}
	// Labels give oxides: P = 0.4364 P2O5, K = 0.8301 K2O; 12 % P2O5 is 5.24 % P (e-GRO).
	near(t, "P in P2O5", PhosphorusInOxide(), 0.4364, 1e-4)
	near(t, "K in K2O", PotassiumInOxide(), 0.8301, 1e-4)
	near(t, "12 % P2O5", 0.12*PhosphorusInOxide(), 0.0524, 5e-5)
}

// No salt is more than all of itself, and none is empty.
func TestSharesAreParts(t *testing.T) {
	for i, word := range Salts() {
		sum := 0.0
		for e := range elementCount {
			share := Salt(i).Share(e)
			if share < 0 || share > 1 {
				t.Errorf("%s: %v of %s", word, share, Elements[e])
			}
			if e != Ammonium { // counted in nitrogen
				sum += share
			}
		}
		if sum <= 0 || sum > 1 {
			t.Errorf("%s holds %v of itself", word, sum)
		}
		if got, ok := SaltOf(word); !ok || got != Salt(i) {
			t.Errorf("%s is not found", word)
		}
	}
	if _, ok := SaltOf("salt"); ok {
		t.Error("a salt that is none")
	}
	if _, ok := ElementOf("phlogiston"); ok {
		t.Error("an element that is none")
	}
}

func TestClash(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"calcium_nitrate", "potassium_sulfate", true}, {"calcium_nitrate", "epsom", true}, {"calcium_nitrate", "monopotassium_phosphate", true},
		{"calcium_chloride", "zinc_sulfate", true}, {"calcium_nitrate", "potassium_nitrate", false}, {"calcium_nitrate", "iron_chelate", false},
		{"potassium_sulfate", "epsom", false}, {"potassium_nitrate", "epsom", false},
	} {
		a, _ := SaltOf(c.a)
		b, _ := SaltOf(c.b)
		if Clash(a, b) != c.want || Clash(b, a) != c.want {
			t.Errorf("%s with %s", c.a, c.b)
		}
	}
}

// Every salt that is said to dissolve is one of the salts; a usual strong solution, 1:100
// of the University of Arizona's recipe, stays below a half of it.
func TestDissolves(t *testing.T) {
	for word := range dissolved {
		if _, ok := SaltOf(word); !ok {
			t.Errorf("%s is no salt", word)
		}
	}
	f := mixed(t, usualSalts, map[Element]float64{Nitrogen: 189, Phosphorus: 39, Potassium: 341, Calcium: 170, Magnesium: 48}, nil)
	for i, word := range f.salts {
		salt, _ := SaltOf(word)
		most, ok := salt.Dissolves()
		if g := f.dose[i] * 100 / 1000; !ok || g > most/2 {
			t.Errorf("%s: %v g/L of %v", word, g, most)
		}
	}
	chelate, _ := SaltOf("iron_chelate")
	if _, ok := chelate.Dissolves(); ok {
		t.Error("nothing is known of the chelate")
	}
}
