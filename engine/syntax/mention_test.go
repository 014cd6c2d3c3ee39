package syntax

import (
	"fmt"
	"strings"
	"testing"
)

// TestMentions: which braces are live numbers, and where they stand. That code and
// escaped braces are text is CommonMark's rule for both (0.31.2, sections 2.4 and 6.1).
func TestMentions(t *testing.T) {
	for _, c := range []struct{ text, page, want string }{
		{"# Heat {fuel_cost}\n\nThe house takes {propane @ long, 2027-W03} and {propane}.\n", "Heat",
			"1:8+11 fuel_cost headline; 3:17+26 propane@long,2027-W03; 3:48+9 propane"},
		{"Heat {cost}\n====\n\n> Ünder {a.b}\n> and { cash @ this_week }\n", "Heat", "1:6+6 cost headline; 4:9+5 a.b; 5:7+20 cash@this_week"},
		{"\uFEFF# {cost}\n## {cost}\n", "{cost}", "1:3+6 cost headline; 2:4+6 cost"},
		{"# Plain\n`{cost}` \\{cost} {Cost} {} { } {a,b} {a\nb} {not} {a @ b c}\n\n    {cost}\n\n```\n{cost}\n```\n", "Plain", ""},
		{"# A {b} and {C}\n- {b}: **{c}**\n", "A and {C}", "1:5+3 b headline; 2:3+3 b; 2:10+3 c"},
	} {
		d := Read("book.md", []byte(c.text))
		var got []string
		page := ""
		for _, p := range d.Parts {
			page = p.Page
			for _, m := range p.Mentions {
				s := fmt.Sprintf("%d:%d+%d %s", m.Line, m.Col, m.Len, m.Name.Text)
				for i, w := range m.Where {
					s += string("@,"[min(i, 1)]) + w.Text
				}
				if m.Headline {
					s += " headline"
				}
				got = append(got, s)
				line := strings.TrimPrefix(strings.SplitAfter(c.text, "\n")[m.Line-1], byteOrderMark)
				if at := []rune(line)[m.Name.Col-1:]; !strings.HasPrefix(string(at), m.Name.Text) {
					t.Errorf("%q: the name %s is said to stand at column %d", c.text, m.Name.Text, m.Name.Col)
				}
			}
		}
		if s := strings.Join(got, "; "); s != c.want || page != c.page {
			t.Errorf("%q\n got %q: %s\nwant %q: %s", c.text, page, s, c.page, c.want)
		}
	}
}
