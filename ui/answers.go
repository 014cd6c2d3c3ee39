package ui

import (
	"wintertruss/engine"
	"wintertruss/engine/formula"
)

// answersView gives the answers as the page shows them. A figure in error shows
// its last good value, as stale.
func answersView(d *engine.Desk, answers []engine.Answer, good func(name string) *engine.Value) []Answer {
	var out []Answer
	said := map[string][]engine.Answer{}
	for _, habit := range engine.Habits {
		said[habit] = d.To(habit).PlainAnswers()
	}
	for i, a := range answers {
		w := Answer{Key: a.Key, Question: a.Question, Verdict: a.Verdict, Of20: a.Of20, Consequence: a.Consequence, Caution: a.Caution, Fault: faultView(a.Error), Entries: []Entry{}}
		for habit, other := range said {
			if i < len(other) && other[i].Consequence != a.Consequence {
				if w.Says == nil {
					w.Says = map[string]string{}
				}
				w.Says[habit] = other[i].Consequence
			}
		}
		for i := range a.Entries {
			e := &a.Entries[i]
			v := e.Value
			if v.Broken {
				if v = good(e.Name); v != nil {
					w.Stale = true
				}
			}
			w.Entries = append(w.Entries, entryView(d, e, v))
		}
		out = append(out, w)
	}
	return out
}

// entryView gives one entry with the value v, which may be an older one or nil.
func entryView(d *engine.Desk, e *engine.Entry, v *engine.Value) Entry {
	out := Entry{Label: e.Value.Label, Name: e.Name, Rows: []Figure{}}
	if v == nil || v.Broken {
		return out
	}
	out.Unit, out.Kind, out.Adds, out.Op, out.Limit = v.Unit, kinds[v.Kind], v.Adds, e.Op, finite(e.Limit)
	for _, axis := range v.Axes {
		if d.Book.List(axis) != nil {
			out.Axes = append(out.Axes, axis)
		}
	}
	now := d.NowCells(v)
	for _, cell := range now {
		if len(now) > 1 && !engine.Known(v.Cells[cell]) {
			continue
		}
		out.Rows = append(out.Rows, Figure{Label: d.CellLabel(v, cell), Text: v.Text(cell), Band: v.BandText(cell), X: numberOf(v, cell), Range: rangeOf(v, cell), Of: belongs(d, v, cell)})
	}
	return out
}

func numberOf(v *engine.Value, cell int) any {
	if v.Kind != formula.Quantity {
		return nil
	}
	return finite(v.Cells[cell])
}

// rangeOf gives the band of a cell and, where it is known, its middle half; nil
// where there is no band, or where its ends read alike.
func rangeOf(v *engine.Value, cell int) []any {
	if v.Kind != formula.Quantity || v.BandText(cell) == "" {
		return nil
	}
	out := []any{finite(v.Low[cell]), finite(v.High[cell])}
	if v.InnerLow != nil {
		out = append(out, finite(v.InnerLow[cell]), finite(v.InnerHigh[cell]))
	}
	return out
}

// belongs gives the members that a cell is of, by their lists, and those that their
// columns refer to.
func belongs(d *engine.Desk, v *engine.Value, cell int) map[string]string {
	var out map[string]string
	for i, member := range v.CellMembers(cell) {
		list := d.Book.List(v.Axes[i])
		if list == nil {
			continue
		}
		if out == nil {
			out = map[string]string{}
		}
		out[list.Name] = member
		at, _ := list.MemberIndex(member)
		for _, column := range list.Columns {
			other := d.Plain(column.Full())
			if column.Input.Refers == "" || other == nil || other.Broken || len(other.Axes) != 1 {
				continue
			}
			if word, ok := other.CellJSON(at).(string); ok && out[column.Input.Refers] == "" {
				out[column.Input.Refers] = word
			}
		}
	}
	return out
}

// unitsOf says how people of other habits read the units of values.
func unitsOf(d *engine.Desk, values map[string]*Value) map[string]map[string]Shown {
	out, seen := map[string]map[string]Shown{}, map[string]bool{}
	for _, v := range values {
		if v == nil || v.Kind != "number" || seen[v.Unit] {
			continue
		}
		seen[v.Unit] = true
		for _, habit := range engine.Habits {
			if s, ok := d.ShownTo(habit, v.Unit); ok {
				if out[v.Unit] == nil {
					out[v.Unit] = map[string]Shown{}
				}
				out[v.Unit][habit] = Shown(s)
			}
		}
	}
	return out
}
