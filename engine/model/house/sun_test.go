package house

import (
	"math"
	"testing"
)

// near fails the test when got lies further than within from want.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %v, want %v within %v", what, got, want, within)
	}
}

// Allen and others 1998, FAO Irrigation and Drainage Paper 56, worked examples
// 8, 9, 10, 15 and 18. Tolerances are half of the last printed digit, a little
// more where the example rounds on the way.
func TestSunWorkedExamples(t *testing.T) {
	// Example 8: 3 September (day 246), 20 degrees south.
	near(t, "example 8, sun distance", SunDistance(246), 0.985, 0.0005)
	near(t, "example 8, sun height", SunHeight(246), 0.120, 0.0005)
	near(t, "example 8, sunset angle", SunsetAngle(-20, 246), 1.527, 0.0005)
	near(t, "example 8, sky light", SkyLight(-20, 246), 32.2, 0.05)
	// Example 9: the same day's length.
	near(t, "example 9, day length", DayLength(-20, 246), 11.7, 0.05)
	// Example 10: 15 May (day 135), 22 degrees 54 minutes south, 7.1 h of sunshine.
	may := SkyLight(-22.9, 135)
	near(t, "example 10, sky light", may, 25.1, 0.05)
	near(t, "example 10, day length", DayLength(-22.9, 135), 10.9, 0.05)
	near(t, "example 10, sun", SunFromSunshine(may, 7.1, DayLength(-22.9, 135)), 14.5, 0.06)
	// The same place by the radsol_clrsky_fao56 page of the NCAR Command Language.
	near(t, "clear sun at sea level", ClearSun(may, 0), 18.833, 0.005)
	// Example 15: 45 degrees 43 minutes north in July, 14.8 and 26.6 degC, inland, about 200 m.
	near(t, "example 15, sun", SunFromAir(40.6, 26.6, 14.8, CoastFactorInland.Value, 200), 22.3, 0.05)
	// Example 18: 6 July (day 187), 50.8 degrees north, 100 m, 9.25 h of sunshine.
	july := SkyLight(50.8, 187)
	near(t, "example 18, sky light", july, 41.09, 0.03)
	near(t, "example 18, day length", DayLength(50.8, 187), 16.1, 0.05)
	near(t, "example 18, sun", SunFromSunshine(july, 9.25, DayLength(50.8, 187)), 22.07, 0.03)
	near(t, "example 18, clear sun", ClearSun(july, 100), 30.90, 0.03)
}

// FAO 56, Annex 2, table 2.6 (sky light, MJ/m2/d) and table 2.7 (day length, h),
// at the 15th of each month. The table's own days differ a little from the 15th
// and it is printed to 0.1: 0.11 MJ and 0.06 h cover both.
func TestSunTables(t *testing.T) {
	middle := []int{15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349}
	sky := map[float64][12]float64{
		32: {19.9, 24.8, 30.7, 36.5, 40.0, 41.4, 40.7, 37.9, 32.8, 26.6, 21.1, 18.5},
		36: {17.5, 22.6, 29.0, 35.7, 40.0, 41.7, 40.8, 37.4, 31.5, 24.6, 18.7, 16.1},
		40: {15.0, 20.4, 27.2, 34.7, 39.7, 41.9, 40.8, 36.7, 30.0, 22.5, 16.3, 13.6},
		44: {12.5, 18.0, 25.3, 33.5, 39.3, 41.9, 40.7, 35.9, 28.4, 20.3, 13.9, 11.1},
		48: {10.1, 15.7, 23.3, 32.2, 38.8, 41.8, 40.4, 34.9, 26.6, 18.1, 11.4, 8.7},
	}
	length := map[float64][12]float64{
		32: {10.1, 10.9, 11.8, 12.8, 13.6, 14.1, 13.9, 13.2, 12.2, 11.2, 10.3, 9.9},
		40: {9.5, 10.5, 11.7, 13.1, 14.2, 14.8, 14.6, 13.6, 12.2, 10.9, 9.7, 9.2},
		48: {8.6, 10.0, 11.6, 13.4, 15.0, 15.8, 15.5, 14.1, 12.3, 10.6, 9.0, 8.2},
	}
	for latitude, months := range sky {
		for month, want := range months {
			if got := SkyLight(latitude, middle[month]); !(math.Abs(got-want) <= 0.11) {
				t.Errorf("table 2.6, %v degrees north, month %d: got %.3f, want %v", latitude, month+1, got, want)
			}
		}
	}
	for latitude, months := range length {
		for month, want := range months {
			if got := DayLength(latitude, middle[month]); !(math.Abs(got-want) <= 0.06) {
				t.Errorf("table 2.7, %v degrees north, month %d: got %.3f, want %v", latitude, month+1, got, want)
			}
		}
	}
}

// Laws: both halves of the earth see the same year half a year apart (but for the
// sun's distance); the year's mean day is twelve hours everywhere; nothing is ever
// negative, infinite or longer than a day, poles included.
func TestSunLaws(t *testing.T) {
	for latitude := -90.0; latitude <= 90; latitude += 2.5 {
		total := 0.0
		for day := 1; day <= 366; day++ {
			sky, hours := SkyLight(latitude, day), DayLength(latitude, day)
			if !(sky >= 0 && sky < 60) || !(hours >= 0 && hours <= 24) {
				t.Fatalf("latitude %v, day %d: sky light %v, day length %v", latitude, day, sky, hours)
			}
			if other := DayLength(-latitude, day); math.Abs(hours+other-24) > 1e-9 {
				t.Fatalf("latitude %v, day %d: day %v h, and the night across the equator %v h", latitude, day, hours, other)
			}
			total += hours
		}
		// The declination's sine is a fair one over a year, so the mean is 12 h
		// but for the odd day: within 0.1 h outside the polar circles.
		if math.Abs(latitude) < 65 {
			near(t, "mean day", total/366, 12, 0.1)
		}
	}
	if DayLength(80, 172) != 24 || DayLength(80, 355) != 0 || SkyLight(80, 355) != 0 {
		t.Errorf("80 degrees north: midsummer %v h, midwinter %v h and %v MJ", DayLength(80, 172), DayLength(80, 355), SkyLight(80, 355))
	}
}

func TestSunEstimatesAtTheEdges(t *testing.T) {
	near(t, "overcast", SunFromSunshine(20, 0, 10), 5, 1e-12)
	near(t, "sunshine all day", SunFromSunshine(20, 10, 10), 15, 1e-12)
	near(t, "sunshine beyond the day", SunFromSunshine(20, 11, 10), 15, 1e-12)
	near(t, "no day", SunFromSunshine(0, 0, 0), 0, 0)
	near(t, "no swing", SunFromAir(20, 5, 5, 0.16, 0), 0, 0)
	near(t, "high below low", SunFromAir(20, 5, 6, 0.16, 0), 0, 0)
	near(t, "held to the clear sky", SunFromAir(20, 45, 5, 0.19, 0), 15, 1e-12)
	near(t, "higher ground lets more through", SunFromAir(20, 45, 5, 0.19, 1000), 15.4, 1e-12)
}

func TestBestSun(t *testing.T) {
	gap := math.NaN()
	for _, c := range []struct {
		measured, sunshine, air, want float64
		by                            Basis
	}{{8, 9, 10, 8, Measured}, {0, 9, 10, 0, Measured}, {gap, 9, 10, 9, BySunshine}, {gap, gap, 10, 10, ByAir}, {8, gap, gap, 8, Measured}} {
		got, by := BestSun(c.measured, c.sunshine, c.air)
		near(t, "best", got, c.want, 0)
		if by != c.by {
			t.Errorf("%+v rests on %v", c, by)
		}
	}
	if got, by := BestSun(gap, gap, gap); !math.IsNaN(got) || by != Unknown {
		t.Errorf("out of nothing: %v by %v", got, by)
	}
}
