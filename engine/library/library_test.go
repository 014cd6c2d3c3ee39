package library

import (
	"reflect"
	"strings"
	"testing"

	"wintertruss/engine/formula"
	"wintertruss/engine/unit"
)

// Two functions that share a kernel share its runs, so they must mean the same by
// their arguments; and of two kernels with one name a person could tell neither.
func TestSharedKernels(t *testing.T) {
	first := map[*formula.Kernel]*formula.Function{}
	named := map[string]*formula.Kernel{}
	for _, f := range All() {
		if f.Kernel == nil {
			continue
		}
		if f.Kernel.Run == nil || f.Kernel.Name == "" {
			t.Errorf("%s: its kernel has no name, or does not run", f.Name)
		}
		if g := first[f.Kernel]; g == nil {
			first[f.Kernel] = f
		} else if !sameParams(f.Params, g.Params) {
			t.Errorf("%s and %s share a kernel and differ in their parameters", f.Name, g.Name)
		} else if f.Output == g.Output {
			t.Errorf("%s and %s are the same output of the same kernel", f.Name, g.Name)
		}
		if k := named[f.Kernel.Name]; k != nil && k != f.Kernel {
			t.Errorf("%s: there is another kernel named %s", f.Name, f.Kernel.Name)
		}
		named[f.Kernel.Name] = f.Kernel
	}
}

// sameParams compares all but what is blank, which is never equal to itself.
func sameParams(a, b []formula.Param) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		x, y := a[i], b[i]
		if x.Default != x.Default && y.Default != y.Default {
			x.Default, y.Default = 0, 0
		}
		if !reflect.DeepEqual(x, y) {
			return false
		}
	}
	return true
}

// Every unit that a kernel wants or gives is one that a book can read.
func TestUnitsOfFunctions(t *testing.T) {
	units, err := unit.NewSystem(nil)
	if err != nil {
		t.Fatal(err)
	}
	read := func(function, text string) {
		if text == "" || strings.HasPrefix(text, "like ") {
			return
		}
		if _, err := units.Parse(strings.ReplaceAll(text, "money", "USD")); err != nil {
			t.Errorf("%s: %q: %v", function, text, err)
		}
	}
	for _, f := range All() {
		for _, p := range f.Params {
			read(f.Name, p.Unit)
		}
		if f.Kernel == nil {
			continue
		}
		for _, c := range f.Kernel.Columns {
			read(f.Name, c.Unit)
		}
		for _, r := range f.Kernel.Results {
			read(f.Name, r.Unit)
			if r.Takes == formula.Quantity && r.Unit == "" {
				t.Errorf("%s: an output of its kernel has no unit", f.Name)
			}
		}
	}
}

// Two functions of one name would hide each other.
func TestAllHasEveryFunction(t *testing.T) {
	n := 0
	for _, family := range families {
		n += len(family())
	}
	if n < 60 || len(All()) != n {
		t.Errorf("%d functions of %d", len(All()), n)
	}
	for name, f := range All() {
		if f.Name != name {
			t.Errorf("%s stands under the name %s", f.Name, name)
		}
	}
}
