package money

// BreakEvenPrice is the price at which sales pay a cost: cost over the
// quantity sold, in money per its unit. Work it out for avoidable cost, for cash
// cost and for all cost: they answer different questions. Error: nothing sold.
func BreakEvenPrice(cost, sold float64) (float64, error) {
	if !(sold > 0) {
		return 0, ErrNoSales
	}
	return cost / sold, nil
}

// BreakEvenYield is the harvest, in picked units, that pays a cost:
//
//	Y = F / ((1 - w) (P - s) - h)
//
// F cost that does not vary with yield, with any wanted profit (money); w share
// unsold; P price, s selling cost, both per unit sold; h cost per unit picked.
// The plain form, all cost over price, holds only where no cost varies with yield.
// Errors: a share unsold outside 0 to 1; a unit that leaves nothing.
func BreakEvenYield(fixed, price, unsold, selling, picking float64) (float64, error) {
	if !(unsold >= 0 && unsold < 1) {
		return 0, ErrUnsold
	}
	margin := (1-unsold)*(price-selling) - picking
	if !(margin > 0) {
		return 0, ErrMargin
	}
	return fixed / margin, nil
}
