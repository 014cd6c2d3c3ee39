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
// the program is kept, and what hangs on them is computed again and nothing else;
// the desk that was must not be used any more then. Otherwise the book is
// compiled anew.
//
// Draws that still run for the desk must have ended.
func (d *Desk) Next(doc *syntax.Document) (*Desk, Moved) {
	after, err := prepare(doc, d.opts)
	if err != nil { // an option names what the edit took away: look at the plan
		plan := d.opts
		plan.Scenario, plan.Sets = "", nil
		if after, err = prepare(doc, plan); err != nil {
			panic("engine: a book cannot be opened again: " + err.Error())
		}
	}
	if d.prog != nil && after.made != nil && after.opts.Scenario == d.opts.Scenario {
		if moved, ok := d.update(after); ok {
			return after, moved
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

// update hands the program of d on to after; false when it does not fit.
func (d *Desk) update(after *Desk) (Moved, bool) {
	was := d.prog.Snapshot()
	labels := map[string]string{}
	for _, l := range d.Book.Lines {
		labels[l.Name] = l.Label
	}
	touched, ok := d.prog.Update(after.made.src)
	if !ok {
		return Moved{}, false
	}
	after.prog, after.graph = d.prog, d.graph
	if after.graph == nil {
		g, err := graph.New(after.prog.Nodes(), after.prog.NodeReads)
		if err != nil {
			panic("engine: the program goes in a circle: " + err.Error())
		}
		g.Run(func(int32) bool { return false }) // the plain pass computed them all
		after.graph = g
	}
	for _, n := range touched {
		after.graph.Touch(n)
	}
	again := map[int32]bool{}
	after.graph.Run(func(n int32) bool {
		again[n] = true
		return after.prog.Recompute(n)
	})
	after.collect()
	after.keepOutside(d, again)
	var m Moved
	for i := range after.made.src.Lines {
		l := &after.made.src.Lines[i]
		if !after.prog.OK(i) {
			continue
		}
		if l.Formula != nil && !l.Quiet && again[after.prog.LineNode(i)] {
			m.Recomputed++
		}
		relabelled := false
		if bl := after.Book.Line(l.Name); bl != nil {
			relabelled = bl.Label != labels[l.Name]
		}
		if named(l) && (relabelled || after.prog.Differs(i, was)) {
			m.Lines = append(m.Lines, l.Name)
		}
	}
	slices.Sort(m.Lines)
	return m, true
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
