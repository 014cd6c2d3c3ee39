package library

import "testing"

// Greenhouse Management (greenhousemag.com): 30 x 100 ft at 2 cfm/ft2 take four
// fans of 1,600 cfm. In the kernel's units, so that the conversion is in it.
func TestFansNeeded(t *testing.T) {
	const foot, minutes = 0.3048, 60
	fans := func(floor, over, each float64) float64 {
		return single(t, "fans_needed", floor*foot*foot, over*foot*minutes, each*foot*foot*foot*minutes)
	}
	near(t, "published", fans(3000, 2, 1600), 4, 0)
	near(t, "just enough", fans(3000, 2, 2000), 3, 0)
	if _, refused := results(t, "fans_needed", testSeason(t, "2026-W40", "2026-W43"), []float64{300, 36, 0}, nil); refused == "" {
		t.Error("fans without air are not refused")
	}
}
