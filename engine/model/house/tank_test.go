package house

import (
	"math/rand/v2"
	"testing"
)

// By hand: a tank of 800 gal, filled when 250 are left. 300 gal leave 500; 300 more
// reach 250 after 250, are filled, and leave 750; 1,700 more meet the mark after 500
// and 1,050 and 1,600, and leave 700.
func TestTankByHand(t *testing.T) {
	tank, left := Tank{800, 250}, 800.0
	for _, week := range []struct{ used, deliveries, after float64 }{{300, 0, 500}, {300, 1, 750}, {1700, 3, 700}, {0, 0, 700}, {450, 1, 800}} {
		n, brought, after := tank.Use(left, week.used)
		near(t, "deliveries", n, week.deliveries, 0)
		near(t, "after", after, week.after, 1e-9)
		near(t, "brought", brought, week.deliveries*550, 1e-9)
		left = after
	}
	// Begun with 100: filled at once, by 700, and once more on the way.
	n, brought, after := tank.Use(100, 600)
	near(t, "deliveries", n, 2, 0)
	near(t, "brought", brought, 700+550, 1e-9)
	near(t, "after", after, 750, 1e-9)
}

// Nothing is lost or made, the tank is never at or below its mark at a week's end nor
// above what it holds, and two halves of a week are the week.
func TestTankKeepsItsBooks(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for range 20000 {
		tank := Tank{Holds: 100 + 2000*random.Float64()}
		tank.RefillAt = tank.Holds * 0.9 * random.Float64()
		left, used := tank.Holds*random.Float64(), 3000*random.Float64()
		n, brought, after := tank.Use(left, used)
		near(t, "books", left+brought-used-after, 0, 1e-6)
		if after > tank.Holds+1e-6 || after < tank.RefillAt-1e-6 || n < 0 {
			t.Fatalf("%+v with %v, used %v: %v deliveries, %v after", tank, left, used, n, after)
		}
		first, b1, half := tank.Use(left, used/3)
		second, b2, end := tank.Use(half, used-used/3)
		near(t, "deliveries in parts", first+second, n, 0)
		near(t, "brought in parts", b1+b2, brought, 1e-6)
		near(t, "after in parts", end, after, 1e-6)
	}
}
