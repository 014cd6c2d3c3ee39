package engine

import (
	"testing"

	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// TestStarterBooksUnderScenarios: a starter book can be looked at under each of its
// scenarios: no line is in error, and no cell of one.
func TestStarterBooksUnderScenarios(t *testing.T) {
	for _, name := range []string{"tern_hollow", "first_house"} {
		file, text, _ := sheets.Book(name)
		plan, err := Open(file, text, Options{Today: week.Day(20500)})
		if err != nil || len(plan.Book.Scenarios) == 0 {
			t.Fatal(err, plan)
		}
		for _, s := range plan.Book.Scenarios {
			d, err := Open(file, text, Options{Today: week.Day(20500), Scenario: s.Name})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range d.Faults() {
				t.Errorf("%s, %s: %v", name, s.Name, e)
			}
		}
	}
}
