package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
)

var conductivity = formula.Function{
	Name: "conductivity",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "Estimates the electrical conductivity (EC) of a feed from the cations it holds: 0.095 x their charges in meq/L + 0.19. Reads from the list of elements: kind. Hold it against your meter; a gap means a weighing slip or a tank run dry.",
		Gives:  "mS/cm, over the axes of what is held but the elements",
		Valid:  "Complete feeds of 0.5 to 5 mS/cm at 25 degC, within about 5 %. Counted are potassium, calcium, magnesium, sodium, and ammonium where the list has it; elements that are blank count as none. The equation is remembered: have it checked before you rely on it.",
		Source: "Sonneveld, on the conductivity of nutrient solutions, from memory",
		Example: formula.Example{
			Book: feedBook("ec = conductivity(element, element.recipe) -> mS/cm // 21.155 meq/L"),
			Ask:  "ec", Want: []float64{2.19972},
		},
	},
	Params: []formula.Param{
		{Name: "element", Says: "the list of elements", Takes: formula.ListName},
		{Name: "held", Says: "what the feed holds of each", Unit: "mg/L", Whole: []string{"list"}},
	},
	Kernel: &formula.Kernel{
		Name:    "conductivity",
		Columns: []formula.Column{{Name: "kind", Takes: formula.Words, Whole: []string{"list"}}},
		Results: []formula.Result{{Unit: "mS/cm"}},
		Run: func(c *formula.Call) {
			charges := 0.0
			for i, word := range c.Columns[0] {
				held := c.In[1][i]
				if word != word || held != held {
					continue
				}
				element, known := elementOf(c, word)
				if !known {
					return
				}
				charges += held * feed.ChargeOf(element)
			}
			c.Out[0][0] = feed.Conductivity(charges)
		},
	},
}
