package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// Solution says what an input must be for a line to come to a value, with every other
// input at its middle.
//
// The essay. Nothing is known of how the line hangs on the input: it may rise and fall
// again (a planting too dense shades itself), jump (prices go by coin steps), or not be
// known everywhere. So the input goes first through a grid, wide and finest about
// where it stands; between neighbours on two sides of the target the crossing is
// closed in by halves and chords (the Illinois form of false position, Dowell &
// Jarratt, 1971, A modified regula falsi method, BIT 11), which never leaves the
// bracket; and where the line turns round close by the target, the turn is sought
// first (golden section, Kiefer, 1953, Sequential minimax search, Proc. AMS 4), so that
// two crossings in one mesh are not missed. What does not close to nothing is a jump
// and is said as one. Every answer is put into the book and read off again. A value of
// the input costs what hangs on it, as an edit does: about a millisecond.
//
// Rejected: Newton's steps, which leave the bracket and want slopes that coin steps do
// not have; and one root without the others, which hides a second answer.
type Solution struct {
	Make, By     string // shown names of the line and the input
	Unit, ByUnit string
	ByKind       formula.Takes
	Target       float64 // in Unit
	Now          float64 // what the line comes to as the book stands
	Stands       float64 // what the input is in the book; blank where its cells differ
	From, To     float64 // where it was sought
	At           []Solved
	Nearest      Solved // where there is none: the value that comes nearest
	Flat         bool   // the line is the same whatever the input is
	Unknown      int    // values of the grid at which the line is not known
	Tried        int
}

// Solved is one value of the input.
type Solved struct {
	X       float64 // of the input, in ByUnit
	Y       float64 // what the line comes to with it
	Jump    bool    // the line jumps over the target here; Y is the side below X
	YAfter  float64 // of a jump, the other side
	Outside bool    // outside the input's own range of eight in ten
}

const (
	gridSteps  = 60   // meshes of the first grid
	closest    = 1e-9 // of the bracket's width: as near as an answer is sought
	mostProbes = 120  // tries in one mesh
)

// Solve finds what by must be for make to be so: "margin_over_cold = 0 USD", by
// "fuel_price". by is an input, or one cell of a list: "planting.density @ pepper".
func (d *Desk) Solve(want, by string) (*Solution, error) {
	s := &solver{}
	if err := s.begin(d, want, by); err != nil {
		return nil, err
	}
	s.search()
	return &s.out, nil
}

// solver tries values of an input in a desk of its own.
type solver struct {
	out     Solution
	desk    *Desk
	doc     *syntax.Document
	address string // of the input
	name    string // of the line
	where   []string
	cell    int
	from    float64 // where the input stands, or the first of its cells
	low     float64 // the input's own range, NaN when it has none
	high    float64
	tried   map[float64]float64
}

func (s *solver) begin(d *Desk, want, by string) error {
	left, right, ok := strings.Cut(want, "=")
	if !ok {
		return &OptionError{"--make " + want + ": there is no =", `--make "margin_over_cold = 0 USD"`}
	}
	start := syntax.Place{Line: 1, Col: 1}
	of, err := syntax.ParseAddress(strings.TrimSpace(left), start)
	if err != nil {
		return &OptionError{"--make " + want + ": " + err.Message, err.Hint}
	}
	from, err := syntax.ParseAddress(strings.TrimSpace(by), start)
	if err != nil {
		return &OptionError{"--by " + by + ": " + err.Message, err.Hint}
	}
	for _, set := range d.opts.Sets {
		target, _, _ := strings.Cut(set, "=")
		if name, _, _ := strings.Cut(target, "@"); strings.TrimSpace(name) == from.Name.Text {
			return &OptionError{from.Name.Text + " is set by --set, which goes before what is tried", "leave that out"}
		}
	}
	if e := d.Errors(); d.made == nil || len(e) > 0 {
		return &OptionError{"the book is in error", "wintertruss check BOOK says where"}
	}
	s.name, s.doc, s.address, s.tried = of.Name.Text, d.Book.Doc, strings.TrimSpace(by), map[float64]float64{}
	for _, w := range of.Where {
		s.where = append(s.where, w.Text)
	}
	v := d.Plain(s.name)
	if v == nil {
		return &OptionError{"the book has no line " + s.name, syntax.DidYouMean(s.name, d.Names())}
	}
	if v.Kind != formula.Quantity || d.HangsOnDraws(s.name) {
		return &OptionError{s.name + " is no number of the plain pass", "name a line that is a number, such as a margin or a price"}
	}
	if s.cell = cellAt(v, s.where); s.cell < 0 {
		return &OptionError{s.name + " is not one number there", "name its " + strings.Join(v.Axes, " and ") + " behind @, or a line without them"}
	}
	s.out.Make, s.out.Unit, s.out.Now = cellName(d, v, s.cell), v.Unit, v.Cells[s.cell]
	if s.out.Target, err = d.literalIn(strings.TrimSpace(right), v.Unit); err != nil {
		return &OptionError{"--make " + want + ": " + err.Message, err.Hint}
	}
	return s.input(d, from)
}

// input reads what the input is, and where it may go.
func (s *solver) input(d *Desk, from syntax.Address) error {
	name := from.Name.Text
	line := d.Book.Line(name)
	if list, _, column := strings.Cut(name, "."); line != nil && line.Input == nil || line == nil && (!column || d.Book.List(list) == nil) {
		return &OptionError{name + " is no input of the book", "a line that is typed and not computed, or a cell of a list: planting.density @ long_tomato"}
	}
	v, err := d.Value(name)
	if err != nil || v.Broken {
		return &OptionError{"the book has no input " + name, syntax.DidYouMean(name, d.Names())}
	}
	if v.Kind != formula.Quantity && v.Kind != formula.Dates {
		return &OptionError{name + " is neither a number nor a day", ""}
	}
	var where []string
	for _, w := range from.Where {
		where = append(where, w.Text)
	}
	at, first := -1, true
	for cell := range v.Cells {
		if !matches(v, cell, where) || !Known(v.Cells[cell]) {
			continue
		}
		if first {
			at, s.out.Stands = cell, v.Cells[cell]
		} else if v.Cells[cell] != s.out.Stands {
			s.out.Stands = math.NaN()
		}
		first = false
	}
	if at < 0 {
		return &OptionError{name + " has no value there", "name one of its cells behind @"}
	}
	s.out.By, s.out.ByUnit, s.out.ByKind = cellName(d, v, at), v.Unit, v.Kind
	if len(where) == 0 {
		s.out.By = v.Label
	}
	if s.out.By == "" {
		s.out.By = name
	}
	s.low, s.high = math.NaN(), math.NaN()
	if v.Low != nil {
		s.low, s.high = v.Low[at], v.High[at]
	}
	x, wide := v.Cells[at], 0.0
	if s.high > s.low {
		wide = s.high - s.low
	}
	u, bad := d.Book.Units.Parse(v.Unit)
	absolute := bad == nil && u.Absolute
	switch {
	case v.Kind == formula.Dates:
		s.out.From, s.out.To = x-120, x+120
	case v.Unit == "%" && x >= 0 && x <= 100:
		s.out.From, s.out.To = 0, 100
	case x > 0 && !absolute && !isDifference(v.Unit):
		s.out.From, s.out.To = 0, 20*max(x, wide)
	default:
		reach := max(5*wide, 2*math.Abs(x), 20)
		s.out.From, s.out.To = x-reach, x+reach
	}
	s.from = x
	// The input is pinned once at what it is: to pin it elsewhere is then an edit of one
	// value, and costs what hangs on it.
	doc, _, fault := s.pin(x)
	if fault != nil {
		return &OptionError{"--by " + s.address + ": " + fault.Message, fault.Hint}
	}
	s.doc = doc
	s.desk, err = open(doc, d.opts)
	return err
}

// pin gives the document with the input pinned at x.
func (s *solver) pin(x float64) (*syntax.Document, book.Edit, *syntax.Error) {
	literal := strconv.FormatFloat(x, 'f', -1, 64)
	switch {
	case s.out.ByKind == formula.Dates:
		literal = week.Day(x).String()
	case s.out.ByUnit != "" && s.out.ByUnit != "1":
		literal += " " + s.out.ByUnit
	}
	return book.Edit{Kind: book.Pin, Address: s.address, Text: book.Verbatim(literal)}.Apply(s.doc)
}

func isDifference(unit string) bool { return strings.HasSuffix(unit, "_diff") || unit == "K" }

// cellAt gives the one cell of a value that is there; -1 when none or several are.
func cellAt(v *Value, where []string) int {
	at := -1
	for cell := range v.Cells {
		if matches(v, cell, where) {
			if at >= 0 {
				return -1
			}
			at = cell
		}
	}
	return at
}

func matches(v *Value, cell int, where []string) bool {
	members := v.CellMembers(cell)
	for _, w := range where {
		if !slices.Contains(members, w) {
			return false
		}
	}
	return true
}

// cellName is what a person calls a cell: its label, and where it is.
func cellName(d *Desk, v *Value, cell int) string {
	name := v.Label
	if name == "" {
		name = v.Name
	}
	if len(v.Axes) > 0 {
		name += ", " + d.CellLabel(v, cell)
	}
	return name
}

// literalIn reads "12.5 USD/kg" as a number of a unit; without a unit it is one already.
func (d *Desk) literalIn(text, shown string) (float64, *syntax.Error) {
	number, own, _ := strings.Cut(text, " ")
	x, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, &syntax.Error{Message: text + " is no number", Hint: "0 " + shown}
	}
	if own = strings.TrimSpace(own); own == "" || own == shown {
		return x, nil
	}
	from, bad := d.Book.Units.Parse(own)
	if bad != nil {
		return 0, &syntax.Error{Message: bad.Error()}
	}
	to, bad := d.Book.Units.Parse(shown)
	if bad != nil {
		return 0, &syntax.Error{Message: bad.Error()}
	}
	mul, add, bad := unit.Convert(from, to)
	if bad != nil {
		return 0, &syntax.Error{Message: own + " does not measure what " + shown + " does", Hint: "0 " + shown}
	}
	return x*mul + add, nil
}

// probe gives how far the line is from its target with the input at x; NaN where it is
// not known.
func (s *solver) probe(x float64) float64 {
	if s.out.ByKind == formula.Dates {
		x = math.Round(x)
	}
	if y, done := s.tried[x]; done {
		return y
	}
	y := math.NaN()
	if doc, _, fault := s.pin(x); fault == nil {
		s.desk, _ = s.desk.Next(doc)
		if v := s.desk.Plain(s.name); v != nil && !v.Broken && s.cell < len(v.Cells) && Known(v.Cells[s.cell]) {
			y = v.Cells[s.cell] - s.out.Target
		}
	}
	s.out.Tried++
	s.tried[x] = y
	return y
}

// grid gives the first values to try, rising.
func (s *solver) grid() []float64 {
	out := []float64{s.out.From, s.out.To}
	for _, x := range []float64{s.from, s.low, s.high} {
		if x > s.out.From && x < s.out.To {
			out = append(out, x)
		}
	}
	for i := 1; i < gridSteps; i++ {
		share := float64(i) / gridSteps
		if s.out.From == 0 && s.out.To != 100 { // finer where the input stands
			share *= share
		}
		x := s.out.From + (s.out.To-s.out.From)*share
		if s.out.ByKind == formula.Dates {
			x = math.Round(x)
		}
		out = append(out, x)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (s *solver) search() {
	grid := s.grid()
	y := make([]float64, len(grid))
	for i, x := range grid {
		if y[i] = s.probe(x); y[i] != y[i] {
			s.out.Unknown++
		}
	}
	for i, x := range grid {
		if y[i] == 0 {
			s.found(x)
		}
		if i == 0 || y[i-1] != y[i-1] || y[i] != y[i] || y[i-1] == 0 || y[i] == 0 {
			continue
		}
		if y[i-1]*y[i] < 0 {
			s.close(grid[i-1], x, y[i-1], y[i])
			continue
		}
		if i > 1 && y[i-2]*y[i-1] > 0 && math.Abs(y[i-1]) <= math.Abs(y[i-2]) && math.Abs(y[i-1]) <= math.Abs(y[i]) {
			s.turn(grid[i-2], x, y[i-2], y[i])
		}
	}
	slices.SortFunc(s.out.At, func(a, b Solved) int { return cmp.Compare(a.X, b.X) })
	best := math.NaN()
	s.out.Flat = s.out.Unknown == 0
	for x, y := range s.tried {
		s.out.Flat = s.out.Flat && y == s.tried[s.out.From]
		if y == y && !(math.Abs(y) >= math.Abs(best)) {
			best, s.out.Nearest = y, Solved{X: x, Y: y + s.out.Target}
		} else if math.Abs(y) == math.Abs(best) && x < s.out.Nearest.X { // the order of a map is none
			s.out.Nearest = Solved{X: x, Y: y + s.out.Target}
		}
	}
}

// close closes a crossing in.
func (s *solver) close(a, b, ya, yb float64) {
	wide, first := (b-a)*closest, math.Abs(yb-ya)
	if s.out.ByKind == formula.Dates {
		wide = 1
	}
	fa, fb := ya, yb // weighted, for the chord
	side := 0
	for n := 0; b-a > wide && n < mostProbes; n++ {
		x := b - fb*(b-a)/(fb-fa)
		if n%3 == 2 || !(x > a && x < b) {
			x = a + (b-a)/2
		}
		if s.out.ByKind == formula.Dates {
			x = math.Floor(a + (b-a)/2)
		}
		y := s.probe(x)
		switch {
		case y != y || x == a || x == b:
			return // it is not known between
		case y == 0:
			s.found(x)
			return
		case y*ya < 0:
			b, yb, fb = x, y, y
			if side == -1 {
				fa /= 2
			}
			side = -1
		default:
			a, ya, fa = x, y, y
			if side == 1 {
				fb /= 2
			}
			side = 1
		}
	}
	if math.Abs(yb-ya) > 1e-4*first && math.Abs(yb-ya) > 1e-9*math.Abs(s.out.Target) {
		s.out.At = append(s.out.At, Solved{X: b, Y: ya + s.out.Target, YAfter: yb + s.out.Target, Jump: true, Outside: s.outside(b)})
		return
	}
	if math.Abs(ya) < math.Abs(yb) {
		b = a
	}
	s.found(b)
}

// turn looks for two crossings between a and b, where the line comes near and goes again.
func (s *solver) turn(a, b, ya, yb float64) {
	const golden = 0.6180339887498949
	from, to := a, b
	for range 40 {
		x1, x2 := b-golden*(b-a), a+golden*(b-a)
		y1, y2 := s.probe(x1), s.probe(x2)
		if y1 != y1 || y2 != y2 {
			return
		}
		for _, p := range [][2]float64{{x1, y1}, {x2, y2}} {
			if p[1]*ya <= 0 {
				if p[1] == 0 {
					s.found(p[0])
					return
				}
				s.close(from, p[0], ya, p[1])
				s.close(p[0], to, p[1], yb)
				return
			}
		}
		if math.Abs(y1) < math.Abs(y2) {
			b = x2
		} else {
			a = x1
		}
	}
}

func (s *solver) found(x float64) {
	s.out.At = append(s.out.At, Solved{X: x, Y: s.probe(x) + s.out.Target, Outside: s.outside(x)})
}

func (s *solver) outside(x float64) bool { return x < s.low || x > s.high }

// TextOf writes a value of the input as a person reads it.
func (s *Solution) TextOf(x float64) string {
	if s.ByKind == formula.Dates && x == x {
		return week.Day(math.Round(x)).String()
	}
	return Show(x, s.ByUnit)
}

// Says puts a solution in words, a line each.
func (s *Solution) Says() []string {
	target := Show(s.Target, s.Unit)
	stands := "it is " + s.TextOf(s.Stands)
	if s.Stands != s.Stands {
		stands = "it differs from cell to cell"
	}
	out := []string{fmt.Sprintf("%s: for it to be %s (it is %s)", s.Make, target, Show(s.Now, s.Unit))}
	switch {
	case s.Flat:
		return append(out, fmt.Sprintf("  it does not hang on %s", s.By))
	case len(s.At) == 0:
		out = append(out, fmt.Sprintf("  no value of %s does it, from %s to %s", s.By, s.TextOf(s.From), s.TextOf(s.To)))
		if s.Nearest.Y == s.Nearest.Y && s.Tried > s.Unknown {
			out = append(out, fmt.Sprintf("  nearest: %s at %s", Show(s.Nearest.Y, s.Unit), s.TextOf(s.Nearest.X)))
		}
	case len(s.At) == 1:
		out = append(out, fmt.Sprintf("  %s must be %s (%s)", s.By, s.TextOf(s.At[0].X), stands))
	default:
		out = append(out, fmt.Sprintf("  %s can be one of %d (%s)", s.By, len(s.At), stands))
	}
	for _, a := range s.At {
		if len(s.At) > 1 {
			out = append(out, "    "+s.TextOf(a.X))
		}
		if a.Jump {
			out = append(out, fmt.Sprintf("    there it jumps from %s to %s and is never %s", Show(a.Y, s.Unit), Show(a.YAfter, s.Unit), target))
		}
		if a.Outside {
			out = append(out, "    that lies outside the range in which the book holds it likely")
		}
	}
	if len(s.At) > 0 {
		out = append(out, fmt.Sprintf("  sought from %s to %s, all else as the book has it", s.TextOf(s.From), s.TextOf(s.To)))
	}
	if s.Unknown > 0 {
		out = append(out, fmt.Sprintf("  at %d of the values tried it is not known", s.Unknown))
	}
	return out
}
