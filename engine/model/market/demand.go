package market

import "math"

// Reference is where a channel's demand was seen: at this price (money per
// unit, above 0) it took this volume (units a week), and 1 % on the price takes
// Response per cent (0 or below) on the quantity. Published responses of fresh
// tomatoes for a whole market lie between 0 and -1; one stall among several sees
// larger ones. The grower's own weeks are the better evidence.
type Reference struct{ Price, Volume, Response float64 }

// Check refuses what is no demand.
func (r Reference) Check() error {
	switch {
	case !(r.Price > 0):
		return ErrNoPrice
	case !(r.Volume >= 0):
		return ErrVolume
	case !(r.Response <= 0):
		return ErrResponse
	}
	return nil
}

// Linear is demand on a straight line through the reference with its slope
// there. It ends at the choke price. Constant has the same response at every
// price. Near the reference they agree; far from it neither was measured.
type (
	Linear   Reference
	Constant Reference
)

// Demand is either of the two.
type Demand interface {
	// Quantity is what the channel takes at a price (at least 0), in units.
	Quantity(price float64) float64
	// Clearing is the price at which it takes just the supply (above 0). With no
	// response any quantity up to the volume goes at the reference price, and this
	// is blank in the sense of having no answer: not a number.
	Clearing(supply float64) float64
	// best is the price of most profit at a cost per unit sold, without caps; +Inf
	// where profit rises with the price without end.
	best(cost float64) float64
}

// Quantity is Q0 (1 + e (P/P0 - 1)), none above the choke price.
func (d Linear) Quantity(price float64) float64 {
	return max(0, d.Volume*(1+d.Response*(price/d.Price-1)))
}

// Choke is the price at which nothing sells: P0 (1 - 1/e).
func (d Linear) Choke() float64 {
	if d.Response == 0 {
		return math.Inf(1)
	}
	return d.Price * (1 - 1/d.Response)
}

// Clearing is P0 (1 + (S/Q0 - 1)/e): below zero when there is more than could
// be given away.
func (d Linear) Clearing(supply float64) float64 {
	if d.Response == 0 {
		return math.NaN()
	}
	return d.Price * (1 + (supply/d.Volume-1)/d.Response)
}

// best is half way between cost and choke price.
func (d Linear) best(cost float64) float64 { return (d.Choke() + cost) / 2 }

// Quantity is Q0 (P/P0)^e: without end at a price of 0, unless nobody buys.
func (d Constant) Quantity(price float64) float64 {
	if d.Volume == 0 {
		return 0
	}
	return d.Volume * math.Pow(price/d.Price, d.Response)
}

// Clearing is P0 (S/Q0)^(1/e).
func (d Constant) Clearing(supply float64) float64 {
	if d.Response == 0 {
		return math.NaN()
	}
	return d.Price * math.Pow(supply/d.Volume, 1/d.Response)
}

// best is c e / (1 + e). From a response of -1 up each rise of the price earns
// more: there is no best price short of the end of what was measured.
func (d Constant) best(cost float64) float64 {
	if d.Response >= -1 {
		return math.Inf(1)
	}
	return cost * d.Response / (1 + d.Response)
}

// Best is the price of most profit between two caps, low and high, which the
// grower sets: the range in which the demand is believed. cost is what a unit
// sold costs (not yet spent), fee the share of the price that the channel keeps;
// since only 1 - fee of a price arrives, cost counts as cost/(1-fee). capped says
// that a cap holds the price, so the demand itself names no best one there.
// Profit rises to its best price and falls after it, so the nearer cap is best
// where that price lies outside. Error: a fee outside 0 to 1.
func Best(d Demand, cost, fee, low, high float64) (price float64, capped bool, err error) {
	if !(fee >= 0 && fee < 1) {
		return 0, false, ErrFee
	}
	free := d.best(cost / (1 - fee))
	price = min(max(free, low), high)
	return price, price != free, nil
}
