package library

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/market"
)

const marketFamily = "market"

// priceFunctions gives the functions that make a printed price: coin steps and
// the floor.
func priceFunctions() []formula.Function {
	stepParams := []formula.Param{
		{Name: "price", Says: "the price per sale unit, as reckoned"},
		{Name: "step", Says: "the coin step that prices are written in, per the same sale unit", Unit: "like price"},
	}
	likePrice := []formula.Result{{Unit: "like price"}}
	const stepValid = "Reckoned in exact decimals from the first 14 figures of both numbers, so 5.50 is exactly 5.50. A price below zero or a step of zero or less is refused."
	stepExample := func(function string, want float64) formula.Example {
		return formula.Example{Lines: []string{
			"reckoned : 3.61 USD/lb",
			"step : 0.25 USD/lb",
			"printed = " + function + "(reckoned, step) -> USD/lb",
		}, Ask: "printed", Want: []float64{want}}
	}
	return []formula.Function{{
		Name: "to_step",
		Card: formula.Card{
			Family:  marketFamily,
			Says:    "The price to the nearest coin step, half a step upward.",
			Gives:   "the unit of price",
			Valid:   stepValid + " It may fall below a floor: take the larger of it and up_to_step of the floor.",
			Source:  "Government of Canada, 2012, Economic Action Plan, rounding of cash totals (there to 0.05)",
			Example: stepExample("to_step", 3.50),
			Table: &formula.Table{
				Title: "Totals paid in cash, without a coin of one cent", Heads: []string{"last cents of the total", "paid"},
				Rows:   [][]float64{{1, 0}, {2, 0}, {3, 5}, {4, 5}, {6, 5}, {7, 5}, {8, 10}, {9, 10}},
				Source: "Government of Canada, Economic Action Plan 2012, Eliminating the penny",
			},
		},
		Params: stepParams,
		Kernel: &formula.Kernel{Name: "to_step", Results: likePrice, Run: func(c *formula.Call) { runStep(c, market.Nearest) }},
	}, {
		Name: "up_to_step",
		Card: formula.Card{
			Family:  marketFamily,
			Says:    "The lowest price in coin steps that is not below the price given: what a floor becomes on a price board.",
			Gives:   "the unit of price",
			Valid:   stepValid,
			Source:  "definition",
			Example: stepExample("up_to_step", 3.75),
		},
		Params: stepParams,
		Kernel: &formula.Kernel{Name: "up_to_step", Results: likePrice, Run: func(c *formula.Call) { runStep(c, market.Up) }},
	}, {
		Name: "floor_price",
		Card: formula.Card{
			Family: marketFamily,
			Says: "The lowest price at which a unit picked pays for itself: ((grown + picking) / (1 - unsold) + selling) / (1 - fee). " +
				"With grown 0 it is the price below which fruit on the plant is better left there; with all cost of growing, the floor of the season.",
			Gives:  "the unit of picking",
			Valid:  "Shares of 0 % to below 100 %; others are refused. Costs below zero count as what they save.",
			Source: "definition: the price at which what is left of a unit picked equals its cost",
			Example: formula.Example{Lines: []string{
				"grown : 2.10 USD/kg",
				"picking : 0.35 USD/kg",
				"unsold : 8 %",
				"selling : 0.10 USD/kg",
				"fee : 6 %",
				"lowest = floor_price(picking, grown, unsold, selling, fee) -> USD/kg",
			}, Ask: "lowest", Want: []float64{2.939408}},
		},
		Params: []formula.Param{
			{Name: "picking", Says: "cost of picking a unit"},
			{Name: "grown", Says: "cost of growing a unit; 0 for fruit that hangs already, whose growing is paid either way", Unit: "like picking"},
			{Name: "unsold", Says: "share of what is picked that is not sold", Unit: "1"},
			{Name: "selling", Says: "cost of selling and packing a unit sold", Unit: "like picking"},
			{Name: "fee", Says: "share of the price that the channel keeps", Unit: "1"},
		},
		Kernel: &formula.Kernel{Name: "floor_price", Results: []formula.Result{{Unit: "like picking"}}, Run: runFloor},
	}}
}

func runStep(c *formula.Call, way market.Way) {
	price, step := c.In[0][0], c.In[1][0]
	if passOn(c, price, step) {
		return
	}
	stepped, err := stepNumber(price, step, way)
	if err != nil {
		c.Refuse(err.Error())
		return
	}
	c.Out[0][0] = stepped
}

func runFloor(c *formula.Call) {
	picking, grown, unsold, selling, fee := c.In[0][0], c.In[1][0], c.In[2][0], c.In[3][0], c.In[4][0]
	if passOn(c, grown, picking, unsold, selling, fee) {
		return
	}
	floor, err := market.Floor(grown, picking, unsold, selling, fee)
	if err != nil {
		c.Refuse(err.Error())
		return
	}
	c.Out[0][0] = floor
}

// passOn fills every output with the first argument that is blank or could not
// be computed, and says whether there was one.
func passOn(c *formula.Call, arguments ...float64) bool {
	for _, x := range arguments {
		if math.IsNaN(x) {
			for _, out := range c.Out {
				for i := range out {
					out[i] = x
				}
			}
			return true
		}
	}
	return false
}

// stepNumber takes a price to a step. Both are counted in the smallest amount
// that either is written in, so that whole numbers do; the few that are too long
// for that go through decimals, which allocate.
func stepNumber(price, step float64, way market.Way) (float64, error) {
	if x, sure := stepQuick(price, step, way); sure {
		return x, nil
	}
	p, s := figuresOf(price), figuresOf(step)
	places := max(p.places, s.places)
	if dp, ok := p.at(places); ok {
		if ds, ok := s.at(places); ok {
			counted, err := market.Steps(dp, ds, way)
			return figures{counted, places}.number(), err
		}
	}
	stepped, err := market.ToStep(p.decimal(), s.decimal(), way)
	if err != nil {
		return 0, err
	}
	return stepped.InexactFloat64(), nil
}

// stepQuick is stepNumber where binary numbers cannot be mistaken: the step is a
// whole number of hundredths of a cent, and the price stands on a step or
// lies clear of every one, and of halves. It is for draws, which ask a million times.
func stepQuick(price, step float64, way market.Way) (x float64, sure bool) {
	const parts, clear = 1e4, 1e-9
	whole := math.Round(step * parts)
	if !(whole >= 1 && whole <= 1e9 && math.Abs(step*parts-whole) <= clear && price >= 0 && price <= 1e9) {
		return 0, false
	}
	count := price * parts / whole
	if on := math.Round(count) * whole / parts; on == price {
		return price, true
	}
	below := math.Floor(count)
	rest, edge := count-below, clear*math.Max(1, count)
	if rest < edge || rest > 1-edge || way == market.Nearest && math.Abs(rest-0.5) < edge {
		return 0, false
	}
	if way == market.Up || way == market.Nearest && rest > 0.5 {
		below++
	}
	return below * whole / parts, true
}

// figures is a number as it is written: digits shifted by a number of decimal
// places, 5.50 being 55 and 1.
type figures struct {
	digits int64
	places int // 0 to maxPlaces
}

// A number in a formula is a binary one. Typed 5.50 is the one nearest to it, and
// 7.2 % is 7.2 times 0.01, which is 0.07200000000000001. The first 14 figures are
// what was meant: they hold any amount up to a million million to the cent, and
// leave the dust of a few conversions behind.
const (
	keptFigures = 14
	maxPlaces   = 17 // what is smaller is no price and no rate
)

// figuresOf reads a number to 14 figures and 17 decimals. Its size must be
// below 10^18; beyond that it gives the largest it can.
func figuresOf(x float64) figures {
	if math.Abs(x) >= 1e18 {
		return figures{int64(math.Copysign(1e18, x)), 0}
	}
	var buffer [32]byte
	text := strconv.AppendFloat(buffer[:0], x, 'e', keptFigures-1, 64) // -1.2345678901234e-05
	f := figures{places: keptFigures - 1}
	exponent, exponentSign, negative := 0, 0, false
	for _, b := range text {
		switch {
		case b == 'e':
			exponentSign = 1
		case b == '-' && exponentSign == 0:
			negative = true
		case b == '-':
			exponentSign = -1
		case b < '0' || b > '9': // the point, a plus
		case exponentSign == 0:
			f.digits = 10*f.digits + int64(b-'0')
		default:
			exponent = 10*exponent + int(b-'0')
		}
	}
	f.places -= exponent * exponentSign
	for f.places > maxPlaces+1 && f.digits != 0 {
		f.digits, f.places = f.digits/10, f.places-1
	}
	if f.places == maxPlaces+1 {
		f.digits, f.places = (f.digits+5)/10, maxPlaces
	}
	for f.places > 0 && f.digits%10 == 0 && f.digits != 0 {
		f.digits, f.places = f.digits/10, f.places-1
	}
	for f.places < 0 {
		f.digits, f.places = f.digits*10, f.places+1
	}
	if f.digits == 0 {
		f.places = 0
	}
	if negative {
		f.digits = -f.digits
	}
	return f
}

// at gives the digits when counted to more places; false when they do not fit.
func (f figures) at(places int) (int64, bool) {
	factor := power10[places-f.places]
	digits := f.digits * factor
	return digits, digits/factor == f.digits
}

// cents is the number in hundredths, half up.
func (f figures) cents() int64 {
	if f.places <= 2 {
		digits, ok := f.at(2)
		if !ok {
			return math.MaxInt64
		}
		return digits
	}
	unit := power10[f.places-2]
	cents, rest := f.digits/unit, f.digits%unit
	if rest < 0 {
		cents, rest = cents-1, rest+unit
	}
	if rest >= unit-rest {
		cents++
	}
	return cents
}

func (f figures) decimal() decimal.Decimal { return decimal.New(f.digits, int32(-f.places)) }

// number is the binary number nearest to the figures: with the zeros at the end
// taken off, both sides of the division are exact.
func (f figures) number() float64 {
	for f.places > 0 && f.digits%10 == 0 {
		f.digits, f.places = f.digits/10, f.places-1
	}
	return float64(f.digits) / float64(power10[f.places])
}

// power10 holds the powers of ten that fit.
var power10 = [19]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}
