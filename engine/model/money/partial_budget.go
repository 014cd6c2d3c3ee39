package money

// PartialBudget is what a change of the plan leaves beside the plan as it is, in money:
// what it brings and spares, less what it costs and forgoes. Only what differs is
// counted. Source: Iowa State University Extension, Ag Decision Maker C6-10, 2010,
// Partial budgeting.
func PartialBudget(addedReturns, sparedCosts, addedCosts, forgoneReturns float64) float64 {
	return addedReturns + sparedCosts - addedCosts - forgoneReturns
}

// DropGain is what leaving a crop out leaves beside growing it, in money: the costs
// that can be avoided, less its contribution (returns less variable costs). Costs that
// stay whatever is grown do not count. Source: OpenStax, Principles of Accounting 2,
// keep or drop a segment.
func DropGain(contribution, avoidableCosts float64) float64 { return avoidableCosts - contribution }
