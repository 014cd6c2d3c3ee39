package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/money"
)

// cashFunctions gives the money functions that are no loan: so far the charge
// of what is owned. Break-evens, cover and margins are plain arithmetic of lines
// and need no function.
func cashFunctions() []formula.Function {
	return []formula.Function{{
		Name: "ownership_charge",
		Card: formula.Card{
			Family: moneyFamily,
			Says: "What owning something costs each year, wear and interest together (capital recovery): " +
				"the level sum that pays back the price, less what is left at the end, at the rate.",
			Gives: "money/year; times week_days it is a week's part",
			Valid: "Lives above 0 and rates of 0 % to 1,000 %/year; others are refused. At a rate of 0 it is straight-line depreciation. A salvage below zero is the cost of being rid of it.",
			Source: "AAEA Task Force, 2000, Commodity Costs and Returns Estimation Handbook (capital recovery with salvage value; formula from memory); " +
				"the example is worked out by hand",
			Example: formula.Example{Lines: []string{
				"price : 50000 USD",
				"salvage : 5000 USD",
				"life : 5 year",
				"rate : 10 %/year",
				"charge = ownership_charge(price, salvage, life, rate) -> USD/year",
			}, Ask: "charge", Want: []float64{12370.89}},
		},
		Params: []formula.Param{
			{Name: "price", Says: "what it costs, put up", Unit: "money"},
			{Name: "salvage", Says: "what it is worth at the end of its life", Unit: "money"},
			{Name: "life", Says: "how long it serves", Unit: "year"},
			{Name: "yearly_rate", Says: "what money costs, or could earn elsewhere", Unit: "1/year"},
		},
		Kernel: &formula.Kernel{Name: "ownership_charge", Results: []formula.Result{{Unit: "money/year"}}, Run: runOwnership},
	}}
}

func runOwnership(c *formula.Call) {
	price, salvage, life, rate := c.In[0][0], c.In[1][0], c.In[2][0], c.In[3][0]
	if passOn(c, price, salvage, life, rate) {
		return
	}
	charge, err := money.CapitalRecovery(price, salvage, life, rate)
	if err != nil {
		c.Refuse(err.Error())
		return
	}
	c.Out[0][0] = charge
}
