package book

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"wintertruss/engine/syntax"
)

// sound checks what holds of every book, whatever its text.
func sound(t *testing.T, b *Book) {
	t.Helper()
	for i, e := range b.Errors {
		if e.Code == "" || e.Message == "" || e.Hint == "" || e.Line < 1 || e.Col < 1 || e.Len < 1 {
			t.Errorf("the fault is not whole: %+v", *e)
		}
		if i > 0 && e.Line < b.Errors[i-1].Line {
			t.Errorf("%+v stands too late", *e)
		}
		if slices.Index(b.Errors, e) != i {
			t.Errorf("%v is said twice", e)
		}
	}
	for name, e := range b.Broken {
		if !slices.Contains(b.Errors, e) {
			t.Errorf("why %s is broken is not said: %v", name, e)
		}
		list, column, _ := strings.Cut(name, ".")
		if b.Line(name) != nil || b.RecordsOf(name) != nil || b.Column(list, column) != nil || b.RecordColumn(list, column) != nil {
			t.Errorf("%s is broken and given all the same", name)
		}
	}
	input := func(name string, in *Input, cells int) {
		for i, p := range in.Pieces {
			v := p.Value
			switch {
			case p.Member < -1 || p.Member >= cells || (p.Member >= 0) != (in.Along != ""):
				t.Errorf("%s: piece %d is for member %d of %d along %q", name, i, p.Member, cells, in.Along)
			case v.Kind == Blank || v.Kind != in.Kind:
				t.Errorf("%s: piece %d is of kind %d, not %d", name, i, v.Kind, in.Kind)
			case v.Kind == Number && (v.Unit == nil || in.Unit == nil || !fits(v.Unit, in.Unit)):
				t.Errorf("%s: piece %d is in %v, not in %v", name, i, v.Unit, in.Unit)
			case v.Spread != nil && (v.Kind != Number || v.Spread.Key.Name != name):
				t.Errorf("%s: piece %d draws as %+v", name, i, *v.Spread)
			case in.Refers != "" && b.List(in.Refers).Members[v.Member].Name != v.Word:
				t.Errorf("%s: piece %d is no member of %s", name, i, in.Refers)
			case !p.First && (i == 0 || in.Pieces[i-1].Member != p.Member || !in.Pieces[i-1].First && in.Pieces[i-1].From >= p.From):
				t.Errorf("%s: piece %d stands in the wrong order", name, i)
			}
		}
	}
	for _, l := range b.Lists {
		for _, c := range l.Columns {
			input(c.Full(), &c.Input, len(l.Members))
		}
	}
	for _, l := range b.Lines {
		if (l.Input == nil) == (l.Formula == nil) || l.Name == "" {
			t.Errorf("%s is not an input and not computed", l.Name)
		}
		if l.Input != nil {
			n, _ := b.AxisLen(l.Input.Along)
			input(l.Name, l.Input, n)
		}
	}
	for _, r := range b.Records {
		for _, c := range r.Columns {
			if len(c.Cells) != len(r.Day) || len(r.Places) != len(r.Day) {
				t.Errorf("%s has %d cells for %d days", c.Full(), len(c.Cells), len(r.Day))
			}
		}
	}
	overrides := slices.Clone(b.Pins)
	for _, s := range b.Scenarios {
		overrides = append(overrides, s.Overrides...)
	}
	for _, o := range overrides {
		if (o.Line == nil) == (o.Column == nil) || (o.Input == nil) == (o.Formula == nil) {
			t.Errorf("the override at %v has no one target and value", o.Place)
		}
		for _, s := range o.Where {
			if n, ok := b.AxisLen(s.Axis); !ok || s.Index < 0 || s.Index >= n {
				t.Errorf("%s is cell %d of %d of %s", s.Text, s.Index, n, s.Axis)
			}
		}
		if o.Input != nil {
			n, _ := b.AxisLen(o.Input.Along)
			input(o.Target(), o.Input, n)
		}
	}
	for _, l := range b.Links {
		if l.A == nil || l.B == nil {
			t.Errorf("the link at %v hangs loose", l.Place)
		}
	}
	for _, x := range b.Binds {
		if x.Line == nil || x.Formula == nil {
			t.Errorf("the observation at %v hangs loose", x.Place)
		}
	}
	for _, axis := range []string{WeekAxis, MonthAxis, MonthOfYearAxis, YearAheadAxis} {
		b.AxisMembers(axis)
	}
}

func FuzzAssemble(f *testing.F) {
	for _, c := range faults {
		text, _ := marked(c.text)
		if written, alone := strings.CutPrefix(text, "only:"); alone {
			f.Add(written)
		} else {
			f.Add(base + text)
		}
	}
	for _, c := range broken {
		f.Add(base + c.text)
	}
	text, err := os.ReadFile("testdata/quail_run.md")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(text))
	f.Fuzz(func(t *testing.T, text string) {
		sound(t, Assemble(syntax.Read("book.md", []byte(text)), today))
	})
}

// TestMixedBooks puts the rows of all cases together at random, also into blocks
// that they are not from, with words of one row in another: faults that no one
// thought of together.
func TestMixedBooks(t *testing.T) {
	text, err := os.ReadFile("testdata/quail_run.md")
	if err != nil {
		t.Fatal(err)
	}
	pool := base + string(text)
	for _, c := range faults {
		unmarked, _ := marked(strings.TrimPrefix(c.text, "only:"))
		pool += unmarked + "\n"
	}
	for _, c := range broken {
		pool += c.text
	}
	var fences, rows []string
	for row := range strings.Lines(pool) {
		if len(row) > 300 { // a hundred things: the same fault at great length
			continue
		}
		if strings.HasPrefix(row, "```") && len(row) > 4 {
			fences = append(fences, row)
		} else if !strings.HasPrefix(row, "```") {
			rows = append(rows, row)
		}
	}
	words := strings.Fields(strings.Join(rows, " "))
	dice := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		var book strings.Builder
		book.WriteString(base)
		for range 8 {
			book.WriteString(fences[dice.IntN(len(fences))])
			for range dice.IntN(8) {
				row := rows[dice.IntN(len(rows))]
				if parts := strings.Fields(row); dice.IntN(3) == 0 && len(parts) > 0 {
					parts[dice.IntN(len(parts))] = words[dice.IntN(len(words))]
					row = strings.Join(parts, " ") + "\n"
				}
				book.WriteString(row)
			}
			book.WriteString("```\n")
		}
		if sound(t, assembled(book.String())); t.Failed() {
			t.Fatalf("of this book:\n%s", book.String())
		}
	}
}
