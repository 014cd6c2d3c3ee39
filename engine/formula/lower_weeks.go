package formula

import (
	"wintertruss/engine/array"
	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

func (b *builder) lowerEarlier(n *syntax.Call) (operand, *syntax.Error) {
	start, err := b.expr(n.Args[1])
	if err != nil {
		return start, err
	}
	if name, ok := n.Args[0].(*syntax.Name); ok && b.inLoop != nil {
		if i, ok := b.lineOf[name.Full()]; ok {
			k := nodeKey{i, b.context(i, b.at.context)}
			if b.inLoop[k] {
				t, _, si, err := b.alike(n.Args[1], operand{b.nodes.at(k).typ, -1}, start)
				if err != nil || b.dry {
					return operand{t, -1}, err
				}
				return operand{t, b.rowBefore(n, k, si, t.Axes)}, nil
			}
		}
	}
	if b.inLoop != nil {
		inside := false
		b.reads(n.Args[0], true, &b.at.context, func(line int, _ bool, under *string, _ syntax.Expr) {
			inside = inside || b.inLoop[nodeKey{line, b.context(line, *under)}]
		})
		if inside {
			return start, b.fault(n.Args[0], msgLoopEarlier)
		}
	}
	return b.shift(n, 1, start)
}

// rowBefore reads a line of the loop being lowered, one week back. Its value may
// not be there yet: group puts it in.
func (b *builder) rowBefore(n *syntax.Call, k nodeKey, start int32, axes array.Axes) int32 {
	r := rowBefore{k, start}
	if id, ok := b.before[r]; ok {
		return id
	}
	id := b.push(value{op: vEarlier, a: -1, b: start, c: -1, aux: 1, axes: axes, site: b.site(n.Name, n)})
	b.p.vals[id].loop, b.size[id] = b.loop, guardSize
	b.open = append(b.open, openRow{id, k})
	b.before[r] = id
	return id
}

func (b *builder) lowerWeeksBefore(n *syntax.Call) (operand, *syntax.Error) {
	k, ok := constantPower(n.Args[1])
	if !ok || k != float64(int(k)) || k < 0 || k > mostWeeks {
		return operand{}, b.fault(n.Args[1], msgWeeksNumber, n.Name)
	}
	if len(n.Args) == 3 {
		start, err := b.expr(n.Args[2])
		if err != nil {
			return start, err
		}
		return b.shift(n, int(k), start)
	}
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	blank := x
	blank.Axes, blank.id = 0, b.constant(array.Blank)
	return b.shift(n, int(k), blank)
}

// shift looks k weeks back along a line that is no part of the loop being lowered.
func (b *builder) shift(n *syntax.Call, k int, start operand) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	week := array.Only(b.src.Week)
	if x.Axes&week == 0 {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	if err := b.reaches(n, x, week); err != nil {
		return x, err
	}
	t, xi, si, err := b.alike(n.Args[len(n.Args)-1], x, start)
	if err != nil || b.dry {
		return operand{t, -1}, err
	}
	if k == 0 {
		return operand{t, xi}, nil
	}
	return operand{t, b.add(value{op: vEarlier, a: xi, b: si, c: -1, aux: int32(k), axes: t.Axes})}, nil
}

func (b *builder) lowerAt(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	text, ok := n.Args[1].(*syntax.Text)
	if !ok {
		return x, b.fault(n.Args[1], msgArgText, n.Name, "the week", "\"2027-W12\"")
	}
	if !x.Axes.Has(b.src.Week) {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	season := "the season runs " + b.src.Season.First.String() + " .. " + b.src.Season.Last.String()
	w, werr := week.ParseWeek(text.Value)
	if werr != nil {
		return x, b.fault(text, msgNoWeek, text.Value, season)
	}
	i, ok := b.src.Season.Index(w)
	if !ok {
		return x, b.fault(text, msgNoWeek, text.Value, season)
	}
	if err := b.reaches(n, x, array.Only(b.src.Week)); err != nil {
		return x, err
	}
	return b.pick(x, b.src.Week, i)
}

func (b *builder) lowerNow(n *syntax.Call) (operand, *syntax.Error) {
	x, err := b.expr(n.Args[0])
	if err != nil {
		return x, err
	}
	if !x.Axes.Has(b.src.Week) {
		return x, b.fault(n.Args[0], msgNotWeekly, n.Name)
	}
	if err := b.reaches(n, x, array.Only(b.src.Week)); err != nil {
		return x, err
	}
	return b.pick(x, b.src.Week, b.src.Standing.Now())
}

// mostWeeks is the longest season, and so the furthest anyone can look back.
const mostWeeks = 260
