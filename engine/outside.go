package engine

import (
	"fmt"
	"strconv"
	"strings"
	"sync"

	"wintertruss/engine/formula"
	"wintertruss/engine/syntax"
)

// Outside says that a line calls a function with an argument outside the range in
// which what the function says was measured.
type Outside struct {
	Place    syntax.Place `json:"-"` // of the call
	Function string       `json:"function"`
	Argument string       `json:"argument"`
	Unit     string       `json:"unit"`
	Low      *float64     `json:"low"`  // null where nothing bounds it
	High     *float64     `json:"high"` // likewise
	Value    float64      `json:"value"`
	At       []string     `json:"at"`    // the first cell outside: its member along every axis of the argument
	Axes     []string     `json:"axes"`  // those axes
	Cells    int          `json:"cells"` // how many cells lie outside
	Then     string       `json:"then"`  // what the function does outside
}

// outsideKept keeps what was found of lines, until an edit moves what they read.
type outsideKept struct {
	mu   sync.Mutex
	line map[int][]Outside
}

// Outside gives the marks of a line: which argument of which function lies outside
// what was measured, where that matters to the line. It is worked out when it is
// asked for, and again after an edit that moved what the line reads. It may be
// asked for beside draws.
func (d *Desk) Outside(name string) []Outside {
	if d.made == nil {
		return nil
	}
	i, ok := d.made.byName[name]
	if !ok {
		return nil
	}
	return d.outsideOf(i)
}

func (d *Desk) outsideOf(line int) []Outside {
	d.outside.mu.Lock()
	defer d.outside.mu.Unlock()
	if kept, ok := d.outside.line[line]; ok {
		return kept
	}
	var out []Outside
	for _, m := range d.prog.Outside(line) {
		out = append(out, d.outsideAs(m))
	}
	if d.outside.line == nil {
		d.outside.line = map[int][]Outside{}
	}
	d.outside.line[line] = out
	return out
}

// keepOutside takes over from the desk before an edit what its nodes did not move.
func (d *Desk) keepOutside(before *Desk, again map[int32]bool) {
	before.outside.mu.Lock()
	defer before.outside.mu.Unlock()
	for line, kept := range before.outside.line {
		if !d.prog.ReadsAgain(line, func(n int32) bool { return again[n] }) {
			if d.outside.line == nil {
				d.outside.line = map[int][]Outside{}
			}
			d.outside.line[line] = kept
		}
	}
}

// outsideAs brings a mark to the units that are shown.
func (d *Desk) outsideAs(m formula.Mark) Outside {
	u := d.shownIn(m.Unit)
	mul, add := d.convert(m.Unit, u)
	o := Outside{Place: m.Place, Function: m.Function, Argument: m.Argument, Unit: u.String(), Value: m.Value*mul + add, Cells: m.Cells, Then: m.Outside,
		At: d.members(m.Axes, m.Cell), Axes: d.made.src.Space.Names(m.Axes)}
	o.Low, o.High = edge(m.Low*mul+add), edge(m.High*mul+add)
	return o
}

// Text says it in a sentence.
func (o *Outside) Text() string {
	text := fmt.Sprintf("%s of %s is %s", o.Argument, o.Function, o.valueText())
	if len(o.At) > 0 {
		text += " at " + strings.Join(o.At, ", ")
	}
	if o.Cells > 1 {
		text += fmt.Sprintf(" (and %d more)", o.Cells-1)
	}
	text += "; measured " + MeasuredText(o.Low, o.High, o.Unit)
	if o.Then != "" {
		text += "; outside: " + o.Then
	}
	return text
}

// valueText writes the value, with as many places as tell it from the edge it is beyond.
func (o *Outside) valueText() string {
	edge := o.Low
	if edge == nil || o.High != nil && o.Value > *o.High {
		edge = o.High
	}
	text := Show(o.Value, o.Unit)
	for places := 2; edge != nil && text == Show(*edge, o.Unit) && places < 9; places++ {
		if near := strconv.FormatFloat(o.Value, 'f', places, 64); near != strconv.FormatFloat(*edge, 'f', places, 64) {
			return near + " " + o.Unit
		}
	}
	return text
}

// MeasuredText writes a range: "from 17 °C to 27 °C", "from 0 m", "up to 5,000 m".
func MeasuredText(low, high *float64, unit string) string {
	switch {
	case low == nil && high == nil:
		return "anywhere"
	case low == nil:
		return "up to " + Show(*high, unit)
	case high == nil:
		return "from " + Show(*low, unit)
	}
	return "from " + Show(*low, unit) + " to " + Show(*high, unit)
}

// Notes gives, for every line of the book with marks, all of them, by place.
func (d *Desk) Notes() []*syntax.Error {
	if d.prog == nil {
		return nil
	}
	var out []*syntax.Error
	for i := range d.made.src.Lines {
		if d.made.src.Lines[i].Quiet {
			continue
		}
		for _, o := range d.outsideOf(i) {
			out = append(out, &syntax.Error{Place: o.Place, Code: "outside", Name: d.made.src.Lines[i].Name, Message: "outside what was measured: " + o.Text()})
		}
	}
	return out
}
