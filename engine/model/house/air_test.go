package house

import (
	"math"
	"testing"
)

func TestAirOverTheDay(t *testing.T) {
	sum, warmest, coldest := 0.0, math.Inf(-1), math.Inf(1)
	for hour := range 24 {
		air := Air(-4, 8, hour)
		sum, warmest, coldest = sum+air, max(warmest, air), min(coldest, air)
		if swapped := Air(8, -4, hour); swapped != air {
			t.Errorf("hour %d: %v with high and low swapped, else %v", hour, swapped, air)
		}
	}
	near(t, "mean of the day", sum/24, 2, 1e-12)
	// The hours' middles miss the peak by half an hour: 6 K x (1 - cos 7.5 deg) = 0.052 K.
	near(t, "warmest hour", warmest, 8, 0.06)
	near(t, "coldest hour", coldest, -4, 0.06)
	if Air(-4, 8, 14) != warmest && Air(-4, 8, 15) != warmest {
		t.Error("the warmest hours are not the two beside 15 h")
	}
	near(t, "symmetry about 15 h", Air(-4, 8, 14), Air(-4, 8, 15), 1e-12)
}

// Miller and Nemali (Purdue Extension), inputs of their heating cost example:
// outside 33.6 degF, 70 degF for 16 h and 60 degF for 8 h. The sum is
// 16 x 36.4 + 8 x 26.4 = 793.6 degF h; the page's own result was not readable.
func TestDegreeHoursTwoSetPoints(t *testing.T) {
	day, night := DegreeHours(70, 33.6, 33.6), DegreeHours(60, 33.6, 33.6)
	near(t, "degree hours", day*16/24+night*8/24, 793.6, 1e-9)
}

// Western Regional Climate Center, the rule of its station tables: a high of 65
// and a low of 31 degF against base 50 make 2 degree days.
func TestDegreeDayRule(t *testing.T) {
	near(t, "degree day", DegreeDay(50, 65, 31), 2, 0)
	near(t, "warm day", DegreeDay(50, 80, 31), 0, 0)
}

// The closed form against a fine sum over the cosine, and its laws: never
// negative, rising with the set point by at most 24 h a degree, exact outside the swing.
func TestDegreeHours(t *testing.T) {
	const steps = 24 * 600
	for _, day := range [][2]float64{{8, -4}, {-4, 8}, {20, 5}, {3, 3}} {
		before := 0.0
		for set := -10.0; set <= 25; set += 0.5 {
			sum := 0.0
			for i := range steps {
				hour := 24 * (float64(i) + 0.5) / steps
				air := (day[0]+day[1])/2 + math.Abs(day[0]-day[1])/2*math.Cos(2*math.Pi/24*(hour-15))
				sum += max(0, set-air) * 24 / steps
			}
			got := DegreeHours(set, day[0], day[1])
			near(t, "degree hours", got, sum, 1e-4) // the sum's own error at the kink
			if got < 0 || got < before || got > before+12+1e-9 && set > -10 {
				t.Errorf("set %v, day %v: %v after %v", set, day, got, before)
			}
			before = got
		}
	}
}

// The curve by the clock: coldest at 3 h, warmest at 15 h, half way at 9 and 21 h,
// and the same as the table of hours at their middle.
func TestAirAt(t *testing.T) {
	for hour, want := range map[float64]float64{3: -4, 15: 14, 9: 5, 21: 5, 27: -4, 11: 9.5} {
		near(t, "air", AirAt(-4, 14, hour), want, 1e-9)
		near(t, "air, high and low swapped", AirAt(14, -4, hour), want, 1e-9)
	}
	for hour := range hoursInDay {
		near(t, "table", Air(-4, 14, hour), AirAt(-4, 14, float64(hour)+0.5), 1e-12)
	}
}
