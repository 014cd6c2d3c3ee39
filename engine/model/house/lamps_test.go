package house

import "testing"

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
