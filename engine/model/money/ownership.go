package money

import "math"

// RecoveryFactor is what one unit of money lent now costs each year over a
// life of so many years, at a yearly rate (share): i / (1 - (1+i)^-n), and 1/n
// at a rate of 0. Errors: a life or a rate outside its limits.
func RecoveryFactor(yearlyRate, life float64) (float64, error) {
	switch {
	case !(life > 0):
		return 0, ErrLife
	case !(yearlyRate >= 0 && yearlyRate <= 10):
		return 0, ErrRate
	case yearlyRate == 0:
		return 1 / life, nil
	}
	return yearlyRate / -math.Expm1(-life*math.Log1p(yearlyRate)), nil
}

// CapitalRecovery is the yearly charge of owning something, in money/year:
//
//	CR = (P - S) CRF + S i
//
// with P the price and S the worth at the end of its life (money; below zero
// where it costs to be rid of), life in years and i the yearly rate (share). It
// holds wear and the interest on what is tied up. Unlike depreciation plus
// interest on the middle value it is exact: its payments, at that rate, are worth
// what was paid. Source: AAEA Task Force, 2000, Commodity Costs and Returns
// Estimation Handbook (formula from memory; the glossary of USDA-ERS's cost and
// returns accounts names the method).
func CapitalRecovery(price, salvage, life, yearlyRate float64) (float64, error) {
	factor, err := RecoveryFactor(yearlyRate, life)
	if err != nil {
		return 0, err
	}
	return (price-salvage)*factor + salvage*yearlyRate, nil
}

// StraightLine is depreciation spread evenly, in money/year: (P - S) / n.
func StraightLine(price, salvage, life float64) (float64, error) {
	if !(life > 0) {
		return 0, ErrLife
	}
	return (price - salvage) / life, nil
}

// DecliningBalance is depreciation for each year of a life, in money: factor/n
// of the book value (factor 2 for the double), never below the salvage value.
func DecliningBalance(price, salvage float64, life int, factor float64) ([]float64, error) {
	if life < 1 {
		return nil, ErrLife
	}
	years := make([]float64, life)
	value := price
	for i := range years {
		years[i] = max(0, min(value*factor/float64(life), value-salvage))
		value -= years[i]
	}
	return years, nil
}
