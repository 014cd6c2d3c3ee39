package crop

import (
	"math"
	"math/rand/v2"
	"testing"
)

var never = math.Inf(1)

func TestLightYield(t *testing.T) {
	// By hand, at 16 mol/m2/d and 30 g/mol: 7 x 16 x 0.030 = 3.36 kg a week. The whole
	// crops of Hemming et al. 2019 yielded 37.3 to 49.4 kg/m2 in 13 weeks of picks, 2.9
	// to 3.8 a week, in 13 to 18 mol/m2/d.
	light := evenLight(16)
	near(t, "a week", LightYield(light, 10, CucumberUse(), never), 3.36, 0.005)
	near(t, "the first week", LightYield(light, 0, CucumberUse(), never), 3.36, 0.005)
	// Light that is halved tells in full after three weeks: one per cent for one.
	for w := 10; w < len(light); w++ {
		light[w] /= 2
	}
	for w, want := range map[int]float64{9: 16, 10: 16 - 8./6, 11: 16 - 8*0.5, 12: 16 - 8*5./6, 13: 8, 20: 8} {
		near(t, "light lately", LightLately(light, w), want, 1e-12)
	}
}

// Topped, a plant gives its fruit all of what it makes instead of 74 % (Heuvelink 1996,
// in Vanthoor et al. 2011, appendix C): 35 % more, in full once the three weeks that the
// picks lived through lie after it.
func TestLightYieldOnceTopped(t *testing.T) {
	light := evenLight(16)
	const day = 7 * 20
	steady := LightYield(light, 30, 30, never)
	near(t, "long topped", LightYield(light, 30, 30, day)/steady, 1/0.74, 1e-12)
	near(t, "the week before", LightYield(light, 19, 30, day)/steady, 1, 1e-12)
	near(t, "half of it after", LightYield(light, 21, 30, day)/steady, 1+0.5*(1/0.74-1), 1e-12)
	last := steady
	for topped := 300.0; topped > 0; topped-- {
		if y := LightYield(light, 30, 30, topped); y < last {
			t.Fatalf("topped on day %v: %v after %v", topped, y, last)
		} else {
			last = y
		}
	}
	// A farm's own use is that of a crop that grows on, also when it is seen topped.
	picked := make([]float64, 40)
	for w := 10; w < 40; w++ {
		picked[w] = LightYield(light, w, 27, day)
	}
	near(t, "own use of a topped crop", LightUse(picked, light, 27, day), 27, 1e-9)
}

func TestLightUse(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 31))
	light, picked := make([]float64, 30), make([]float64, 30)
	gap := math.NaN()
	for w := range light {
		light[w], picked[w] = 5+15*r.Float64(), gap
	}
	near(t, "no picks", LightUse(picked, light, 24, never), 24, 0)
	for w := range 5 {
		picked[w] = 0
	}
	near(t, "none ripe yet", LightUse(picked, light, 24, never), 24, 0)
	picked[5] = 0.4 // picking gets going
	near(t, "a first week says nothing", LightUse(picked, light, 24, never), 24, 0)
	// As a farm picks on at 30 g/mol, its own use goes there from the usual, as n to
	// n + 2 weeks.
	last := 24.0
	for w := 6; w < 30; w++ {
		picked[w] = LightYield(light, w, 30, never)
		got := LightUse(picked, light, 24, never)
		n := float64(w - 5)
		near(t, "own use", got, (30*n+24*2)/(n+2), 1e-9)
		if got < last || got > 30 {
			t.Fatalf("week %d: %v after %v", w, got, last)
		}
		last = got
	}
	picked[12] = gap // a week not written down is passed over
	near(t, "with a gap", LightUse(picked, light, 30, never), 30, 1e-9)
}
