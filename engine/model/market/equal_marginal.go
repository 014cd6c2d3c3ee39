package market

// Channel is an open offer whose price may still be set.
type Channel struct {
	Demand  Linear
	Fee     float64 // share of the price, 0 to below 1
	Selling float64 // cost of selling a unit, money per unit
}

// EqualMarginal shares a supply over channels with prices free so that net
// revenue is largest. It gives each channel's quantity (its price is then
// Demand.Clearing) and marginal, what one more unit would add, in money per unit.
//
// Net revenue is largest where the next unit adds the same everywhere, or where
// a channel gets none since its first unit adds less. With a straight line
// through (P0, Q0) the next unit adds
//
//	(1 - f) P0 (1 - 1/e + 2 q / (Q0 e)) - s
//
// which falls evenly with q. So each channel's quantity falls evenly with the
// common marginal, and bisection on that finds the sum that meets the supply. It
// never falls below zero: then the rest is better left unsold. Errors: a channel
// that is no demand, or without response (its price has no best).
func EqualMarginal(channels []Channel, supply float64) (quantities []float64, marginal float64, err error) {
	high := 0.0
	for _, c := range channels {
		if err := Reference(c.Demand).Check(); err != nil {
			return nil, 0, err
		}
		switch {
		case c.Demand.Response == 0:
			return nil, 0, ErrNoResponse
		case !(c.Fee >= 0 && c.Fee < 1):
			return nil, 0, ErrFee
		}
		high = max(high, c.first())
	}
	low := 0.0
	if sumAt(channels, low) <= supply {
		high = low
	}
	for high > low {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			break
		}
		if sumAt(channels, middle) > supply {
			low = middle
		} else {
			high = middle
		}
	}
	quantities = make([]float64, len(channels))
	for i, c := range channels {
		quantities[i] = c.quantityAt(high)
	}
	return quantities, high, nil
}

// first is what the first unit adds: the choke price, net.
func (c Channel) first() float64 { return Net(c.Demand.Choke(), c.Fee, c.Selling) }

// quantityAt is the quantity at which the next unit adds so much.
func (c Channel) quantityAt(marginal float64) float64 {
	perUnit := 2 * (1 - c.Fee) * c.Demand.Price / (c.Demand.Volume * -c.Demand.Response)
	return max(0, (c.first()-marginal)/perUnit)
}

func sumAt(channels []Channel, marginal float64) float64 {
	sum := 0.0
	for _, c := range channels {
		sum += c.quantityAt(marginal)
	}
	return sum
}
