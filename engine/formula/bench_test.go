package formula

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
)

// The synthetic book: 12 houses' worth of 25 lines each, made up; only their
// number and form matter. Its peer is the same arithmetic as one loop written by
// hand, and both run in the same benchmark.

const (
	benchBlocks = 12
	benchWeeks  = 52
)

const benchLines = `
plants_? = area_? * density_? -> plant
fset_? = clamp(set_low_? + set_gain_? * (light_? - 4) + 0.08 * z_?, 0, 1) -> 1
trusses_? = plants_? * rate_? * (0.6 + 0.4 * light_? / 8) -> truss
fruits_? = trusses_? * flowers_? * fset_? -> fruit
mass_? = mass_mid_? * (1 + 0.05 * g_?) -> kg/fruit
ripe_? = weeks_before(fruits_?, 7, 0) * mass_? -> kg
grade_? = ripe_? * clamp(0.85 - 0.03 * absolute(z_?), 0.5, 1) -> kg
offer_? = grade_? + keep_? * earlier(stock_?, 0) -> kg
sold_? = smaller_of(offer_?, demand_?) -> kg
stock_? = offer_? - sold_? -> kg
price_? = price_mid_? * (1 + 0.2 * swing_?) * (1 + 0.1 * z_? - 0.05 * g_?) -> USD/kg
revenue_? = sold_? * price_? + 0.3 * price_? * (ripe_? - grade_?) -> USD
heat_? = larger_of(0, setpoint_? - outside - 0.3 * light_?) * loss_rate_? -> kWh
heat_cost_? = heat_? * power * (1 + 0.15 * g_?) -> USD
hours_? = plants_? * care_? + ripe_? * pick_? -> h
labour_? = hours_? * wage -> USD
substrate_? = plants_? * bag_? / 52 -> USD
feed_cost_? = plants_? * feed_? * (0.5 + light_? / 16) -> USD
bug_cost_? = area_? * bugs_? -> USD
cost_? = heat_cost_? + labour_? + substrate_? + feed_cost_? + bug_cost_? -> USD
margin_? = revenue_? - cost_? -> USD
cash_? = earlier(cash_?, 0) + margin_? -> USD
takings_? = total(revenue_?) -> USD
unit_cost_? = cost_? / larger_of(ripe_?, least) -> USD/kg
short_? = margin_? < 0 ? 1 : 0 -> 1
`

// What is asked for beside margin, cash and takings, so that every line is needed.
const benchSums = `
costs_? = total(unit_cost_?)
shorts_? = total(short_?)
`

// fixedDraws is a sampler of draws that are there already.
type fixedDraws struct{ rows [][]float64 }

func (s *fixedDraws) Sample(first, n int, dst []float64) {
	for c, row := range s.rows {
		copy(dst[c*n:(c+1)*n], row[first:])
	}
}

// handInput is what the hand-written loop reads for one block.
type handInput struct {
	wage, power, least                                                                                                float64
	outside                                                                                                           []float64
	area, density, rate, flowers, setLow, setGain, mass, price, lossRate, setpoint, care, pick, bag, feed, bugs, keep float64
	light, demand, swing, g                                                                                           []float64
	z                                                                                                                 [][]float64
}

// benchBook makes the book and the same numbers for the hand-written loop.
func benchBook(t testing.TB, draws int) (*Source, []*handInput) {
	r := rand.New(rand.NewPCG(1, 2))
	var text strings.Builder
	text.WriteString("~~~settings\nseason : 2026-W33 .. 2027-W31\n~~~\n~~~lines\nwage : 14.5 USD/h\npower : 0.11 USD/kWh\nleast : 0.1 kg\n")
	series := func(name, unit string, f func(w int) float64) []float64 {
		x := make([]float64, benchWeeks)
		var s []string
		for w := range x {
			x[w] = math.Round(f(w)*1e4) / 1e4
			s = append(s, fmt.Sprintf("%.4f", x[w]))
		}
		fmt.Fprintf(&text, "%s over week : %s %s\n", name, strings.Join(s, ", "), unit)
		return x
	}
	year := func(w int) float64 { return math.Cos(2 * math.Pi * float64(w) / 52) }
	outside := series("outside", "", func(w int) float64 { return 8 - 10*year(w-4) })
	var hand []*handInput
	for b := range benchBlocks {
		h := &handInput{wage: 14.5, power: 0.11, least: 0.1, outside: outside}
		for _, n := range []struct {
			name string
			to   *float64
			x    float64
			unit string
		}{
			{"area", &h.area, 100 + 10*float64(b), "m2"}, {"density", &h.density, 2.5, "plant/m2"}, {"rate", &h.rate, 0.9, "truss/plant"},
			{"flowers", &h.flowers, 5, "fruit/truss"}, {"set_low", &h.setLow, 0.55, ""}, {"set_gain", &h.setGain, 0.04, ""},
			{"mass_mid", &h.mass, 0.11, "kg/fruit"}, {"price_mid", &h.price, 3.4, "USD/kg"}, {"loss_rate", &h.lossRate, 70, "kWh"},
			{"setpoint", &h.setpoint, 17, ""}, {"care", &h.care, 0.01, "h/plant"}, {"pick", &h.pick, 0.02, "h/kg"}, {"bag", &h.bag, 1.2, "USD/plant"},
			{"feed", &h.feed, 0.03, "USD/plant"}, {"bugs", &h.bugs, 0.02, "USD/m2"}, {"keep", &h.keep, 0.6, ""},
		} {
			*n.to = n.x
			fmt.Fprintf(&text, "%s_%d : %v %s\n", n.name, b, n.x, n.unit)
		}
		s := func(n string) string { return fmt.Sprintf("%s_%d", n, b) }
		h.light = series(s("light"), "", func(w int) float64 { return 6 - 4*year(w) + r.Float64() })
		h.demand = series(s("demand"), "kg", func(w int) float64 { return 90 + 30*r.Float64() })
		h.swing = series(s("swing"), "", year)
		fmt.Fprintf(&text, "z_%d over each week : 0 (-1..1)\ng_%d : 0 (-1..1)\n", b, b)
		for range benchWeeks {
			h.z = append(h.z, normal(r, draws))
		}
		h.g = normal(r, draws)
		text.WriteString(strings.ReplaceAll(benchLines+benchSums, "_?", fmt.Sprint("_", b)))
		hand = append(hand, h)
	}
	text.WriteString("~~~\n")
	src := sourceOf(t, text.String())
	for i := range src.Lines {
		l := &src.Lines[i]
		var b int
		if n, _ := fmt.Sscanf(l.Name, "z_%d", &b); n == 1 {
			l.Input.Sampler = &fixedDraws{hand[b].z}
		}
		if n, _ := fmt.Sscanf(l.Name, "g_%d", &b); n == 1 {
			l.Input.Sampler = &fixedDraws{[][]float64{hand[b].g}}
		}
	}
	return src, hand
}

func normal(r *rand.Rand, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = r.NormFloat64()
	}
	return x
}

// handOut is what the loop fills for one block.
type handOut struct {
	margin, cash           [][]float64
	takings, costs, shorts []float64
}

func newHandOut(draws int) *handOut {
	rows := func() [][]float64 {
		flat := make([]float64, benchWeeks*draws)
		out := make([][]float64, benchWeeks)
		for w := range out {
			out[w] = flat[w*draws : (w+1)*draws]
		}
		return out
	}
	return &handOut{rows(), rows(), make([]float64, draws), make([]float64, draws), make([]float64, draws)}
}

// run is the whole block as one loop, everything that does not change moved out of
// it by hand: the floor.
func (in *handInput) run(out *handOut) {
	plants := in.area * in.density
	substrate := plants * in.bag / 52
	bug := in.area * in.bugs
	var tf, base, p1, heat, fc [benchWeeks]float64
	for w := range benchWeeks {
		tf[w] = plants * in.rate * (0.6 + 0.4*in.light[w]/8) * in.flowers
		base[w] = in.setLow + in.setGain*(in.light[w]-4)
		p1[w] = in.price * (1 + 0.2*in.swing[w])
		heat[w] = max(0, in.setpoint-in.outside[w]-0.3*in.light[w]) * in.lossRate * in.power
		fc[w] = plants * in.feed * (0.5 + in.light[w]/16)
	}
	care, pick, wage, keep, least := plants*in.care, in.pick, in.wage, in.keep, in.least
	var fruits [benchWeeks]float64
	for d, g := range in.g {
		mass := in.mass * (1 + 0.05*g)
		hg := 1 + 0.15*g
		stock, cash, takings, costs, shorts := 0.0, 0.0, 0.0, 0.0, 0.0
		for w := range benchWeeks {
			z := in.z[w][d]
			fruits[w] = tf[w] * min(max(base[w]+0.08*z, 0), 1)
			ripe := 0.0
			if w >= 7 {
				ripe = fruits[w-7] * mass
			}
			grade := ripe * min(max(0.85-0.03*math.Abs(z), 0.5), 1)
			offer := grade + keep*stock
			sold := min(offer, in.demand[w])
			stock = offer - sold
			price := p1[w] * (1 + 0.1*z - 0.05*g)
			revenue := sold*price + 0.3*price*(ripe-grade)
			cost := heat[w]*hg + (care+ripe*pick)*wage + substrate + fc[w] + bug
			margin := revenue - cost
			cash += margin
			takings += revenue
			costs += cost / max(ripe, least)
			if margin < 0 {
				shorts++
			}
			out.margin[w][d] = margin
			out.cash[w][d] = cash
		}
		out.takings[d], out.costs[d], out.shorts[d] = takings, costs, shorts
	}
}

var benchNames = []string{"margin", "cash", "takings", "costs", "shorts"}

func benchAsk(t testing.TB, p *Program) (lines []int) {
	at := map[string]int{}
	for i := range p.src.Lines {
		at[p.src.Lines[i].Name] = i
	}
	for b := range benchBlocks {
		for _, n := range benchNames {
			lines = append(lines, at[fmt.Sprintf("%s_%d", n, b)])
		}
	}
	return lines
}

func compileBench(t testing.TB, draws int) (*Program, []*handInput) {
	src, hand := benchBook(t, draws)
	p := Compile(src)
	for _, e := range p.Errors {
		t.Fatalf("%v: %v %s", e.Place, e, e.Hint)
	}
	p.Plain()
	return p, hand
}

// The program and the loop written by hand agree, but for the order of roundings.
func TestSameAsByHand(t *testing.T) {
	const draws = 150
	p, hand := compileBench(t, draws)
	lines := benchAsk(t, p)
	d, err := p.Draw(context.Background(), lines, Options{Draws: draws, Block: 64, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	for b, in := range hand {
		out := newHandOut(draws)
		in.run(out)
		for i, want := range [][][]float64{out.margin, out.cash, {out.takings}, {out.costs}, {out.shorts}} {
			got := d.Line(lines[b*len(benchNames)+i])
			for c := range want {
				for k, x := range want[c] {
					if math.Abs(got[c][k]-x) > 1e-9*math.Max(1, math.Abs(x)) {
						t.Fatalf("%s of block %d, cell %d, draw %d: %v, by hand %v", benchNames[i], b, c, k, got[c][k], x)
					}
				}
			}
		}
	}
}

func perElement(b *testing.B, draws int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(25*benchBlocks*benchWeeks*draws), "ns/line-element")
}

func BenchmarkDraws10000(b *testing.B) {
	const draws = 10000
	p, hand := compileBench(b, draws)
	lines := benchAsk(b, p)
	b.Run("by-hand-1-core", func(b *testing.B) {
		for b.Loop() {
			for _, in := range hand {
				in.run(newHandOut(draws))
			}
		}
		perElement(b, draws)
	})
	for _, c := range []struct{ block, workers int }{{64, 1}, {128, 1}, {256, 1}, {512, 1}, {0, 1}, {0, 2}} {
		b.Run(fmt.Sprintf("program-block-%d-%d-cores", c.block, c.workers), func(b *testing.B) {
			for b.Loop() {
				if _, err := p.Draw(context.Background(), lines, Options{Draws: draws, Block: c.block, Workers: c.workers}); err != nil {
					b.Fatal(err)
				}
			}
			perElement(b, draws)
		})
	}
	runtime.KeepAlive(p)
}

func BenchmarkCompile300(b *testing.B) {
	src, _ := benchBook(b, 1)
	b.ReportAllocs()
	for b.Loop() {
		Compile(src)
	}
}

func BenchmarkPlain300(b *testing.B) {
	p, _ := compileBench(b, 1)
	b.ReportAllocs()
	for b.Loop() {
		p.Plain()
	}
}

// longBook is a made-up book of n lines: chains, of which each line reads the one
// before, fans, of which each reads one line, and now and then a sum of a few.
func longBook(t testing.TB, n int) *Source {
	var s strings.Builder
	s.WriteString("~~~lines\na : 2 kg\nb over week : 1, 2, 3, 4, 5, 6 kg\nc : 3\n")
	for i := 3; i < n; i++ {
		switch {
		case i%1000 == 3:
			fmt.Fprintf(&s, "l%d = a * %d + b -> kg\n", i, i%7)
		case i%10 == 0:
			fmt.Fprintf(&s, "l%d = l%d + l%d - l%d -> kg\n", i, i-1, i-2, i/1000*1000+3-1000*(1-min(1, i/1000)))
		case i/1000%2 == 0:
			fmt.Fprintf(&s, "l%d = l%d * 0.5 + b -> kg\n", i, i-1)
		default:
			fmt.Fprintf(&s, "l%d = l%d / c + %d * a -> kg\n", i, i/1000*1000+3, i%13)
		}
	}
	s.WriteString("~~~\n")
	text := strings.ReplaceAll(s.String(), "l-997", "l3")
	return sourceOf(t, text)
}

// Compiling and running grow with the number of lines, and no faster.
func BenchmarkLongBook(b *testing.B) {
	for _, n := range []int{25_000, 100_000} {
		src := longBook(b, n)
		b.Run(fmt.Sprintf("compile-%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if p := Compile(src); len(p.Errors) > 0 {
					b.Fatal(len(p.Errors))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/line")
		})
		p := Compile(src)
		b.Run(fmt.Sprintf("plain-%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p.Plain()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/line")
		})
	}
}
