package house

import (
	"math/rand/v2"
	"testing"
)

// Hemming et al. 2020, description of the data set: sodium lamps of 81 W/m2 give 100
// umol/m2/s; with all lamps on, 136 W/m2 give 197, so 5.2 mol/kWh.
func TestLampLight(t *testing.T) {
	for _, c := range []struct{ watts, micromoles float64 }{{81, 100}, {136, 197}} {
		light := c.micromoles / c.watts * 3.6 // umol/J to mol/kWh
		// A day of light at that flow: 3,600 s in an hour, a million umol in a mol.
		want := c.micromoles * 3600 * 16 / 1e6
		if got := LampLight(c.watts, 16, light, 1); got < want*0.999999 || got > want*1.000001 {
			t.Errorf("%v W/m2: %v, want %v", c.watts, got, want)
		}
		if light < SodiumLight.Low || light > SodiumLight.High {
			t.Errorf("%v mol/kWh lies outside what is said of sodium lamps", light)
		}
	}
	// Power and hours stand for each other; no hours, no light; the bill is power x hours.
	if LampLight(100, 6, 5, 0.9) != LampLight(50, 12, 5, 0.9) || LampLight(100, 0, 5, 1) != 0 || LampEnergy(100, 10) != 1 {
		t.Error("lamps")
	}
}

// Lamps burn the hours they are said to, whatever the day: the dark ones next to the
// day first, by hand for a day of 9 h and 10 h of lamps: four and a half hours from
// noon to nine and a half. Beyond the night they burn in daylight.
func TestLitHours(t *testing.T) {
	near(t, "an hour of the day", litHours(9, 10)[3], 0, 0)
	near(t, "the hour of sunset", litHours(9, 10)[4], 0.5, 0)
	near(t, "an evening hour", litHours(9, 10)[7], 1, 0)
	near(t, "the hour they go out", litHours(9, 10)[9], 0.5, 0)
	near(t, "midnight", litHours(9, 10)[11], 0, 0)
	for length := -1.0; length <= 25; length += 0.7 {
		for burn := 0.0; burn <= 24; burn += 0.3 {
			sum := 0.0
			for _, share := range litHours(length, burn) {
				if share < 0 || share > 1 {
					t.Fatalf("day of %v h, %v h of lamps: %v of an hour", length, burn, share)
				}
				sum += 2 * share
			}
			near(t, "hours lit", sum, burn, 1e-9)
		}
	}
}

// What lamps save, by hand: 60 W/m2 over 267.6 m2 (2,880 ft2) for 12 hours of a night
// of 15, 80 per cent of it, in a house that needs more than that in each of them, are
// 60 x 267.6 x 0.8 x 12 h = 154.1 kWh, 554.9 MJ. That is what the heater is spared.
func TestLampsSpareTheHeater(t *testing.T) {
	h := House{CoverLoss: 2000, Lamps: 60 * 267.6 * LampsWarm.Value}
	d := Day{Low: -10, High: -2, Length: 9, NightSet: 17, DaySet: 21, VentPoint: 27}
	dark := h.Day(d)
	d.Lit = 12
	lit := h.Day(d)
	near(t, "spared, MJ", dark.Heat-lit.Heat, 554.9, 0.1)
	near(t, "air", lit.Air, dark.Air, 0)
}

// The laws of lamps, on random houses and days: heat delivered is what is lost at the
// set points less what sun and lamps bring in hours that need it (the balance); lamps
// never raise it nor cool the air, and spare no more than they take; no lamps, and
// lamps of no power or no hours, are one and the same, to the bit.
func TestLampLaws(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 11))
	for range 2000 {
		h, d := someDay(random)
		none := h.Day(d)
		powered, timed := h, d
		powered.Lamps, timed.Lit = 30000*random.Float64(), 24*random.Float64()
		if powered.Day(d) != none || h.Day(timed) != none {
			t.Fatalf("no hours %+v, no power %+v, no lamps %+v", powered.Day(d), h.Day(timed), none)
		}
		lamps := powered.Day(timed)
		taken := powered.Lamps * timed.Lit * megajoulesInWh
		if spared := none.Heat - lamps.Heat; spared < -1e-9 || spared > taken+1e-9 || lamps.Air < none.Air-1e-9 || lamps.Heat > lamps.HeatNoSun+1e-9 {
			t.Fatalf("heat %v to %v of lamps that bring %v, air %v to %v", none.Heat, lamps.Heat, taken, none.Air, lamps.Air)
		}
		// The balance, hour by hour, from the day's parts.
		var sun sunDay
		sun.fill(d.Length)
		lit, heat := litHours(d.Length, timed.Lit), 0.0
		for hour := range hoursInDay {
			k := max(hour-hoursInDay/2, hoursInDay/2-1-hour)
			outside := (d.High+d.Low)/2 + (d.High-d.Low)/2*swing[hour]
			loss := (h.CoverLoss*(1-h.ScreenSaves*(1-sun.light[k])) + h.AirLoss) * (d.NightSet + (d.DaySet-d.NightSet)*sun.light[k] - outside)
			heat += max(0, loss-h.SunArea*d.Sun/megajoulesInWh*sun.sun[k]-powered.Lamps*lit[k])
		}
		near(t, "balance", lamps.Heat, heat*megajoulesInWh, 1e-6)
	}
}
