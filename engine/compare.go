package engine

import (
	"fmt"
	"math"
	"math/bits"
	"sort"
	"strings"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
)

// Comparison sets the plan beside scenarios, on the same draws.
type Comparison struct {
	Plan      []Answer
	PlanDesk  *Desk
	Scenarios []Compared
}

// Compared is one scenario beside the plan.
type Compared struct {
	Name, Title string
	Desk        *Desk
	Answers     []Answer
	// Steps lead from the plan's first figure of "pays" to the scenario's: From, each
	// step, To. They add up exactly and do not depend on any order.
	Label, Unit string
	From, To    float64
	Steps       []Step
	// NoSteps says why there are no steps; "" when there are.
	NoSteps string
}

// Step is what one change of a scenario does to a figure.
type Step struct {
	What string // the row of the scenario, by its target
	By   float64
}

// mostSteps is how many changes a waterfall takes apart: it needs the book 2 to
// that power times.
const mostSteps = 10

// Compare sets the scenarios of a book beside its plan.
func Compare(file string, text []byte, o Options, names []string) (*Comparison, error) {
	o.Scenario = ""
	plan, err := Open(file, text, o)
	if err != nil {
		return nil, err
	}
	c := &Comparison{PlanDesk: plan}
	if c.Plan, err = plan.Answers(); err != nil {
		return nil, err
	}
	for _, name := range names {
		so := o
		so.Scenario = name
		d, err := Open(file, text, so)
		if err != nil {
			return nil, err
		}
		s := Compared{Name: name, Title: d.ScenarioTitle(), Desk: d}
		if s.Answers, err = d.Answers(); err != nil {
			return nil, err
		}
		if err := plan.waterfall(&s, d.Book.Scenario(name)); err != nil {
			return nil, err
		}
		c.Scenarios = append(c.Scenarios, s)
	}
	return c, nil
}

// waterfall finds the steps from the plan to a scenario.
//
// What a change brings depends on what was changed before it, so a chain of
// changes gives other steps in another order. Here each change is credited with
// its mean over all orders (the Shapley value, Shapley 1953, A value for n-person
// games): it is the only division that adds up, treats equal changes equally and
// gives nothing to a change that never does anything. With k changes the book is
// computed for each of the 2^k sets of them.
func (d *Desk) waterfall(s *Compared, scenario *book.Scenario) error {
	figure := d.firstFigure("pays")
	if figure < 0 {
		s.NoSteps = "the book's first figure of pays is not one number"
		return nil
	}
	groups := groupsOf(scenario)
	if len(groups) > mostSteps {
		s.NoSteps = fmt.Sprintf("it changes %d things, and a waterfall takes %d apart", len(groups), mostSteps)
		return nil
	}
	v := d.soFar(figure)
	s.Label, s.Unit = v.Label, v.Unit
	if l := d.Book.Line(strings.TrimSpace(d.made.src.Lines[figure].Formula.Text)); l != nil && l.Label != "" {
		s.Label = l.Label
	}
	worth := make([]float64, 1<<len(groups))
	for set := range worth {
		x, ok := d.figureUnder(scenario, groups, set, figure)
		if !ok {
			s.NoSteps = "with only some of its changes the figure cannot be computed"
			return nil
		}
		worth[set] = x
	}
	s.From, s.To = worth[0], worth[len(worth)-1]
	for g := range groups {
		s.Steps = append(s.Steps, Step{What: groups[g].says, By: shapley(worth, len(groups), g)})
	}
	addUp(s)
	return nil
}

// change is all rows of a scenario that say one thing: those with one target.
type change struct {
	says string
	rows map[int]bool
}

func groupsOf(s *book.Scenario) []change {
	var out []change
	at := map[string]int{}
	for i := range s.Overrides {
		o := &s.Overrides[i]
		says := o.Target()
		if o.Label != "" {
			says = o.Label
		}
		g, ok := at[says]
		if !ok {
			g = len(out)
			at[says] = g
			out = append(out, change{says, map[int]bool{}})
		}
		out[g].rows[i] = true
	}
	return out
}

// firstFigure gives the line of the first figure of an answer; -1 when it is not one number.
func (d *Desk) firstFigure(key string) int {
	if d.made == nil {
		return -1
	}
	for i := range d.Book.Answers {
		if d.Book.Answers[i].Key != key || len(d.made.answers[i]) == 0 {
			continue
		}
		line := d.made.answers[i][0].left
		if t := d.prog.LineType(line); d.prog.OK(line) && t.Axes == 0 && t.Kind == formula.Quantity {
			return line
		}
	}
	return -1
}

// figureUnder computes a line with only some of a scenario's changes.
func (d *Desk) figureUnder(s *book.Scenario, groups []change, set, line int) (float64, bool) {
	part := *s
	part.Overrides = nil
	for i := range s.Overrides {
		for g := range groups {
			if groups[g].rows[i] && set>>g&1 == 1 {
				part.Overrides = append(part.Overrides, s.Overrides[i])
			}
		}
	}
	b := *d.Book
	b.Scenarios = append([]*book.Scenario(nil), d.Book.Scenarios...)
	b.Scenarios = append(b.Scenarios, &book.Scenario{Name: "part of " + s.Name, Overrides: part.Overrides})
	m := makeSource(&b, d.seed, "part of "+s.Name, d.sets)
	p := formula.Compile(m.src)
	p.Plain()
	if line >= len(m.src.Lines) || !p.OK(line) {
		return 0, false
	}
	v := (&Desk{Book: &b, opts: d.opts, made: m, prog: p, drawn: map[int][][]float64{}}).soFar(line)
	if len(v.Cells) != 1 || !Known(v.Cells[0]) {
		return 0, false
	}
	return v.Cells[0], true
}

// shapley gives the mean worth that change g adds, over all orders of n changes.
func shapley(worth []float64, n, g int) float64 {
	share := make([]float64, n) // weight of a set of k others: k! (n-1-k)! / n!
	for k := range share {
		share[k] = 1 / (float64(n) * choose(n-1, k))
	}
	sum := 0.0
	for set := range worth {
		if set>>g&1 == 0 {
			sum += share[bits.OnesCount(uint(set))] * (worth[set|1<<g] - worth[set])
		}
	}
	return sum
}

func choose(n, k int) float64 {
	c := 1.0
	for i := range k {
		c = c * float64(n-i) / float64(i+1)
	}
	return c
}

// addUp lets the largest step take what the rounding of sums left, so that the
// steps add up, and puts the largest first.
func addUp(s *Compared) {
	if len(s.Steps) == 0 {
		return
	}
	largest := 0
	sum := 0.0
	for i := range s.Steps {
		sum += s.Steps[i].By
		a, b := math.Abs(s.Steps[i].By), math.Abs(s.Steps[largest].By)
		if a > b || a == b && s.Steps[i].What < s.Steps[largest].What {
			largest = i
		}
	}
	s.Steps[largest].By += (s.To - s.From) - sum
	sort.SliceStable(s.Steps, func(i, j int) bool { return math.Abs(s.Steps[i].By) > math.Abs(s.Steps[j].By) })
}
