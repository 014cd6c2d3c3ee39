package engine

import (
	"math"
	"strings"
	"testing"
)

// TestHabits: people of another habit read the same amounts in their own units. A
// pound is 0.45359237 kg exactly (international pound, 1959); 62 degF are 16.67 degC.
func TestHabits(t *testing.T) {
	text := "# Small\n\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\n```\n" +
		"```lines\nkilos : 100 kg (90..110)\nprice : 4 USD/kg\nfloor = price * 0.5 -> USD/lb\nnight : 62 degF\n```\n" +
		"```answers\npays : kilos * price > 0\ncharge : kilos, price, floor\n```\n"
	d, err := Open("small.md", []byte(text), Options{})
	if err != nil || len(d.Errors()) > 0 {
		t.Fatal(err, d.Errors())
	}
	for _, c := range []struct {
		habit, unit, want string
		x, y              float64
	}{
		{"us", "kg", "lb", 0.45359237, 1},
		{"us", "USD/kg", "USD/lb", 2.2046226218487757, 1},
		{"metric", "degF", "degC", 62, 50.0 / 3},
		{"metric", "USD/lb", "USD/kg", 0.45359237, 1},
	} {
		s, ok := d.ShownTo(c.habit, c.unit)
		if !ok || s.Unit != c.want || math.Abs(c.x*s.Mul+s.Add-c.y) > 1e-12 {
			t.Errorf("%s to people of the habit %s: %+v, want %v %s for %v", c.unit, c.habit, s, c.y, c.want, c.x)
		}
	}
	if _, ok := d.ShownTo("metric", "kg"); ok {
		t.Error("kilograms are shown otherwise to people who are used to them")
	}
	for habit, want := range map[string]string{"us": "/lb", "metric": "/kg"} {
		v := d.To(habit).Plain("price")
		if !strings.HasSuffix(Show(v.Cells[0], v.Unit), want) {
			t.Errorf("the price reads %s to people of the habit %s", Show(v.Cells[0], v.Unit), habit)
		}
	}
}
