package crop

import "testing"

// evenLight is the same daily light for a year.
func evenLight(light float64) []float64 {
	l := make([]float64, 53)
	for i := range l {
		l[i] = light
	}
	return l
}

func firstFlower(t *testing.T, light []float64, sown float64) float64 {
	t.Helper()
	day, ok := FirstFlower(light, nil, sown, nil)
	if !ok {
		t.Fatal("never flowers")
	}
	return day
}

func TestFirstFlower(t *testing.T) {
	// Calvert 1959 (abstract): a constant light sum in winter, about 40 days in
	// summer, both from spread cotyledons, which are 8 days from sowing.
	for light, want := range map[float64]float64{4: 72, 5: 57, 6: 48, 10: 40} {
		near(t, "cotyledon to first flower", firstFlower(t, evenLight(light), 100)-108, want, 1)
	}
	// McAvoy 2012, Scheduling a greenhouse tomato crop, University of Connecticut:
	// fall crop 16 weeks from seed to first pick, early spring crop 22 to 23. The
	// chain is known to run up to three weeks ahead of that careful calendar.
	pick := func(light, air float64) float64 { return (firstFlower(t, evenLight(light), 0) + 1/StageGain(air)) / 7 }
	for _, air := range []float64{20, 21, 22} {
		if w := pick(9, air); w < 13 || w > 17 {
			t.Errorf("summer sowing, %v degC: first pick in week %.1f", air, w)
		}
	}
	for _, light := range []float64{4, 4.5, 5} {
		if w := pick(light, 18); w < 18 || w > 23 {
			t.Errorf("autumn sowing, light %v: first pick in week %.1f", light, w)
		}
	}
	// A grower's own record, Ohio, beefsteak, sown 18 December 2012, first pick 8
	// April, day 111; about 19 degC. Light inside assumed: 5 mol/m2/d to mid-January,
	// then 7, 9 and 12 by month.
	light := []float64{5, 5, 5, 5, 7, 7, 7, 7, 9, 9, 9, 9, 12, 12, 12, 12, 12}
	near(t, "Ohio", firstFlower(t, light, 0)+1/StageGain(19), 111, 14)
}

func TestFirstFlowerEdges(t *testing.T) {
	light := []float64{2, 4, 8}
	// Never later for more light, never earlier for a later sowing, and it moves
	// smoothly: a hundredth of a day for a hundredth of a day.
	last := firstFlower(t, light, -30)
	for sown := -29.99; sown < 60; sown += 0.01 {
		day := firstFlower(t, light, sown)
		// Light rises fourfold, so a day's delay costs at most a day and gains none.
		if day < last-1e-9 || day > last+0.011 {
			t.Fatalf("sown %v: first flower goes from %v to %v", sown, last, day)
		}
		last = day
	}
	if _, ok := FirstFlower([]float64{0, 0}, nil, 0, nil); ok {
		t.Error("flowers in the dark")
	}
	if _, ok := FirstFlower(nil, nil, 0, nil); ok {
		t.Error("flowers without a light record")
	}
}

// In warm air the day is Calvert's; cool air makes it later, and never earlier; in the
// light of winter, which is slower than either, it does not matter.
func TestFirstFlowerByWarmth(t *testing.T) {
	at := func(light, air float64) float64 {
		day, ok := FirstFlower(evenLight(light), evenLight(air), 0, make([]float64, 53))
		if !ok {
			t.Fatalf("never flowers at %v degC", air)
		}
		return day
	}
	near(t, "20 degC", at(12, 20), 48, 1e-9)
	near(t, "warmer", at(12, 26), 48, 1e-9)
	// Vanthoor et al. 2011, equation 28, by hand: 0.047 x 16 + 0.060 = 0.812.
	near(t, "16 degC", at(12, 16), 8+40/0.812, 1e-9)
	near(t, "16 degC in the dark of winter", at(4, 16), at(4, 20), 1e-9)
	last := 1000.0
	for air := 12.2; air < 24; air += 0.1 {
		day := at(12, air)
		if day > last {
			t.Fatalf("%v degC: later than in cooler air", air)
		}
		last = day
	}
	if _, ok := FirstFlower(evenLight(12), evenLight(11), 0, make([]float64, 53)); ok {
		t.Error("flowers in air in which nothing grows")
	}
}

func TestReached(t *testing.T) {
	for _, c := range []struct {
		rate              []float64
		step, start, want float64
		at                float64
		ok                bool
		what              string
	}{
		{[]float64{1, 2, 0, 4}, 1, 0, 3, 2, true, "at the end of a step"},
		{[]float64{1, 2, 0, 4}, 1, 0, 5, 3.5, true, "over a step that stands still"},
		{[]float64{1, 2, 0, 4}, 1, 0.5, 1.5, 1.5, true, "from within a step"},
		{[]float64{1, 2, 0, 4}, 1, -2, 3, 1, true, "from before the series"},
		{[]float64{1, 2, 0, 4}, 1, 0, 27, 9, true, "beyond the series"},
		{[]float64{1, 2, 0, 4}, 1, 9, 8, 11, true, "from beyond the series"},
		{[]float64{1, 0}, 7, 0, 8, 0, false, "never"},
		{[]float64{1}, 7, 3, 0, 3, true, "nothing wanted"},
	} {
		at, ok := Reached(c.rate, c.step, c.start, c.want)
		if ok != c.ok {
			t.Errorf("%s: %v", c.what, ok)
		} else if ok {
			near(t, c.what, at, c.at, 1e-12)
		}
	}
}
