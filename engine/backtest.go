package engine

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wintertruss/engine/book"
	"wintertruss/engine/formula"
	"wintertruss/engine/library"
	"wintertruss/engine/risk"
	"wintertruss/engine/store"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
	"wintertruss/engine/week"
)

// How a backtest is made, and why so.
//
// For every Monday the book is opened anew as it could have been opened that
// morning: as of that day, without any record of that day or a later one, so that
// the week before is the last fact. Rows are taken out of the book itself, not
// passed over by the functions that read them: whatever a formula does with records,
// it cannot see those. What the book says otherwise (inputs, formulas, pins) is as it
// stands now; whether that was known then, the log of edits tells (backtest_later.go).
//
// What was recorded is computed by the same formulas: for a line that records fill
// (recorded_or, counted_or), its formula with the forecast left out; for a line that
// observe binds, the right side of its row. Both are lines of the program, so units,
// lists and weeks are those of the book.

// Aheads are the distances at which forecasts are scored, in weeks: 1 is the week
// that begins on the Monday itself, of which nothing is known yet.
var Aheads = [...]int{1, 2, 4, 6}

// Backtest is how forecasts made on past Mondays met what was recorded.
type Backtest struct {
	Title   string
	Mondays []week.Week // in which forecasts were made
	Last    week.Week   // the last closed week
	AsOf    week.Day    // the day up to which facts are taken
	Day     string      // the same as a person reads it
	Lines   []*Scored
	Skipped []Skipped // lines that have records and cannot be scored
	Later   *Later    // what was changed since, so that these forecasts knew it
}

// Scored is one line with its scores.
type Scored struct {
	Name, Label, Unit string
	Facts             string  // the part of the book's formula that gives the facts
	Bound             bool    // by observe; else the line is built from records
	Of                []*Part // in total first, where amounts add up over members
}

// Part is a line in total, or one of its members.
type Part struct {
	Member string // its members along the axes other than week; "" in total
	Label  string // as shown
	Scores []Score
	Pairs  []Pair
}

// Score is how forecasts at one distance met the facts. Amounts are in the line's unit.
type Score struct {
	Ahead int
	Weeks int     // forecasts scored
	Fact  float64 // mean of the facts
	Bias  float64 // mean of forecast less fact
	Error float64 // mean of the same without its sign
	// Held of Banded facts lay in the band of the draws, ends included.
	Held, Banded int
	// Peer is the same for saying the mean of the last two known weeks again, over the
	// forecasts for which there is one; Ours is the error of the line in those.
	Peer struct {
		Weeks                   int
		Fact, Bias, Error, Ours float64
	}
}

// Pair is one forecast and its fact.
type Pair struct {
	Made, Week week.Week
	Ahead      int
	Forecast   float64
	Low, High  float64 // NaN without a band
	Fact       float64
	TwoWeeks   float64 // mean of the last two weeks known on the Monday, NaN without any
}

// Skipped is a line that cannot be scored, and why.
type Skipped struct{ Name, Why string }

// target is a line to be scored.
type target struct {
	name  string
	bound bool
	facts formula.Line // to be added to the source
}

// RunBacktest opens a book as of every Monday from a week on. names limits it to some
// lines. log is the book's log of edits, nil when there is none. The error is one of
// the options.
func RunBacktest(file string, text []byte, o Options, from string, names []string, log *store.Log) (*Backtest, error) {
	first, err := week.ParseWeek(from)
	if err != nil {
		return nil, &OptionError{"--from: " + err.Error(), "a week such as 2027-W05"}
	}
	doc := syntax.Read(file, text)
	now, err := prepare(doc, o)
	if err != nil {
		return nil, err
	}
	if now.made == nil {
		return nil, &OptionError{"the book says no season, so it has no weeks to forecast", ""}
	}
	set := &now.Book.Settings
	last, any := lastClosed(set)
	switch {
	case first < set.Season.First || first > set.Season.Last:
		return nil, &OptionError{fmt.Sprintf("--from: %s is no week of the season", first), fmt.Sprintf("%s to %s", set.Season.First, set.Season.Last)}
	case !any || first > last:
		return nil, &OptionError{fmt.Sprintf("--from: %s is not over yet on %s, so no forecast made in it can be held against what was recorded", first, now.Day()), "an earlier week, or another --as-of"}
	}
	targets, err := now.targets(names)
	if err != nil {
		return nil, err
	}
	now.withFacts(targets)
	b := &Backtest{Title: now.Title(), Last: last, AsOf: set.AsOf, Day: now.Day()}
	targets = b.choose(now, targets, names)
	for w := first; w <= last; w++ {
		b.Mondays = append(b.Mondays, w)
		then, err := openAsOf(doc, o, w)
		if err != nil {
			return nil, err
		}
		then.withFacts(targets)
		if err := b.monday(now, then, w, targets); err != nil {
			return nil, err
		}
	}
	for _, s := range b.Lines {
		s.finish()
	}
	b.Later = now.later(log, text, first, last, b.Lines)
	return b, nil
}

// lastClosed gives the last week of the season that is over, without a gap before it.
func lastClosed(set *book.Settings) (last week.Week, any bool) {
	for i := range set.Season.Len() {
		if !set.Standing.Closed(i) {
			break
		}
		last, any = set.Season.At(i), true
	}
	return last, any
}

// openAsOf prepares a book as it could be opened on a week's Monday, before anything
// of that day was recorded.
func openAsOf(doc *syntax.Document, o Options, w week.Week) (*Desk, error) {
	b := book.Assemble(doc, o.Today)
	for _, r := range b.Records {
		r.KeepBefore(w.Monday())
	}
	b.Settings.Closed = nil // weeks were closed by hand later than on their Monday
	o.AsOf = w.Monday().String()
	return prepareBook(b, o)
}

// targets finds the lines that have both a forecast and facts.
func (d *Desk) targets(names []string) ([]target, error) {
	for _, name := range names {
		if d.Book.Line(name) == nil && d.Book.Broken[name] == nil {
			return nil, &OptionError{"the book has no line " + name, syntax.DidYouMean(name, d.Names())}
		}
	}
	var out []target
	wanted := func(name string) bool { return len(names) == 0 || slices.Contains(names, name) }
	for _, bind := range d.Book.Binds {
		if wanted(bind.Line.Name) && !slices.ContainsFunc(out, func(t target) bool { return t.name == bind.Line.Name }) {
			out = append(out, target{bind.Line.Name, true, formula.Line{Place: bind.Formula.Place, Formula: bind.Formula}})
		}
	}
	for _, l := range d.Book.Lines {
		if l.Formula == nil || l.Formula.Tree == nil || !wanted(l.Name) || slices.ContainsFunc(out, func(t target) bool { return t.name == l.Name }) {
			continue
		}
		if tree, has := factsOnly(l.Formula.Tree); has {
			f := *l.Formula
			f.Tree = tree
			out = append(out, target{l.Name, false, formula.Line{Place: l.Place, Formula: &f, Unit: l.Unit}})
		}
	}
	if i := slices.IndexFunc(names, func(n string) bool { return !slices.ContainsFunc(out, func(t target) bool { return t.name == n }) }); i >= 0 {
		return nil, &OptionError{names[i] + " has no records to be held against", "lines that observe binds, and lines made with recorded_or or counted_or"}
	}
	for i := range out {
		out[i].facts.Name, out[i].facts.Quiet = "facts of "+out[i].name, true
	}
	slices.SortStableFunc(out, func(a, b target) int {
		return cmp.Compare(d.Book.Line(a.name).Place.Line, d.Book.Line(b.name).Place.Line)
	})
	return out, nil
}

// factsOnly gives an expression with every recorded_or and counted_or replaced by
// what was recorded, and every choice by the branch that has one; false when there
// is none.
func factsOnly(e syntax.Expr) (syntax.Expr, bool) {
	switch n := e.(type) {
	case *syntax.Unary:
		c := *n
		var has bool
		c.X, has = factsOnly(n.X)
		return &c, has
	case *syntax.Binary:
		c := *n
		var l, r bool
		c.L, l = factsOnly(n.L)
		c.R, r = factsOnly(n.R)
		return &c, l || r
	case *syntax.Choice:
		c := *n
		var t, e bool
		c.Then, t = factsOnly(n.Then)
		c.Else, e = factsOnly(n.Else)
		switch {
		case t && !e:
			return c.Then, true
		case e && !t:
			return c.Else, true
		}
		return &c, t && e
	case *syntax.Call:
		if library.FactElseForecast(n.Name) && len(n.Args) >= 2 {
			recorded, _ := factsOnly(n.Args[0])
			return recorded, true
		}
		c, any := *n, false
		c.Args = slices.Clone(n.Args)
		for i := range c.Args {
			var has bool
			c.Args[i], has = factsOnly(n.Args[i])
			any = any || has
		}
		return &c, any
	}
	return e, false
}

// withFacts compiles a prepared book with the lines that give the facts.
func (d *Desk) withFacts(targets []target) {
	for _, t := range targets {
		d.made.byName[t.facts.Name] = len(d.made.src.Lines)
		d.made.src.Lines = append(d.made.src.Lines, t.facts)
	}
	d.compile()
}

// choose keeps the targets that can be scored, and says why of the others.
func (b *Backtest) choose(now *Desk, all []target, names []string) []target {
	var out []target
	skip := func(name, why string) { b.Skipped = append(b.Skipped, Skipped{name, why}) }
	for _, t := range all {
		line, facts := now.made.byName[t.name], now.made.byName[t.facts.Name]
		switch p := now.prog; {
		case !p.OK(line):
			skip(t.name, p.Errors[line].Message)
		case !p.OK(facts):
			skip(t.name, "what was recorded of it: "+p.Errors[facts].Message)
		default:
			of, seen := p.LineType(line), p.LineType(facts)
			switch {
			case of.Kind != formula.Quantity || seen.Kind != formula.Quantity || seen.Unit.Dim != of.Unit.Dim || seen.Unit.Absolute != of.Unit.Absolute:
				skip(t.name, "what was recorded of it is another kind of thing")
			case !of.Axes.Has(now.made.src.Week):
				if len(names) > 0 {
					skip(t.name, "it is not by the week")
				}
			case of.Axes != seen.Axes:
				space := now.made.src.Space
				skip(t.name, fmt.Sprintf("it stands over %v, and its records over %v", space.Names(of.Axes), space.Names(seen.Axes)))
			default:
				out = append(out, t)
				b.Lines = append(b.Lines, now.scored(t, line))
			}
		}
	}
	return out
}

// scored makes the room for a line's scores.
func (d *Desk) scored(t target, line int) *Scored {
	v, _, _ := d.plainValue(line)
	s := &Scored{Name: t.name, Label: v.Label, Unit: v.Unit, Bound: t.bound, Facts: factsText(t.facts.Formula)}
	weeks := d.made.src.Season.Len()
	if len(v.Cells) > weeks && v.Gather == "sum" {
		s.Of = append(s.Of, &Part{Label: "in total"})
	}
	for cell := 0; cell < len(v.Cells); cell += weeks {
		p := &Part{Member: withoutWeek(v, cell), Label: d.CellLabel(v, cell)}
		if len(v.Cells) == weeks {
			p.Label = "in all"
		}
		s.Of = append(s.Of, p)
	}
	return s
}

// factsText gives the words of a formula that its tree stands for: a part of them
// where factsOnly has left the rest away.
func factsText(f *syntax.Formula) string {
	text, span := []rune(f.Text), f.Tree.Span()
	if span.From < 0 || span.To > len(text) || span.From >= span.To {
		return f.Text
	}
	return string(text[span.From:span.To])
}

// withoutWeek names a cell by its members along the axes other than week.
func withoutWeek(v *Value, cell int) string {
	members := v.CellMembers(cell)
	text := ""
	for _, m := range members[:len(members)-1] { // week is the innermost
		if text != "" {
			text += ", "
		}
		text += m
	}
	return text
}

// monday takes the forecasts of one Monday and the facts that they met.
func (b *Backtest) monday(now, then *Desk, made week.Week, targets []target) error {
	season := now.made.src.Season
	at, _ := season.Index(made)
	lines := make([]int, len(targets))
	for i, t := range targets {
		lines[i] = then.made.byName[t.name]
	}
	if err := then.draw(lines...); err != nil {
		return err
	}
	for i, t := range targets {
		s := b.Lines[i]
		forecast, facts := then.numbers(lines[i], s.Unit), now.numbers(now.made.byName[t.facts.Name], s.Unit)
		known := then.numbers(then.made.byName[t.facts.Name], s.Unit)
		if forecast == nil || facts == nil || known == nil {
			continue // the line broke on that day, and was whole on the last
		}
		for _, ahead := range Aheads {
			w := at + ahead - 1
			if w >= season.Len() || season.At(w) > b.Last {
				break
			}
			sum := &sumOf{}
			parts := s.Of
			if len(parts) > len(forecast.cells)/season.Len() {
				parts = parts[1:]
			}
			for k, part := range parts {
				cell := k*season.Len() + w
				pair := Pair{Made: made, Week: season.At(w), Ahead: ahead, Forecast: forecast.cells[cell], Fact: facts.cells[cell], TwoWeeks: lastTwo(known.cells[k*season.Len():][:at])}
				var draws []float64
				pair.Low, pair.High, draws = forecast.band(cell)
				if pair.Forecast != pair.Forecast || pair.Fact != pair.Fact || pair.Forecast == 0 && pair.Fact == 0 && !(pair.High > 0) {
					continue // not known, or nothing was to come and nothing came
				}
				part.Pairs = append(part.Pairs, pair)
				sum.add(&pair, draws)
			}
			if len(parts) < len(s.Of) && sum.n > 0 {
				s.Of[0].Pairs = append(s.Of[0].Pairs, sum.pair())
			}
		}
	}
	return nil
}

// numbers is a line's cells and draws in one unit.
type numbers struct {
	cells    []float64
	rows     [][]float64
	mul, add float64
}

func (d *Desk) numbers(line int, in string) *numbers {
	if !d.prog.OK(line) {
		return nil
	}
	to, err := d.prog.Units().Parse(in)
	if err != nil {
		return nil
	}
	n := &numbers{rows: d.drawn[line]}
	if n.mul, n.add, err = unit.Convert(d.prog.LineType(line).Unit, to); err != nil {
		return nil
	}
	for _, x := range d.prog.Cells(line) {
		if x == x {
			x = x*n.mul + n.add
		}
		n.cells = append(n.cells, x)
	}
	return n
}

// band gives the 10th and 90th percentile of a cell's draws, and its draws.
func (n *numbers) band(cell int) (low, high float64, draws []float64) {
	if n.rows == nil {
		return math.NaN(), math.NaN(), nil
	}
	for _, x := range n.rows[cell] {
		draws = append(draws, x*n.mul+n.add)
	}
	edges := risk.Bands(slices.Clone(draws), 0.1, 0.9)
	return edges[0], edges[1], draws
}

// lastTwo gives the mean of the last two facts that are known. Counts are known late,
// so these need not be the last two weeks.
func lastTwo(facts []float64) float64 {
	sum, n := 0.0, 0.0
	for i := len(facts) - 1; i >= 0 && n < 2; i-- {
		if facts[i] == facts[i] {
			sum, n = sum+facts[i], n+1
		}
	}
	return sum / n // NaN without any
}

// sumOf adds up the members of a line in one week.
type sumOf struct {
	n     int
	whole Pair
	draws []float64
}

func (s *sumOf) add(p *Pair, draws []float64) {
	if s.n++; s.n == 1 {
		s.whole, s.draws = *p, draws
		return
	}
	s.whole.Forecast, s.whole.Fact, s.whole.TwoWeeks = s.whole.Forecast+p.Forecast, s.whole.Fact+p.Fact, s.whole.TwoWeeks+p.TwoWeeks
	for i := range s.draws {
		s.draws[i] += draws[i]
	}
}

func (s *sumOf) pair() Pair {
	if s.draws != nil {
		edges := risk.Bands(s.draws, 0.1, 0.9)
		s.whole.Low, s.whole.High = edges[0], edges[1]
	}
	return s.whole
}

// finish turns pairs into scores.
func (s *Scored) finish() {
	for _, p := range s.Of {
		for _, ahead := range Aheads {
			if score := scoreOf(p.Pairs, ahead); score.Weeks > 0 {
				p.Scores = append(p.Scores, score)
			}
		}
	}
	s.Of = slices.DeleteFunc(s.Of, func(p *Part) bool { return len(p.Scores) == 0 })
}

func scoreOf(pairs []Pair, ahead int) Score {
	s := Score{Ahead: ahead}
	for _, p := range pairs {
		if p.Ahead != ahead {
			continue
		}
		miss := p.Forecast - p.Fact
		s.Weeks++
		s.Fact, s.Bias, s.Error = s.Fact+p.Fact, s.Bias+miss, s.Error+math.Abs(miss)
		if p.Low == p.Low {
			s.Banded++
			if p.Low <= p.Fact && p.Fact <= p.High {
				s.Held++
			}
		}
		if p.TwoWeeks == p.TwoWeeks {
			s.Peer.Weeks++
			s.Peer.Fact += p.Fact
			s.Peer.Bias += p.TwoWeeks - p.Fact
			s.Peer.Error += math.Abs(p.TwoWeeks - p.Fact)
			s.Peer.Ours += math.Abs(miss)
		}
	}
	n, k := float64(s.Weeks), float64(s.Peer.Weeks)
	s.Fact, s.Bias, s.Error = s.Fact/n, s.Bias/n, s.Error/n
	s.Peer.Fact, s.Peer.Bias, s.Peer.Error, s.Peer.Ours = s.Peer.Fact/k, s.Peer.Bias/k, s.Peer.Error/k, s.Peer.Ours/k
	return s
}
