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

// Western Regional Climate Center, heating degree days of Benson 6 SE, Arizona
// (1990-2012), April: 168, 81, 48, 33 and 9 to bases of 65, 60, 57, 55 and 50 degF. A mean of 61
// and a spread of 8 degF give them all within 5.
func TestDegreeDaysAround(t *testing.T) {
	for base, table := range map[float64]float64{65: 168, 60: 81, 57: 48, 55: 33, 50: 9} {
		near(t, "Benson in April", 30*DegreeDaysAround(base, 61, 8), table, 5)
	}
	near(t, "base 60", 30*DegreeDaysAround(60, 61, 8), 81.5, 1)
	// Far below the base every day counts in full, far above none, and without a
	// spread it is the rule of the stations.
	near(t, "winter", DegreeDaysAround(65, 25, 8), 40, 1e-3)
	near(t, "summer", DegreeDaysAround(65, 105, 8), 0, 1e-3)
	near(t, "no spread", DegreeDaysAround(50, 48, 0), DegreeDay(50, 65, 31), 0)
	for mean := 40.0; mean < 90; mean++ {
		if got := DegreeDaysAround(65, mean, 8); !(got >= max(0, 65-mean)) {
			t.Errorf("mean %v: %v degree days, fewer than without a spread", mean, got)
		}
	}
}

// A curve that follows the sun is a second opinion on a winter's heat. Day: a sine
// from the low at sunrise to the high four hours before sunset; night: a fall with
// the root of time (Cesaraccio and others 2001, without their factor on the next
// day's low). The manual of the R package TrenchR works one hour out: 8 h of a day
// from 6 to 18 h between 10 and 30 degC is 17.65367.
func TestSecondCurve(t *testing.T) {
	curve := func(low, high, hour, rise, set float64) float64 {
		peak := set - 4
		switch {
		case hour >= rise && hour <= peak:
			return low + (high-low)*math.Sin(math.Pi/2*(hour-rise)/(peak-rise))
		case hour > peak && hour <= set:
			const left = 0.39 // of the swing, at sunset
			evening := high - left*(high-low)
			return evening + (high-evening)*math.Sin(math.Pi/2*(1+(hour-peak)/4))
		}
		if hour < rise {
			hour += 24
		}
		const left = 0.39
		evening := high - left*(high-low)
		night := rise + 24 - set
		return evening - (evening-low)/math.Sqrt(night)*math.Sqrt(hour-set)
	}
	near(t, "TrenchR", curve(10, 30, 8, 6, 18), 17.65367, 1e-5)
	// October to April in a valley of 42 degrees north: heat to 62 degF by both.
	one, other := 0.0, 0.0
	for _, month := range []struct{ high, low, day float64 }{{61, 41, 11}, {48, 32, 9.8}, {37, 22, 9.2}, {33, 17, 9.5}, {36, 19, 10.6}, {45, 27, 11.9}, {57, 37, 13.3}} {
		for hour := 0.5; hour < 24; hour++ {
			one += max(0, 62-AirAt(month.low, month.high, hour))
			other += max(0, 62-curve(month.low, month.high, hour, 12-month.day/2, 12+month.day/2))
		}
	}
	// On hourly records the cosine came out at 97.5 and the sun's curve at 104.3 per
	// cent, so 7 per cent between them is what to expect, and no more.
	near(t, "one curve of the other", one/other, 1, 0.08)
}
