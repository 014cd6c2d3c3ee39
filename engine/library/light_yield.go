package library

import (
	"math"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// lightYieldFunctions tell a cucumber's weight by the light it lately caught.
func lightYieldFunctions() []formula.Function {
	return []formula.Function{lightYield, lightUse}
}

var toppedParam = formula.Param{Name: "topped", Says: "date on which the heads come off; blank or left out, never", Takes: formula.Dates, Optional: true, Default: array.Blank}

// toppedOn reads the day of topping given as argument i, counted from the book's first
// day.
func toppedOn(c *formula.Call, i int) float64 {
	if x := c.In[i][0]; x == x {
		return x - float64(c.Season.At(0).Monday())
	}
	return math.Inf(1)
}

const lightYieldValid = "Long cucumbers in full picking: from a week after the first pick until the fruit set before topping are picked. 27.9 to 33.5 g/mol in three lit compartments of which the cover is assumed to pass 0.5: in your house the figure is your own, from light_use. Before the book's weeks the light of the first week holds."

var lightYield = formula.Function{
	Name: "light_yield",
	Card: formula.Card{
		Family: "crop",
		Says:   "What a cucumber crop yields in each week by the light of the three weeks before its picks: 7 days x light x use. Topped, the fruit get what the heads took: up to 35 % more. On three open records this told the next two weeks better than its nodes did, and better than the last two weeks; what was still to come, to 4, 7 and 10 %.",
		Gives:  "kg/m2, over week",
		Valid:  lightYieldValid,
		Source: "own fit to " + cucumberRecord + "; about 1 % of yield for 1 % of light: Marcelis et al. 2006, Acta Horticulturae 711, abstract (0.7 to 1); once topped: 74 % to fruit before, Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, appendix C, measured on tomato",
		Table:  lightUseTable,
		Example: formula.Example{
			Lines: []string{"light over week : 16 mol/m2/d; 8 mol/m2/d from 2027-W01", "own_use : 25 g/mol",
				`bright = at(light_yield(light, own_use), "2026-W50") -> kg/m2`, `dim = at(light_yield(light, own_use), "2027-W02") -> kg/m2 // half, a week after the light was halved`},
			Ask: "dim", Want: []float64{2.1},
		},
	},
	Params: []formula.Param{
		{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d", Whole: []string{"week"}},
		{Name: "use", Says: "fresh weight from light, as light_use gives it; left out, the usual 30 g/mol", Unit: "g/mol", Optional: true, Default: crop.CucumberUse()},
		toppedParam,
	},
	Kernel: &formula.Kernel{
		Name:    "light yield",
		Results: []formula.Result{{Unit: "kg/m2", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			topped := toppedOn(c, 2)
			for w := range c.Out[0] {
				c.Out[0][w] = crop.LightYield(c.In[0], w, c.In[1][0], topped)
			}
		},
	},
}

var lightUse = formula.Function{
	Name: "light_use",
	Card: formula.Card{
		Family: "crop",
		Says:   "The weight that your crop makes of light, from what was picked so far, held to the usual as if that had been seen for two weeks. The first week of picks is left out, as picking has not got going.",
		Gives:  "g/mol",
		Valid:  lightYieldValid + " Closed weeks count, the open one and those to come do not; of closed weeks those that are blank are passed over.",
		Source: "definition; usual use: own arithmetic on " + cucumberRecord,
		Table:  lightUseTable,
		Example: formula.Example{
			Lines: []string{"light : 16 mol/m2/d", "seen_so_far over week : 0 kg/m2; 1 kg/m2 from 2026-W40; 2.8 kg/m2 from 2026-W41",
				"own_use = light_use(seen_so_far, light) -> g/mol // 22 closed weeks at 25 g/mol and 2 at 30"},
			Ask: "own_use", Want: []float64{25.4166667},
		},
	},
	Params: []formula.Param{
		{Name: "picked", Says: "what was picked in each week, by floor; blank where not known", Unit: "kg/m2", Whole: []string{"week"}},
		{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d", Whole: []string{"week"}},
		{Name: "usual", Says: "use of light until there are picks; left out, 30 g/mol", Unit: "g/mol", Optional: true, Default: crop.CucumberUse()},
		toppedParam,
	},
	Kernel: &formula.Kernel{
		Name:    "light use",
		Results: []formula.Result{{Unit: "g/mol"}},
		Run: func(c *formula.Call) {
			// Light must be known where picks are; elsewhere it does not matter.
			c.Out[0][0] = crop.LightUse(closedOnly(c, c.In[0]), c.In[1], c.In[2][0], toppedOn(c, 3))
		},
	},
}
