package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
)

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	if i := strings.Index(what, " "); i > 0 {
		return fmt.Sprintf("%d %ss%s", n, what[:i], what[i:])
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// report prints errors to stderr, each with its place.
func (c *command) report(errs ...*syntax.Error) {
	for _, e := range errs {
		name := e.Name
		if name == "" {
			name = "book"
		}
		fmt.Fprintf(c.err, "%s:%d:%d: %s: %s\n", c.book, e.Line, e.Col, name, e.Message)
		if e.Hint != "" {
			fmt.Fprintln(c.err, "hint:", e.Hint)
		}
	}
}

// reportCautions prints the cautions that fire and gives their number.
func (c *command) reportCautions(d *engine.Desk) int {
	list := d.Cautions()
	for _, k := range list {
		where := ""
		if k.Where != "" {
			where = " (" + k.Where
			if k.Cells > 1 {
				where += fmt.Sprintf(", and %d more", k.Cells-1)
			}
			where += ")"
		}
		fmt.Fprintf(c.err, "%s:%d:%d: %s: %s%s\n", c.book, k.Place.Line, k.Place.Col, k.Name, k.Message, where)
	}
	return len(list)
}

// reportNotes prints where lines stand outside what was measured, and gives how many
// lines do. A note is no error: it changes no number and no exit code.
func (c *command) reportNotes(d *engine.Desk) int {
	lines := map[string]bool{}
	for _, n := range d.Notes() {
		lines[n.Name] = true
		fmt.Fprintf(c.err, "%s:%d:%d: note: %s: %s\n", c.book, n.Line, n.Col, n.Name, n.Message)
	}
	return len(lines)
}

func (c *command) printJSON(x any, code int) int {
	enc := json.NewEncoder(c.out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(x); err != nil {
		fmt.Fprintln(c.err, "wintertruss:", err)
		return exitWrong
	}
	return code
}

func entryValues(answers []engine.Answer) []*engine.Value {
	var out []*engine.Value
	for _, a := range answers {
		for i := range a.Entries {
			out = append(out, a.Entries[i].Value)
		}
	}
	return out
}

// printAnswers prints the answers as a person reads them: question, verdict,
// figures, what follows, the day.
func (c *command) printAnswers(d *engine.Desk, answers []engine.Answer) {
	fmt.Fprintf(c.out, "%s, as of %s", title(d), d.Day())
	if s := d.ScenarioTitle(); s != "" {
		fmt.Fprintf(c.out, ", under: %s", s)
	}
	fmt.Fprintln(c.out)
	for _, a := range answers {
		fmt.Fprintf(c.out, "\n%s\n", a.Question)
		if a.Error != nil {
			fmt.Fprintf(c.out, "  It cannot be said: %s: %s\n", a.Error.Name, a.Error.Message)
			continue
		}
		if a.Verdict != "" {
			fmt.Fprintf(c.out, "  %s: %d of 20 seasons\n", a.Verdict, a.Of20)
		}
		width := 40
		for i := range a.Entries {
			width = max(width, min(60, len([]rune(a.Entries[i].Value.Label))))
		}
		for i := range a.Entries {
			c.printEntry(d, &a.Entries[i], width)
		}
		if a.Consequence != "" {
			fmt.Fprintln(c.out, wrap("  "+a.Consequence, 78, "  "))
		}
		if a.Caution != "" {
			fmt.Fprintln(c.out, wrap("  "+a.Caution, 78, "  "))
		}
	}
}

// title names the book; a book without a title is called the book.
func title(d *engine.Desk) string {
	if t := d.Title(); t != "" {
		return t
	}
	return "The book"
}

// printEntry prints one figure; a value over lists has a row for each member.
func (c *command) printEntry(d *engine.Desk, e *engine.Entry, width int) {
	v := e.Value
	if v.Error != nil && v.Broken {
		return
	}
	cells := d.NowCells(v)
	if len(cells) == 1 {
		fmt.Fprintf(c.out, "  %-*s %s\n", width, v.Label, figure(v, cells[0]))
		return
	}
	fmt.Fprintf(c.out, "  %s\n", v.Label)
	for _, cell := range cells {
		if engine.Known(v.Cells[cell]) {
			fmt.Fprintf(c.out, "    %-*s %s\n", width-2, d.CellLabel(v, cell), figure(v, cell))
		}
	}
}

// figure writes one cell with its band.
func figure(v *engine.Value, cell int) string {
	s := v.Text(cell)
	if band := v.BandText(cell); band != "" {
		s += "   (8 in 10: " + band + ")"
	}
	return s
}

// printValue prints a line with all its cells.
func (c *command) printValue(d *engine.Desk, v *engine.Value) {
	fmt.Fprintf(c.out, "%s", v.Name)
	if v.Label != v.Name {
		fmt.Fprintf(c.out, "   %s", v.Label)
	}
	fmt.Fprintf(c.out, "   as of %s\n", d.Day())
	if v.Broken {
		if v.Error != nil {
			fmt.Fprintf(c.out, "  in error: %s\n", v.Error.Message)
		}
		return
	}
	for cell := range v.Cells {
		line := "  " + figure(v, cell)
		if members := v.CellMembers(cell); len(members) > 0 {
			line = fmt.Sprintf("  %-32s %s", strings.Join(members, "  "), figure(v, cell))
		}
		if v.Odds != nil && v.Odds[cell] == v.Odds[cell] {
			line += fmt.Sprintf("   (holds in %.0f %% of draws)", v.Odds[cell])
		}
		fmt.Fprintln(c.out, line)
	}
	for i := range v.Outside {
		fmt.Fprintln(c.out, wrap("  outside what was measured: "+v.Outside[i].Text(), 100, "    "))
	}
}

// wrap breaks a line at spaces; further lines begin with indent.
func wrap(s string, width int, indent string) string {
	lead := s[:len(s)-len(strings.TrimLeft(s, " "))]
	line := lead
	var out []string
	for i, w := range strings.Split(strings.TrimLeft(s, " "), " ") {
		if i > 0 && len(line)+1+len(w) > width && strings.TrimSpace(line) != "" && w != "" {
			out = append(out, strings.TrimRight(line, " "))
			line = indent + w
			continue
		}
		if i > 0 {
			line += " "
		}
		line += w
	}
	return strings.Join(append(out, line), "\n")
}
