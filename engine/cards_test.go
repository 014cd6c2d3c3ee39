package engine_test

import (
	"cmp"
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/library"
	"wintertruss/engine/unit"
)

// exampleBook is the book that rows of a card's example stand in: 53 weeks,
// looked at on a Wednesday of 2027-W10.
func exampleBook(e formula.Example) string {
	if e.Book != "" {
		return e.Book
	}
	return strings.Join([]string{
		"```settings",
		"title    : An example",
		"season   : 2026-W33 .. 2027-W32",
		"currency : USD",
		"latitude : 42 deg",
		"as_of    : 2027-03-10",
		"```",
		"```lines", strings.Join(e.Lines, "\n"), "```", "",
	}, "\n")
}

// everyFunction gives the library by name, so that failures come in order.
func everyFunction() []*formula.Function {
	return slices.SortedFunc(maps.Values(library.All()), func(a, b *formula.Function) int { return cmp.Compare(a.Name, b.Name) })
}

// to6Digits says whether got is want, as far as six significant digits go.
func to6Digits(got, want float64) bool {
	if want == 0 {
		return math.Abs(got) < 1e-9
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(want)))-5) // of the sixth digit
	return math.Abs(got-want) <= 0.5*unit*(1+1e-9)
}

// Every worked example that a person reads on a card is what the engine gives.
func TestExamplesOfCards(t *testing.T) {
	for _, f := range everyFunction() {
		t.Run(f.Name, func(t *testing.T) {
			e := f.Card.Example
			text := exampleBook(e)
			desk, err := engine.Open("example.md", []byte(text), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, wrong := range desk.Faults() {
				t.Errorf("line %d, column %d: %s (%s)", wrong.Line, wrong.Col, wrong.Message, wrong.Hint)
			}
			if t.Failed() {
				t.Fatalf("in the book\n%s", text)
			}
			v, err := desk.Value(e.Ask)
			if err != nil {
				t.Fatal(err)
			}
			if v.Error != nil {
				t.Fatalf("%s: %s (%s)", e.Ask, v.Error.Message, v.Error.Hint)
			}
			if len(v.Cells) != len(e.Want) {
				t.Fatalf("%s has %d cells, the card gives %d", e.Ask, len(v.Cells), len(e.Want))
			}
			for i, want := range e.Want {
				if !to6Digits(v.Cells[i], want) {
					t.Errorf("%s, cell %d: %.9g %s, the card says %.9g", e.Ask, i, v.Cells[i], v.Unit, want)
				}
			}
		})
	}
}

// An example shows the function whose card it stands on, with figures of its own.
func TestExamplesShowTheirFunction(t *testing.T) {
	input := regexp.MustCompile(`(?m)^[a-z][a-z_]*( over [^:]*)? *: *\S`)
	for _, f := range everyFunction() {
		text := exampleBook(f.Card.Example)
		if !strings.Contains(text, f.Name+"(") {
			t.Errorf("%s: the example does not call it", f.Name)
		}
		_, live, _ := strings.Cut(text, "```\n") // after the settings
		if !input.MatchString(live) && !strings.Contains(live, "```list") && !strings.Contains(live, "```records") {
			t.Errorf("%s: the example has no input", f.Name)
		}
		if n := strings.Count(strings.Join(f.Card.Example.Lines, "\n"), "\n"); n != max(0, len(f.Card.Example.Lines)-1) {
			t.Errorf("%s: one row of the example holds several", f.Name)
		}
	}
}

func TestCardsAreComplete(t *testing.T) {
	families := []string{"numbers and choice", "weeks and lists", "records", "sun and air", "heat", "crop", "water and feed", "labour, protection", "market", "money", "risk"}
	takes := func(of formula.Function, unit string) bool { // "like NAME" names a parameter
		name, like := strings.CutPrefix(unit, "like ")
		return !like || slices.ContainsFunc(of.Params, func(p formula.Param) bool { return p.Name == name })
	}
	for _, f := range everyFunction() {
		c := f.Card
		for field, text := range map[string]string{"Family": c.Family, "Says": c.Says, "Gives": c.Gives, "Valid": c.Valid, "Source": c.Source, "Example.Ask": c.Example.Ask} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s: the card has no %s", f.Name, field)
			}
		}
		if !slices.Contains(families, c.Family) {
			t.Errorf("%s: there is no family %q", f.Name, c.Family)
		}
		if (len(c.Example.Lines) == 0) == (c.Example.Book == "") {
			t.Errorf("%s: an example has rows or a book, one of the two", f.Name)
		}
		if len(c.Example.Want) == 0 {
			t.Errorf("%s: the example does not say what comes out", f.Name)
		}
		if len(f.Params) == 0 {
			t.Errorf("%s takes nothing", f.Name)
		}
		optional := false
		for _, p := range f.Params {
			if p.Name == "" || strings.TrimSpace(p.Says) == "" {
				t.Errorf("%s: parameter %q does not say what it is", f.Name, p.Name)
			}
			if !takes(*f, p.Unit) {
				t.Errorf("%s: parameter %s is %q, and there is none of that name", f.Name, p.Name, p.Unit)
			}
			if optional && !p.Optional {
				t.Errorf("%s: parameter %s follows one that may be left out", f.Name, p.Name)
			}
			optional = optional || p.Optional
		}
		if f.Kernel != nil {
			if f.Output < 0 || f.Output >= len(f.Kernel.Results) {
				t.Errorf("%s: its kernel has no output %d", f.Name, f.Output)
			} else if !takes(*f, f.Kernel.Results[f.Output].Unit) {
				t.Errorf("%s: the result is %q, and there is no such parameter", f.Name, f.Kernel.Results[f.Output].Unit)
			}
		}
	}
}

// A range belongs to a number with a unit of its own, and to a kind only where the
// function takes one; a table is whole and says where it was published. A screen
// draws its second column over the first, or beside its words.
func TestRangesAndTablesOfCards(t *testing.T) {
	units, err := unit.NewSystem(nil)
	if err != nil {
		t.Fatal(err)
	}
	tables := 0
	for _, f := range everyFunction() {
		takesWords := slices.ContainsFunc(f.Params, func(p formula.Param) bool { return p.Takes == formula.Words })
		for _, p := range f.Params {
			if len(p.Measured) > 0 && (p.Takes != formula.Quantity || p.Unit == "" || strings.HasPrefix(p.Unit, "like ") || f.Kernel == nil) {
				t.Errorf("%s: %s has a range, and no unit for it", f.Name, p.Name)
			}
			kinds := map[string]bool{}
			for _, m := range p.Measured {
				if !(m.Low < m.High) || math.IsInf(m.Low, -1) && math.IsInf(m.High, 1) {
					t.Errorf("%s: the range of %s is %v to %v", f.Name, p.Name, m.Low, m.High)
				}
				if kinds[m.For] || m.For != "" && !takesWords {
					t.Errorf("%s: the range of %s for %q is said twice, or the function takes no kind", f.Name, p.Name, m.For)
				}
				kinds[m.For] = true
			}
		}
		table := f.Card.Table
		if table == nil {
			continue
		}
		tables++
		if table.Title == "" || table.Source == "" || len(table.Rows) == 0 || table.Of != nil && len(table.Of) != len(table.Rows) {
			t.Errorf("%s: its table lacks a title, a source, or words for its rows", f.Name)
		}
		columns := len(table.Heads)
		if table.Of != nil {
			columns--
		}
		if len(table.Heads) < 2 {
			t.Errorf("%s: a table of less than two columns says nothing", f.Name)
		}
		for i, row := range table.Rows {
			if len(row) != columns {
				t.Errorf("%s: row %d of its table has %d numbers, wanted %d", f.Name, i+1, len(row), columns)
			}
			for _, x := range row {
				if math.IsInf(x, 0) || array.IsFault(x) {
					t.Errorf("%s: row %d of its table holds %v", f.Name, i+1, x)
				}
			}
			if table.Of == nil && i > 0 && !(row[0] > table.Rows[i-1][0]) {
				t.Errorf("%s: the first column of its table does not rise", f.Name)
			}
		}
		for _, h := range table.Heads {
			if _, text, has := strings.Cut(h, ", "); has {
				if _, err := units.Parse(text); err != nil {
					t.Errorf("%s: the head %q names no unit: %v", f.Name, h, err)
				}
			}
		}
	}
	if tables == 0 {
		t.Error("no card has a table")
	}
}

// What the compiler lowers itself has a card and no kernel; all else has both.
func TestEveryLoweredFunctionHasItsCard(t *testing.T) {
	lowered := formula.Lowered()
	all := library.All()
	for _, name := range lowered {
		if all[name] == nil {
			t.Errorf("%s is lowered by the compiler and has no card", name)
		}
	}
	for _, f := range everyFunction() {
		if (f.Kernel == nil) != slices.Contains(lowered, f.Name) {
			t.Errorf("%s is lowered by the compiler or brings a kernel, one of the two", f.Name)
		}
	}
}

// Names of functions that people know from programs of sheets with lettered
// columns. Ours are words of the trade or of plain mathematics.
var namesOfSheets = strings.Fields(`
	abs and average averageif averageifs accrint address aggregate areas array
	ceiling cell char choose clean code column columns concat concatenate convert correl count counta countblank countif countifs coupnum cumipmt cumprinc
	date datedif datevalue day days days360 db ddb degrees delta disc dollar drop duration
	edate effect eomonth error even exact exp expand
	fact false filter find fixed floor forecast frequency fv
	getpivotdata goal growth
	hlookup hour hyperlink
	if iferror ifna ifs index indirect info int intercept intrate ipmt irr isblank iserror ismissing isna isnumber istext isowf ispmt
	lambda large left len let linest ln log log10 logest lookup lower
	makearray map match max maxifs median mid min minifs minute minverse mirr mmult mod mode month mround
	n na negbinom networkdays nominal norm not now nper npv
	odd offset or
	pearson percentile percentrank permut phi pi pivotby pmt poisson power ppmt price prob product proper pv
	quartile quotient
	radians rand randarray randbetween rank rate received reduce replace rept right round rounddown roundup row rows rri
	scan search second sequence series sign sin skew sln slope small sort sortby sqrt standardize stdev substitute subtotal sum sumif sumifs sumproduct sumsq switch syd
	t take text textjoin time timevalue today transpose trend trim trimmean true trunc type
	unique upper
	value var vdb vlookup
	weekday weeknum weibull workday
	xirr xlookup xmatch xnpv xor
	year yearfrac yield ytd
	ztest`)

func TestNamesOfFunctions(t *testing.T) {
	ours := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	for _, f := range everyFunction() {
		if !ours.MatchString(f.Name) {
			t.Errorf("%s: a name is lower-case words joined by _", f.Name)
		}
		if slices.Contains(namesOfSheets, strings.ToLower(f.Name)) {
			t.Errorf("%s is the name of a function that people know from elsewhere", f.Name)
		}
		seen := map[string]bool{}
		for _, p := range f.Params {
			if !ours.MatchString(p.Name) || seen[p.Name] {
				t.Errorf("%s: parameter %q must be lower-case words joined by _, and stand once", f.Name, p.Name)
			}
			seen[p.Name] = true
		}
	}
}
