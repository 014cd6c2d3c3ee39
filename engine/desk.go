package engine

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sort"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/graph"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// Options say how a book is looked at.
type Options struct {
	Today    week.Day // stands for as_of in a book that has none
	AsOf     string   // a day; "" leaves the book's
	Scenario string   // "" is the plan
	Sets     []string // NAME[@member,week]=literal
	Seed     *uint64  // nil leaves the book's
	Draws    int      // 0 leaves the book's
	Block    int      // draws computed together; 0 leaves it to the engine
	Workers  int      // 0: one for each processor
	Units    string   // "us", "metric"; "" leaves every line in its own unit
}

// Desk is one book, opened under options, with its plain pass done. It may be
// read from several goroutines, but Value and Answers one at a time.
type Desk struct {
	Book *book.Book
	opts Options         // as they were given: the desk after an edit is opened under them too
	run  formula.Options // how many draws, and how: of the options and the book
	seed uint64
	sets []book.Override
	made *made
	prog *formula.Program
	// graph says which node of the program reads which; nil until the first edit.
	graph *graph.Graph
	errs  []*syntax.Error
	// drawn holds the draws made so far, by line of the source.
	drawn   map[int][][]float64
	outside outsideKept
}

// MostDraws is the largest run that can be asked for.
const MostDraws = 1_000_000

// Open reads a book, checks it and runs its plain pass. The error is one of the
// options; what is wrong in the book is in Errors.
func Open(file string, text []byte, o Options) (*Desk, error) {
	return open(syntax.Read(file, text), o)
}

func open(doc *syntax.Document, o Options) (*Desk, error) {
	d, err := prepare(doc, o)
	if err == nil {
		d.compile()
	}
	return d, err
}

// prepare assembles a book and its source under options.
func prepare(doc *syntax.Document, o Options) (*Desk, error) {
	return prepareBook(book.Assemble(doc, o.Today), o)
}

// prepareBook makes the source of a book that nobody else uses.
func prepareBook(b *book.Book, o Options) (*Desk, error) {
	set := &b.Settings
	if o.AsOf != "" {
		day, err := week.ParseDay(o.AsOf)
		if err != nil {
			return nil, &OptionError{"--as-of: " + err.Error(), "a day such as 2027-03-10"}
		}
		set.AsOf, set.HasAsOf = day, true
		set.Standing = week.NewStanding(set.Season, day, set.Closed)
	}
	seed := set.Seed
	if o.Seed != nil {
		seed = *o.Seed
	}
	run := formula.Options{Draws: o.Draws, Block: o.Block, Workers: o.Workers}
	if run.Draws == 0 {
		run.Draws = set.Draws
	}
	if run.Draws < 1 || run.Draws > MostDraws {
		return nil, &OptionError{fmt.Sprintf("--draws: %d is not between 1 and %d", run.Draws, MostDraws), ""}
	}
	if o.Block < 0 {
		return nil, &OptionError{"--block: a block holds one draw at least", ""}
	}
	if run.Workers == 0 {
		run.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Scenario != "" && b.Scenario(o.Scenario) == nil {
		var names []string
		for _, s := range b.Scenarios {
			names = append(names, s.Name)
		}
		return nil, &OptionError{"--scenario: the book has no scenario " + o.Scenario, syntax.DidYouMean(o.Scenario, names)}
	}
	sets, err := readSets(b, o.Sets)
	if err != nil {
		return nil, err
	}
	d := &Desk{Book: b, opts: o, run: run, seed: seed, sets: sets, drawn: map[int][][]float64{}}
	d.errs = b.Errors
	if set.HasSeason { // without weeks there is nothing to compute
		d.made = makeSource(b, seed, o.Scenario, sets)
	}
	return d, nil
}

// compile makes the program and runs its plain pass.
func (d *Desk) compile() {
	if d.made == nil {
		return
	}
	d.prog = formula.Compile(d.made.src)
	d.prog.Plain()
	d.collect()
}

// readSets reads the --set options.
func readSets(b *book.Book, sets []string) ([]book.Override, error) {
	var out []book.Override
	for _, s := range sets {
		target, literal, ok := strings.Cut(s, "=")
		if !ok {
			return nil, &OptionError{"--set " + s + ": there is no =", "NAME=literal, or NAME@member,week=literal"}
		}
		o, err := readSet(b, target, literal)
		if err != nil {
			return nil, &OptionError{"--set " + s + ": " + err.Message, err.Hint}
		}
		out = append(out, o)
	}
	return out, nil
}

func readSet(b *book.Book, target, literal string) (o book.Override, err *syntax.Error) {
	start := syntax.Place{Line: 1, Col: 1}
	item := &syntax.Override{}
	if item.Address, err = syntax.ParseAddress(target, start); err != nil {
		return o, err
	}
	if item.Values, err = syntax.ParseValues(literal, start); err != nil {
		return o, err
	}
	return b.Override(item, true)
}

// collect gathers what is wrong: reading, checking, compiling.
func (d *Desk) collect() {
	d.errs = slices.Clone(d.Book.Errors)
	d.errs = append(d.errs, d.made.errors...)
	said := map[*syntax.Error]bool{}
	for _, e := range d.errs {
		said[e] = true
	}
	add := func(e *syntax.Error) {
		if !said[e] {
			said[e] = true
			d.errs = append(d.errs, e)
		}
	}
	for _, e := range d.prog.Errors {
		add(e)
	}
	for _, e := range d.prog.Others {
		add(e)
	}
	sort.SliceStable(d.errs, func(i, j int) bool {
		a, b := d.errs[i], d.errs[j]
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		if a.Col != b.Col {
			return a.Col < b.Col
		}
		return a.Name < b.Name
	})
}

// Errors gives what is wrong with the book, by place. What a line only waits for
// another is among them, with the code "waits".
func (d *Desk) Errors() []*syntax.Error { return d.errs }

// CellFaults gives, for every line with cells that cannot be computed, the first
// of them in words.
func (d *Desk) CellFaults() []*syntax.Error {
	if d.prog == nil {
		return nil
	}
	var out []*syntax.Error
	for i := range d.made.src.Lines {
		if e := d.cellFault(i); e != nil && !d.made.src.Lines[i].Quiet {
			out = append(out, e)
		}
	}
	return out
}

// Faults gives all that is wrong: Errors, and after them CellFaults.
func (d *Desk) Faults() []*syntax.Error { return slices.Concat(d.errs, d.CellFaults()) }

func (d *Desk) cellFault(line int) *syntax.Error {
	if !d.prog.OK(line) {
		return nil
	}
	l := &d.made.src.Lines[line]
	for cell, x := range d.prog.Cells(line) {
		if x == x || !array.IsFault(x) {
			continue
		}
		from, place, why := d.prog.Explain(x)
		e := &syntax.Error{Place: l.Place, Code: "cell", Name: l.Name, Message: d.cellName(line, cell) + why}
		if from == line {
			e.Place = place
		} else if from >= 0 {
			e.Hint = "it began in " + d.made.src.Lines[from].Name
		}
		return e
	}
	return nil
}

// cellName says which cell is meant: "at long_tomato, 2027-W03: ".
func (d *Desk) cellName(line, cell int) string {
	words := d.members(d.prog.LineType(line).Axes, cell)
	if len(words) == 0 {
		return ""
	}
	return "at " + strings.Join(words, ", ") + ": "
}

// members names a cell of a value over axes: its member along each.
func (d *Desk) members(axes array.Axes, cell int) []string {
	space := d.made.src.Space
	words := []string{}
	for _, axis := range axes.List() {
		words = append(words, space.Axes[axis].Members[cell/space.Stride(axes, axis)%space.Axes[axis].Len()])
	}
	return words
}

// Caution is a warning of the book that fires, with the first cell where it does.
type Caution struct {
	Place   syntax.Place
	Name    string // the line it speaks of
	Where   string // the cell, "" when there is only one
	Cells   int    // how many cells fail
	Message string
}

// Cautions gives the book's warnings that fire in the plain pass.
func (d *Desk) Cautions() []Caution {
	if d.prog == nil {
		return nil
	}
	var out []Caution
	for i, c := range d.made.cautions {
		if !d.prog.OK(c.whole) {
			continue
		}
		if d.prog.NeedsDraws(c.whole) {
			if err := d.draw(c.whole); err != nil {
				continue
			}
		}
		k := Caution{Place: c.book.Place, Name: c.book.Left.Text, Message: d.Book.Cautions[i].Message}
		for cell, x := range d.prog.Cells(c.whole) {
			if x == 0 {
				if k.Cells++; k.Cells == 1 {
					k.Where = strings.TrimSuffix(d.cellName(c.whole, cell), ": ")
				}
			}
		}
		if k.Cells > 0 {
			out = append(out, k)
		}
	}
	return out
}

// draw makes the draws of the given lines, those that are not made yet.
func (d *Desk) draw(lines ...int) error { return d.drawUntil(context.Background(), lines...) }

// drawUntil is draw that stops when ctx ends.
func (d *Desk) drawUntil(ctx context.Context, lines ...int) error {
	var todo []int
	for _, i := range lines {
		if _, have := d.drawn[i]; !have && d.prog.OK(i) && !slices.Contains(todo, i) {
			todo = append(todo, i)
		}
	}
	if len(todo) == 0 {
		return nil
	}
	drawn, err := d.prog.Draw(ctx, todo, d.run)
	if err != nil {
		return err
	}
	for _, i := range todo {
		d.drawn[i] = drawn.Line(i)
	}
	return nil
}

// HangsOnDraws says whether the plain value of a line is known only after draws.
func (d *Desk) HangsOnDraws(name string) bool {
	i, ok := d.made.byName[name]
	return ok && d.prog.OK(i) && d.prog.NeedsDraws(i)
}

// Draws is how many draws the desk runs.
func (d *Desk) Draws() int { return d.run.Draws }

// Day gives the day the book is looked at, and how it is known.
func (d *Desk) Day() string {
	s := d.Book.Settings.AsOf.String()
	if !d.Book.Settings.HasAsOf {
		s += " (today)"
	}
	return s
}

// named says whether a line of the source has a name that a person can write: the
// sides of conditions have none.
func named(l *formula.Line) bool { return !strings.Contains(l.Name, " ") }

// Names gives the names of all lines of the book, for hints and lists.
func (d *Desk) Names() []string {
	var names []string
	if d.made != nil {
		for i := range d.made.src.Lines {
			if l := &d.made.src.Lines[i]; named(l) {
				names = append(names, l.Name)
			}
		}
	}
	return names
}
