package market

// Split shares what was picked of one crop in one week over the offers for it,
// at the prices that stand. For each offer, net is what a unit sold leaves
// (money per unit) and takes the most it takes (units, at least 0). It fills sold
// and gives what is left over, in units; sold and left over add up to picked.
// Where nets are equal the earlier offer is served first. With nothing picked
// (0 or less) nothing is sold.
//
// The essay. With the prices written on the board, what is to be decided is
// only who gets the fruit: the largest sum of net x sold with sold at most takes
// and all sold at most picked. That is a linear problem with one common limit,
// and serving the best net first solves it: to move a unit from a better net to
// a worse one never earns more. So no search, no rounding, the same result each
// time. An offer whose net is below zero gets nothing: that fruit is better left,
// for its growing and picking are paid either way. At a net of exactly zero it is
// sold: nothing is lost and somebody eats it.
//
// Where prices are free, the answer differs: then each open offer's own price
// falls as it takes more, and the last unit must earn the same everywhere.
// EqualMarginal reckons that, for the advice; it would be wrong here, since it
// assumes prices that are not on the board.
func Split(net, takes []float64, picked float64, sold []float64) (left float64) {
	const waiting = -1 // a sale is never below zero
	for i := range sold {
		sold[i] = waiting
	}
	left = picked
	for left > 0 {
		best := -1
		for i := range net {
			if sold[i] == waiting && net[i] >= 0 && (best < 0 || net[i] > net[best]) {
				best = i
			}
		}
		if best < 0 {
			break
		}
		sold[best] = min(takes[best], left)
		left -= sold[best]
	}
	for i := range sold {
		if sold[i] == waiting {
			sold[i] = 0
		}
	}
	return left
}
