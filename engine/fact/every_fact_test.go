package fact_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"wintertruss/engine/fact"
	"wintertruss/engine/unit"

	// Every package that holds figures, so that they are registered here.
	_ "wintertruss/engine/model/crop"
	_ "wintertruss/engine/model/feed"
	_ "wintertruss/engine/model/house"
	_ "wintertruss/engine/model/labour"
	_ "wintertruss/engine/model/money"
	_ "wintertruss/engine/model/protect"
	_ "wintertruss/engine/risk"
)

// registered is taken before any test registers figures of its own.
var registered = fact.All()

// The figures of the whole program: nothing missing, one name for one figure, a
// unit that the language reads, a range that is one, and words fit to be shown.
func TestEveryFact(t *testing.T) {
	units, err := unit.NewSystem(nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(registered) < 80 {
		t.Fatalf("only %d figures are registered: a package is missing from this test", len(registered))
	}
	named := map[string]bool{}
	for _, f := range registered {
		if err := f.Check(); err != nil {
			t.Error(err)
		}
		if named[f.Name] {
			t.Errorf("two figures are named %q", f.Name)
		}
		named[f.Name] = true
		if _, err := units.Parse(f.Unit); err != nil {
			t.Errorf("%q: unit %q: %v", f.Name, f.Unit, err)
		}
		for _, x := range []float64{f.Low, f.Value, f.High} {
			if math.IsInf(x, 0) || math.IsNaN(x) {
				t.Errorf("%q: %v", f.Name, x)
			}
		}
		if f.Known == fact.Exact && f.Low != f.High {
			t.Errorf("%q is exact and has a range %v..%v", f.Name, f.Low, f.High)
		}
		for _, text := range []string{f.Name, f.Source, f.Place} {
			if text != strings.TrimSpace(text) || strings.ContainsFunc(text, unicode.IsControl) || !utf8.ValidString(text) {
				t.Errorf("%q: %q is not fit to be shown", f.Name, text)
			}
		}
	}
}

// A package that makes figures and is not imported above would escape the test.
func TestEveryPackageWithFactsIsHere(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "every_fact_test.go", nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	imported := map[string]bool{}
	for _, spec := range file.Imports {
		imported[strings.Trim(spec.Path.Value, `"`)] = true
	}
	makers := 0
	err = filepath.WalkDir("..", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil || !strings.Contains(string(text), "fact.New(") {
			return err
		}
		makers++
		folder, err := filepath.Rel("..", filepath.Dir(path))
		if name := "wintertruss/engine/" + filepath.ToSlash(folder); err == nil && !imported[name] {
			t.Errorf("%s makes figures: import %s in this file", path, name)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if makers == 0 {
		t.Error("no file makes figures: the test looked at nothing")
	}
}
