package engine

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"wintertruss/engine/book"
	"wintertruss/engine/store"
	"wintertruss/engine/week"
)

// Later is what was changed after the first Monday of a backtest, so that its
// forecasts knew it and the person of that Monday did not.
type Later struct {
	From week.Week
	// Logged says whether the book has a log; Begins is its first day.
	Logged  bool
	Begins  string
	Unknown bool     // the book's text is not the one that the log ends with
	Outside []string // days on which another program changed the file: what it changed is not known
	Edits   []LaterEdit
	Records LaterRecords
}

// LaterEdit is a line, a column of a list or a list that was edited later.
type LaterEdit struct {
	Name  string
	Input bool     // an input or a list; else a formula
	Day   string   // of the last edit
	Times int      // how often since the first Monday
	In    []string // the scored lines that are made of it
}

// LaterRecords counts records that were written down, corrected or removed after a
// Monday on which the backtest used them.
type LaterRecords struct{ Written, Corrected int }

// later reads the log.
func (d *Desk) later(log *store.Log, text []byte, first, last week.Week, lines []*Scored) *Later {
	l := &Later{From: first}
	if log == nil || len(log.Entries) == 0 {
		return l
	}
	l.Logged, l.Begins, l.Unknown = true, log.Entries[0].Day(), !log.Knows(text)
	gone := map[uint64]bool{}
	for _, e := range log.Entries {
		gone[e.TakesBack] = true
	}
	for _, e := range log.Entries[1:] { // the first began the log
		day, err := week.ParseDay(e.Day())
		var rec record
		switch {
		case err != nil || day <= first.Monday() || gone[e.Number] || e.TakesBack > 0:
		case e.Outside:
			l.Outside = append(l.Outside, e.Day())
		case json.Unmarshal(e.Record, &rec) == nil:
			l.take(d, &rec.Edit, day, last)
		}
	}
	l.place(d, lines)
	return l
}

// take takes in one edit.
func (l *Later) take(d *Desk, e *book.Edit, day week.Day, last week.Week) {
	switch e.Kind {
	case book.SetLine, book.AddLine, book.RemoveLine:
		name := e.Name
		if name == "" {
			name = firstName(e.Text, e.Was)
		}
		l.edited(name, day)
	case book.SetCell:
		l.edited(e.Name+"."+e.Column, day)
	case book.AddMember, book.RemoveMember:
		l.edited(e.Name, day)
	case book.Pin, book.Unpin:
		name, _, _ := strings.Cut(e.Address, "@")
		l.edited(strings.TrimSpace(name), day)
	case book.SetOverride, book.RemoveOverride:
		if e.Name == d.opts.Scenario {
			name, _, _ := strings.Cut(e.Address, "@")
			l.edited(strings.TrimSpace(name), day)
		}
	case book.SetSetting:
		l.edited(e.Name, day)
	case book.AddRecord:
		if l.usedBefore(e.Cells["date"], day, last) {
			l.Records.Written++
		}
	case book.CorrectRecord, book.RemoveRecord:
		if l.usedBefore(d.dateOfRecord(e), day, last) {
			l.Records.Corrected++
		}
	case book.Replace:
		l.tookBack(d, e, day, last)
	}
}

// tookBack takes in an edit that took another one back: its place is a block.
func (l *Later) tookBack(d *Desk, e *book.Edit, day week.Day, last week.Week) {
	kind, name, _ := strings.Cut(e.In, " ")
	switch kind {
	case "lines", "pins":
		l.edited(firstName(e.Text, e.Was), day)
	case "list":
		l.edited(name, day)
	case "scenario":
		if name == d.opts.Scenario {
			l.edited(firstName(e.Text, e.Was), day)
		}
	case "records":
		date, _, _ := strings.Cut(string(e.Text)+string(e.Was), "|")
		if l.usedBefore(strings.TrimSpace(date), day, last) {
			l.Records.Corrected++
		}
	}
}

// firstName gives the name that a row begins with; of two texts the first that has one.
func firstName(texts ...book.Verbatim) string {
	for _, t := range texts {
		name := strings.FieldsFunc(string(t), func(r rune) bool {
			return r == ' ' || r == '\t' || r == ':' || r == '=' || r == '@' || r == '\n' || r == '\r'
		})
		if len(name) > 0 {
			return name[0]
		}
	}
	return ""
}

// dateOfRecord gives the date of a row that was corrected or removed, as far as the
// edit says it or the row stands there still; "" when neither.
func (d *Desk) dateOfRecord(e *book.Edit) string {
	if date, _, has := strings.Cut(string(e.Was), "|"); has {
		return strings.TrimSpace(date)
	}
	if r := d.Book.RecordsOf(e.Name); e.Kind == book.CorrectRecord && r != nil && e.Record >= 1 && e.Record <= len(r.Day) {
		return r.Day[e.Record-1].String()
	}
	return e.Cells["date"]
}

// usedBefore says whether a Monday of the backtest lies after a record's date and
// not after the day it was written down: a forecast used it that could not have
// known it. A date that is not known may be one.
func (l *Later) usedBefore(date string, written week.Day, last week.Week) bool {
	of, err := week.ParseDay(date)
	if err != nil {
		return true
	}
	next := max(of.Week()+1, l.From) // the first Monday that uses it
	return next <= last && next.Monday() < written
}

func (l *Later) edited(name string, day week.Day) {
	i := slices.IndexFunc(l.Edits, func(e LaterEdit) bool { return e.Name == name })
	if i < 0 {
		i = len(l.Edits)
		l.Edits = append(l.Edits, LaterEdit{Name: name})
	}
	l.Edits[i].Day = day.String()
	l.Edits[i].Times++
}

// place keeps the edits that the scored lines hang on, and says which lines. What has
// gone since is kept: nobody can tell any more what hung on it.
func (l *Later) place(d *Desk, lines []*Scored) {
	var madeOf []func(line int) bool
	for _, s := range lines {
		madeOf = append(madeOf, d.prog.MadeOf(d.made.byName[s.Name]))
	}
	kept := l.Edits[:0]
	for _, e := range l.Edits {
		var numbers []int
		if i, ok := d.made.byName[e.Name]; ok {
			numbers = append(numbers, i)
			e.Input = d.made.src.Lines[i].Input != nil
		}
		if list := d.Book.List(e.Name); list != nil {
			e.Input = true
			for _, c := range list.Columns {
				if i, ok := d.made.byName[c.Full()]; ok {
					numbers = append(numbers, i)
				}
			}
		}
		for k, s := range lines {
			if slices.ContainsFunc(numbers, madeOf[k]) {
				e.In = append(e.In, s.Name)
			}
		}
		if len(e.In) > 0 || numbers == nil && !isSetting(e.Name) {
			kept = append(kept, e)
		}
	}
	l.Edits = kept
}

// isSetting says whether a name is that of a setting that no forecast hangs on as a line.
func isSetting(name string) bool {
	return slices.Contains([]string{"title", "as_of", "closed", "draws", "seed", "years", "things", "currency"}, name)
}

// Says gives what is to be said of it, a sentence each.
func (l *Later) Says() []string {
	if !l.Logged {
		return []string{"This book has no log of edits beside it, so it cannot be known which inputs were changed after " + l.since() +
			": these forecasts may have known more than you did."}
	}
	var out []string
	if day, err := week.ParseDay(l.Begins); err == nil && day > l.From.Monday() {
		out = append(out, "The log of edits begins on "+l.Begins+"; what was changed between "+l.From.String()+" and then cannot be known.")
	}
	if n := len(l.Edits); n > 0 {
		var each []string
		inputs := true
		for _, e := range l.Edits {
			text := e.Name + " on " + e.Day
			if len(e.In) > 0 {
				text += " (in " + strings.Join(e.In, ", ") + ")"
			}
			each = append(each, text)
			inputs = inputs && e.Input
		}
		what := countOf(n, "input", "inputs")
		if !inputs {
			what = countOf(n, "input or formula", "inputs and formulas")
		}
		out = append(out, what+" edited after "+l.since()+": "+strings.Join(each, "; ")+"; so these forecasts knew more than you did.")
	}
	if n := l.Records.Written; n > 0 {
		out = append(out, countOf(n, "record", "records")+" written down after a Monday whose forecast used it.")
	}
	if n := l.Records.Corrected; n > 0 {
		out = append(out, countOf(n, "record", "records")+" corrected or removed after a Monday whose forecast used it as it is now.")
	}
	if len(l.Outside) > 0 {
		out = append(out, "Another program changed the file on "+strings.Join(slices.Compact(l.Outside), ", ")+"; what it changed is not known.")
	}
	if l.Unknown {
		out = append(out, "Another program has changed the file since the last edit in its log; what it changed is not known.")
	}
	if out == nil {
		out = append(out, "By its log, nothing that these forecasts are made of was edited after "+l.since()+".")
	}
	return out
}

// since names the first Monday.
func (l *Later) since() string {
	return l.From.Monday().String() + ", the Monday of " + l.From.String()
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one + " was"
	}
	return strconv.Itoa(n) + " " + many + " were"
}
