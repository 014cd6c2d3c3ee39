package formula

import (
	"math"

	"wintertruss/engine/syntax"
)

// call gives one cell of a function in one draw.
func (o *oracle) call(n *syntax.Call, u under, at spot, draw int) (cellValue, measure) {
	arg := func(i int) (cellValue, measure) { return o.eval(n.Args[i], u, at, draw) }
	switch n.Name {
	case "under":
		u.scenario = n.Args[0].(*syntax.Text).Value
		return o.eval(n.Args[1], u, at, draw)
	case "measure":
		return o.b.measured(n.Args[0].(*syntax.Text).Value)
	case "absolute":
		x, m := arg(0)
		x.x = math.Abs(x.x)
		return x, m
	case "root", "exponential", "logarithm":
		x, m := arg(0)
		x = carry(x, m, plain)
		if x.k != number {
			return x, plain
		}
		switch {
		case n.Name == "exponential":
			return orFault(math.Exp(x.x)), plain
		case n.Name == "logarithm" && x.x > 0:
			return num(math.Log(x.x)), plain
		case n.Name == "root" && !(x.x < 0):
			return num(math.Sqrt(x.x)), plain
		}
		return cellValue{0, faulty_}, plain
	case "smaller_of", "larger_of", "clamp":
		v, m := arg(0)
		for i := 1; i < len(n.Args); i++ {
			x, xm := arg(i)
			meeting := meet(m, xm)
			v, x = carry(v, m, meeting), carry(x, xm, meeting)
			m = meeting
			smaller := n.Name == "smaller_of" || n.Name == "clamp" && i == 2
			switch k := bad(v, x); {
			case k != number:
				v = cellValue{0, k}
			case smaller:
				v.x = min(v.x, x.x)
			default:
				v.x = max(v.x, x.x)
			}
		}
		return v, m
	case "rounded", "rounded_up", "rounded_down":
		a, am := arg(0)
		b, bm := arg(1)
		m := meet(am, bm)
		a, b = carry(a, am, m), carry(b, bm, m)
		if k := bad(a, b); k != number {
			return cellValue{0, k}, m
		}
		if b.x <= 0 {
			return cellValue{0, faulty_}, m
		}
		q := a.x / b.x
		near := math.Round(q)
		if math.Abs(q-near) > 1e-9*math.Max(1, math.Abs(q)) && n.Name != "rounded" {
			if near = math.Floor(q); n.Name == "rounded_up" {
				near = math.Ceil(q)
			}
		}
		return orFault(near * b.x), m
	case "blend":
		a, am := arg(0)
		b, bm := arg(1)
		s, sm := arg(2)
		m := meet(am, bm)
		a, b, s = carry(a, am, m), carry(b, bm, m), carry(s, sm, plain)
		if k := bad(a, b, s); k != number {
			return cellValue{0, k}, m
		}
		return num(a.x + float64((b.x-a.x)*s.x)), m
	case "is_known":
		x, _ := arg(0)
		if x.k == faulty_ || x.k == wild {
			return x, truth
		}
		return yesNo(x.k == number), truth
	case "is":
		x, _ := arg(0)
		if x.k != number {
			return x, truth
		}
		return yesNo(o.b.members[bed][int(x.x)] == n.Args[1].(*syntax.Text).Value), truth
	case "earlier", "weeks_before":
		return o.earlier(n, u, at, draw)
	case "only", "at", "this_week":
		axis, cell := o.picked(n)
		at[axis] = cell
		return o.eval(n.Args[0], u, at, draw)
	case "via":
		m, _ := arg(0)
		unit := o.unit(n.Args[1], u)
		unit.zero = false
		if m.k != number {
			return m, unit
		}
		at[bed] = int(m.x)
		x, _ := o.eval(n.Args[1], u, at, draw)
		return x, unit
	case "grouped":
		return o.grouped(n, u, at, draw)
	case "odds", "low_edge", "high_edge":
		return o.overDraws(n, u, at)
	}
	return o.reduce(n, u, at, draw)
}

func (o *oracle) earlier(n *syntax.Call, u under, at spot, draw int) (cellValue, measure) {
	back := 1
	start := 1
	if n.Name == "weeks_before" {
		back, start = int(n.Args[1].(*syntax.Number).Value), 2
	}
	m := o.unit(n.Args[0], u)
	var sm measure
	if start < len(n.Args) {
		sm = o.unit(n.Args[start], u)
	} else {
		sm = m
	}
	meeting := meet(m, sm)
	if at[weeks] >= back {
		at[weeks] -= back
		x, _ := o.eval(n.Args[0], u, at, draw)
		return carry(x, m, meeting), meeting
	}
	if start >= len(n.Args) {
		return cellValue{0, nothing}, meeting
	}
	x, _ := o.eval(n.Args[start], u, at, draw)
	return carry(x, sm, meeting), meeting
}

// unit gives the unit of an expression; of a name without looking at its cells,
// since a line that leans on itself has none yet.
func (o *oracle) unit(e syntax.Expr, u under) measure {
	if n, ok := e.(*syntax.Name); ok && n.Base != "base" {
		return o.b.lines[o.b.at[n.Base]].unit
	}
	_, m := o.eval(e, u, spot{}, -1)
	return m
}

func (o *oracle) grouped(n *syntax.Call, u under, at spot, draw int) (cellValue, measure) {
	to := at[bed]
	unit := o.unit(n.Args[0], u)
	unit.zero = false
	sum, any := cellValue{0, nothing}, false
	for c := range o.b.size[crop] {
		here := at
		here[crop] = c
		ref, _ := o.eval(n.Args[1], u, here, draw)
		switch {
		case ref.k == faulty_ || ref.k == wild:
			sum, any = cellValue{0, max(sum.k, ref.k)}, true
		case ref.k == number && int(ref.x) == to:
			x, _ := o.eval(n.Args[0], u, here, draw)
			any = true
			sum = plus(sum, x)
		}
	}
	if !any {
		return cellValue{0, number}, unit
	}
	return sum, unit
}

// plus adds to a sum that skips what is blank.
func plus(sum, x cellValue) cellValue {
	switch {
	case sum.k >= faulty_ || x.k >= faulty_:
		return cellValue{0, max(sum.k, x.k)}
	case x.k == nothing:
		return sum
	case sum.k == nothing:
		return x
	}
	return num(sum.x + x.x)
}

func (o *oracle) reduce(n *syntax.Call, u under, at spot, draw int) (cellValue, measure) {
	over := o.over(n, o.span(n.Args[0], u))
	sum, most, least, known := cellValue{0, nothing}, cellValue{0, nothing}, cellValue{0, nothing}, 0
	worst := number
	_, m := o.eval(n.Args[0], u, at, draw)
	m.zero = false
	each := at
	for x := range o.b.cellsOf(over, bed, at) {
		for y := range o.b.cellsOf(over, crop, at) {
			for w := range o.b.cellsOf(over, weeks, at) {
				for i, c := range (spot{x, y, w}) {
					if over>>i&1 == 1 {
						each[i] = c
					}
				}
				v, _ := o.eval(n.Args[0], u, each, draw)
				sum = plus(sum, v)
				worst = max(worst, v.k)
				if v.k == number {
					known++
					if most.k == nothing || v.x > most.x {
						most = v
					}
					if least.k == nothing || v.x < least.x {
						least = v
					}
				}
			}
		}
	}
	if worst >= faulty_ {
		most, least = cellValue{0, worst}, cellValue{0, worst}
	}
	count := cellValue{float64(known), number}
	if worst >= faulty_ {
		count = cellValue{0, worst}
	}
	quotient := func(a, b cellValue) cellValue {
		if k := bad(a, b); k != number {
			return cellValue{0, k}
		}
		return divided(a.x, b.x)
	}
	switch n.Name {
	case "total":
		if m.truth {
			return sum, plain
		}
		return sum, m
	case "mean_over":
		return quotient(sum, count), m
	case "largest":
		return most, m
	case "smallest":
		return least, m
	case "how_many":
		return count, plain
	case "share_of":
		v, _ := o.eval(n.Args[0], u, at, draw)
		return quotient(v, sum), plain
	}
	panic("no function " + n.Name)
}

// overDraws goes through all draws of one cell.
func (o *oracle) overDraws(n *syntax.Call, u under, at spot) (cellValue, measure) {
	var known []float64
	hold, m, worst := 0.0, plain, number
	for d := range o.draws {
		v, vm := o.eval(n.Args[0], u, at, d)
		m = vm
		worst = max(worst, v.k)
		if v.k == number {
			known = append(known, v.x)
			if v.x != 0 {
				hold++
			}
		}
	}
	m.zero = false
	if n.Name == "odds" {
		m = plain
	}
	// What is the same in every draw is its own odds, and stays a fault.
	if v, _ := o.eval(n.Args[0], u, at, -1); !o.differs(n.Args[0], u, map[lineUnder]bool{}) {
		return v, m
	}
	switch {
	case worst == wild:
		return cellValue{0, wild}, m
	case len(known) == 0:
		return cellValue{0, nothing}, m
	case n.Name == "odds":
		return num(hold / float64(len(known))), m
	case n.Name == "low_edge":
		return num(quantile7(known, 0.1)), m
	}
	return num(quantile7(known, 0.9)), m
}

// differs says whether an expression is made of anything that has draws; odds and
// edges have none.
func (o *oracle) differs(e syntax.Expr, u under, seen map[lineUnder]bool) bool {
	switch n := e.(type) {
	case *syntax.Name:
		if n.Column != "" || n.Base == "base" {
			return false
		}
		k := lineUnder{o.b.at[n.Base], u.scenario}
		if seen[k] {
			return false
		}
		seen[k] = true
		l := &o.b.lines[k.line]
		first, holds := -1, []*randomOverride{} // the last that replaces the line as a whole
		for i := range o.b.overrides {
			if ov := &o.b.overrides[i]; ov.line == k.line && (ov.scenario == "" || ov.scenario == u.scenario) {
				if len(ov.where) == 0 && (ov.in != nil || !usesBase(ov.tree)) {
					first = len(holds)
				}
				holds = append(holds, ov)
			}
		}
		d := false
		if first < 0 {
			d = l.tree == nil && l.in.drawn || l.tree != nil && o.differs(l.tree, under{scenario: u.scenario}, seen)
		}
		for _, ov := range holds[max(first, 0):] {
			d = d || ov.in != nil && ov.in.drawn || ov.tree != nil && o.differs(ov.tree, under{scenario: u.scenario}, seen)
		}
		return d
	case *syntax.Unary:
		return o.differs(n.X, u, seen)
	case *syntax.Binary:
		return o.differs(n.L, u, seen) || o.differs(n.R, u, seen)
	case *syntax.Choice:
		return o.differs(n.Cond, u, seen) || o.differs(n.Then, u, seen) || o.differs(n.Else, u, seen)
	case *syntax.Call:
		switch n.Name {
		case "odds", "low_edge", "high_edge":
			return false
		case "under":
			u.scenario = n.Args[0].(*syntax.Text).Value
			return o.differs(n.Args[1], u, seen)
		}
		for i, a := range n.Args {
			if i > 0 && reducers[n.Name] {
				break
			}
			if o.differs(a, u, seen) {
				return true
			}
		}
	}
	return false
}

var reducers = map[string]bool{"total": true, "mean_over": true, "largest": true, "smallest": true, "how_many": true, "share_of": true}

func usesBase(e syntax.Expr) bool {
	found := false
	syntax.Walk(e, func(n syntax.Expr) {
		if name, ok := n.(*syntax.Name); ok && name.Base == "base" {
			found = true
		}
	})
	return found
}
