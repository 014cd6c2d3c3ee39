package engine

import (
	"slices"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/graph"
	"wintertruss/engine/syntax"
)

// Moved is what an edit moved.
type Moved struct {
	Lines      []string // names whose plain value, unit or error changed, sorted
	Recomputed int      // lines that were computed again; all of them when Anew
	Anew       bool     // the book was compiled anew
}

// Next gives the desk after the text changed. Where only values of inputs differ,
// the rows that hold them are read again, what hangs on them is computed again, and
// nothing else; the desk that was must not be used any more then. Otherwise the book
// is assembled and compiled anew.
//
// Draws that still run for the desk must have ended.
func (d *Desk) Next(doc *syntax.Document) (*Desk, Moved) {
	if after, moved, ok := d.renew(doc); ok {
		return after, moved
	}
	after, err := prepare(doc, d.opts)
	if err != nil { // an option names what the edit took away: look at the plan
		plan := d.opts
		plan.Scenario, plan.Sets = "", nil
		if after, err = prepare(doc, plan); err != nil {
			panic("engine: a book cannot be opened again: " + err.Error())
		}
	}
	after.compile()
	return after, Moved{Lines: changedLines(d, after), Recomputed: after.computed(), Anew: true}
}

// Would gives the book as an edit would leave it, without draws; the desk stays as it is.
func (d *Desk) Would(e book.Edit) (*Desk, *syntax.Error) {
	doc, _, fault := e.Apply(d.Book.Doc)
	if fault != nil {
		return nil, fault
	}
	after, err := prepare(doc, d.opts)
	if err != nil {
		return nil, &syntax.Error{Code: "options", Message: err.Error()}
	}
	after.compile()
	return after, nil
}

// renew hands source and program of d on to the desk of a document that says other
// values; false when it says more than that.
func (d *Desk) renew(doc *syntax.Document) (*Desk, Moved, bool) {
	var m Moved
	if d.prog == nil {
		return nil, m, false
	}
	b, renewed, ok := d.Book.With(doc)
	if !ok {
		return nil, m, false
	}
	puts, ok := d.made.renew(b, renewed)
	if !ok {
		return nil, m, false
	}
	sets, err := readSets(b, d.opts.Sets)
	if err != nil {
		return nil, m, false
	}
	swaps := make([]formula.Swap, len(puts))
	for i, p := range puts {
		swaps[i] = p.Swap
	}
	touched, ok := d.prog.Update(swaps)
	if !ok {
		return nil, m, false
	}
	d.made.take(b, puts)
	after := &Desk{Book: b, opts: d.opts, run: d.run, seed: d.seed, sets: sets, made: d.made, prog: d.prog, graph: d.graph, errs: d.errs,
		drawn: map[int][][]float64{}}
	for _, l := range renewed.Lines {
		if d.Book.Line(l.Name).Label != l.Label {
			m.Lines = append(m.Lines, l.Name)
		}
	}
	again := after.recompute(touched, &m)
	after.keepOutside(d, again)
	return after, m, true
}

// recompute computes the touched nodes of the program again and what hangs on them;
// it gives the nodes that were computed.
func (d *Desk) recompute(touched []int32, m *Moved) (again map[int32]bool) {
	if d.graph == nil {
		g, err := graph.New(d.prog.Nodes(), d.prog.NodeReads)
		if err != nil {
			panic("engine: the program goes in a circle: " + err.Error())
		}
		g.Run(func(int32) bool { return false }) // the plain pass computed them all
		d.graph = g
	}
	for _, n := range touched {
		d.graph.Touch(n)
	}
	line := func(i int, changed bool) {
		l := &d.made.src.Lines[i]
		if l.Formula != nil && !l.Quiet {
			m.Recomputed++
		}
		if changed && named(l) {
			m.Lines = append(m.Lines, l.Name)
		}
	}
	again = map[int32]bool{}
	d.graph.Run(func(n int32) bool {
		again[n] = true
		return d.prog.Recompute(n, line)
	})
	slices.Sort(m.Lines)
	m.Lines = slices.Compact(m.Lines)
	return again
}

// computed is how many lines were computed.
func (d *Desk) computed() int {
	n := 0
	if d.prog != nil {
		for i := range d.made.src.Lines {
			if l := &d.made.src.Lines[i]; d.prog.OK(i) && l.Formula != nil && !l.Quiet {
				n++
			}
		}
	}
	return n
}

// changedLines names the lines whose plain value, unit, label or error differs.
func changedLines(a, b *Desk) []string {
	var out []string
	for _, name := range b.Names() {
		if !sameValue(a.Plain(name), b.Plain(name)) {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

func sameValue(a, b *Value) bool {
	if a == nil || b == nil || a.Broken != b.Broken || a.Unit != b.Unit || a.Label != b.Label || a.Gather != b.Gather ||
		!slices.Equal(a.Lengths, b.Lengths) || !slices.Equal(a.Axes, b.Axes) || !formula.SameBits(a.Cells, b.Cells) {
		return false
	}
	if a.Error == nil || b.Error == nil {
		return a.Error == b.Error
	}
	return *a.Error == *b.Error
}
