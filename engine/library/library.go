package library

import (
	"sync"

	"wintertruss/engine/fact"
	"wintertruss/engine/formula"
)

// FillsWeeks says whether a function puts recorded facts into weeks, so that a
// line that calls it has facts in its closed weeks.
func FillsWeeks(f *formula.Function) bool {
	if f == nil || f.Kernel == nil || f.Card.Family != recordsFamily {
		return false
	}
	for _, w := range f.Kernel.Results[f.Output].Whole {
		if w == "week" {
			return true
		}
	}
	return false
}

// FactElseForecast says whether a function takes what was recorded and what was
// forecast, in this order, and gives the one where it is known, else the other.
func FactElseForecast(name string) bool { return name == "recorded_or" || name == "counted_or" }

// families lists every file of functions; a new one is added here.
var families = []func() []formula.Function{
	loweredFunctions,
	weeksFunctions, recordsFunctions,
	sunFunctions, weatherFunctions, airFunctions, houseFunctions, fuelFunctions, tankFunctions,
	cropFunctions, ripeningFunctions, countsFunctions,
	marketFunctions, priceFunctions,
	waterFunctions, feedFunctions, substrateFunctions, lampFunctions,
	labourFunctions, protectionFunctions, ordersFunctions,
	loanFunctions, cashFunctions,
}

// All gives every function of the language by name. It is made once and not
// changed. Two functions of one name are a programmer's mistake and panic.
var All = sync.OnceValue(func() map[string]*formula.Function {
	all := map[string]*formula.Function{}
	for _, family := range families {
		for _, f := range family() {
			if all[f.Name] != nil {
				panic("library: two functions named " + f.Name)
			}
			all[f.Name] = &f
		}
	}
	return all
})

// factRows gives low and high of published figures as rows of a card's table, each
// times a factor (100 turns shares into per cent).
func factRows(times float64, figures ...fact.Fact) [][]float64 {
	var rows [][]float64
	for _, f := range figures {
		rows = append(rows, []float64{times * f.Low, times * f.High})
	}
	return rows
}
