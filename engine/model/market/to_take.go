package market

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// ToTake is how much to take to a market whose demand is not known beforehand:
//
//	Q = m + s z(k),  k = (p - c) / (p - v)
//
// p what a unit sold leaves, c what a unit taken costs, v what a unit brought home is
// still worth (money per unit); demand is normal with mean m and spread s (units); z is
// the normal quantile. It is never below zero. lost and left are the demand not met and
// the fruit brought home to be expected, earns what the day leaves (money), all at Q.
//
// Outside: nothing is taken that costs more than it leaves; with v at or above c there
// is no limit, which is refused. Source: the single-period stocking problem, Arrow,
// Harris & Marschak, 1951, Optimal inventory policy, Econometrica 19 (from memory).
func ToTake(price, cost, worth, mean, spread float64) (take, lost, left, earns float64, err error) {
	switch {
	case !(mean >= 0 && spread >= 0):
		return 0, 0, 0, 0, ErrVolume
	case !(worth < cost):
		return 0, 0, 0, 0, ErrNoLimit
	case !(price > cost):
		return 0, mean, 0, 0, nil
	}
	normal := distuv.UnitNormal
	z := normal.Quantile((price - cost) / (price - worth))
	take = math.Max(0, mean+spread*z)
	if spread > 0 {
		z = (take - mean) / spread
		lost = spread * (normal.Prob(z) - z*normal.Survival(z))
	}
	left = take - mean + lost
	return take, lost, left, (price-cost)*(mean-lost) - (cost-worth)*left, nil
}
