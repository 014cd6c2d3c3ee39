package engine_test

import (
	"math"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/week"
)

const comparedBook = "# Book\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\n```\n" +
	"```lines\nkilos : 100 kg\nprice : 4 USD/kg (3..5)\ncosts : 300 USD\nmargin = kilos * price - costs -> USD  // What is left\n```\n" +
	"```answers\npays : margin > 0\n```\n"

func compared(t *testing.T, scenario string) engine.Compared {
	t.Helper()
	c, err := engine.Compare("book.md", []byte(comparedBook+scenario), engine.Options{Today: week.Day(20500)}, []string{"other"})
	if err != nil {
		t.Fatal(err)
	}
	return c.Scenarios[0]
}

// TestWaterfall: two changes of a product share what they do together equally.
// By hand: 100 kg at 4 leave 100; 150 kg at 5 leave 450. Kilos first: +200, then
// price +150; price first: +100, then kilos +250. Means: 225 and 125 (Shapley 1953).
func TestWaterfall(t *testing.T) {
	s := compared(t, "```scenario other \"More, dearer\"\nkilos : 150 kg\nprice : 5 USD/kg\n```\n")
	want := map[string]float64{"kilos": 225, "price": 125}
	if s.From != 100 || s.To != 450 || len(s.Steps) != 2 {
		t.Fatalf("%+v", s)
	}
	sum := s.From
	for _, st := range s.Steps {
		if math.Abs(st.By-want[st.What]) > 1e-9 {
			t.Errorf("%s: %v, want %v", st.What, st.By, want[st.What])
		}
		sum += st.By
	}
	if sum != s.To {
		t.Errorf("the steps lead to %v, not %v", sum, s.To)
	}
	if s.Label != "What is left" || s.Unit != "USD" {
		t.Errorf("label %q, unit %q", s.Label, s.Unit)
	}
	turned := compared(t, "```scenario other \"More, dearer\"\nprice : 5 USD/kg\nkilos : 150 kg\n```\n")
	for i := range s.Steps {
		if turned.Steps[i] != s.Steps[i] {
			t.Errorf("another order gives %+v, not %+v", turned.Steps[i], s.Steps[i])
		}
	}
}

// TestWaterfallOfNothing: a change that does nothing gets nothing.
func TestWaterfallOfNothing(t *testing.T) {
	s := compared(t, "```scenario other \"Same\"\nkilos = base\ncosts : 200 USD\n```\n")
	for _, st := range s.Steps {
		if st.What == "kilos" && st.By != 0 || st.What == "costs" && st.By != 100 {
			t.Errorf("%+v", st)
		}
	}
}
