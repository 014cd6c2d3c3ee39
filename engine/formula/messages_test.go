package formula

import (
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"wintertruss/engine/syntax"
	"wintertruss/engine/unit"
)

// Every message, each with a book line that is wrong in that way. « and » stand
// around the part that the message points at; want is the message and its hint.
var faulty = []struct{ code, lines, want string }{
	{"unknown-name", `x = «prise» * 2`, "there is no line prise / did you mean price?"},
	{"unknown-function", `x = «totl»(weekly)`, "there is no function totl / did you mean total?"},
	{"bare-list", `x = «house» * 2`, "house is a list; a formula needs one of its columns / write house.column"},
	{"bare-list", `x = «picks» * 2`, "picks is a list; a formula needs one of its columns / write picks.column"},
	{"unknown-column", `x = «house.flor» * 2`, "house has no column flor / did you mean floor?"},
	{"not-a-number", `x = «price + yes_please»`, "+ needs numbers on both sides, not yes or no"},
	{"not-a-number", `x = -«yes_please»`, "- needs numbers on both sides, not yes or no"},
	{"quoted-text", `x = absolute(«"3"»)`, "quoted text has no meaning here / a number with its unit is written measure(\"15 degC\")"},
	{"not-a-number", `x = total(«planting.house»)`, "total needs numbers on both sides, not a word"},
	{"absolute-sum", `x = «house.night + house.night»`, "two temperatures cannot be added / their difference, or a mean by blend(a, b, share), has a meaning"},
	{"absolute-sum", `x = total(«house.night», week)`, "two temperatures cannot be added / their difference, or a mean by blend(a, b, share), has a meaning"},
	{"absolute-from", `x = «measure("9 K") - house.night»`, "a temperature cannot be taken from a difference / turn the two around"},
	{"absolute-plus", `x = «house.night + 5»`, "a plain number cannot be added to degF / a temperature takes a difference: measure(\"5 degF_diff\")"},
	{"absolute-product", `x = «house.night * 2»`, "degF is a point on a scale and cannot be multiplied or negated / take a difference of two temperatures first"},
	{"absolute-product", `x = -«house.night»`, "degF is a point on a scale and cannot be multiplied or negated / take a difference of two temperatures first"},
	{"date-sum", `x = «planting.sown + planting.sown»`, "a date + a date has no meaning / a date takes a time: measure(\"21 d\"); two dates have a difference"},
	{"units-differ", `x = «price + wage»`, "USD/lb and USD/h do not go together / both sides must measure the same thing"},
	{"units-differ", `x = «price > 5»`, "USD/lb and a plain number do not go together / both sides must measure the same thing"},
	{"units-differ", `x = larger_of(price, «wage»)`, "USD/lb and USD/h do not go together / both sides must measure the same thing"},
	{"unit-power", `x = «(wage ^ 4 * wage ^ 4) * (wage ^ 4 * wage ^ 4)»`, "the unit of this product has a power that is too high / powers from -12 to 12"},
	{"power-unit", `x = wage ^ «0.5»`, "a number with a unit takes a whole power written as a number, from -4 to 4 / (x) ^ 2"},
	{"plain-only", `x = exponential(«wage»)`, "exponential needs a plain number, not USD/h / divide by a line in the same unit first"},
	{"plain-only", `x = 2 ^ «wage»`, "a power needs a plain number, not USD/h / divide by a line in the same unit first"},
	{"not-a-square", `x = root(«wage»)`, "USD/h has no square root / the unit must be a square, such as m2"},
	{"not-yes-no", `x = not «price»`, "not needs yes or no, not USD/lb / compare something: x > 0"},
	{"not-yes-no", `x = yes_please and «2»`, "and needs yes or no, not a plain number / compare something: x > 0"},
	{"not-yes-no", `x = «weekly» ? 1 : 2`, "a choice needs yes or no, not kg / compare something: x > 0"},
	{"not-yes-no", `x = odds(«price»)`, "odds needs yes or no, not USD/lb / compare something: x > 0"},
	{"branches-differ", `x = «yes_please ? price : wage»`, "the two branches do not go together: USD/lb and USD/h"},
	{"cannot-compare", `x = «planting.house == yes_please»`, "a word cannot be compared with yes or no"},
	{"cannot-compare", `x = «planting.house < planting.house»`, "a word cannot be compared with a word"},
	{"arguments", `x = «clamp(price, 0)»`, "clamp takes a number, the least and the most, not 2"},
	{"arguments", `x = «backwards()»`, "backwards takes 1 argument, not 0 / backwards(x)"},
	{"argument-unit", `x = per_floor(house, «wage»)`, "per_floor wants paid in USD, but gets USD/h"},
	{"argument-kind", `x = per_floor(house, «yes_please»)`, "per_floor wants paid as a number, but gets yes or no"},
	{"argument-member", `x = of_kind(«planting.house»)`, "of_kind wants a kind as what, but gets members of the list house / take a column of kinds that stands in that list, such as house.kind"},
	{"argument-list", `x = per_floor(«price», bill)`, "per_floor wants the name of a list as where / a list's name alone, without a column"},
	{"argument-text", `x = only(weekly, «price»)`, "only wants quoted text as the member / \"long_tomato\""},
	{"argument-text", `x = ask(«price», yes_please)`, "ask wants quoted text as what / the fruit"},
	{"argument-axis", `x = rank(house, bill) + per_house(house, «weekly»)`, "per_house wants one value of x for the whole week, but it changes along it / take a mean, or one week of it with at(x, \"2027-W12\")"},
	{"argument-records", `x = sum_by_week(«weekly»)`, "sum_by_week wants a column of records as x / such as picks.weight"},
	{"mixed-records", `x = both_weeks(picks.weight, «bought.paid»)`, "both_weeks gets columns of different records / all of them must be of one kind of record"},
	{"list-column", `x = «per_floor(planting, bill)»`, "per_floor reads the column floor of the list, and planting has none / add the column floor to the list planting"},
	{"column-unit", `x = «by_height(house)»`, "by_height reads house.floor in m, but it is ft2"},
	{"column-unit", `x = «by_cover(planting)»`, "by_cover reads planting.sown in numbers, but it is a date"},
	{"column-refers", `x = «grown(house, bill)»`, "grown needs the column cover to name members of a list / name the column after the list, or write cover -> list in the header"},
	{"no-such-axis", `x = total(weekly, «house»)`, "this has no axis house / it has week"},
	{"no-axes", `x = total(«price»)`, "there is nothing to put together: this is one value"},
	{"axis-name", `x = total(weekly, «2»)`, "total wants the name of an axis here / week, month, or a list"},
	{"unknown-member", `x = only(house.floor, «"lng"»)`, "no member lng here / did you mean long?"},
	{"unknown-member", `x = is(planting.house, «"lung"»)`, "no member lung here / did you mean long?"},
	{"ambiguous-member", `x = only(house.floor * twin.size, «"long"»)`, "long is a member of more than one of its lists"},
	{"no-such-week", `x = at(weekly, «"2027-W30"»)`, "2027-W30 is not a week of the season / the season runs 2027-W01 .. 2027-W06"},
	{"no-such-week", `x = at(weekly, «"soon"»)`, "soon is not a week of the season / the season runs 2027-W01 .. 2027-W06"},
	{"not-weekly", `x = earlier(«price», 0)`, "earlier needs a weekly line"},
	{"weeks-number", `x = weeks_before(weekly, «1.5»)`, "weeks_before wants a whole number of weeks, written as a number from 0 to 260"},
	{"unknown-scenario", `x = under(«"chep"», price)`, "there is no scenario chep / did you mean cheap?"},
	{"not-a-reference", `x = via(«house.floor», house.floor)`, "via wants a column that names members of a list, not ft2 / such as planting.house"},
	{"via-axis", `x = via(planting.house, «weekly»)`, "this is not over house, which the column refers to"},
	{"group-axis", `x = grouped(«weekly», planting.house)`, "this is not over the list that the column stands in"},
	{"line-unit", `x = «price * wage» -> USD`, "the line is in USD, but its formula gives USD2/lb/h / -> USD2/lb/h"},
	{"line-no-unit", `x = «price > price» -> USD`, "the formula gives yes or no, which has no unit / leave out -> USD"},
	{"line-records", `x = «picks.weight * 2»`, "this still has a value for every row of picks / put the rows together with week_sum, week_mean or week_last"},
	{"loop", "x = 2 * «y»\ny = x + z\nz = x - 1", "these lines need each other in the same week: x -> y -> x / read one of them a week earlier: earlier(line, start)"},
	{"loop-unit", "«x» = earlier(x, 0) + weekly", "x leans on its own earlier weeks, so its unit must be written / = ... -> unit"},
	{"loop-earlier", "x = earlier(«x * 2», 0) + weekly -> kg", "in a loop, earlier takes a line by its name / make this a line of its own"},
	{"loop-reach", "x = earlier(x, 0) + «total(y)» -> kg\ny = earlier(x, 0) -> kg", "total looks at other weeks of a line that is still being computed / inside a loop only earlier may do that"},
	{"loop-reach", "x = earlier(x, 0) + «first_of(y)» -> kg\ny = earlier(x, 0) -> kg", "first_of looks at other weeks of a line that is still being computed / inside a loop only earlier may do that"},
	{"waits", "x = 2 * «y»\ny = prise", "waits for y"},
	{"literal", `x = measure(«"fast"»)`, "\"fast\" is no number / write it with its unit: measure(\"15 degC\")"},
	{"base", `x = «base» * 2`, "base has a meaning only in a scenario"},
	{"override-axes", "~~~\n~~~scenario s\n«price» = weekly * price / weekly\n~~~\n~~~lines", "this changes along week, and price does not"},
	{"override-where", "~~~\n~~~pins\n«price» @ long : 3 USD/lb\n~~~\n~~~lines", "price has no cells of its own along house / leave out what follows @"},
	{"override-unit", "~~~\n~~~scenario s\n«price» = wage\n~~~\n~~~lines", "price is USD/lb, but this is USD/h"},
	{"override-unit", "~~~\n~~~scenario s\n«yes_please» = price\n~~~\n~~~lines", "yes_please is yes or no, but this is USD/lb"},
	{"too-large", `x = «big.n * big_twin.n»`, "this would have 4,410,000 cells; the most is 4,000,000 / fewer axes at once"},
	{"too-large", `x = «pairs(big, big_twin.n)»`, "this would have 4,410,000 cells; the most is 4,000,000 / fewer axes at once"},
	{"empty-axis", `x = «rank(nobody, bill)»`, "nobody has no members"},
}

func faultyBook(lines string) string {
	big := func(name string) string {
		var s strings.Builder
		s.WriteString("~~~list " + name + "\n | n\n")
		for i := range 2100 {
			s.WriteString(fmt.Sprintf("m%d | 1\n", i))
		}
		return s.String() + "~~~\n"
	}
	extra := ""
	if strings.Contains(lines, "big") {
		extra = big("big") + big("big_twin")
	}
	return lists + extra + `
~~~list twin
     | size
long | 2
~~~
~~~list nobody
     | size
~~~
~~~records picks
date       | planting | weight lb
2027-01-04 | early    | 2
~~~
~~~records bought
date       | paid USD
2027-01-04 | 2
~~~
~~~scenario cheap
price : 1 USD/lb
~~~
~~~lines
price : 2 USD/lb
wage : 15 USD/h
bill : 100 USD
weekly over week : 3 kg
yes_please : yes
` + lines + "\n~~~\n"
}

func TestMessages(t *testing.T) {
	functions := kernels()
	for _, f := range []Function{
		{Name: "per_house", Params: []Param{{Name: "where", Takes: ListName}, {Name: "x"}},
			Kernel: &Kernel{Name: "per_house", Results: []Result{{Unit: "1", Whole: []string{"week"}}}, Run: func(*Call) {}}},
		{Name: "both_weeks", Params: []Param{{Name: "x", Whole: []string{"records"}}, {Name: "y", Whole: []string{"records"}}},
			Kernel: &Kernel{Name: "both_weeks", Results: []Result{{Unit: "1"}}, Run: func(*Call) {}}},
		{Name: "by_height", Params: []Param{{Name: "where", Takes: ListName}},
			Kernel: &Kernel{Name: "by_height", Columns: []Column{{Name: "floor", Unit: "m"}}, Results: []Result{{Unit: "1"}}, Run: func(*Call) {}}},
		{Name: "by_cover", Params: []Param{{Name: "where", Takes: ListName}},
			Kernel: &Kernel{Name: "by_cover", Columns: []Column{{Name: "sown", Unit: "1"}}, Results: []Result{{Unit: "1"}}, Run: func(*Call) {}}},
		{Name: "grown", Params: []Param{{Name: "where", Takes: ListName}, {Name: "x", Whole: []string{"via cover"}}},
			Kernel: &Kernel{Name: "grown", Results: []Result{{Unit: "1"}}, Run: func(*Call) {}}},
		{Name: "of_kind", Params: []Param{{Name: "what", Takes: Words}},
			Kernel: &Kernel{Name: "of_kind", Results: []Result{{Unit: "1"}}, Run: func(*Call) {}}},
		{Name: "pairs", Params: []Param{{Name: "where", Takes: ListName}, {Name: "x"}},
			Kernel: &Kernel{Name: "pairs", Results: []Result{{Unit: "1", Whole: []string{"list"}}}, Run: func(*Call) {}}},
	} {
		functions[f.Name] = &f
	}
	functions["ask"].Params[0].Says = "the fruit"
	said := map[string]bool{}
	for _, c := range faulty {
		said[c.code] = true
		book := faultyBook(c.lines)
		before, rest, _ := strings.Cut(book, "«")
		marked, _, _ := strings.Cut(rest, "»")
		at := syntax.Place{Line: 1 + strings.Count(before, "\n"), Col: 1 + len([]rune(before[strings.LastIndex(before, "\n")+1:])), Len: len([]rune(marked))}
		src := sourceOf(t, strings.NewReplacer("«", "", "»", "").Replace(book))
		src.Functions = functions
		literal := src.Literal
		src.Literal = func(text string) (float64, *unit.Unit, *syntax.Error) {
			if text == "fast" {
				return 0, nil, &syntax.Error{Message: `"fast" is no number`, Hint: `write it with its unit: measure("15 degC")`}
			}
			return literal(text)
		}
		p := Compile(src)
		found := p.Others
		for _, e := range p.Errors {
			found = append(found, e)
		}
		ok := false
		for _, e := range found {
			got := e.Message
			if e.Hint != "" {
				got += " / " + e.Hint
			}
			if e.Code == c.code && e.Place == at && got == c.want {
				ok = true
			}
		}
		if !ok {
			t.Errorf("%s: %s\nwant at %v: %s", c.code, c.lines, at, c.want)
			for _, e := range found {
				t.Logf("  got %s at %v: %s / %s", e.Code, e.Place, e.Message, e.Hint)
			}
		}
		if len(found) > 3 {
			t.Errorf("%s: %d errors", c.lines, len(found))
		}
	}
	text, err := os.ReadFile("messages.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`= msg\{"([a-z-]+)"`).FindAllStringSubmatch(string(text), -1) {
		if !said[m[1]] && m[1] != msgBookTooLarge.code { // that is in limits_test.go
			t.Errorf("no example of %s", m[1])
		}
	}
}
