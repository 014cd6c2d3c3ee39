package feed

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
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

// Published worked examples of single salts.
func TestWorkedExamples(t *testing.T) {
	const ounce, gallon = 28.349523125, 3.785411784
	// Mattson 2018, e-GRO: 100 ppm of nitrogen from calcium nitrate of 15.5 %: 645 mg/L.
	near(t, "100 ppm N", one(t, "calcium_nitrate", Nitrogen, 100), 645.2, 0.1)
	near(t, "its calcium", one(t, "calcium_nitrate", Nitrogen, 100)*shareOf(t, "calcium_nitrate", Calcium), 123, 0.5)
	// University of Massachusetts: 200 ppm from goods of 20 %: 13 1/2 oz in 100 gal; 15 %: 18 oz.
	near(t, "13 1/2 oz", 200/0.20*100*gallon/1000/ounce, 13.5, 0.2)
	near(t, "18 oz", 200/0.15*100*gallon/1000/ounce, 18, 0.25)
	// scienceinhydroponics.com 2021: 10 ppm more of an element, g/L, and what comes along.
	for _, c := range []struct {
		salt       string
		e, with    Element
		grams, add float64
	}{
		{"monopotassium_phosphate", Phosphorus, Potassium, 0.0439, 12.62},
		{"potassium_sulfate", Potassium, Sulfur, 0.0223, 4.10},
		{"epsom", Magnesium, Sulfur, 0.1014, 13.19},
		{"calcium_chloride", Calcium, Chloride, 0.0277, 17.69},
	} {
		mg := one(t, c.salt, c.e, 10)
		near(t, c.salt, mg/1000, c.grams, 0.0002)
		near(t, c.salt+", along with it", mg*shareOf(t, c.salt, c.with), c.add, 0.02)
	}
	// Texas A&M: 300 ppm of nitrogen, half from ammonium nitrate of 33 %, half from
	// calcium nitrate of 15 %. The page's 5 and 13 oz in 100 gal follow from a factor
	// of 29.75 where .33 x 74.9 is 24.7; right is 6.1 and 13.3.
	near(t, "half as ammonium nitrate", 150/0.33*100*gallon/1000/ounce, 6.1, 0.05)
	near(t, "half as calcium nitrate", 150/0.15*100*gallon/1000/ounce, 13.35, 0.05)
}

// one doses one salt for one element.
func one(t testing.TB, salt string, e Element, ppm float64) float64 {
	dose := []float64{0}
	Dose([]float64{shareOf(t, salt, e)}, []float64{ppm}, []float64{ppm}, dose)
	return dose[0]
}

// feed holds what the salts of a recipe are and what they make.
type feed struct {
	salts      []string
	elements   []Element
	share      []float64
	add, aim   []float64
	dose, held []float64
}

func mixed(t testing.TB, salts []string, recipe, well map[Element]float64) feed {
	t.Helper()
	f := feed{salts: salts, dose: make([]float64, len(salts))}
	for e := range elementCount {
		aim, ok := recipe[e]
		if !ok {
			continue
		}
		f.elements = append(f.elements, e)
		for _, s := range salts {
			f.share = append(f.share, shareOf(t, s, e))
		}
		f.aim = append(f.aim, aim)
		f.add = append(f.add, aim-well[e])
	}
	Dose(f.share, f.add, f.aim, f.dose)
	for i, e := range f.elements {
		sum := well[e]
		for j := range salts {
			sum += f.share[i*len(salts)+j] * f.dose[j]
		}
		f.held = append(f.held, sum)
	}
	return f
}

var usualSalts = []string{"calcium_nitrate", "potassium_nitrate", "monopotassium_phosphate", "potassium_sulfate", "epsom"}

// A published recipe is made exactly, in the way textbooks make it: phosphorus by
// monopotassium phosphate, calcium by calcium nitrate, the rest of the nitrogen by
// potassium nitrate, of the potassium by its sulfate, magnesium by Epsom salt.
func TestRecipeByHand(t *testing.T) {
	recipe := map[Element]float64{Nitrogen: 189, Phosphorus: 39, Potassium: 341, Calcium: 170, Magnesium: 48} // University of Arizona
	f := mixed(t, usualSalts, recipe, nil)
	lime := 170 / 0.19
	phosphate := 39 / shareOf(t, "monopotassium_phosphate", Phosphorus)
	nitre := (189 - lime*0.155) / shareOf(t, "potassium_nitrate", Nitrogen)
	sulfate := (341 - phosphate*shareOf(t, "monopotassium_phosphate", Potassium) - nitre*shareOf(t, "potassium_nitrate", Potassium)) / shareOf(t, "potassium_sulfate", Potassium)
	epsom := 48 / shareOf(t, "epsom", Magnesium)
	for i, want := range []float64{lime, nitre, phosphate, sulfate, epsom} {
		near(t, f.salts[i], f.dose[i], want, 1e-6*want)
	}
	for i, e := range f.elements {
		near(t, Elements[e], f.held[i], recipe[e], 0.001*recipe[e])
	}
}

// A grower's third stage, kg in 50 L of stock at 1:100 (hydro-industries.com): what
// it comes to in the feed, in the published figures.
func TestGrowersStage(t *testing.T) {
	kilos := map[string]float64{"calcium_nitrate": 4.6, "potassium_nitrate": 1.55, "monopotassium_phosphate": 1.45, "potassium_sulfate": 2.6, "epsom": 2.25}
	held := map[Element]float64{}
	for salt, kg := range kilos {
		for e := range elementCount {
			held[e] += kg * 1e6 / 50 / 100 * shareOf(t, salt, e)
		}
	}
	for e, want := range map[Element]float64{Nitrogen: 186, Phosphorus: 66, Potassium: 437, Calcium: 175, Magnesium: 44, Sulfur: 154} {
		near(t, Elements[e], held[e], want, 2)
	}
	// And back: those figures as a recipe give the kilos again.
	f := mixed(t, usualSalts, map[Element]float64{Nitrogen: held[Nitrogen], Phosphorus: held[Phosphorus], Potassium: held[Potassium], Calcium: held[Calcium], Magnesium: held[Magnesium]}, nil)
	for i, s := range f.salts {
		near(t, s, f.dose[i]*50*100/1e6, kilos[s], 1e-6)
	}
}

// What the salts cannot make is shared out: little nitrogen beside much calcium
// from calcium nitrate alone.
func TestWhatCannotBeMade(t *testing.T) {
	recipe := map[Element]float64{Nitrogen: 80, Phosphorus: 50, Potassium: 120, Calcium: 150, Magnesium: 40}
	f := mixed(t, usualSalts, recipe, nil)
	for i, e := range f.elements {
		switch e {
		case Nitrogen:
			if f.held[i] <= recipe[e] {
				t.Errorf("nitrogen %v is not above its %v", f.held[i], recipe[e])
			}
		case Calcium:
			if f.held[i] >= recipe[e] {
				t.Errorf("calcium %v is not below its %v", f.held[i], recipe[e])
			}
		default:
			near(t, Elements[e], f.held[i], recipe[e], 1e-6)
		}
	}
	if f.dose[1] != 0 {
		t.Errorf("potassium nitrate %v is put into a feed that has too much nitrogen", f.dose[1])
	}
	// With calcium chloride at hand it is made again.
	again := mixed(t, append([]string{"calcium_chloride"}, usualSalts...), recipe, nil)
	for i, e := range again.elements {
		near(t, Elements[e]+" with calcium chloride", again.held[i], recipe[e], 1e-6)
	}
}

// The water's own minerals take their part, and where it holds more than the recipe
// nothing is put in.
func TestWell(t *testing.T) {
	recipe := map[Element]float64{Nitrogen: 150, Phosphorus: 50, Potassium: 200, Calcium: 150, Magnesium: 50}
	plain := mixed(t, usualSalts, recipe, nil)
	hard := mixed(t, usualSalts, recipe, map[Element]float64{Calcium: 60, Magnesium: 70})
	if hard.dose[0] >= plain.dose[0] {
		t.Errorf("calcium nitrate %v with a hard well, %v without", hard.dose[0], plain.dose[0])
	}
	if hard.dose[4] != 0 {
		t.Errorf("Epsom salt %v into water with more magnesium than the recipe", hard.dose[4])
	}
}

// Law: nobody finds better doses. All subsets of the salts are fitted without a
// bound by gonum's QR; the best of those without a dose below zero is the answer.
func TestNoBetterDoses(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 44))
	for range 300 {
		elements, n := 3+r.IntN(4), 2+r.IntN(4)
		share, add, aim, dose := make([]float64, elements*n), make([]float64, elements), make([]float64, elements), make([]float64, n)
		for i := range share {
			if r.IntN(2) == 0 {
				share[i] = r.Float64()
			}
		}
		for e := range add {
			aim[e] = 20 + 200*r.Float64()
			add[e] = aim[e] - 60*r.Float64()
		}
		Dose(share, add, aim, dose)
		off := func(x []float64) float64 {
			sum := 0.0
			for e := range add {
				d := -add[e]
				for i := range x {
					d += share[e*n+i] * x[i]
				}
				sum += d * d / (aim[e] * aim[e])
			}
			return sum
		}
		got := off(dose)
		for i, x := range dose {
			if x < 0 {
				t.Fatalf("dose %d is %v", i, x)
			}
		}
		best := off(make([]float64, n))
		for subset := 1; subset < 1<<n; subset++ {
			var in []int
			for i := range n {
				if subset>>i&1 == 1 {
					in = append(in, i)
				}
			}
			if len(in) > elements {
				continue
			}
			a, b := mat.NewDense(elements, len(in), nil), mat.NewVecDense(elements, nil)
			for e := range elements {
				for k, i := range in {
					a.Set(e, k, share[e*n+i]/aim[e])
				}
				b.SetVec(e, add[e]/aim[e])
			}
			var qr mat.QR
			qr.Factorize(a)
			var x mat.VecDense
			if qr.SolveVecTo(&x, false, b) != nil {
				continue
			}
			whole, fits := make([]float64, n), true
			for k, i := range in {
				whole[i] = x.AtVec(k)
				fits = fits && whole[i] >= 0
			}
			if fits {
				best = min(best, off(whole))
			}
		}
		if got > best*(1+1e-9)+1e-12 {
			t.Fatalf("%v, and %v can be had: share %v add %v aim %v dose %v", got, best, share, add, aim, dose)
		}
	}
}

func TestDoseEdges(t *testing.T) {
	// Two bags of one salt, an element that no salt holds, one not aimed at.
	share := []float64{0.5, 0.5, 0, 0, 0.3, 0.3}
	dose := make([]float64, 2)
	Dose(share, []float64{100, 10, 1000}, []float64{100, 10, math.NaN()}, dose)
	near(t, "together", dose[0]+dose[1], 200, 1e-9)
	Dose(share, []float64{-5, 0, 0}, []float64{100, 10, 0}, dose)
	near(t, "more than enough", dose[0]+dose[1], 0, 0)
	Dose(nil, nil, nil, dose)
	near(t, "no elements", dose[0]+dose[1], 0, 0)
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

func TestWater(t *testing.T) {
	// hortidaily: 1.7 mL a joule; a day of 1,000 J/cm2, a full canopy: 1.70 L/m2. With a
	// quarter drained, 2.267 L are given.
	near(t, "1,000 J/cm2", Drinks(10, 1, UptakeOfSun()), 1.70, 1e-12)
	near(t, "given", Drinks(10, 1, UptakeOfSun())/(1-0.25), 2.267, 0.001)
	// The middle of each published step of light lies in its published drain.
	for _, c := range []struct{ joules, low, high float64 }{{250, 0, 0.10}, {750, 0.10, 0.20}, {1250, 0.20, 0.30}, {1750, 0.30, 0.40}, {3000, 0.30, 0.40}} {
		if got := DrainShare(c.joules / 100); got < c.low || got > c.high {
			t.Errorf("%v J/cm2: %v drains", c.joules, got)
		}
	}
	near(t, "dark", DrainShare(0)+DrainShare(-1), 0, 0)
	last := 0.0
	for sun := 0.0; sun < 40; sun += 0.1 {
		given := Drinks(sun, 1, UptakeOfSun()) / (1 - DrainShare(sun))
		if given < last {
			t.Fatalf("%v MJ: %v given after %v", sun, given, last)
		}
		last = given
		near(t, "what is given is drunk or drains", given*DrainShare(sun)+Drinks(sun, 1, UptakeOfSun()), given, 1e-12)
	}
}

func TestCanopy(t *testing.T) {
	near(t, "before", Canopy(-1, 56), 0, 0)
	near(t, "set out", Canopy(0, 56), 0.15, 0)
	near(t, "half way", Canopy(28, 56), 0.575, 1e-12)
	near(t, "at the wire", Canopy(56, 56)+Canopy(200, 56), 2, 0)
	// The mean of a week is the mean of its moments.
	for _, from := range []float64{-10, -3, 0, 20, 50, 53, 60} {
		sum, n := 0.0, 0
		for d := max(0, from) + 0.0005; d < from+7; d += 0.001 {
			sum, n = sum+Canopy(d, 56), n+1
		}
		want := 0.0
		if n > 0 {
			want = sum / float64(n)
		}
		near(t, "week", MeanCanopy(from, from+7, 56), want, 1e-6)
	}
}

// Louisiana State University houses of 30 x 96 ft hold 320 bags of two plants: 640
// plants (LSU AgCenter 2003).
func TestBagCost(t *testing.T) {
	plants, bags := 640.0, 320.0
	each := BagCost(4, 0.60, 0.40, plants/bags, 2)
	near(t, "a plant", each, 1.25, 1e-12)
	near(t, "a house", each*plants, 5*bags/2, 1e-9)
	if BagCost(4, 0.6, 0.4, 2, 3) >= each || BagCrops() < 3 || BagCrops() > 5 {
		t.Error("a bag that serves longer costs less")
	}
}
