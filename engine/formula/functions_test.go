package formula

import (
	"context"
	"strings"
	"testing"

	"wintertruss/engine/array"
)

// lists stands above the lines of most tests here. Nothing refers to the house
// spare, and one planting has no house yet.
const lists = `
~~~list house
      | floor ft2 | cover       | night over week degF
long  | 2880      | double_poly | 62; 64 from 2027-W03
short | 2160      | glass       | 60
spare | 900       | glass       |
~~~
~~~list planting
       | house | density plant/m2 | sown       | after -> planting
early  | long  | 2.5              | 2026-10-12 |
late   | short | 2                | 2026-11-09 | early
herbs  | short | 30               |            | late
seeds  |       | 5                | 2027-01-04 |
~~~
~~~list crew
      | house over week
first | long; short from 2027-W03
other | short
~~~
`

// Every value here can be checked by head. A check is "line: cells unit over axes";
// what is wrong with a cell stands in its place.
func TestFunctions(t *testing.T) {
	for _, c := range []struct{ name, lines, want string }{
		{"sums, products and their units", `
			a : 3 ft
			b : 12 in
			c : 2 lb
			d : 2 USD/kg
			e = a + b
			f = b + a
			g = a * b -> ft2
			h = c * d
			i = c * d -> USD
			j = a / b
			k = a / 2 - 1 / 2 * a
			l = a * a * b
			m = -a`,
			`e: 4 ft | f: 48 in | g: 3 ft2 | h: 1.81436948 USD | i: 1.81436948 USD | j: 3 | k: 0 ft | l: 9 ft3 | m: -3 ft`},
		{"zero fits every unit", `
			a : 3 ft
			b = larger_of(0, a) + 0
			c = 0 - a
			d = smaller_of(0, 0, a)
			e = clamp(0, 0, a)
			f = a > 0
			g = a < 0 ? 0 : a
			h = a > 0 ? 0 : a -> in
			i = 0 -> kg
			j = clamp(a, 0, 2 * a) -> in`,
			`b: 3 ft | c: -3 ft | d: 0 ft | e: 0 ft | f: 1 | g: 3 ft | h: 0 in | i: 0 kg | j: 36 in`},
		{"per cent is a hundredth", `
			share : 25 %
			whole : 80 kg
			part = share * whole
			rest = 1 - share
			more = share + 1
			half = share * share
			shown = part / whole -> %
			root_share = root(share)
			square = share ^ 2 -> 1
			twice = exponential(logarithm(2) * share * 4)`,
			`part: 20 kg | rest: 0.75 | more: 125 % | half: 6.25 % | shown: 25 % | root_share: 0.5 | square: 0.0625 | twice: 2`},
		{"temperatures are points on a scale", `
			night : 50 degF
			day : 20 degC
			lift : 9 degF_diff
			warmer = night + lift -> degC
			other = lift + night
			colder = night - lift
			gap = day - night
			back = night - day -> degF_diff
			mid = blend(night, day, 0.5)
			average = mean_over(house.night, week)
			most = largest(house.night)
			warm = day > night
			lower = smaller_of(day, night)
			choice = warm ? night : day
			loss : 2 BTU/h/ft2/degF
			heat = loss * gap -> W/m2`,
			`warmer: 15 degC | other: 59 degF | colder: 41 degF | gap: 10 K | back: -18 degF_diff | mid: 59 degF |
			average: 63.3333333, 60, blank degF over house | most: 64 degF | warm: 1 | lower: 10 degC | choice: 50 degF | heat: 113.565267 W/m2`},
		{"dates take time, in whole days", `
			start : 2027-01-04
			stay : 3 week
			end = start + stay
			again = stay + start
			before = end - measure("36 h")
			span = end - start
			weeks = span -> week
			later = end > start
			last = larger_of(start, end, measure("2027-01-20"))
			seeded = planting.sown + measure("21 d")
			first = smallest(planting.sown)
			known = is_known(planting.sown)
			monday = measure("2027-W02") - measure("2027-W01")`,
			`end: 20843 | again: 20843 | before: 20842 | span: 21 d | weeks: 3 week | later: 1 | last: 20843 |
			seeded: 20759, 20787, blank, 20843 over planting | first: 20738 | known: 1, 1, 0, 1 over planting | monday: 7 d`},
		{"numbers and choice", `
			a over week : -2, -1, 0, 1, 2.5, 4 kg
			b : 2 kg
			c : yes
			d : no
			big = absolute(a)
			low = smaller_of(a, b, 1 * b / 2)
			high = larger_of(a, b)
			in_between = clamp(a, -b, b)
			side = root(b * b)
			near = rounded(a, b)
			up = rounded_up(a, b / 4)
			down = rounded_down(a, b / 4)
			mix = blend(b, 2 * b, 0.25)
			yes_and = c and not d
			or_not = d or not c
			same = a == b / 2
			other = a != b / 2
			pick = a > 0 and a <= b ? a : b
			cube = (a / b) ^ 3
			inverse = 1 / (a / b) ^ 2
			whole = exponential(0) + logarithm(1)
			flags = c == (not d)`,
			`big: 2, 1, 0, 1, 2.5, 4 kg over week | low: -2, -1, 0, 1, 1, 1 kg over week | high: 2, 2, 2, 2, 2.5, 4 kg over week |
			in_between: -2, -1, 0, 1, 2, 2 kg over week | side: 2 kg | near: -2, -2, 0, 2, 2, 4 kg over week |
			up: -2, -1, 0, 1, 2.5, 4 kg over week | down: -2, -1, 0, 1, 2.5, 4 kg over week | mix: 2.5 kg | yes_and: 1 | or_not: 0 |
			same: 0, 0, 0, 1, 0, 0 over week | other: 1, 1, 1, 0, 1, 1 over week | pick: 2, 2, 2, 1, 2, 2 kg over week |
			cube: -1, -0.125, 0, 0.125, 1.953125, 8 over week | inverse: 1, 4, divided by zero, 4, 0.64, 0.25 over week |
			whole: 1 | flags: 1`},
		{"faults and blanks of single cells", `
			a over week : 0, 1, 2, -4, 5, 6
			b over week : 0, 0, 1, 1, 1, 1
			div = a / b
			roots = root(a)
			logs = logarithm(a)
			huge = exponential(a * 100)
			power = a ^ 0.5
			safe = b > 0 ? a / b : 7
			gap = weeks_before(a, 2)
			gap_sum = gap + div
			compare = gap > 0
			choice = gap > 1 ? 1 : 2
			all = total(div)
			seen = how_many(gap)
			sum_seen = total(gap)
			mean_seen = mean_over(gap)
			none = total(only(house.night, "spare") - only(house.night, "long"))
			count_none = how_many(only(house.night, "spare"))
			not_known = is_known(gap)
			fault_known = is_known(div)
			step = rounded(a, b)`,
			`div: blank, divided by zero, 2, -4, 5, 6 over week | roots: 0, 1, 1.41421356, a root or logarithm of a number that has none, 2.23606798, 2.44948974 over week |
			logs: a root or logarithm of a number that has none, 0, 0.693147181, a root or logarithm of a number that has none, 1.60943791, 1.79175947 over week |
			huge: 1, 2.68811714e+43, too large a number, 1.91516960e-174, too large a number, too large a number over week |
			power: 0, 1, 1.41421356, a root or logarithm of a number that has none, 2.23606798, 2.44948974 over week |
			safe: 7, 7, 2, -4, 5, 6 over week | gap: blank, blank, 0, 1, 2, -4 over week | gap_sum: blank, divided by zero, 2, -3, 7, 2 over week |
			compare: blank, blank, 0, 1, 1, 0 over week | choice: blank, blank, 2, 2, 1, 2 over week | all: divided by zero |
			seen: 4 | sum_seen: -1 | mean_seen: -0.25 | none: blank K | count_none: 0 | not_known: 0, 0, 1, 1, 1, 1 over week |
			fault_known: 0, divided by zero, 1, 1, 1, 1 over week |
			step: a root or logarithm of a number that has none, a root or logarithm of a number that has none, 2, -4, 5, 6 over week`},
		{"totals over the axes named", `
			x over house : 1, 2, 3 kg
			y over week : 1, 2, 3, 4, 5, 6
			xy = x * y
			all = total(xy)
			by_house = total(xy, week)
			by_week = total(xy, house)
			both = total(xy, week, house)
			average = mean_over(xy, house)
			top = largest(xy, house)
			low = smallest(xy, week)
			how = how_many(xy, house)
			share = share_of(x)
			share_week = share_of(xy, week)
			yes_count = total(y > 3)`,
			`xy: 1, 2, 3, 4, 5, 6, 2, 4, 6, 8, 10, 12, 3, 6, 9, 12, 15, 18 kg over house, week | all: 126 kg | by_house: 21, 42, 63 kg over house |
			by_week: 6, 12, 18, 24, 30, 36 kg over week | both: 126 kg | average: 2, 4, 6, 8, 10, 12 kg over week | top: 3, 6, 9, 12, 15, 18 kg over week |
			low: 1, 2, 3 kg over house | how: 3, 3, 3, 3, 3, 3 over week | share: 0.166666667, 0.333333333, 0.5 over house |
			share_week: 0.0476190476, 0.0952380952, 0.142857143, 0.19047619, 0.238095238, 0.285714286, 0.0476190476, 0.0952380952, 0.142857143, 0.19047619, 0.238095238, 0.285714286, 0.0476190476, 0.0952380952, 0.142857143, 0.19047619, 0.238095238, 0.285714286 over house, week |
			yes_count: 3`},
		{"earlier weeks", `
			paid over week : 1, 2, 3, 4, 5, 6 USD
			start : 10 USD
			cash = earlier(cash, start) + paid -> USD level
			running = earlier(running, 0) + paid -> USD
			lag = weeks_before(paid, 2, start)
			same = weeks_before(paid, 0)
			one_back = earlier(paid, 0)
			odd = earlier(paid * 2, start)
			moving = weeks_before(paid, 2, paid)
			fib = earlier(fib, 1) + earlier(fib_before, 0) -> 1
			fib_before = earlier(fib, 1) -> 1`,
			`cash: 11, 13, 16, 20, 25, 31 USD over week | running: 1, 3, 6, 10, 15, 21 USD over week | lag: 10, 10, 1, 2, 3, 4 USD over week |
			same: 1, 2, 3, 4, 5, 6 USD over week | one_back: 0, 1, 2, 3, 4, 5 USD over week | odd: 10, 2, 4, 6, 8, 10 USD over week |
			moving: 1, 2, 1, 2, 3, 4 USD over week | fib: 1, 2, 3, 5, 8, 13 over week | fib_before: 1, 1, 2, 3, 5, 8 over week`},
		{"a loop over plantings with a total inside", `
			room : 100 kg
			growth over planting : 1, 2, 3, 4 kg
			stock = smaller_of(earlier(stock, 0) + growth, room_left / 4) -> kg level
			room_left = room - total(earlier_stock, planting) -> kg
			earlier_stock = earlier(stock, 0) -> kg`,
			`stock: 1, 2, 3, 4, 5, 6, 2, 4, 6, 8, 10, 12, 3, 6, 9, 12, 15, 13.75, 4, 8, 12, 16, 15, 13.75 kg over planting, week |
			room_left: 100, 90, 80, 70, 60, 55 kg over week |
			earlier_stock: 0, 1, 2, 3, 4, 5, 0, 2, 4, 6, 8, 10, 0, 3, 6, 9, 12, 15, 0, 4, 8, 12, 16, 15 kg over planting, week`},
		{"a loop that follows a reference and groups back", `
			in_stock = earlier(in_stock, one) * 2 - via(planting.house, back) -> kg
			back = grouped(earlier_in, planting.house) / 10 -> kg
			earlier_in = earlier(in_stock, one) -> kg
			one : 1 kg`,
			`back: 0.1, 0.19, 0.361, 0.6859, 1.30321, 2.476099, 0.2, 0.36, 0.648, 1.1664, 2.09952, 3.779136, 0, 0, 0, 0, 0, 0 kg over house, week |
			in_stock: 1.9, 3.61, 6.859, 13.0321, 24.76099, 47.045881, 1.8, 3.24, 5.832, 10.4976, 18.89568, 34.012224, 1.8, 3.24, 5.832, 10.4976, 18.89568, 34.012224, blank, blank, blank, blank, blank, blank kg over planting, week`},
		{"following references", `
			floor = via(planting.house, house.floor)
			warm = via(planting.house, house.night)
			kind = is(via(planting.house, house.cover), "glass")
			here = is(planting.house, "long")
			before = via(planting.after, planting.density)
			plants over planting : 1, 2, 3, 4 plant
			standing = grouped(plants, planting.house)
			herbs_only = grouped(is(planting.house, "short") ? plants : weeks_before_none, planting.house)
			weeks_before_none = at(weeks_before(plants * over_weeks, 6), "2027-W01")
			over_weeks over week : 1
			followed = grouped(plants, planting.after)
			people over crew : 3, 4
			weekly = grouped(people, crew.house)
			moved = via(crew.house, house.floor)
			same_kind = house.cover == house.cover
			chosen = is(only(house.cover, "long") == house.cover ? house.cover : only(house.cover, "short"), "glass")`,
			`floor: 2880, 2160, 2160, blank ft2 over planting |
			warm: 62, 62, 64, 64, 64, 64, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, 60, blank, blank, blank, blank, blank, blank degF over planting, week |
			kind: 0, 1, 1, blank over planting | here: 1, 0, 0, blank over planting | before: blank, 2.5, 2, blank plant/m2 over planting |
			standing: 1, 5, 0 plant over house | herbs_only: blank, 5, 0 plant over house | followed: 2, 3, 0, 0 plant over planting |
			weekly: 3, 3, 0, 0, 0, 0, 4, 4, 7, 7, 7, 7, 0, 0, 0, 0, 0, 0 over house, week |
			moved: 2880, 2880, 2160, 2160, 2160, 2160, 2160, 2160, 2160, 2160, 2160, 2160 ft2 over crew, week |
			chosen: 0, 1, 1 over house`},
		{"one member, one week", `
			x over house : 1, 2, 3 kg
			y over week : 1, 2, 3, 4, 5, 6
			z = x * y
			a = only(z, "short")
			b = at(z, "2027-W03")
			c = only(at(z, "2027-W03"), "spare")
			d = this_week(y)
			e = only(x, "long") + at(y, "2027-W06") * x`,
			`a: 2, 4, 6, 8, 10, 12 kg over week | b: 3, 6, 9 kg over house | c: 9 kg | d: 1 | e: 7, 13, 19 kg over house`},
		{"units of lines", `
			a : 5 ft
			b : 2 m
			water : 3 L/m2/d
			week_days over week : 7 d
			floor : 100 ft2
			drink = water * week_days * floor -> gal
			area = a * b
			flow = water * floor
			per_week = drink / a
			cost : 3 USD/gal
			bill = drink * cost
			ratio = a / b
			speed = a / week_days -> m/d`,
			`drink: 51.5390122, 51.5390122, 51.5390122, 51.5390122, 51.5390122, 51.5390122 gal over week | area: 32.808399 ft2 | flow: 27.870912 L/d |
			bill: 154.617037, 154.617037, 154.617037, 154.617037, 154.617037, 154.617037 USD over week | ratio: 0.762 |
			speed: 0.217714286, 0.217714286, 0.217714286, 0.217714286, 0.217714286, 0.217714286 m/d over week`},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := compiled(t, lists+"~~~lines\n"+c.lines+"\n~~~\n")
			check(t, p, c.want)
		})
	}
}

// check compares "line: what it says | line: ..." with a program.
func check(t *testing.T, p *Program, want string) {
	t.Helper()
	for _, w := range strings.Split(want, "|") {
		name, cells, _ := strings.Cut(strings.TrimSpace(w), ":")
		cells = strings.TrimSpace(strings.ReplaceAll(cells, "1.91516960e-174", "1.9151696e-174"))
		cells = strings.Join(strings.Fields(cells), " ")
		if got := p.says(t, name); got != cells {
			t.Errorf("%s:\n got %s\nwant %s", name, got, cells)
		}
	}
}

// A list without members is no mistake: sums over it are blank, counts 0.
func TestEmptyList(t *testing.T) {
	p := compiled(t, `
~~~list house
      | floor ft2
long  | 100
~~~
~~~list nobody
      | house | age
~~~
~~~lines
x over week : 1, 2, 3, 4, 5, 6 kg
y over each week : 2 (1..3)
a = total(nobody.age * y)
b = total(nobody.age)
c = how_many(nobody.age * x)
d = total(nobody.age * x, nobody)
e = grouped(nobody.age, nobody.house)
f = via(nobody.house, house.floor)
g = nobody.age * y
h = largest(nobody.age * y, week)
i = earlier(i, 1) + only(grouped(nobody.age * earlier(i, 1), nobody.house), "long") -> 1
k = is_known(a)
~~~
`)
	check(t, p, `a: blank | b: blank | c: 0 | d: blank, blank, blank, blank, blank, blank kg over week | e: 0 over house |
		f: ft2 over nobody | g: over nobody, week | h: over nobody | i: 1, 1, 1, 1, 1, 1 over week | k: 0`)
	lines := []int{p.named(t, "a"), p.named(t, "g"), p.named(t, "h")}
	d, err := p.Draw(context.Background(), lines, Options{Draws: 3})
	if err != nil {
		t.Fatal(err)
	}
	if a := d.Line(lines[0]); len(a) != 1 || !array.IsBlank(a[0][2]) {
		t.Errorf("a in draws: %v", a)
	}
	if g := d.Line(lines[1]); len(g) != 0 {
		t.Errorf("g in draws: %v", g)
	}
}
