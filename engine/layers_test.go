package engine_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The import table: which package of the project may import which. It is data,
// with the reason of each row, so that a change of it is a decision someone
// reads and not a line that slips in. Tests are free: what they import is not
// shipped.
//
// To use a package that a row does not allow, first ask why it is not allowed;
// most often the thing that is wanted belongs one floor lower.

const module = "wintertruss"

// row says what a package may import of the project.
type row struct {
	pkg string   // a folder; "engine/model/*" stands for each folder directly below
	may []string // folders, written the same way
	why string
}

var table = []row{
	{"engine/unit", nil, "dimensions are plain algebra: anything may stand on them"},
	{"engine/week", nil, "the only package that knows dates; nothing else of the engine has a clock or a calendar of its own"},
	{"engine/array", nil, "numbers over named axes do not know what they count"},
	{"engine/fact", nil, "a published figure is data; what is computed from it stands elsewhere"},
	{"engine/syntax", nil, "text to trees and back, before anything has a meaning"},
	{"engine/graph", nil, "recomputation knows nothing of crops or formulas, so that it can be tested against recompute-everything on made-up graphs"},
	{"engine/formula", []string{"engine/unit", "engine/week", "engine/array", "engine/syntax", "engine/fact"}, "checks and computes trees; it calls models only through the functions it is handed, so a new model needs no change here"},
	{"engine/model/*", []string{"engine/fact"}, "a model is a pure function of numbers with its published figures beside it; models that import each other cannot be read, tested or replaced one at a time"},
	{"engine/model/feed", []string{"engine/fact"}, "water, salts and bags by their own figures; light and crop stage are handed to it"},
	{"engine/model/labour", []string{"engine/fact"}, "tasks and phases know what is counted, not what grows"},
	{"engine/model/protect", []string{"engine/fact"}, "cards, releases and days after a spray; counts and weather are handed to it"},
	{"engine/model/money", []string{"engine/fact", "engine/week"}, "as every model, but loans and bills fall due on real dates, and to count days a second time would be a second calendar"},
	{"engine/library", []string{"engine/formula", "engine/model/*", "engine/fact", "engine/week", "engine/array", "engine/unit"}, "gives the models their names; it never sees a book, a tree or a draw"},
	{"engine/risk", []string{"engine/fact"}, "distributions and draws are numbers in, numbers out: the same for a crop and a coin"},
	{"engine/book", []string{"engine/syntax", "engine/week", "engine/unit"}, "the document and its edits; what its lines come to is none of its business"},
	{"engine/store", []string{"engine/book", "engine/week"}, "keeps what a book says and who changed it; computes nothing"},
	{"engine", []string{"engine/*", "engine/model/*"}, "the façade joins all the others, and is what everything above imports"},
	{"sheets", nil, "starter books are text, embedded"},
	{"ui", []string{"engine", "engine/*", "sheets"}, "serves what the engine says; models are reached through the engine alone"},
	{"cmd/wintertruss", []string{"engine", "engine/*", "sheets", "ui"}, "wiring of everything below; models are reached through the engine alone"},
	{"cmd/check", nil, "the gate must run when what it checks does not build"},
}

// ban keeps packages from outside the project to where they belong.
type ban struct {
	imports string   // an import path, or the beginning of one that ends in "/"
	from    string   // the folder it is kept out of, with all below; "" is everywhere
	but     []string // packages that may, as in row.may
	why     string
}

var bans = []ban{
	{"net/http", "engine", nil, "the engine is asked by a screen, a command or a job alike: the wire is the business of ui"},
	{"net", "engine", nil, "the engine works without a network"},
	{"time", "engine", []string{"engine/week", "engine/store"}, "a result may not depend on when it was computed; dates are week's, the day of a change is the store's"},
	{"math/rand", "engine", nil, "draws are keyed by seed, name, member and week, so that they come out the same for any block, order and number of cores"},
	{"math/rand/v2", "engine", nil, "as math/rand"},
	{"os", "engine/model", nil, "a model reads no file and no setting"},
	{"io/fs", "engine/model", nil, "a model reads no file"},
	{"log", "engine", nil, "what is wrong is a value that reaches the person who can mend it"},
	{"github.com/expr-lang/expr/", "", []string{"engine/syntax"}, "of the host language only the parser is used, and its trees stop at our own"},
	{"github.com/yuin/goldmark/", "", []string{"engine/syntax", "ui"}, "Markdown is read once, and shown on screens"},
	{"github.com/shopspring/decimal/", "", []string{"engine/syntax", "engine/formula", "engine/model/money", "engine/model/market", "engine/library", "engine/book", "engine"}, "decimal at the edges only (typed figures, bills, coin steps): it costs a hundred times a float"},
	{"gonum.org/v1/gonum/", "", []string{"engine/model/*", "engine/risk", "engine/array"}, "numerical methods stand where the mathematics is"},
}

// imported gives what each package of the project imports, tests left out.
// Folders with a go.mod of their own are other modules.
func imported(t *testing.T) map[string][]string {
	t.Helper()
	packages := map[string][]string{}
	err := filepath.WalkDir("..", func(file string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := e.Name()
		if e.IsDir() && file != ".." {
			other, _ := filepath.Glob(filepath.Join(file, "go.mod"))
			if strings.HasPrefix(name, ".") || name == "testdata" || len(other) > 0 {
				return filepath.SkipDir
			}
		}
		if e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		dir, err := filepath.Rel("..", filepath.Dir(file))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(dir)
		packages[pkg] = append(packages[pkg], "") // known, also when it imports nothing
		for _, i := range tree.Imports {
			what, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			packages[pkg] = append(packages[pkg], what)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg, list := range packages {
		slices.Sort(list)
		packages[pkg] = slices.Compact(list)[1:]
	}
	return packages
}

// names says whether a pattern of the table names pkg: "a/*" names what stands
// directly below a, anything else only itself, so that nothing is allowed by accident.
func names(pattern, pkg string) bool {
	if above, ok := strings.CutSuffix(pattern, "/*"); ok {
		return path.Dir(pkg) == above
	}
	return pattern == pkg
}

// under says whether pkg is folder or anything below it; "" is the whole project.
func under(folder, pkg string) bool {
	return folder == "" || pkg == folder || strings.HasPrefix(pkg, folder+"/")
}

// rowOf gives the row of a package: its own before the one of its kind.
func rowOf(pkg string) (row, bool) {
	for _, r := range table {
		if r.pkg == pkg {
			return r, true
		}
	}
	for _, r := range table {
		if strings.HasSuffix(r.pkg, "/*") && names(r.pkg, pkg) {
			return r, true
		}
	}
	return row{}, false
}

// breaches gives what a package imports against the table and the bans.
func breaches(pkg string, imports []string) []string {
	var found []string
	r, ok := rowOf(pkg)
	if !ok {
		return []string{pkg + " is not in the import table: give it a row and a reason in engine/layers_test.go"}
	}
	for _, what := range imports {
		if below, ok := strings.CutPrefix(what, module+"/"); ok {
			if !slices.ContainsFunc(r.may, func(p string) bool { return names(p, below) }) {
				found = append(found, pkg+" may not import "+below+": "+r.why)
			}
			continue
		}
		for _, b := range bans {
			hit := what == strings.TrimSuffix(b.imports, "/") || strings.HasSuffix(b.imports, "/") && strings.HasPrefix(what, b.imports)
			allowed := slices.ContainsFunc(b.but, func(p string) bool { return names(p, pkg) })
			if hit && !allowed && under(b.from, pkg) {
				found = append(found, pkg+" may not import "+what+": "+b.why)
			}
		}
	}
	return found
}

func TestLayers(t *testing.T) {
	packages := imported(t)
	if len(packages["engine/formula"]) == 0 {
		t.Fatal("engine/formula was not found: the test looks in the wrong place")
	}
	for pkg, imports := range packages {
		for _, breach := range breaches(pkg, imports) {
			t.Error(breach)
		}
	}
}

func TestEveryRowSaysWhy(t *testing.T) {
	for _, r := range table {
		if r.why == "" {
			t.Errorf("the row of %s gives no reason", r.pkg)
		}
	}
	for _, b := range bans {
		if b.why == "" {
			t.Errorf("the ban of %s gives no reason", b.imports)
		}
	}
}

func TestBreachesAreFound(t *testing.T) {
	for _, c := range []struct {
		pkg, imports string
		breach       bool
	}{
		{"engine/model/crop", "wintertruss/engine/model/house", true},
		{"engine/model/crop", "wintertruss/engine/fact", false},
		{"engine/model/crop", "wintertruss/engine/week", true},
		{"engine/model/money", "wintertruss/engine/week", false},
		{"engine/model/crop", "time", true},
		{"engine/model/crop", "os", true},
		{"engine/week", "time", false},
		{"engine/store", "time", false},
		{"engine", "net/http", true},
		{"engine/book", "net/http", true},
		{"ui", "net/http", false},
		{"engine/formula", "wintertruss/engine/library", true},
		{"engine/library", "wintertruss/engine/model/crop", false},
		{"engine/formula", "github.com/expr-lang/expr/parser", true},
		{"engine/syntax", "github.com/expr-lang/expr/parser", false},
		{"engine/graph", "github.com/shopspring/decimal", true},
		{"engine", "wintertruss/engine/graph", false},
		{"engine/graph", "wintertruss/engine", true},
		{"ui", "wintertruss/engine/model/crop", true},
		{"engine/new", "fmt", true},
		{"engine/graph", "fmt", false},
	} {
		if got := breaches(c.pkg, []string{c.imports}); (len(got) > 0) != c.breach {
			t.Errorf("%s importing %s: %q, want a breach: %t", c.pkg, c.imports, got, c.breach)
		}
	}
}
