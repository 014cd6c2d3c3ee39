package ui

import "wintertruss/engine"

// cautionsView gives the book's warnings that fire, as the page shows them beside
// what they speak of. Those on odds need draws, so they are asked for after the draws.
func cautionsView(d *engine.Desk) []Caution {
	out := []Caution{}
	for _, c := range d.Cautions() {
		out = append(out, Caution{Of: c.Name, Where: c.Where, Cells: c.Cells, Message: c.Message})
	}
	return out
}
