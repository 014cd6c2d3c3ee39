package formula

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// measuredFunctions are a rate by temperature, with a range of its own for one kind,
// and a sum over the weeks up to each in which something grows: it does not look at
// the air of other weeks.
func measuredFunctions() map[string]*Function {
	return map[string]*Function{
		"pace": {Name: "pace", Params: []Param{
			{Name: "air", Unit: "degC", Measured: []Measured{{Low: 17, High: 27, Outside: "as at the edge"}, {Low: 15, High: 27, For: "cherry", Outside: "as at the edge"}}},
			{Name: "kind", Takes: Words, Optional: true},
		}, Kernel: &Kernel{Name: "pace", Results: []Result{{Unit: "1"}}, Run: func(c *Call) {
			c.Out[0][0] = math.Max(17, math.Min(27, c.In[0][0]))
		}}},
		"grown": {Name: "grown", Params: []Param{
			{Name: "set", Unit: "1", Whole: []string{"week"}},
			{Name: "air", Unit: "degC", Whole: []string{"week"}, Measured: []Measured{{Low: 14, High: math.Inf(1)}}},
		}, Kernel: &Kernel{Name: "grown", Results: []Result{{Unit: "1", Whole: []string{"week"}}}, Run: func(c *Call) {
			sum := 0.0
			for w, set := range c.In[0] {
				if set > 0 {
					sum += c.In[1][w]
				} else {
					sum = sum + c.In[1][w]/3 - c.In[1][w]/3 // leaves a rounding behind
				}
				c.Out[0][w] = sum * set
			}
		}}},
	}
}

func measuredBook(t testing.TB, lines string) *Program {
	src := sourceOf(t, lists+"~~~lines\n"+lines+"\n~~~\n")
	src.Functions = measuredFunctions()
	p := Compile(src)
	for i, e := range p.Errors {
		t.Fatalf("%s: %v (%s)", p.src.Lines[i].Name, e, e.Hint)
	}
	p.Plain()
	return p
}

func (p *Program) marksOf(t testing.TB, name string) string {
	var out []string
	for _, m := range p.Outside(p.named(t, name)) {
		out = append(out, fmt.Sprintf("%s of %s, cell %d of %d, %.6g %s beyond %.6g to %.6g", m.Argument, m.Function, m.Cell, m.Cells, m.Value, m.Unit, m.Low, m.High))
	}
	return strings.Join(out, " | ")
}

// Every mark can be checked by head: the range in the book's own unit, the first
// cell, and how many.
func TestOutside(t *testing.T) {
	p := measuredBook(t, `
		cold : 59 degF
		edge : 62.6 degF
		weekly over week : 12, 16, 20, 28, 10, 20 degC
		stands over week : 0, 1, 1, 1, 0, 1
		grows : cherry
		at_cold = pace(cold)
		as_cherry = pace(cold, grows)
		at_edge = pace(edge)
		never = pace(cold) * 0
		by_week = pace(weekly)
		standing = pace(weekly) * stands
		warm_pace = pace(weekly) + 0 * stands
		house_pace = pace(house.night)
		gathered = grown(stands, weekly)
		early_days = grown(1 - stands, weekly)
		late = stands > 0 ? pace(weekly) : 17
		season = total(grown(stands, weekly), week)
		two = pace(cold) + pace(weekly)`)
	for name, want := range map[string]string{
		"at_cold":   "air of pace, cell 0 of 1, 59 degF beyond 62.6 to 80.6",
		"as_cherry": "",
		"at_edge":   "",
		"never":     "", // the line shows nothing
		"by_week":   "air of pace, cell 0 of 4, 12 degC beyond 17 to 27",
		"standing":  "air of pace, cell 1 of 2, 16 degC beyond 17 to 27", // week 1 and 5 stand empty
		"warm_pace": "air of pace, cell 0 of 4, 12 degC beyond 17 to 27",
		// Long house 62 degF, 64 from the third week; short 60, spare unknown.
		"house_pace": "air of pace, cell 0 of 8, 62 degF beyond 62.6 to 80.6",
		"gathered":   "", // 12 and 10 degC fall in weeks without growth
		"early_days": "air of grown, cell 0 of 2, 12 degC beyond 14 to +Inf",
		// The choice shows 17 where nothing stands, so the weeks of 12 and 10 degC are
		// taken to matter: which branch was taken is not looked at.
		"late":   "air of pace, cell 0 of 4, 12 degC beyond 17 to 27",
		"season": "",
		"two":    "air of pace, cell 0 of 1, 59 degF beyond 62.6 to 80.6 | air of pace, cell 0 of 4, 12 degC beyond 17 to 27",
	} {
		if got := p.marksOf(t, name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// Marks say nothing of a scenario that is not looked at, and change no number.
func TestOutsideChangesNothing(t *testing.T) {
	p := measuredBook(t, `
		air over week : 12, 16, 20, 28, 10, 20 degC
		base_pace = pace(air)`)
	before := slices.Clone(p.plain)
	first := p.marksOf(t, "base_pace")
	if second := p.marksOf(t, "base_pace"); first == "" || first != second {
		t.Errorf("asked twice: %q, then %q", first, second)
	}
	if !SameBits(before, p.plain) {
		t.Error("numbers of the program moved")
	}
	p.Plain()
	if !SameBits(before, p.plain) {
		t.Error("the plain pass gives other numbers afterwards")
	}
}
