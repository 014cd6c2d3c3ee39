package library

import (
	"strings"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
)

var acidNeeded = formula.Function{
	Name: "acid_needed",
	Card: formula.Card{
		Family: feedFamily,
		Says: "The acid that takes a water's alkalinity down to what is kept, in equivalents. An amount to have checked: mix a litre, measure its pH, and ask your laboratory or adviser before a tank of it is made. " +
			"Divide by the strength on the can, meq/mL, for the volume." + feedCaution,
		Gives:  "meq/L of water",
		Valid:  "Alkalinity as calcium carbonate, as laboratories give it; 50.04 mg of it bind one meq. Water with less than is kept needs none.",
		Source: "definition: half a mole of calcium carbonate binds one equivalent; Standard Methods for the Examination of Water and Wastewater, 2320, from memory",
		Example: formula.Example{
			Lines: []string{"alkalinity : 200 ppm", "kept : 50 ppm", "acid = acid_needed(alkalinity, kept) -> meq/L"},
			Ask:   "acid", Want: []float64{2.99742},
		},
	},
	Params: []formula.Param{
		{Name: "alkalinity", Says: "of the water, as calcium carbonate", Unit: "mg/L"},
		{Name: "kept", Says: "alkalinity to leave, as calcium carbonate; left out, none", Unit: "mg/L", Optional: true},
	},
	Kernel: &formula.Kernel{
		Name:    "acid needed",
		Results: []formula.Result{{Unit: "meq/L"}},
		Run: func(c *formula.Call) {
			if c.In[0][0] < 0 || c.In[1][0] < 0 {
				c.Refuse("alkalinity is not below 0")
				return
			}
			cell(c, func(in [][]float64) float64 { return feed.AcidNeeded(in[0][0], in[1][0]) })
		},
	},
}

var acidBrings = formula.Function{
	Name: "acid_brings",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "What an acid brings of an element with each equivalent of it: it feeds the crop too, and the recipe's salts need bring less.",
		Gives:  "mg/meq",
		Valid:  "Acids: " + strings.Join(feed.Acids[:], ", ") + ". Phosphoric acid is counted as giving one of its three protons, as it does in a feed. 0 for elements that the acid does not hold.",
		Source: masses,
		Example: formula.Example{
			Lines: []string{"acid : nitric", "wanted : nitrogen", "brought = acid_brings(acid, wanted) -> mg/meq"},
			Ask:   "brought", Want: []float64{14.007},
		},
	},
	Params: []formula.Param{
		{Name: "acid", Says: "kind of the acid", Takes: formula.Words},
		{Name: "element", Says: "kind of the element", Takes: formula.Words},
	},
	Kernel: &formula.Kernel{
		Name:    "acid brings",
		Results: []formula.Result{{Unit: "mg/meq"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0], c.In[1][0]); found {
				skip(c, gap)
				return
			}
			element, known := elementOf(c, c.In[1][0])
			if !known {
				return
			}
			brought, known := feed.AcidBrings(c.Word(c.In[0][0]), element)
			if !known {
				c.Refuse(unknownAcid)
				return
			}
			c.Out[0][0] = brought
		},
	},
}
