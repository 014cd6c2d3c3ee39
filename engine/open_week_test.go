package engine_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/formula"
)

// recordBlocks finds the records of a book: name, and the block with its fences.
var recordBlocks = regexp.MustCompile("(?s)```records (\\w+)\n.*?```")

// withRow gives a book with one more row at the end of a block of records: its last
// row again, on another day, each number changed.
func withRow(t *testing.T, text, block, day string) string {
	t.Helper()
	rows := recordRow.FindAllString(block, -1)
	last := rows[len(rows)-1]
	number := regexp.MustCompile(`\| *[0-9.]+`)
	row := day + number.ReplaceAllString(last[10:], "| 9")
	changed := strings.Replace(text, block, strings.Replace(block, last, last+"\n"+row, 1), 1)
	if changed == text {
		t.Fatal("no row was added")
	}
	return changed
}

func opened(t *testing.T, text string) *engine.Desk {
	t.Helper()
	d, err := engine.Open("book.md", []byte(text), engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Errors()) > 0 {
		t.Fatalf("%v (%s)", d.Errors()[0], d.Errors()[0].Hint)
	}
	return d
}

// later gives the cells of a line in the weeks after the open one; nil for a line
// that is not by the week.
func later(d *engine.Desk, name string) []float64 {
	v := d.Plain(name)
	if v == nil || v.Broken || len(v.Axes) == 0 || v.Axes[len(v.Axes)-1] != "week" {
		return nil
	}
	weeks := v.Lengths[len(v.Lengths)-1]
	var out []float64
	for i := 0; i < len(v.Cells); i += weeks {
		out = append(out, v.Cells[i+d.Now()+1:i+weeks]...)
	}
	return out
}

// stateOfPlants are the records of the starter book that say what plants have lived
// through and what hangs on them. Written in the open week they move forecasts of later
// weeks, by the fruit that are there now; that is no fact in the place of a forecast.
var stateOfPlants = []string{"flowering", "trusses", "shoots", "weather", "inside"}

// The starter book stands at a Wednesday. What is dated later moves nothing in any
// week. What was weighed, sold, read and caught in the open week counts in that week
// and moves no forecast of a later one.
func TestOpenWeekIsNoFact(t *testing.T) {
	starter, err := os.ReadFile("../sheets/tern_hollow.md")
	if err != nil {
		t.Fatal(err)
	}
	text := string(starter)
	base := opened(t, text)
	asOf := base.Book.Settings.AsOf
	scored, err := engine.RunBacktest("book.md", starter, engine.Options{Draws: 1}, (asOf.Week() - 1).String(), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	var forecasts []string
	for _, s := range scored.Lines {
		forecasts = append(forecasts, s.Name)
	}
	if !slices.Contains(forecasts, "harvest") || !slices.Contains(forecasts, "propane") {
		t.Fatalf("forecasts are %v", forecasts)
	}
	kinds := map[string]bool{}
	blocks := recordBlocks.FindAllStringSubmatch(text, -1)
	dated := text // a row of every kind after the day the book stands at, in its week and beyond
	for _, block := range blocks {
		near := withRow(t, block[0], block[0], (asOf + 1).String())
		dated = strings.Replace(dated, block[0], withRow(t, near, near, (asOf+40).String()), 1)
	}
	other := opened(t, dated)
	for _, name := range base.Names() {
		a, b := base.Plain(name), other.Plain(name)
		if a != nil && !a.Broken && base.Book.RecordsOf(strings.Split(name, ".")[0]) == nil && !formula.SameBits(a.Cells, b.Cells) {
			t.Errorf("records after the day the book stands at move %s", name)
		}
	}
	if then := func(text string) []float64 { // on a later day they do count
		d, err := engine.Open("book.md", []byte(text), engine.Options{AsOf: (asOf + 41).String()})
		if err != nil {
			t.Fatal(err)
		}
		return d.Plain("harvest").Cells
	}; formula.SameBits(then(text), then(dated)) {
		t.Error("the rows that were added count on no day: the test looks at nothing")
	}
	for _, block := range blocks {
		kind := block[1]
		kinds[kind] = true
		if slices.Contains(stateOfPlants, kind) {
			continue
		}
		other := opened(t, withRow(t, text, block[0], asOf.String()))
		for _, name := range forecasts {
			if a, b := later(base, name), later(other, name); len(a) == 0 || !formula.SameBits(a, b) {
				t.Errorf("%s of the open week move %s in weeks after it", kind, name)
			}
		}
	}
	for _, kind := range []string{"picks", "sales", "meter", "cards"} {
		if !kinds[kind] {
			t.Errorf("the book has no records of %s", kind)
		}
	}
}
