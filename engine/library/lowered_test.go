package library

import (
	"fmt"
	"slices"
	"testing"

	"wintertruss/engine/formula"
)

// Each function that the compiler lowers has its card here, and nothing else has.
func TestCardsOfLoweredFunctions(t *testing.T) {
	var names []string
	for _, f := range loweredFunctions() {
		names = append(names, f.Name)
		if f.Kernel != nil {
			t.Errorf("%s: what is lowered has no kernel", f.Name)
		}
	}
	slices.Sort(names)
	if want := formula.Lowered(); !slices.Equal(names, want) {
		t.Errorf("cards of\n%v\nthe compiler lowers\n%v", names, want)
	}
}

// An example belongs to one card: a copied one would show something else.
func TestExamplesOfLoweredFunctionsDiffer(t *testing.T) {
	seen := map[string]string{}
	for _, f := range loweredFunctions() {
		e := fmt.Sprint(f.Card.Example.Lines, f.Card.Example.Book, f.Card.Example.Ask)
		if other := seen[e]; other != "" {
			t.Errorf("%s and %s have the same example", f.Name, other)
		}
		seen[e] = f.Name
	}
}

func ExampleAll() {
	f := All()["mean_over"]
	fmt.Println(f.Card.Says)
	for _, p := range f.Params {
		fmt.Printf("%s: %s\n", p.Name, p.Says)
	}
	// Output:
	// The mean along axes, every known cell counting alike.
	// x: any number
	// axes: the names of one axis or more, such as week or a list; all of them when left out
}
