package house

import "testing"

// Greenhouse Management (greenhousemag.com), on circulation: a 30 x 100 ft house at 2 cfm/ft2 is
// 6,000 cfm, four fans of 1,600 cfm.
func TestPublishedFans(t *testing.T) {
	near(t, "fans", FansNeeded(3000, CirculationOverFloor.Value, 1600), 4, 0)
}

func TestFansRoundUp(t *testing.T) {
	near(t, "just enough", FansNeeded(3000, 2, 2000), 3, 0)
	near(t, "just enough after a conversion", FansNeeded(0.1, 3, 0.1), 3, 0) // 0.1 x 3 is 0.30000000000000004
	near(t, "a little more", FansNeeded(3001, 2, 2000), 4, 0)
	near(t, "no floor", FansNeeded(0, 2, 2000), 0, 0)
}
