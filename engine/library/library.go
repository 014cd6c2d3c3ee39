package library

import (
	"sync"

	"wintertruss/engine/formula"
)

// RecordsFamily is the family of the functions that read records: a line that
// calls one of them has facts in its closed weeks.
const RecordsFamily = recordsFamily

// families lists every file of functions; a new one is added here.
var families = []func() []formula.Function{
	loweredFunctions,
	weeksFunctions, recordsFunctions,
	sunFunctions, airFunctions, houseFunctions, fuelFunctions,
	cropFunctions, ripeningFunctions, countsFunctions,
	marketFunctions, priceFunctions,
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
