package engine_test

import (
	"encoding/json"
	"strings"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/book"
)

// Two places: one below the range of 0 to 5,000 m for which Allen and others (1998,
// FAO Paper 56, equation 37) give the clear sky, one above it, one inside.
const outsideBook = "```settings\nseason : 2027-W01 .. 2027-W52\ncurrency : USD\nas_of : 2027-03-10\n```\n" +
	"```list place\n       | high ft\npolder | -12\nhill   | 900\npeak   | 20000\n```\n" +
	"```lines\nsky : 30 MJ/m2/d\nwanted : yes\nclear = wanted ? clear_sun(sky, place.high) : 0 -> MJ/m2/d\n" +
	"lit = 2 * clear -> MJ/m2/d\nother : 3\ntwice = 2 * other\n```\n"

func outsideDesk(t *testing.T, o engine.Options) *engine.Desk {
	t.Helper()
	d, err := engine.Open("book.md", []byte(outsideBook), o)
	if err != nil {
		t.Fatal(err)
	}
	if f := d.Faults(); len(f) > 0 {
		t.Fatal(f[0].Message)
	}
	return d
}

func TestOutside(t *testing.T) {
	d := outsideDesk(t, engine.Options{})
	marks := d.Outside("clear")
	if len(marks) != 1 {
		t.Fatalf("%d marks, want 1", len(marks))
	}
	m := marks[0]
	if m.Function != "clear_sun" || m.Argument != "elevation" || m.Unit != "ft" || m.Cells != 2 || strings.Join(m.At, ",") != "polder" || strings.Join(m.Axes, ",") != "place" {
		t.Errorf("%+v", m)
	}
	if m.Value < -12.001 || m.Value > -11.999 || *m.Low != 0 || *m.High < 16404.1 || *m.High > 16404.3 { // 5,000 m
		t.Errorf("value %v, range %v to %v ft", m.Value, *m.Low, *m.High)
	}
	if want := "elevation of clear_sun is -12.0 ft at polder (and 1 more); measured from 0 ft to 16,404 ft; outside: the line of the clear sky is carried on"; m.Text() != want {
		t.Errorf("says %q, want %q", m.Text(), want)
	}
	for _, name := range []string{"lit", "sky", "other", "no_such_line"} { // the mark stands where the function is called
		if d.Outside(name) != nil {
			t.Errorf("%s is marked", name)
		}
	}
	if n := d.Notes(); len(n) != 1 || n[0].Name != "clear" || n[0].Line != 15 {
		t.Errorf("notes %v", n)
	}
	v, err := d.Value("clear")
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(v)
	if err != nil || !strings.Contains(string(text), `"outside":[{"function":"clear_sun","argument":"elevation","unit":"ft","low":0,"high":16404.`) {
		t.Errorf("%s (%v)", text, err)
	}
	low, value := 62.6, 62.58
	if near := (&engine.Outside{Argument: "air", Function: "truss_pace", Unit: "degF", Low: &low, Value: value, Cells: 1}).Text(); near != "air of truss_pace is 62.58 degF; measured from 62.6 degF" {
		t.Errorf("beside the edge it says %q", near)
	}
	metric := outsideDesk(t, engine.Options{Units: "metric"}).Outside("clear")
	if len(metric) != 1 || metric[0].Unit != "m" || *metric[0].High != 5000 {
		t.Errorf("in metric: %+v", metric)
	}
}

// After an edit that moves numbers only, marks are those of a book opened anew; what
// the edit did not touch is not worked out again.
func TestOutsideAfterAnEdit(t *testing.T) {
	d := outsideDesk(t, engine.Options{})
	first := d.Outside("clear")
	set := func(text string) {
		t.Helper()
		name, _, _ := strings.Cut(text, " ")
		d, _ = apply(t, d, book.Edit{Kind: book.SetLine, Name: name, Text: book.Verbatim(text)})
	}
	set("other : 4")
	if kept := d.Outside("clear"); len(kept) != 1 || &kept[0] != &first[0] {
		t.Error("worked out again, though nothing it reads moved")
	}
	set("wanted : no")
	if m := d.Outside("clear"); m != nil {
		t.Errorf("marked, though the line shows 0 everywhere: %+v", m)
	}
	set("wanted : yes")
	d, _ = apply(t, d, book.Edit{Kind: book.SetCell, Name: "place", Member: "polder", Column: "high", Text: "3"})
	if m := d.Outside("clear"); len(m) != 1 || m[0].Cells != 1 || m[0].At[0] != "peak" {
		t.Errorf("%+v", m)
	}
	d, _ = apply(t, d, book.Edit{Kind: book.SetCell, Name: "place", Member: "peak", Column: "high", Text: "3000"})
	if m := d.Outside("clear"); m != nil {
		t.Errorf("%+v", m)
	}
}
