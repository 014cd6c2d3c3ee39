package engine

import (
	"math"
	"slices"

	"wintertruss/engine/book"
	"wintertruss/engine/risk"
	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// sampler gives the draws of one input: a stream of uniforms for each literal
// (and for each cell, where the input says "each"), bent by the literal's curve.
type sampler struct {
	seed    uint64
	plain   []float64
	stream  []int // by cell: which stream, -1 for a cell that is certain
	streams []stream
	byKey   map[risk.Key]int
	keeps   float64 // along the weeks
	chains  [][]int // streams of one key week by week, in order
	follow  *linked
}

type stream struct {
	key      risk.Key
	week     int // its week for "over each week", -1 otherwise
	curve    risk.Curve
	mul, add float64 // from the literal's unit to the input's
}

// linked is the input that another follows, and how strongly; up is what that
// one follows in turn.
type linked struct {
	to    string
	keeps float64 // of that input, along the weeks
	share float64
	up    *linked
}

// uniforms gives the draws of the input that is followed, for cells like those of
// keys: one, or the weeks of a chain in order, which remember each other as that
// input's do.
func (l *linked) uniforms(keys []risk.Key, first, n int) [][]float64 {
	own := make([][]float64, len(keys))
	for i, key := range keys {
		key.Name = l.to
		own[i] = make([]float64, n)
		key.Uniforms(first, own[i])
	}
	if l.keeps != 0 && len(keys) > 1 {
		risk.Persistent(own, l.keeps)
	}
	l.up.bend(keys, first, own)
	return own
}

// bend makes the draws of an input's cells follow.
func (l *linked) bend(keys []risk.Key, first int, draws [][]float64) {
	if l == nil || len(keys) == 0 {
		return
	}
	for i, up := range l.uniforms(keys, first, len(draws[0])) {
		risk.Linked(up, draws[i], l.share)
	}
}

// most is the largest size of a draw; the compiler relies on it.
const most = 1e18

// streamOf gives the stream of a literal under a key, making it when it is new.
func (s *sampler) streamOf(v *book.Value, key risk.Key, at int, to *unit.Unit) (int, error) {
	if i, ok := s.byKey[key]; ok {
		return i, nil
	}
	curve, err := curveOf(v)
	if err != nil {
		return -1, err
	}
	mul, add, err := unit.Convert(v.Unit, to)
	if err != nil {
		return -1, err
	}
	if s.byKey == nil {
		s.byKey = map[risk.Key]int{}
	}
	s.byKey[key] = len(s.streams)
	s.streams = append(s.streams, stream{key, at, curve, mul, add})
	return len(s.streams) - 1, nil
}

// curveOf gives the curve of a literal, in the unit it was written in.
func curveOf(v *book.Value) (risk.Curve, error) {
	s := v.Spread
	switch s.Form {
	case syntax.EvenForm:
		return risk.NewEven(s.Low, s.High)
	case syntax.LikelyForm:
		return risk.NewLikely(s.Low, s.Middle, s.High)
	case syntax.ChanceForm:
		return risk.NewChance(s.Middle)
	}
	percent := v.Unit.String() == "%"
	switch {
	case s.Open, v.Unit.Absolute, isTemperature(v.Unit):
		return risk.NewRange(s.Low, s.Middle, s.High, risk.Unbounded)
	case percent && s.Low >= 0 && s.High <= 100:
		c, err := risk.NewRange(s.Low/100, s.Middle/100, s.High/100, risk.Share)
		return scaled{c, 100}, err
	case s.Low >= 0:
		return risk.NewRange(s.Low, s.Middle, s.High, risk.Positive)
	}
	return risk.NewRange(s.Low, s.Middle, s.High, risk.Unbounded)
}

// isTemperature says whether a unit measures a difference of temperatures, which
// is never a "positive amount".
func isTemperature(u *unit.Unit) bool {
	switch u.String() {
	case "K", "degC_diff", "degF_diff":
		return true
	}
	return false
}

type scaled struct {
	risk.Curve
	by float64
}

func (c scaled) Quantile(u float64) float64 { return c.Curve.Quantile(u) * c.by }

// arrange finds the streams that follow each other week by week.
func (s *sampler) arrange() {
	chain := map[risk.Key]int{}
	for i, st := range s.streams {
		if st.week < 0 {
			continue
		}
		k := st.key
		k.Week = 0
		c, ok := chain[k]
		if !ok {
			c = len(s.chains)
			chain[k] = c
			s.chains = append(s.chains, nil)
		}
		s.chains[c] = append(s.chains[c], i)
	}
	for _, c := range s.chains {
		slices.SortFunc(c, func(i, j int) int { return s.streams[i].week - s.streams[j].week })
	}
}

// Sample gives draws first .. first+n-1 of every cell.
func (s *sampler) Sample(first, n int, dst []float64) {
	rows := make([][]float64, len(s.streams))
	all := make([]float64, n*len(s.streams))
	for i := range s.streams {
		rows[i] = all[i*n : (i+1)*n]
		s.streams[i].key.Uniforms(first, rows[i])
	}
	chained := make([]bool, len(s.streams))
	for _, c := range s.chains {
		weeks, keys := make([][]float64, len(c)), make([]risk.Key, len(c))
		for j, i := range c {
			weeks[j], keys[j], chained[i] = rows[i], s.streams[i].key, true
		}
		if s.keeps != 0 {
			risk.Persistent(weeks, s.keeps)
		}
		s.follow.bend(keys, first, weeks)
	}
	for i, st := range s.streams {
		if !chained[i] {
			s.follow.bend([]risk.Key{st.key}, first, rows[i:i+1])
		}
		for d, u := range rows[i] {
			x := st.curve.Quantile(u)*st.mul + st.add
			rows[i][d] = math.Max(-most, math.Min(most, x))
		}
	}
	for cell, i := range s.stream {
		row := dst[cell*n : (cell+1)*n]
		if i >= 0 {
			copy(row, rows[i])
			continue
		}
		for d := range row {
			row[d] = s.plain[cell]
		}
	}
}

// linkOrder says which input follows which, so that every pair that the book
// links keeps its strength.
func (m *sourceMaker) linkOrder() map[string]*linked {
	follow := map[string]*linked{}
	names := []string{}
	number := map[string]int{}
	of := func(name string) int {
		if _, ok := number[name]; !ok {
			number[name] = len(names)
			names = append(names, name)
		}
		return number[name]
	}
	var pairs []risk.Link
	for _, l := range m.b.Links {
		pairs = append(pairs, risk.Link{First: of(l.A.Name), Second: of(l.B.Name), Strength: l.Share})
	}
	order, err := risk.LinkOrder(len(names), pairs)
	if err != nil {
		m.errors = append(m.errors, badLinks(m.b.Links[0].Place, err))
		return follow
	}
	for _, l := range order { // outward: what is followed was arranged before
		follow[names[l.Second]] = &linked{names[l.First], m.keeps(names[l.First]), l.Strength, follow[names[l.First]]}
	}
	return follow
}

// keeps gives what an input that is drawn for each week keeps of the week before.
func (m *sourceMaker) keeps(name string) float64 {
	for _, l := range m.b.Lines {
		if l.Name != name || l.Input == nil {
			continue
		}
		for _, e := range l.Input.Each {
			if e.Axis == book.WeekAxis {
				return e.Keeps
			}
		}
	}
	return 0
}
