package market

// Net is what one unit sold leaves, in money per unit: P (1 - f) - s, with P
// the price, f the fee as a share of it, s the cost of selling and packing a unit.
func Net(price, fee, selling float64) float64 { return float64(price*(1-fee)) - selling }

// NetPicked is what one unit picked leaves: (1 - w) Net - h, with w the share
// that stays unsold and h the cost of picking a unit.
func NetPicked(price, fee, selling, unsold, picking float64) float64 {
	return float64((1-unsold)*Net(price, fee, selling)) - picking
}

// Floor is the lowest price at which a unit picked pays for itself, in money
// per unit:
//
//	P = ((c + h) / (1 - w) + s) / (1 - f)
//
// c what growing a unit cost: 0 for fruit that hangs already (its cost cannot be
// avoided any more), all cost of a unit for the season's floor; h, w, s, f as in
// NetPicked. It is NetPicked = c solved for P. Errors: a share outside 0 to 1.
func Floor(grown, picking, unsold, selling, fee float64) (float64, error) {
	switch {
	case !(unsold >= 0 && unsold < 1):
		return 0, ErrUnsold
	case !(fee >= 0 && fee < 1):
		return 0, ErrFee
	}
	return ((grown+picking)/(1-unsold) + selling) / (1 - fee), nil
}
