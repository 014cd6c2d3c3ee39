package book

import (
	"strconv"
	"strings"
	"testing"

	"wintertruss/engine/syntax"
)

func itoa(n int) string { return strconv.Itoa(n) }

// broken holds books in which one fault takes away names. Each fault is said
// once, whatever hangs on it, and the rest of the book is there.
var broken = []struct {
	why, text string
	code      string   // of the one fault
	gone      []string // names that Broken explains
	there     []string // names that are given
}{
	{"a line's unit", "```lines\na : 3 lbb\n```\n```pins\na : 4 lb\n```\n```observe\na ~ plants +- 6 %\n```\n```links\na, set_share : 1\n```\n```chart \"A\"\nkind : fan\nlines : a\n```\n",
		"unknown-unit", []string{"a"}, []string{"plants", "house.floor"}},
	{"a line that reading refused", "```lines\na : 3 lb (5..6)\nb = 2 -> lb\n```\n```scenario late\na : 4 lb\n```\n",
		"range-middle", []string{"a"}, []string{"b"}},
	{"a row without a sign", "```lines\nfee 3 lb\nb = 2\n```\n```pins\nfee : 3\n```\n",
		"row-shape", []string{"fee"}, []string{"b"}},
	{"a formula that reading refused", "```lines\na = 3 + + \nb = a\n```\n",
		"ends-early", []string{"a"}, []string{"b"}},
	{"a list without members", "```list crop\n  | a\n```\n```lines\nx over crop : 3\n```\n```list bed\n  | crop | size ft\nb | tomato | 3\n```\n```pins\ncrop.a : 3\n```\n```chart \"A\"\nkind : fan\nlines : x, crop.a\nsplit : crop\n```\n",
		"empty-list", []string{"crop", "x", "bed.crop"}, []string{"bed.size"}},
	{"a list's header", "```list crop\n  | a of it | b ft\nrye | 3 | 4\n```\n```lines\nx over crop : 3\n```\n```records cut\ndate | crop | weight lb\n2027-03-08 | rye | 3\n```\n```pins\ncrop.b : 3 ft\n```\n",
		"bad-column", []string{"crop"}, []string{"x", "cut.weight"}},
	{"a list's row", "```list crop\n  | a ft | label\nrye | 3 | Rye\noat | 4\n```\n```records cut\ndate | crop | weight lb\n2027-03-08 | oat | 3\n```\n```pins\ncrop.a @ oat : 3 ft\n```\n",
		"cell-count", []string{"crop.a"}, []string{"crop.label", "cut.weight"}},
	{"a list's cell", "```list crop\n  | a ft | b ft\nrye | 3 | #\noat | 4 | 5\n```\n",
		"bad-value", []string{"crop.b"}, []string{"crop.a"}},
	{"a list's cell, by its unit", "```list crop\n  | a ft | b ft\nrye | 3 | 4 lbb\n```\n",
		"unknown-unit", []string{"crop.b"}, []string{"crop.a"}},
	{"a head's unit", "```list crop\n  | a ft | b ftt\nrye | 3 | 4\n```\n",
		"unknown-unit", []string{"crop.b"}, []string{"crop.a"}},
	{"a day of a record", "```records cut\ndate | weight lb\n2027-03-08 | 3\n2027-02-30 | 4\n```\n",
		"no-such-day", []string{"cut"}, nil},
	{"no day in a record", "```records cut\ndate | weight lb\n2027-03-08 | 3\n | 4\n```\n",
		"record-date", []string{"cut"}, nil},
	{"the header of records", "```records cut\nday | weight lb\n2027-03-08 | 3\n2027-03-08 | 3\n```\n",
		"header-date", []string{"cut"}, nil},
	{"a cell of a record", "```records cut\ndate | weight lb | seconds lb\n2027-03-08 | 3 | 4 lbb\n2027-03-09 | 3 | 4\n```\n",
		"unknown-unit", []string{"cut.seconds"}, []string{"cut.weight"}},
	{"a member of a record", "```records cut\ndate | house | weight lb\n2027-03-08 | barn | 4\n```\n",
		"unknown-member", []string{"cut"}, nil},
	{"a list named as an axis", "```list week\n  | a\nb | 3\n```\n", "taken-name", nil, []string{"plants"}},
	{"a block without a name", "```list\n  | a\nb | 3\n```\n", "block-name", nil, []string{"plants"}},
	{"records without a name", "```records\ndate | a\n```\n", "block-name", nil, []string{"plants"}},
	{"a scenario without a name", "```scenario\nprice : 3 USD/lb\n```\n", "block-name", nil, []string{"plants"}},
}

func TestBroken(t *testing.T) {
	has := func(b *Book, name string) bool {
		list, column, _ := strings.Cut(name, ".")
		return b.Line(name) != nil || b.Column(list, column) != nil || b.RecordColumn(list, column) != nil
	}
	for _, c := range broken {
		b := assembled(base + c.text)
		if len(b.Errors) != 1 || b.Errors[0].Code != c.code {
			t.Errorf("%s: the faults are", c.why)
			for _, e := range b.Errors {
				t.Logf("    %+v", *e)
			}
			continue
		}
		for _, name := range c.gone {
			if b.Broken[name] != b.Errors[0] {
				t.Errorf("%s: %s is not explained", c.why, name)
			}
			if has(b, name) {
				t.Errorf("%s: %s is given all the same", c.why, name)
			}
		}
		for _, name := range c.there {
			if !has(b, name) || b.Broken[name] != nil {
				t.Errorf("%s: %s is missing", c.why, name)
			}
		}
	}
}

func TestBrokenScenario(t *testing.T) {
	b := assembled(base + "```scenario late\nprice : 3 USD/lb\nprise : 4 USD/lb\nset_share : 70 %\n```\n")
	s := b.Scenario("late")
	same(t, "rows that can be read", len(s.Overrides), 2)
	same(t, "fault", s.Broken, b.Errors[0])
	// A row for a line that is broken itself says nothing new, and still breaks the scenario.
	b = assembled(base + "```lines\na : 3 lbb\n```\n```scenario late\na : 3 lb\n```\n")
	same(t, "faults", len(b.Errors), 1)
	same(t, "fault", b.Scenario("late").Broken, b.Errors[0])
}

func TestBrokenAnswer(t *testing.T) {
	b := assembled(base + "```answers\npays : plants > 3 lbb, price\ncharge : 3 +\n```\n")
	same(t, "answers", len(b.Answers), 2)
	same(t, "fault in an entry", b.Answers[0].Broken, b.Errors[0])
	same(t, "entries that can be read", len(b.Answers[0].Entries), 1)
	same(t, "key of a row that cannot be read", b.Answers[1].Key, "charge")
	same(t, "its fault", b.Answers[1].Broken, b.Errors[1])
}

// What lies on the season is silent when the season itself is the fault.
func TestWithoutSeason(t *testing.T) {
	b := assembled("```settings\ncurrency : USD\nseason : 2026-W33 to 2027-W32\nclosed : 2027-W10\n```\n" +
		"```lines\na over week : 1, 2, 3\nb over week : 1; 2 from 2027-W03\n```\n```pins\nb @ 2027-W03 : 3\nb @ 2027-03 : 3\n```\n")
	same(t, "faults", len(b.Errors), 1)
	same(t, "fault", b.Errors[0].Code, "bad-season")
	same(t, "a line that needs its weeks", b.Broken["a"], b.Errors[0])
	same(t, "one that does not", b.Line("b") != nil, true)
	same(t, "season", b.Settings.HasSeason, false)

	b = assembled("```settings\nseason :\ncurrency :\n```\n")
	same(t, "rows that reading refused", len(b.Errors), 2)
	for _, e := range b.Errors {
		same(t, "fault", e.Code, "missing-value")
	}
	// A book that reading refuses as a whole has that one fault.
	b = assembled(strings.Repeat("\n", syntax.MostLines+1))
	same(t, "faults", len(b.Errors), 1)
	same(t, "fault", b.Errors[0].Code, "too-large")
}

func TestErrorsStandByPlace(t *testing.T) {
	b := assembled(base + "```answers\nfoo : plants\n```\n```lines\na : 3 lbb/gall\nb : 3 +\n```\n```list crop\n  | a ftt | b ftt\nc | 1 | 2\n```\n")
	same(t, "faults", len(b.Errors), 5)
	for i, e := range b.Errors[1:] {
		if before := b.Errors[i]; before.Line > e.Line || before.Line == e.Line && before.Col > e.Col {
			t.Errorf("%v stands before %v", before.Place, e.Place)
		}
	}
}

// What a verb's option says is resolved as a row of the book is.
func TestOption(t *testing.T) {
	b := quailRun(t)
	option := func(address, values string) (Override, *syntax.Error) {
		t.Helper()
		place := syntax.Place{Line: 1, Col: 1, Len: 1}
		at, err := syntax.ParseAddress(address, place)
		if err != nil {
			t.Fatal(err)
		}
		v, err := syntax.ParseValues(values, place)
		if err != nil {
			t.Fatal(err)
		}
		return b.Override(&syntax.Override{Address: at, Values: v}, true)
	}
	o, err := option("planting.density@short_pepper", "2.5 (2..3)")
	if err != nil {
		t.Fatal(err)
	}
	piece(t, o.Input, 0, -1, "", 2.5, "plant/m2") // a bare number takes the column's unit
	o, err = option("harvest", "3")
	if err != nil {
		t.Fatal(err)
	}
	piece(t, o.Input, 0, -1, "", 3, "lb")
	if o, err = option("harvest", "3 kg"); err != nil {
		t.Fatal(err)
	}
	piece(t, o.Input, 0, -1, "", 3, "kg")
	if _, err = option("plain", "3 kg"); err != nil {
		t.Error(err)
	}
	for address, hint := range map[string]string{"harvests": "did you mean harvest?", "house.nihgt": "did you mean house.night?", "high@13": "", "price@2028-W01": ""} {
		_, err := option(address, "3")
		if err == nil || hint != "" && err.Hint != hint {
			t.Errorf("%s: %v", address, err)
		}
	}
	if n := len(b.Errors); n > 0 {
		t.Errorf("an option left %d faults in the book", n)
	}

	l, _ := syntax.ParseLiteral("15 degC", syntax.Place{Line: 1, Col: 1, Len: 7})
	v, fault := b.Literal(l, "air", nil)
	if fault != nil || v.Number != 15 || v.Unit.String() != "degC" || !v.Unit.Absolute {
		t.Errorf("15 degC is %+v, %v", v, fault)
	}
	l, _ = syntax.ParseLiteral("15", syntax.Place{Line: 1, Col: 1, Len: 2})
	if v, _ := b.Literal(l, "air", nil); v.Unit != b.Units.One() {
		t.Errorf("15 has the unit %s", v.Unit)
	}
	l, _ = syntax.ParseLiteral("15 degc", syntax.Place{Line: 1, Col: 1, Len: 7})
	if _, fault := b.Literal(l, "air", nil); fault == nil || fault.Code != "unknown-unit" || fault.Name != "air" {
		t.Errorf("15 degc: %v", fault)
	}
}
