package ui

import (
	"slices"
)

// since gives of what draws say what a page does not know that was told was before and
// has taken the changes from there: values with another band, those without one by
// now, and those that a change brought without it.
func (m *ToPage) since(was *ToPage, changes []*ToPage) *ToPage {
	if was == nil || len(changes) > 0 && changes[0].Number > was.Number+1 {
		return m // or it is not known what changed from there
	}
	out := *m
	out.Values = map[string]*Value{}
	for name, v := range m.Values {
		if old := was.Values[name]; old == nil || !v.drawnLike(old) {
			out.Values[name] = v
		}
	}
	for name, old := range was.Values {
		if m.Values[name] == nil { // nothing is unsure about it any more
			out.Values[name] = &Value{Unit: old.Unit, Kind: old.Kind, Axes: old.Axes, Gather: old.Gather, Adds: old.Adds}
		}
	}
	for _, c := range changes {
		if c.Number <= was.Number {
			continue
		}
		for name, v := range c.Values {
			if now := m.Values[name]; now != nil {
				out.Values[name] = now
			} else if v == nil || v.Fault != nil || v.Stale {
				delete(out.Values, name) // a line that went, or is in error: the change said it
			}
		}
	}
	return &out
}

// drawnLike says whether two values of a bands message say the same.
func (v *Value) drawnLike(w *Value) bool {
	if (v.Fault == nil) != (w.Fault == nil) || v.Fault != nil && *v.Fault != *w.Fault {
		return false
	}
	return v.Unit == w.Unit && v.Kind == w.Kind && v.Stale == w.Stale && slices.Equal(v.Axes, w.Axes) &&
		slices.Equal(v.Cells, w.Cells) && slices.Equal(v.Low, w.Low) && slices.Equal(v.High, w.High) &&
		slices.Equal(v.InnerLow, w.InnerLow) && slices.Equal(v.InnerHigh, w.InnerHigh) &&
		slices.Equal(v.Odds, w.Odds) && slices.Equal(v.Together, w.Together)
}
