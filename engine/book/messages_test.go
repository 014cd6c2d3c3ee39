package book

import (
	"strings"
	"testing"
	"unicode/utf8"

	"wintertruss/engine/syntax"
	"wintertruss/engine/week"
)

// base is a book without a fault, to which each case below adds one.
const base = "# Quail Run\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\n```\n" +
	"```list house\n     | label      | floor ft2 | night over week degF\nlong | Long house | 2880      | 62; 64 from 2027-W09\nshort| Short house| 2160      | 64\n```\n" +
	"```lines\nprice over week : 3.50 USD/lb\nset_share : 80 % (68..88)\nshift over each house : 0 +- 2 K\nplants = house.floor * 2\n```\n"

// faults holds an example of each message. The stretch between « and » is where
// the fault is; a case is added to base unless it begins with "only:".
var faults = []struct{ code, text, says, hint string }{
	{"unknown-setting", "```settings\n«sesion» : 3\n```", "there is no setting called sesion", "did you mean season?"},
	{"unknown-setting", "```settings\n«orchard» : 3\n```", "there is no setting called orchard", "settings are title, season, currency, latitude, elevation, things, as_of, closed, draws, seed, years"},
	{"repeated-key", "```settings\n«currency» : EUR\n```", "currency is given twice; the first stands on line 4", ""},
	{"repeated-key", "```answers\npays : price\n«pays» : price\n```", "pays is given twice; the first stands on line 18", ""},
	{"repeated-key", "```chart \"Two\"\nkind : fan\n«kind» : fan\nlines : plants\n```", "kind is given twice; the first stands on line 18", ""},
	{"missing-season", "only:```«settings»\ncurrency : USD\n```", "the book does not say its season, so nothing can go over week", "in a settings block: season : 2026-W33 .. 2027-W32"},
	{"missing-season", "only:«#» Words\n```lines\na : 3\n```", "", ""},
	{"bad-season", "only:```settings\ncurrency : USD\nseason : «2027-W32 .. 2026-W33»\n```", "the season ends (2026-W33) before it begins (2027-W32)", ""},
	{"bad-season", "only:```settings\ncurrency : USD\nseason : «2026-W33 .. 2031-W33»\n```", "the season from 2026-W33 to 2031-W33 has 262 weeks; the most is 260", ""},
	{"bad-season", "only:```settings\ncurrency : USD\nseason : «2026-W33»\n```", "a season runs from one week to another, with .. between", ""},
	{"bad-season", "only:```settings\ncurrency : USD\nseason : «2025-W53 .. 2026-W33»\n```", "\"2025-W53\": there is no week 53, the last week of 2025 is 2025-W52", ""},
	{"missing-currency", "only:```«settings»\nseason : 2026-W33 .. 2027-W32\n```", "the book does not say its money", "in a settings block: currency : USD"},
	{"unknown-currency", "only:```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : «USDD»\n```", "USDD is no money code of ISO 4217", "did you mean USD?"},
	{"unknown-currency", "only:```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : «BTU»\n```", "BTU is no money code of ISO 4217", "*"},
	{"unknown-currency", "only:```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : «kg»\n```", "kg is no money code of ISO 4217", "*"},
	{"outside-limits", "```settings\nlatitude : «91 deg»\n```", "latitude lies from -90 deg to 90 deg, not at 91 deg", ""},
	{"outside-limits", "```settings\nelevation : «90000 ft»\n```", "elevation lies from -10000 m to 10000 m, not at 90000 ft", ""},
	{"different-unit", "```settings\nlatitude : «42 ft»\n```", "", ""},
	{"missing-unit", "```settings\nelevation : «900»\n```", "900 has no unit here, and m is wanted", "write 900 m"},
	{"wrong-kind", "```settings\nelevation : «high»\n```", "high is a word, and a number is wanted", ""},
	{"no-range", "```settings\nlatitude : «42 deg (41..43)»\n```", "42 deg (41..43) has a range; a book has one latitude", "write one value"},
	{"bad-number", "```settings\nlatitude : «-deg»\n```", "", "*"},
	{"bad-count", "```settings\ndraws : «0»\n```", "draws is a whole number from 1 to 1000000, not 0", "for example: draws : 1024"},
	{"bad-count", "```settings\ndraws : «1e3»\n```", "", ""},
	{"bad-count", "```settings\nseed : «-1»\n```", "seed is a whole number from 0 to 18446744073709551615, not -1", ""},
	{"bad-count", "```settings\nyears : «31»\n```", "years is a whole number from 1 to 30, not 31", ""},
	{"bad-thing", "```settings\nthings : sachet, «Crate9»\n```", "", ""},
	{"bad-thing", "```settings\nthings : «lb», sachet\n```", "", ""},
	{"most-things", "```settings\nthings : «" + strings.TrimSuffix(strings.Repeat("sachet, ", 101), ", ") + "»\n```", "101 things are more than a book can add; the most is 100", ""},
	{"no-such-day", "```settings\nas_of : «2027-02-29»\n```", "\"2027-02-29\": there is no day 29, 2027-02 has 28 days", ""},
	{"no-such-week", "```settings\nclosed : 2027-W10, «2027-W53»\n```", "\"2027-W53\": there is no week 53, the last week of 2027 is 2027-W52", ""},
	{"outside-season", "```settings\nclosed : «2028-W10», 2027-W10\n```", "2028-W10 lies outside the season, 2026-W33 to 2027-W32", ""},

	{"taken-name", "```«list week»\n  | a\nb | 1\n```", "week has a meaning of its own in every book, so it cannot name a list", ""},
	{"taken-name", "```lines\n«week_days» : 5 d\n```", "week_days has a meaning of its own in every book, so it cannot name a line", ""},
	{"taken-name", "```lines\n«base» : 5 d\n```", "", ""},
	{"taken-name", "```«records month»\ndate | a\n```", "month has a meaning of its own in every book, so it cannot name a kind of records", ""},
	{"duplicate-name", "```lines\n«price» = plants * 2\n```", "price already names a line, on line 12", ""},
	{"duplicate-name", "```lines\n«house» : 3\n```", "house already names a list, on line 6", ""},
	{"duplicate-name", "```«list house»\n  | a\nb | 1\n```", "house already names a list, on line 6", ""},
	{"duplicate-name", "```records picks\ndate | weight lb\n```\n```«records picks»\ndate | weight lb\n```", "picks already names a kind of records, on line 17", ""},
	{"duplicate-name", "```scenario late\n```\n```«scenario late»\n```", "late already names a scenario, on line 17", ""},
	{"duplicate-member", "```list crop\n       | price USD\ntomato | 1\n«tomato» | 2\n```", "tomato is a member already, on line 19", ""},
	{"unknown-name", "```pins\n«prise» : 3 USD/lb\n```", "there is no line and no column called prise", "did you mean price?"},
	{"unknown-name", "```scenario late\n«house.flor» : 3 ft2\n```", "there is no line and no column called house.flor", "did you mean house.floor?"},
	{"unknown-name", "```observe\n«plant» ~ plants +- 6 %\n```", "there is no line and no column called plant", "did you mean plants?"},
	{"unknown-name", "```links\nset_share, «orchard» : 0.5\n```", "", "write the name of a line, or list.column"},
	{"unknown-name", "```chart \"A\"\nkind : fan\nlines : plants, «plonts»\n```", "", "did you mean plants?"},

	{"no-such-number", "It costs {«prise»}.", "the text shows the number of prise, and there is no line and no column called so", "did you mean price?"},
	{"no-such-number", "We picked {«orchard»}.", "", "braces around a name show its number; a backslash before them leaves them braces"},
	{"axis-not-in-line", "It is {price @ «long»}.", "", "*"},

	{"empty-list", "```«list crop»\n  | a\n```", "the list has no members, so nothing can go over it", ""},
	{"unknown-list", "```list crop\n  | «home» -> hause\nb | long\n```", "there is no list called hause", "did you mean house?"},
	{"unit-of-reference", "```list crop\n  | house «ft»\nb | long\n```", "the column holds members of the list house, so it has no unit ft", ""},
	{"unknown-list", "```records picks\ndate | «home» -> hause\n```", "there is no list called hause", "did you mean house?"},
	{"records-over-week", "```records picks\ndate | «weight» over week lb\n```", "records have a day each, so no column of theirs goes over week", ""},

	{"unknown-unit", "```lines\na : 3 USD/«gallen»\n```", "there is no unit called gallen", "did you mean gal?"},
	{"unknown-unit", "```lines\na = price -> «wheelbarrow»\n```", "there is no unit called wheelbarrow", "a thing that is counted is named under things in the settings"},
	{"unknown-unit", "```list crop\n  | size «metre»\nb | 3\n```", "there is no unit called metre", "did you mean m?"},
	{"unknown-unit", "```records picks\ndate | weight «kgg»\n```", "there is no unit called kgg", "*"},
	{"unknown-unit", "```list crop\n  | size\nb | 0\nc | 3 «lbb»\n```", "there is no unit called lbb", "did you mean lb?"},
	{"bad-season", "only:```settings\ncurrency : USD\nseason : «2026-W33 .. 2027-08»\n```", "", ""},
	{"unknown-member", "```list bed\n  | a\n" + "b1|1\nb2|1\nb3|1\nb4|1\nb5|1\nb6|1\nb7|1\nb8|1\nb9|1\n```\n```list crop\n  | bed\nb | «orchard»\n```", "", "its members are b1, b2, b3, b4, b5, b6, b7, b8, ..."},
	{"bad-unit", "```lines\na : 3 «m99»\n```", "", ""},
	{"different-unit", "```lines\na over week : 3 USD/lb; «4 ft» from 2027-W01\n```", "", "write the value in USD/lb"},
	{"different-unit", "```list crop\n  | size ft\nb | «3 lb»\n```", "", "write the value in ft"},
	{"different-unit", "```list crop\n  | cold degF\nb | «3 degF_diff»\n```", "", ""},
	{"different-unit", "```pins\nprice : «3 USD/gal»\n```", "", "write the value in USD/lb"},
	{"different-unit", "```records picks\ndate | weight lb\n2027-03-08 | «3 ft»\n```", "", ""},
	{"missing-unit", "```scenario late\nprice : «3»\n```", "3 has no unit here, and USD/lb is wanted", "write 3 USD/lb"},
	{"missing-unit", "```scenario late\nhouse.night : «0»\n```", "0 has no unit here, and degF is wanted", "write 0 degF"},
	{"missing-unit", "```list crop\n  | size\nb | 3 ft\nc | «4»\n```", "4 has no unit here, and ft is wanted", ""},
	{"missing-unit", "```lines\na over week : «3»; 4 ft from 2027-W01\n```", "3 has no unit here, and ft is wanted", ""},
	{"no-unit-wanted", "```lines\na : 3\n```\n```scenario late\na : «3 lb»\n```", "3 lb has a unit, and a plain number is wanted", ""},
	{"wrong-kind", "```list crop\n  | sown\nb | 2026-10-12\nc | «3»\n```", "3 is a number, and a day is wanted", ""},
	{"wrong-kind", "```list crop\n  | size ft\nb | «large»\n```", "large is a word, and a number is wanted", ""},
	{"wrong-kind", "```scenario late\nset_share : «yes»\n```", "yes is yes or no, and a number is wanted", ""},
	{"unknown-member", "```list crop\n  | house\nb | «lung»\n```", "lung is no member of the list house", "did you mean long?"},
	{"unknown-member", "```list crop\n  | home -> house\nb | «3»\n```", "3 is no member of the list house", "its members are long, short"},
	{"unknown-member", "```records picks\ndate | house | weight lb\n2027-03-08 | «longg» | 3\n```", "longg is no member of the list house", "did you mean long?"},
	{"no-such-day", "```lines\na : «2027-02-30»\n```", "", ""},
	{"no-such-day", "```records picks\ndate | weight lb\n«2027-04-31» | 3\n```", "", ""},
	{"no-such-week", "```lines\na : «2027-W53»\n```", "", ""},
	{"no-such-week", "```lines\na over week : 3; 4 from «2027-W53»\n```", "", ""},
	{"no-such-week", "```pins\nprice @ «2027-W53» : 3 USD/lb\n```", "", ""},
	{"no-range", "```pins\nprice : «3 USD/lb (2..4)»\n```", "a pin has a range; it is one value in every draw", ""},
	{"no-range", "```pins\nset_share : «even(70..80) %»\n```", "", ""},
	{"no-range", "```records picks\ndate | weight lb\n2027-03-08 | «3 (2..4)»\n```", "3 (2..4) has a range; a record says what was counted", ""},
	{"schedule-without-week", "```lines\na over house : 3; «4» from 2027-W01\n```", "", ""},
	{"schedule-without-week", "```list crop\n  | price USD\nb | 3; «4» from 2027-W01\n```", "", ""},
	{"schedule-without-week", "```records picks\ndate | weight lb\n2027-03-08 | 3; «4» from 2027-W01\n```", "", ""},
	{"schedule-without-week", "```scenario late\nset_share : 70 %; «60 %» from 2027-W01\n```", "", ""},
	{"schedule-without-week", "```scenario late\nprice @ 2027-W10 : 3 USD/lb; «4 USD/lb» from 2027-W01\n```", "", ""},
	{"wrong-count", "```lines\na over house : «1, 2, 3»\n```", "house has 2 members, and here are 3 values", ""},
	{"wrong-count", "```lines\na over month_of_year : «1, 2, 3 degF»\n```", "month_of_year has 12 members, and here are 3 values", ""},
	{"wrong-count", "```lines\na over year_ahead : «1, 2, 3»\n```", "year_ahead has 5 members, and here are 3 values", ""},
	{"wrong-count", "```lines\na over month : «1, 2, 3»\n```", "month has 13 members, and here are 3 values", ""},
	{"wrong-count", "```lines\na over week : «1, 2, 3»\n```", "week has 53 members, and here are 3 values", ""},
	{"wrong-count", "```list crop\n  | a\nb | 1\n```\n```lines\na over crop : «1, 2»\n```", "crop has 1 member, and here are 2 values", ""},
	{"commas-need-one-axis", "```lines\na over house, month_of_year : «1, 2»\n```", "it is not clear which axis these 2 values go along", ""},
	{"commas-need-one-axis", "```scenario late\nset_share : «1, 2 %»\n```", "", ""},
	{"commas-need-one-axis", "```pins\nplants : «1, 2 ft2»\n```", "", ""},

	{"unknown-axis", "```lines\na over «hause» : 3\n```", "there is no list and no other axis called hause", "did you mean house?"},
	{"unknown-axis", "```lines\na over «orchard» : 3\n```", "", "beside the lists there are week, month, month_of_year and year_ahead"},
	{"unknown-axis", "```chart \"A\"\nkind : fan\nlines : plants\nsplit : «houses»\n```", "", "did you mean house?"},
	{"repeated-axis", "```lines\na over house, «house» : 3\n```", "house stands twice after over", ""},
	{"keeps-without-week", "```lines\na over each «house» keeps 60 % : 3 +- 1\n```", "only a week keeps a share of the one before it, not house", ""},

	{"records-stand", "```records picks\ndate | weight lb\n```\n```pins\n«picks.weight» : 3 lb\n```", "records cannot be overridden: picks says what was counted", ""},
	{"unknown-place", "```pins\nshift @ «lang» : 3 K\n```", "lang is no member of what shift goes over", "did you mean long?"},
	{"unknown-place", "```pins\nplants @ «orchard», long : 3 ft2\n```", "", "after @ stand members and weeks"},
	{"outside-season", "```pins\nprice @ «2027-W40» : 3 USD/lb\n```", "2027-W40 lies outside the season, 2026-W33 to 2027-W32", ""},
	{"outside-season", "```lines\na over month : 3\n```\n```pins\na @ «2027-12» : 3\n```", "2027-12 lies outside the season, 2026-W33 to 2027-W32", ""},
	{"axis-not-in-line", "```pins\nprice @ «long», 2027-W10 : 3 USD/lb\n```", "long is a cell of house, and price does not go over house", "take long out"},
	{"axis-not-in-line", "```pins\nset_share @ «2027-W10» : 3 %\n```", "2027-W10 is a cell of week, and set_share does not go over week", ""},
	{"axis-not-in-line", "```pins\nprice @ «12» : 3 USD/lb\n```", "12 is a cell of month_of_year, and price does not go over month_of_year", ""},
	{"repeated-place", "```pins\nshift @ long, «short» : 3 K\n```", "short is a second cell of house", ""},
	{"repeated-place", "```pins\nplants @ long, «short» : 3 ft2\n```", "", ""},
	{"repeated-override", "```pins\nhouse.night @ long, 2027-W10 : 60 degF\n«house.night» @ 2027-W10, long : 61 degF\n```", "the same cells of house.night are overridden on line 18", ""},
	{"not-a-line", "```observe\n«house.floor» ~ plants +- 6 %\n```", "house.floor is a list's column; only a line is observed", ""},

	{"link-not-input", "```links\n«plants», set_share : 0.5\n```", "plants is computed; only input lines are linked", ""},
	{"link-not-input", "```links\nset_share, «house.floor» : 0.5\n```", "house.floor is a list's column; only input lines are linked", ""},
	{"link-without-range", "```links\nset_share, «price» : 0.5\n```", "price has no range, so there is nothing to move together", ""},
	{"link-to-itself", "```links\nset_share, «set_share» : 0.5\n```", "set_share always moves with itself", ""},
	{"repeated-link", "```links\nset_share, shift : 0.5\n«shift», set_share : 0.4\n```", "shift and set_share are linked already, on line 18", ""},

	{"unknown-answer", "```answers\n«payss» : plants\n```", "there is no answer called payss", "did you mean pays?"},
	{"unknown-answer", "```answers\n«orchard» : plants\n```", "", "answers are pays, charge, carries"},
	{"unknown-unit", "```answers\npays : plants > 3 «lbb»\n```", "there is no unit called lbb", "*"},
	{"unknown-unit", "```cautions\nplants > 3 «lbb» : \"few\"\n```", "", "*"},
	{"unknown-chart-key", "```chart \"A\"\nkind : fan\nlines : plants\n«colour» : 3\n```", "a chart has nothing called colour", "a chart says kind, lines, split"},
	{"unknown-chart-kind", "```chart \"A\"\nkind : «fam»\nlines : plants\n```", "there is no chart of the kind fam", "did you mean fan?"},
	{"missing-chart-key", "```«chart \"A\"»\nlines : plants\n```", "the chart does not say its kind", "write: kind : fan"},
	{"missing-chart-key", "```«chart \"A\"»\nkind : fan\n```", "the chart does not say its lines", ""},
}

// today is the day the tests' books stand at where they do not say it.
var today = mustDay("2027-03-10")

func mustDay(s string) week.Day {
	d, err := week.ParseDay(s)
	if err != nil {
		panic(err)
	}
	return d
}

func assembled(text string) *Book {
	return Assemble(syntax.Read("book.md", []byte(text)), today)
}

// marked takes the marks out of a text and says where they stood; the place is
// zero without marks.
func marked(text string) (string, syntax.Place) {
	before, rest, _ := strings.Cut(text, "«")
	inside, after, ok := strings.Cut(rest, "»")
	if !ok {
		return text, syntax.Place{}
	}
	line := 1 + strings.Count(before, "\n")
	col := 1 + utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:])
	return before + inside + after, syntax.Place{Line: line, Col: col, Len: utf8.RuneCountInString(inside)}
}

func TestFaults(t *testing.T) {
	if b := assembled(base); len(b.Errors) > 0 {
		t.Fatalf("the book that the cases are added to has a fault: %+v", *b.Errors[0])
	}
	shown := map[string]bool{}
	for _, c := range faults {
		shown[c.code] = true
		written, alone := strings.CutPrefix(c.text, "only:")
		if !alone {
			written = base + written + "\n"
		}
		text, place := marked(written)
		b := assembled(text)
		var found *syntax.Error
		for _, e := range b.Errors {
			if e.Code == c.code && e.Place == place {
				found = e
			}
		}
		switch {
		case found == nil:
			t.Errorf("%s at %v was not found in\n%s\nbut", c.code, place, c.text)
			for _, e := range b.Errors {
				t.Logf("    %+v", *e)
			}
			continue
		case len(b.Errors) > 1 && !alone:
			t.Errorf("%s: one fault is said %d times in\n%s: %v", c.code, len(b.Errors), c.text, b.Errors)
		case c.says != "" && found.Message != c.says:
			t.Errorf("%s says %q, want %q", c.code, found.Message, c.says)
		case c.hint != "" && c.hint != "*" && found.Hint != c.hint:
			t.Errorf("%s hints %q, want %q", c.code, found.Hint, c.hint)
		case found.Name == "" || found.Hint == "" || found.Message == "" || strings.Contains(found.Message+found.Hint, "{"):
			t.Errorf("%s is not whole: %+v", c.code, *found)
		}
	}
	for _, m := range messages {
		if !shown[m.code] && m != unread {
			t.Errorf("the message %s has no example", m.code)
		}
	}
	codes := map[string]bool{}
	for _, m := range messages {
		if codes[m.code] {
			t.Errorf("two messages have the code %s", m.code)
		}
		codes[m.code] = true
	}
}

// A row without an item has a fault even when reading forgot to give one.
func TestUnread(t *testing.T) {
	for _, kind := range []string{"settings", "list", "records", "lines", "scenario", "pins", "observe", "links", "cautions", "chart", "answers"} {
		block := &syntax.Block{Kind: kind, Name: "a", Title: "A", Place: syntax.Place{Line: 1, Col: 4, Len: 4}}
		b := Assemble(&syntax.Document{Parts: []*syntax.Part{
			{Kind: syntax.Fence, Block: block, Text: "```\n", Line: 1},
			{Kind: syntax.Item, Block: block, Text: "?\n", Line: 2}}}, today)
		found := false
		for _, e := range b.Errors {
			found = found || e.Code == unread.code && e.Place == syntax.Place{Line: 2, Col: 1, Len: 1}
		}
		if !found {
			t.Errorf("%s: the row without an item has no fault: %v", kind, b.Errors)
		}
	}
}
