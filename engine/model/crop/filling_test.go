package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The curve's numbers at 20 degC as the source's equations give them by hand: M =
// -4.93 + 0.548 x 51.7 = 23.4 d, B = 1/(2.44 + 0.403 M) = 0.084 1/d (Vanthoor et al.
// 2011, equations 38 to 41). Growth is fastest on day M.
func TestGrownBy(t *testing.T) {
	const period, middle, rate = 51.7, 23.4, 0.084
	gompertz := func(day float64) float64 { return math.Exp(-math.Exp(-rate * (day - middle))) }
	for day := 0.0; day <= period; day += 4.7 {
		near(t, "share grown", GrownBy(day/period), (gompertz(day)-gompertz(0))/(gompertz(period)-gompertz(0)), 0.002)
	}
	fastest, most := 0.0, 0.0
	for day := 1.0; day < period; day++ {
		if rise := GrownBy((day+0.5)/period) - GrownBy((day-0.5)/period); rise > most {
			fastest, most = day, rise
		}
	}
	near(t, "day of fastest growth", fastest, middle, 1)
	near(t, "flower", GrownBy(-1), 0, 0)
	near(t, "ripe", GrownBy(2), 1, 0)
}

// steady is a crop of five fruit a truss at 22 degC that has borne for long.
type steady struct{ perWeek, light, heads, air float64 }

func (s steady) rows() (set, gain, light, heads []float64) {
	for range 60 {
		set, gain = append(set, s.perWeek), append(gain, StageGain(s.air))
		light, heads = append(light, s.light), append(heads, s.heads)
	}
	return
}

var someFiller = Filler{FullWeight: 130, DryMatter: 0.055, Growth: CropGrowth.Value, DaysFactor: 1}

func (f Filler) weights(set, gain, light, heads []float64) (weight, green []float64) {
	weight, green = make([]float64, len(set)), make([]float64, len(set))
	f.Fill(weight, green, set, gain, light, heads, make([]float64, FillingWork*len(set)))
	return
}

func TestFilling(t *testing.T) {
	at := func(s steady) float64 {
		weight, _ := someFiller.weights(s.rows())
		return weight[50]
	}
	usual := steady{perWeek: 5 * 2.5, light: 14, heads: 2.5, air: 20}
	// With light to spare a fruit at 20 degC comes to its full weight; at 18 degC it
	// grows as much a day for 65 days of 53.9, whatever the curve.
	wanting := usual
	wanting.light = 1000
	near(t, "wants for nothing", at(wanting), 130, 0.5)
	wanting.air = 18
	near(t, "cool fruit are heavier", at(wanting)/130, 65*(1/65.+1/46.)/2, 0.005)

	// The share to fruit of Heuvelink 1997 (abstract): N / (24.2 + N) with N fruit
	// like the plant's on each. Here 5.5 g dry fruit, and N of the steady crop's
	// hanging: 12.5 a week for 53.9 days.
	same := someFiller
	same.FullWeight = 100
	weight, _ := same.weights(usual.rows())
	hang := usual.perWeek / usual.heads / 7 * 2 / (1/65. + 1/46.)
	growth := 14 * CropGrowth.Value * math.Pow(14./10, LightResponse.Value-1) // g dry a m2 and day
	near(t, "share to fruit", weight[50]*0.055*usual.perWeek/7/growth, hang/(24.2+hang), 0.01)

	// More plants to the floor, lighter fruit and more of them; fewer fruit on a
	// plant, heavier ones but less in proportion (Heuvelink 1997, abstract).
	dense, few := usual, usual
	dense.perWeek, dense.heads = 1.5*usual.perWeek, 1.5*usual.heads
	few.perWeek = 0.5 * usual.perWeek
	if a, b := at(usual), at(dense); !(b < a && 1.5*b > a*(1-1e-9)) {
		t.Errorf("%v g, with half as many plants more %v g", a, b)
	}
	if a, b := at(usual), at(few); !(b > a && b < 2*a) {
		t.Errorf("%v g, with half the fruit %v g", a, b)
	}
	// Topped, all goes to the fruit.
	topped := usual
	topped.heads = 0
	if at(topped) <= at(usual) {
		t.Error("topped plants have no heavier fruit")
	}
	// The first fruit of a plant are its heaviest.
	weight, _ = someFiller.weights(usual.rows())
	if !(weight[9] > 1.2*weight[30]) {
		t.Errorf("first %v g, later %v g", weight[9], weight[30])
	}
	// Nothing set, or nothing ripe: no weight.
	near(t, "before the first", weight[5], 0, 0)
}

// Light less 26 and 40 % takes 15 to 26 and 20 to 40 % off a steady crop (Tewolde et
// al. 2018, PLoS One 13(11): 18.5 and 23.3 %; the rule of Marcelis et al. 2006).
func TestFillingByLight(t *testing.T) {
	at := func(light float64) float64 {
		weight, _ := someFiller.weights(steady{perWeek: 12.5, light: light, heads: 2.5, air: 20}.rows())
		return weight[50]
	}
	for _, light := range []float64{6, 12, 20} {
		if loss := 1 - at(0.74*light)/at(light); loss < 0.15 || loss > 0.26 {
			t.Errorf("at %v mol, 26 %% less light: %v", light, loss)
		}
		if loss := 1 - at(0.60*light)/at(light); loss < 0.20 || loss > 0.40 {
			t.Errorf("at %v mol, 40 %% less light: %v", light, loss)
		}
	}
}

// Half the light from day 0 on, at the summer's 22 degC. Gent 2007 (HortScience
// 42:514-520, abstract): no effect within 20 days, less 20 % from day 25 to 45, less
// 30 % after day 50.
func TestShadeActsLaterOnFilling(t *testing.T) {
	set, gain, light, heads := steady{perWeek: 13, light: 20, heads: 2.5, air: 22}.rows()
	bright, _ := someFiller.weights(set, gain, light, heads)
	const shaded = 25
	for w := shaded; w < len(light); w++ {
		light[w] /= 2
	}
	dark, _ := someFiller.weights(set, gain, light, heads)
	loss := func(from, to int) float64 { // days after shading, whole weeks that lie within
		sum, weeks := 0.0, 0.0
		for w := shaded; w < len(set); w++ {
			if d := WeekDays * (w - shaded); d >= from-1 && d+WeekDays <= to+4 {
				sum += 1 - dark[w]/bright[w]
				weeks++
			}
		}
		return sum / weeks
	}
	near(t, "days 0 to 20", loss(0, 20), 0, 0.03)
	if l := loss(25, 45); l < 0.10 || l > 0.30 {
		t.Errorf("days 25 to 45: less %v", l)
	}
	if l := loss(50, 140); l < 0.20 || l > 0.45 {
		t.Errorf("after day 50: less %v", l)
	}
}

// What has grown = what was picked + what hangs; less light in any weeks never
// yields more; two halves of a floor bear as the whole.
func TestFillingLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 31))
	for range 300 {
		set, air := someSeason(r, 53)
		gain, light, heads, ripe, hanging := make([]float64, 53), make([]float64, 53), make([]float64, 53), make([]float64, 53), make([]float64, 53)
		f := Filler{FullWeight: 20 + 150*r.Float64(), DryMatter: 0.04 + 0.06*r.Float64(), Growth: 0.4 + r.Float64(), DaysFactor: 1 + 0.2*r.Float64(), Spread: 12 * float64(r.IntN(2))}
		for w := range gain {
			gain[w], light[w], heads[w] = StageGain(air[w])/f.DaysFactor, 25*r.Float64(), float64(r.IntN(4))
		}
		Ripening(ripe, hanging, set, gain, f.Spread, make([]float64, 53))
		yield := func(light []float64) (total, left float64) {
			weight, green := f.weights(set, gain, light, heads)
			for w := range weight {
				if (weight[w] == 0) != (ripe[w] < 1e-9) && ripe[w] > 1e-6 {
					t.Fatalf("week %d: %v ripe of %v g", w, ripe[w], weight[w])
				}
				total += ripe[w] * weight[w]
			}
			return total, green[52]
		}
		bright, left := yield(light)
		most := 0.0
		for w := range light { // no more than the light makes, were all of it for the fruit
			most += WeekDays * Assimilates(light, w, f.Growth) / f.DryMatter
		}
		if bright+left > most*(1+1e-6)+f.FullWeight*0.1*running(set)[52] {
			t.Fatalf("%v grown, where light makes %v", bright+left, most)
		}
		dim := append([]float64(nil), light...)
		for w := range dim {
			if r.IntN(2) == 0 {
				dim[w] *= r.Float64()
			}
		}
		if dark, _ := yield(dim); dark > bright*(1+1e-9) {
			t.Fatalf("less light yields %v, more %v", dark, bright)
		}
	}
}

func BenchmarkFilling(b *testing.B) {
	set, gain, light, heads := steady{perWeek: 12.5, light: 14, heads: 2.5, air: 20}.rows()
	weight, green, work := make([]float64, len(set)), make([]float64, len(set)), make([]float64, FillingWork*len(set))
	b.ReportAllocs()
	for b.Loop() {
		for range 1000 {
			someFiller.Fill(weight, green, set, gain, light, heads, work)
		}
	}
}
