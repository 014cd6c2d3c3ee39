package library

import (
	"testing"

	"wintertruss/engine/array"
)

// Hanna 2011 (Louisiana State University, ASHS abstract 5854): houses of
// 30 x 96 ft used 195.8 to 208.1 million BTU from January to March. Benton
// normals, 65 degF, arch of 9 on 4 ft under double film, 0.75 changes, no sun:
// by hand 131.7 million BTU delivered in 31, 28 and 31 days.
func TestLouisianaByWeek(t *testing.T) {
	season := testSeason(t, "2027-W01", "2027-W02")
	columns := longHouse(map[string]any{"shape": "arch", "wall": 4 * footM, "rise": 9 * footM, "air_changes": 0.75, "night": celsius(65), "day": celsius(65)})
	delivered := 0.0
	for _, month := range []struct{ high, low, days float64 }{{12.5, 0.6, 31}, {15.4, 2.5, 28}, {20.0, 6.6, 31}} {
		heat, refused := results(t, "house_heat", season, []float64{30, month.high, month.low, 0, 11}, columns)
		if refused != "" {
			t.Fatal(refused)
		}
		delivered += heat[0] / 7 * month.days / btuMJ / 1e6
	}
	near(t, "delivered", delivered, 131.7, 0.05)
	near(t, "burned at 80 per cent, as measured", delivered/0.8, 195.8, 0.3*195.8)
}

// The three outcomes come from one run: heat without sun is never below heat
// with it, and air lies between set points and vent point in a cold week.
func TestOutcomesOfOneRun(t *testing.T) {
	season := testSeason(t, "2026-W40", "2027-W20")
	for sun := 0.0; sun <= 24; sun += 3 {
		r := prepare(t, "house_air", season, []float64{26, 6, -4, sun, 10}, longHouse(nil))
		r.run()
		air, heat, noSun := r.call.Out[0][5], r.call.Out[1][5], r.call.Out[2][5]
		if !(heat <= noSun && heat > 0 && air >= celsius(62) && air <= 26) {
			t.Errorf("sun %v: air %v, heat %v of %v", sun, air, heat, noSun)
		}
		if sun == 0 {
			near(t, "heat without sun", heat, noSun, 0)
			near(t, "air without sun", air, (14*celsius(62)+10*celsius(70))/24, 1e-9)
		}
	}
}

func TestHouseInUse(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	full := prepare(t, "house_heat", season, []float64{26, 6, -4, 8, 10}, longHouse(nil))
	full.run()
	part := prepare(t, "house_heat", season, []float64{26, 6, -4, 8, 10, 1}, longHouse(nil))
	copy(part.call.In[argumentInUse], []float64{0, 3. / 7, 1, 2})
	part.call.Columns[columnNight][0] = array.Blank // an empty house needs no set points
	part.run()
	air, heat := part.call.Out[0], part.call.Out[1]
	week := full.call.Out[1][0]
	near(t, "empty, heat", heat[0], 0, 0)
	near(t, "empty, air", air[0], 1, 1e-12)
	near(t, "three days, heat", heat[1], week*3/7, 1e-9)
	near(t, "three days, air of the days in use", air[1], full.call.Out[0][1], 0)
	near(t, "all week", heat[2], week, 0)
	near(t, "two plantings at once", heat[3], week, 0)
}

// Screens, clearer covers and own floors do what their words say.
func TestHouseColumnsCount(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	heat := func(changes map[string]any) float64 {
		cells, refused := results(t, "house_heat", season, []float64{26, 6, -4, 8, 10}, longHouse(changes))
		if refused != "" {
			t.Fatal(refused)
		}
		return cells[0]
	}
	plain := heat(nil)
	for what, less := range map[string]map[string]any{
		"a screen":        {"screen_saves": 0.3},
		"a clearer cover": {"passes": 0.8},
		"infrared film":   {"cover": "double_poly_infrared"},
		"fewer leaks":     {"air_changes": 0.5},
		"cooler nights":   {"night": celsius(58)},
		"cooler days":     {"day": celsius(65)},
	} {
		if got := heat(less); !(got < plain) {
			t.Errorf("%s: %v, before %v", what, got, plain)
		}
	}
	near(t, "the default floor is length times width", heat(map[string]any{"floor": 96 * 30 * footM * footM}), plain, 1e-9*plain)
	near(t, "the default cover passes 70 per cent", heat(map[string]any{"passes": 0.7}), plain, 0)
}

func TestHouseGapsByWeek(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	r := prepare(t, "house_heat", season, []float64{26, 6, -4, 8, 10}, longHouse(nil))
	r.call.In[argumentSun][1] = array.Blank
	r.call.In[argumentLow][2] = array.Fault(array.DividedByZero, 3)
	r.run()
	for _, out := range r.call.Out {
		if !array.IsBlank(out[1]) || !array.IsFault(out[2]) || out[0] != out[0] || out[3] != out[0] {
			t.Errorf("cells %v", out)
		}
	}
}

func TestHourlyHouseDoesNotAllocate(t *testing.T) {
	r := prepare(t, "house_heat", testSeason(t, "2026-W33", "2027-W32"), []float64{26, 6, -4, 8, 10}, longHouse(nil))
	if n := testing.AllocsPerRun(50, r.run); n != 0 {
		t.Errorf("%v allocations a call", n)
	}
}

// A call is one house for one draw: 53 weeks of 24 hours.
func BenchmarkHourlyHouse(b *testing.B) {
	r := prepare(b, "house_heat", testSeason(b, "2026-W32", "2027-W31"), []float64{26, 6, -4, 8, 10}, longHouse(nil))
	for b.Loop() {
		r.run()
	}
}

// Lamps of 60 W/m2, 12 hours of a freezing week without sun, spare the heater 80 % of
// what they take: 60 x 12 h x 7 d x 0.8 a square metre of 96 x 30 ft. None of it when
// they are not lit; what cannot be is refused.
func TestLampsWarmTheHouse(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	heat := func(power, lit float64) (float64, string) {
		cells, refused := results(t, "house_heat", season, []float64{30, -2, -10, 0, 9, 1, power, lit}, longHouse(nil))
		return cells[0], refused
	}
	none, _ := heat(0, 12)
	unlit, _ := heat(60, 0)
	lit, _ := heat(60, 12)
	near(t, "not lit", unlit, none, 0)
	near(t, "spared, MJ", none-lit, 60*12*7*0.8*0.0036*96*30*footM*footM, 0.01)
	for _, bad := range [][2]float64{{-1, 12}, {60, -1}, {60, 25}} {
		if _, refused := heat(bad[0], bad[1]); refused == "" {
			t.Errorf("lamps of %v W/m2 for %v h are taken", bad[0], bad[1])
		}
	}
}
