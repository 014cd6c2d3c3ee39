package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A whole season of one planting, from sowing to the scale: what the functions of
// a book are put together to.
type season struct {
	light, air, stems, dying, hands []float64
	sown, floor                     float64 // day; m2
	kind                            Kind
	pruneTo, flowers, share         float64
	keeps, unpicked                 float64
	topped                          float64 // day
}

// grown is what comes of it, week by week. Fruit that lives on a plant which dies is lost with it.
type grown struct{ set, ripe, hanging, picked, waiting, lost, weight []float64 }

func (s season) grow(t *testing.T) grown {
	t.Helper()
	n := len(s.air)
	row := func() []float64 { return make([]float64, n) }
	first, ok := FirstFlower(s.light, s.air, s.sown, make([]float64, n))
	if !ok {
		first = WeekDays * float64(n)
	}
	planned, gain := row(), row()
	for w := range planned {
		open := max(0, min(WeekDays, s.topped-WeekDays*float64(w))) - max(0, min(WeekDays, first-WeekDays*float64(w)))
		planned[w] = max(0, open) * TrussPace(s.air[w], PaceOffset(s.kind)) * s.stems[w] * Set(s.pruneTo, s.flowers, s.share*SetLimit(s.air[w])*SetByLight(s.light[w], CropGrowth.Value))
		gain[w] = StageGain(s.air[w]) / DaysFactor(s.kind)
	}
	ripe, hanging := row(), row()
	Ripening(ripe, hanging, planned, gain, 0, row())
	alive := row()
	Alive(alive, s.dying)
	g := grown{set: row(), ripe: row(), hanging: row(), picked: row(), waiting: row(), lost: row(), weight: row()}
	before, stood := 0.0, 1.0
	for w := range ripe {
		// As at the week's beginning for what sets; as at its end for what is picked.
		g.set[w] = planned[w] * stood
		g.ripe[w] = ripe[w] * alive[w]
		g.hanging[w] = hanging[w] * alive[w]
		g.lost[w] = before*stood + g.set[w] - g.ripe[w] - g.hanging[w]
		before, stood = hanging[w], alive[w]
	}
	onFloor, heads, each, green := row(), row(), row(), row()
	for w := range onFloor {
		onFloor[w] = planned[w] / s.floor
		if WeekDays*float64(w) < s.topped {
			heads[w] = s.stems[w] / s.floor
		}
	}
	f := Filler{FullWeight: FullWeight.Value * UsualWeight(s.kind), DryMatter: DryMatter(s.kind), Growth: CropGrowth.Value, DaysFactor: DaysFactor(s.kind)}
	f.Fill(each, green, onFloor, gain, s.light, heads, make([]float64, FillingWork*n))
	overripe := row()
	Picking(g.picked, g.waiting, overripe, g.ripe, s.hands, s.keeps, s.unpicked, -1)
	for w := range overripe {
		g.lost[w] += overripe[w]
		g.weight[w] = g.picked[w] * each[w]
	}
	return g
}

func someSeasonOf(r *rand.Rand) season {
	const n = 53
	s := season{sown: 150 * r.Float64(), kind: Kind(r.IntN(3)), pruneTo: 2 + 4*r.Float64(), flowers: 4 + 6*r.Float64(), share: r.Float64(),
		keeps: r.Float64(), unpicked: 7 * r.Float64(), floor: 20 + 40*r.Float64(), topped: 200 + 200*r.Float64()}
	base := 14 + 8*r.Float64()
	for w := range n {
		s.air = append(s.air, base+3*math.Sin(float64(w)/8)+r.NormFloat64())
		s.light = append(s.light, max(0.5, 12+9*math.Cos(float64(w)/8.4)+2*r.NormFloat64()))
		s.stems = append(s.stems, 100)
		s.dying = append(s.dying, 0.01*r.Float64())
		s.hands = append(s.hands, min(1, 0.3+r.Float64()))
	}
	if r.IntN(3) == 0 {
		s.dying[40+r.IntN(13)] = 1 // cleared
	}
	return s
}

// Fruit set = picked + lost + hanging, where ripe fruit that wait for a pick still hang.
func TestSeasonKeepsCount(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 21))
	for range 300 {
		g := someSeasonOf(r).grow(t)
		set, picked, lost := running(g.set), running(g.picked), running(g.lost)
		for w := range set {
			near(t, "picked, lost and hanging", picked[w]+lost[w]+g.hanging[w]+g.waiting[w], set[w], 1e-6*max(1, set[w]))
			if g.lost[w] < -1e-6 {
				t.Fatalf("week %d: %v fruit found that were lost", w, -g.lost[w])
			}
		}
	}
}

// Less light, in any week or all, never yields more over the season.
func TestLessLightNeverYieldsMore(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 22))
	for range 300 {
		s := someSeasonOf(r)
		s.keeps, s.unpicked = 1, 0
		for w := range s.hands {
			s.hands[w] = 1
		}
		bright := running(s.grow(t).weight)[52]
		dim := s
		dim.light = append([]float64(nil), s.light...)
		from, factor := r.IntN(53), r.Float64()
		for w := range dim.light {
			if w >= from || r.IntN(2) == 0 {
				dim.light[w] *= factor
			}
		}
		if dark := running(dim.grow(t).weight)[52]; dark > bright*(1+1e-9) {
			t.Fatalf("less light yields %v, more yields %v", dark, bright)
		}
	}
}

// Warmer air never makes what has set later: by any week as many are ripe, or more.
func TestWarmerNeverRipensLater(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 23))
	for range 300 {
		set, air := someSeason(r, 53)
		spread := 14 * r.Float64() * float64(r.IntN(2))
		warm := append([]float64(nil), air...)
		for w := range warm {
			if r.IntN(2) == 0 {
				warm[w] += 3 * r.Float64()
			}
		}
		cool, _ := ripen(set, air, spread)
		quick, _ := ripen(set, warm, spread)
		a, b := running(cool), running(quick)
		for w := range a {
			if b[w] < a[w]-1e-6 {
				t.Fatalf("week %d: %v ripe in cool air, %v in warmer", w, a[w], b[w])
			}
		}
	}
}

// A planting split into two equal halves gives the same harvest.
func TestTwoHalves(t *testing.T) {
	r := rand.New(rand.NewPCG(24, 24))
	for range 100 {
		s := someSeasonOf(r)
		whole := s.grow(t)
		half := s
		half.floor /= 2
		half.stems = make([]float64, 53)
		for w := range half.stems {
			half.stems[w] = s.stems[w] / 2
		}
		part := half.grow(t)
		for w := range whole.weight {
			near(t, "two halves", 2*part.weight[w], whole.weight[w], 1e-9*max(1, whole.weight[w]))
		}
	}
}

// Heads taken on in the season flower from that day: they add no fruit before a
// truss has ripened. Four stems become eight on a day in spring, as a Dutch cherry
// crop did on 15 April 2020 (Hemming et al. 2020, data set of the second autonomous
// greenhouse challenge): at 22 degC no pick of the next six weeks changes, and from
// the eighth on the picks double.
func TestExtraHeadsBearLater(t *testing.T) {
	s := season{sown: 0, kind: Cherry, pruneTo: 20, flowers: 14, share: 1, keeps: 1, floor: 1, topped: 400}
	for range 53 {
		s.air, s.light, s.stems = append(s.air, 22), append(s.light, 16), append(s.stems, 4)
		s.dying, s.hands = append(s.dying, 0), append(s.hands, 1)
	}
	few := s.grow(t)
	const taken = 20
	more := s
	more.stems = append([]float64(nil), s.stems...)
	for w := taken; w < 53; w++ {
		more.stems[w] = 8
	}
	many := more.grow(t)
	for w := range few.picked {
		switch {
		case w < taken+6: // 46 days at 22 degC (Adams et al. 2001): six weeks and four days
			near(t, "before a truss has ripened", many.picked[w], few.picked[w], 1e-9)
		case w > taken+7:
			near(t, "after", many.picked[w], 2*few.picked[w], 1e-9*few.picked[w])
		}
	}
	if few.picked[taken] == 0 {
		t.Error("nothing is picked when the heads are taken: the check says nothing")
	}
}

// Topped, a crop opens no more trusses, and the last fruit come a truss's time later.
func TestToppedCropEnds(t *testing.T) {
	s := season{sown: 0, kind: Cherry, pruneTo: 20, flowers: 14, share: 1, keeps: 1, floor: 1, topped: 7 * 25}
	for range 53 {
		s.air, s.light, s.stems = append(s.air, 22), append(s.light, 16), append(s.stems, 4)
		s.dying, s.hands = append(s.dying, 0), append(s.hands, 1)
	}
	g := s.grow(t)
	for w := range g.set {
		if (w >= 25 && g.set[w] != 0) || (w > 25+6 && g.picked[w] > 1e-9) || (w < 25+6 && w > 15 && g.picked[w] == 0) {
			t.Errorf("week %d: %v set, %v picked", w, g.set[w], g.picked[w])
		}
	}
}

// A coir house in Tennessee, fall of 2006 (University of Tennessee, Crossville, trial of
// large tomatoes in coir bags): a plant on 4.5 square feet gave 4.6 to 6.4 pounds to sell
// in the last eight weeks, so 5.0 to 6.9 kg/m2 and 0.62 to 0.87 kg a week.
func TestTennesseeFall(t *testing.T) {
	const foot, pound = 0.3048 * 0.3048, 0.45359237 // m2, kg
	plants := 1 / (4.5 * foot)
	near(t, "plants", plants, 2.39, 0.005)
	for pounds, want := range map[float64][2]float64{4.6: {5.0, 0.62}, 6.4: {6.9, 0.87}} {
		near(t, "yield", pounds*pound*plants, want[0], 0.1)
		near(t, "a week", pounds*pound*plants/8, want[1], 0.01)
	}
	// The whole chain on it: sown 15 July, the eight weeks to 18 January. Air of 20 degC, a
	// vibrator, four fruit a truss, nine tenths to sell, and 1.28 mol in the house for each
	// MJ of the month's sun at 36 degrees north are assumed. (Its first pick comes out three
	// weeks before theirs: plants were set out late, after 52 days.)
	month := []float64{20, 18.5, 15.5, 12.5, 8.5, 7, 8}
	s := season{kind: Large, pruneTo: 4, flowers: 5, share: setByVibrator.Value, floor: 1, keeps: 1, topped: 7 * 26}
	const weeks = 27 // from 15 July
	for w := range weeks {
		s.light = append(s.light, 1.28*month[(WeekDays*w+14)*12/365])
		s.air, s.stems = append(s.air, 20), append(s.stems, plants)
		s.dying, s.hands = append(s.dying, 0), append(s.hands, 1)
	}
	sold := 0.0
	for _, g := range s.grow(t).weight[weeks-8:] {
		sold += 0.9 * g / 1000 / 8
	}
	if sold < 0.62 || sold > 0.87 {
		t.Errorf("%v kg a week", sold)
	}
}
