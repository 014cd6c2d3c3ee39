package feed

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Published worked examples of single salts.
func TestWorkedExamples(t *testing.T) {
	const ounce, gallon = 28.349523125, 3.785411784
	// Mattson 2018, e-GRO: 100 ppm of nitrogen from calcium nitrate of 15.5 %: 645 mg/L.
	near(t, "100 ppm N", one(t, "calcium_nitrate", Nitrogen, 100), 645.2, 0.1)
	near(t, "its calcium", one(t, "calcium_nitrate", Nitrogen, 100)*shareOf(t, "calcium_nitrate", Calcium), 123, 0.5)
	// University of Massachusetts: 200 ppm from goods of 20 %: 13 1/2 oz in 100 gal; 15 %: 18 oz.
	near(t, "13 1/2 oz", 200/0.20*100*gallon/1000/ounce, 13.5, 0.2)
	near(t, "18 oz", 200/0.15*100*gallon/1000/ounce, 18, 0.25)
	// Texas A&M: an ounce of goods of 15 % in 100 gal are 11.25 ppm, 22 oz make 250.
	near(t, "an ounce", ounce*0.15*1000/(100*gallon), 11.25, 0.03)
	near(t, "22 oz", 250/0.15*100*gallon/1000/ounce, 22, 0.3)
	// 20-20-20 for 200 ppm by an injector of 1:100 and 1:200: 13.33 and 26.66 oz in a
	// gallon of stock, by the round figure of 75; 13.35 and 26.71 exactly.
	near(t, "1:100", 200/0.20*100*gallon/1000/ounce, 13.33, 0.03)
	near(t, "1:200", 200/0.20*200*gallon/1000/ounce, 26.66, 0.06)
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
