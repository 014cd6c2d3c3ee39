package crop

import "testing"

func TestSet(t *testing.T) {
	// Al-Attal, Kasrawi & Nazer 2003 (abstract): 99.1, 76.7 and 65.7 % of 100 flowers.
	for share, want := range map[float64]float64{0.991: 99, 0.767: 77, 0.657: 66} {
		near(t, "fruit of 100 flowers", Set(1000, 100, share), want, 0.5)
	}
	near(t, "pruned", Set(4, 6, 0.9), 4, 0)
	near(t, "not enough flowers", Set(5, 6, 0.75), 4.5, 1e-12)
	// Bees do better than a vibrator, which does better than none (same source).
	last := 1.0
	for _, way := range Pollinations {
		share, ok := Pollinated(way)
		if !ok || share >= last {
			t.Errorf("%s: %v, %v", way, share, ok)
		}
		last = share
	}
	if _, ok := Pollinated("wind"); ok {
		t.Error("knows the wind")
	}
}

func TestSetByLight(t *testing.T) {
	// Vanthoor et al. 2011, equation 29: in proportion to the sugar, all from 0.1
	// mg/m2/s = 8.64 g/m2/d on. Of 8.6 g of sugar come 6.8 g dry in the fruit, and in
	// the crop, of which a fully loaded one gives its fruit 74 %, 9.18 g.
	const growth = 0.918
	near(t, "10 mol at 0.918 g", SetByLight(10, growth), 1, 0.002)
	near(t, "no light", SetByLight(0, growth), 0, 0)
	near(t, "dazzling", SetByLight(60, growth), 1, 0)
	last := 0.0
	for light := 0.5; light < 30; light += 0.5 {
		if s := SetByLight(light, CropGrowth.Value); s < last || s > 1 {
			t.Fatalf("%v mol: %v after %v", light, s, last)
		} else {
			last = s
		}
	}
}

func TestPollinating(t *testing.T) {
	// Morandin, Laverty & Kevan 2001 (abstract): 7 to 15 colonies a hectare, so 0.7 to
	// 1.5 for 1,000 m2, of which a farm can buy one or two.
	if h := Hives(1000); h < 1 || h > 2 {
		t.Errorf("1,000 m2: %v hives", h)
	}
	if h := Hives(10_000); h < 7 || h > 15 {
		t.Errorf("a hectare: %v hives", h)
	}
	near(t, "the smallest house", Hives(20), 1, 0)
	near(t, "no house", Hives(0), 0, 0)
	// Hanna 2007: 640 plants over 18 weeks, 16.27 hours.
	near(t, "vibrating", 18*VibratingHours(640), 16.3, 0.1)
}

func TestKinds(t *testing.T) {
	for k, word := range Kinds {
		if got, ok := KindOf(word); !ok || got != Kind(k) {
			t.Errorf("%s: %v, %v", word, got, ok)
		}
	}
	if _, ok := KindOf("plum"); ok {
		t.Error("knows plum")
	}
	// Larger fruit, slower trusses, longer to the last ripe fruit (the Netherlands,
	// 2019, open record: 133 against 18 g, 0.89 against 1.17 trusses a week).
	if !(UsualWeight(Large) > UsualWeight(Cluster) && UsualWeight(Cluster) > UsualWeight(Cherry)) ||
		!(PaceOffset(Large) < PaceOffset(Cluster) && PaceOffset(Cluster) < PaceOffset(Cherry)) ||
		!(DaysFactor(Large) >= DaysFactor(Cluster) && DaysFactor(Cluster) > DaysFactor(Cherry)) {
		t.Error("kinds out of order")
	}
}

func TestFilled(t *testing.T) {
	// The light rule for fruit vegetables, 0.7 to 1 % of yield for 1 % of light
	// (Marcelis et al. 2006, abstract), on the shades of Tewolde et al. 2018 (PLoS
	// One 13(11)): light less 26 % and 40 %.
	for _, response := range []float64{0.7, LightResponse.Value, 1.0} {
		if loss := 1 - Filled(0.74*12, 12, response); loss < 0.15 || loss > 0.2601 {
			t.Errorf("26 %% less light: %v", loss)
		}
		if loss := 1 - Filled(0.60*12, 12, response); loss < 0.20 || loss > 0.4001 {
			t.Errorf("40 %% less light: %v", loss)
		}
		// The rule itself, for one per cent.
		near(t, "one per cent", 100*(Filled(12*1.01, 12, response)-1), response, 0.01)
	}
	near(t, "light as at the reference", Filled(12, 12, 0.8), 1, 1e-12)
	near(t, "dark", Filled(0, 12, 0.8), 0.5, 0)
	near(t, "dazzling", Filled(100, 12, 0.8), 1.3, 0)
}

// Half the light from day 0 on. Gent 2007 (HortScience 42:514-520, abstract): no
// effect within 20 days, less 20 % from day 25 to 45, less 30 % after day 50.
func TestShadeActsLater(t *testing.T) {
	const shaded, n = 10, 30
	light := evenLight(16)[:n]
	for w := shaded; w < n; w++ {
		light[w] /= 2
	}
	loss := func(from, to int) float64 { // days after shading, whole weeks that lie within
		sum, weeks := 0.0, 0.0
		for w := shaded; w < n; w++ {
			if d := WeekDays * (w - shaded); d >= from-1 && d+WeekDays <= to+4 {
				sum += 1 - Filled(LightSeen(light, w), 16, LightResponse.Value)
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
	near(t, "before", Filled(LightSeen(light, 0), 16, 0.8), 1, 1e-12)
}

func TestLightCeiling(t *testing.T) {
	// At 10 mol/m2/d and 0.41 g of fruit dry matter a mol, by hand: 7 x 10 x 0.41 /
	// 1000 = 0.0287 kg of dry matter; at 9 and 5.5 % dry, 0.319 and 0.522 kg.
	light := evenLight(10)
	near(t, "cherry", LightCeiling(light, 20, 0.09), 0.319, 0.001)
	near(t, "round", LightCeiling(light, 20, 0.055), 0.522, 0.001)
	// By leaf area 3, 0.6 g a mol and 70 % to fruit: 7 x 10 x 0.8775 x 0.6 x 0.7 =
	// 25.8 g, so 0.287 and 0.469 kg.
	near(t, "cherry, by leaf", LeafCeiling(10, 3, 0.6, 0.7, 0.09), 0.287, 0.005)
	near(t, "round, by leaf", LeafCeiling(10, 3, 0.6, 0.7, 0.055), 0.469, 0.005)

	// Six weeks back and no further; the first weeks by what there is.
	step := append(append([]float64(nil), light[:10]...), 20, 20, 20, 20, 20, 20, 20)
	near(t, "first week", LightCeiling(step, 0, 0.09), 0.319, 0.001)
	near(t, "half the weeks", LightCeiling(step, 12, 0.09), 0.478, 0.001)
	near(t, "all of them", LightCeiling(step, 15, 0.09), 0.638, 0.001)
	near(t, "and after", LightCeiling(step, 16, 0.09), 0.638, 0.001)
}

func TestShareToFruit(t *testing.T) {
	// Heuvelink 1997 (abstract): n / (2.96 + n).
	for n, want := range map[float64]float64{3: 0.503, 5: 0.628, 7: 0.703} {
		near(t, "share to fruit", ShareToFruit(n), want, 0.001)
	}
}
