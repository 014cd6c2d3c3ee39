package formula

import (
	"testing"

	"wintertruss/engine/array"
)

const farm = `
~~~list house
      | floor ft2
long  | 100
short | 50
~~~
~~~lines
price over week : 2 USD/lb
yield over house : 3, 4 lb/ft2
rent : 10 USD
harvest = yield * house.floor -> lb
sales = harvest * price -> USD
spent = sales - rent
sum_up = total(spent)
cash = earlier(cash, 0) + total(sales, house) -> USD level
untouched = rent * 2
cheap_sales = under("cheap", sales)
cheap_gain = sum_up - under("cheap", sum_up)
both_ways = under("cheap", under("half", sum_up)) + under("half", cheap_gain)
cheap_cash = under("cheap", earlier(cash, rent))
~~~
~~~scenario cheap
price : 1 USD/lb
yield @ short : 2 lb/ft2
~~~
~~~scenario half "Half the floor"
house.floor = base / 2
sales @ long, 2027-W02 = base + under("cheap", base_sales)
~~~
~~~lines
base_sales = at(only(sales, "short"), "2027-W01")
~~~
`

// Sales in the plan: long 300 lb, short 200 lb, at 2 USD: 600 and 400 a week.
func TestUnder(t *testing.T) {
	p := compiled(t, farm)
	check(t, p, `
		sum_up: 5880 USD | cash: 1000, 2000, 3000, 4000, 5000, 6000 USD over week |
		cheap_sales: 300, 300, 300, 300, 300, 300, 100, 100, 100, 100, 100, 100 USD over house, week |
		cheap_gain: 3600 USD | untouched: 20 USD |
		both_ways: 3680 USD | cheap_cash: 10, 400, 800, 1200, 1600, 2000 USD over week`)
	// With half the floor 500 a week, 100 more once, and 120 of rent: 2980; cheap gives
	// 2280. So both_ways is 2980 + (2980 - 2280).
	src := sourceOf(t, farm)
	src.Chosen = "half"
	p = Compile(src)
	p.Plain()
	check(t, p, `
		sales: 300, 400, 300, 300, 300, 300, 200, 200, 200, 200, 200, 200 USD over house, week |
		cheap_sales: 300, 300, 300, 300, 300, 300, 100, 100, 100, 100, 100, 100 USD over house, week`)
}

// A pin and --set hold under every scenario, and over what it says.
func TestPinsAndSets(t *testing.T) {
	text := farm + `
~~~pins
price @ 2027-W01 : 3 USD/lb
sales @ long, 2027-W03 : 7 USD
~~~
`
	src := sourceOf(t, text)
	m := map[string]int{}
	for i := range src.Lines {
		m[src.Lines[i].Name] = i
	}
	src.Overrides = append(src.Overrides, Override{Layer: BySet, Line: m["rent"], Place: src.Lines[m["rent"]].Place,
		Input: &Input{Type: Type{Kind: Quantity, Unit: src.Units.One(), Zero: true}, Plain: []float64{0}}})
	p := Compile(src)
	for _, e := range p.Errors {
		t.Error(e)
	}
	p.Plain()
	check(t, p, `
		sales: 900, 600, 7, 600, 600, 600, 600, 400, 400, 400, 400, 400 USD over house, week |
		spent: 900, 600, 7, 600, 600, 600, 600, 400, 400, 400, 400, 400 USD over house, week |
		cheap_sales: 900, 300, 7, 300, 300, 300, 300, 100, 100, 100, 100, 100 USD over house, week |
		untouched: 0 USD`)
}

// A pin on a line that records fill says nothing about closed weeks.
func TestPinLeavesClosedWeeks(t *testing.T) {
	src := sourceOf(t, "~~~settings\nas_of : 2027-01-20\n~~~\n"+farm+"~~~pins\nsales @ long : 7 USD\n~~~\n")
	src.Overrides[len(src.Overrides)-1].ForecastOnly = true
	p := Compile(src)
	p.Plain()
	check(t, p, `sales: 600, 600, 7, 7, 7, 7, 400, 400, 400, 400, 400, 400 USD over house, week`)
}

// What a scenario does not touch is not computed twice, and an input that two
// scenarios use is drawn once.
func TestScenariosShare(t *testing.T) {
	p := compiled(t, `
~~~lines
a : 1 kg (0..2)
b over each week : 2 (1..3)
c = a * b
d = c * 2
e = d + a
other = under("more", e) - e
~~~
~~~scenario more
a : 2 kg (1..4)
~~~
~~~scenario none
a = base * 2
~~~
`)
	tables, doubles := 0, 0
	for _, v := range p.vals {
		if v.op == vInput {
			tables++
		}
		if v.op == vElement && v.eop == array.Mul {
			doubles++
		}
	}
	if tables != 3 {
		t.Errorf("%d inputs, want a, b and the scenario's a", tables)
	}
	if doubles > 4 {
		t.Errorf("%d products, want c and d, twice each", doubles)
	}
}
