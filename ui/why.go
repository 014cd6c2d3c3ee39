package ui

import (
	"math"

	"wintertruss/engine"
)

const (
	mostDrivers = 6 // shown of what moves a figure; the rest moves it less than any of them
	mostChanges = 3 // shown of what changed a figure
)

// why says what moves a figure and what changed it. It reads the draws that were made
// for the bands; while they run, it says that they are not done.
func (h *hub) why(v *viewer, m *FromPage) {
	h.mu.Lock()
	defer h.mu.Unlock()
	d, number := h.live.Now()
	out := &ToPage{Type: "why", ID: m.ID, Number: number, Why: &Why{}}
	if len(m.Ask) > 0 {
		out.Why = h.whyOf(d, m.Ask[0], place{m.Week, m.Part})
	}
	h.answer(v, out)
}

// place is which cells of a value a figure is: a week, or all; one of the others, or all.
type place struct{ week, part *int }

// cells gives the cells of a place in a value; nil when it is not one figure.
func (p place) cells(v *engine.Value) []int {
	weeks, parts := 1, len(v.Cells)
	if n := len(v.Axes); n > 0 && v.Axes[n-1] == "week" {
		weeks = v.Lengths[n-1]
		parts /= max(1, weeks)
	}
	var out []int
	for part := range parts {
		if p.part != nil && part != *p.part {
			continue
		}
		for w := range weeks {
			if weeks == 1 || p.week == nil || w == *p.week {
				out = append(out, part*weeks+w)
			}
		}
	}
	if len(out) > 1 && !(v.Adds || p.part != nil && v.Gather == "sum") {
		return nil
	}
	return out
}

// text writes the figure of a place; "" where it is none.
func (p place) text(v *engine.Value) string {
	if v == nil || v.Broken {
		return ""
	}
	cells := p.cells(v)
	if len(cells) == 1 {
		return v.Text(cells[0])
	}
	sum, known := 0.0, false
	for _, c := range cells {
		if engine.Known(v.Cells[c]) {
			sum, known = sum+v.Cells[c], true
		}
	}
	if !known {
		return ""
	}
	return engine.Show(sum, v.Unit)
}

func (h *hub) whyOf(d *engine.Desk, name string, at place) *Why {
	out := &Why{}
	v := d.Plain(name)
	if v == nil {
		return out
	}
	for _, o := range d.Outside(name) {
		out.Outside = append(out.Outside, o.Text())
	}
	out.Changes = h.changesOf(d, name, at)
	if h.bands == nil || v.Broken {
		return out
	}
	var drivers []engine.Driver
	if cells := at.cells(v); cells != nil {
		drivers, out.Drawn = d.Drivers(name, cells)
	} else {
		out.Drawn = true
	}
	for i := range drivers[:min(len(drivers), mostDrivers)] {
		out.Drivers = append(out.Drivers, driverView(&drivers[i], v.Unit))
	}
	return out
}

func driverView(d *engine.Driver, unit string) Driver {
	w := Driver{Name: d.Name, Cell: d.Cell, Rank: math.Round(d.Rank*1000) / 1000, Chance: d.Chance,
		Ends: [2]any{finite(d.AtLow), finite(d.AtHigh)}, Says: [2]string{engine.Show(d.AtLow, unit), engine.Show(d.AtHigh, unit)}, Moves: engine.Show(d.Moves()/2, unit)}
	if d.Low == d.Low && !d.Chance {
		w.Low, w.High = engine.Show(d.Low, d.Unit), engine.Show(d.High, d.Unit)
	}
	return w
}

// changesOf gives the last edits that moved a figure, of those that are remembered.
// The hub is locked.
func (h *hub) changesOf(d *engine.Desk, name string, at place) []Changed {
	var out []Changed
	to := at.text(d.Plain(name))
	for i := len(h.changes) - 1; i >= 0 && len(out) < mostChanges; i-- {
		c := h.changes[i]
		was := c.was[name]
		if was == nil || c.Values[name] == nil {
			continue
		}
		from := at.text(was)
		if from != to {
			out = append(out, Changed{What: c.What, By: c.By, At: c.at.UnixMilli(), From: from, To: to})
		}
		to = from
	}
	return out
}
