package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/feed"
)

// substrateFunctions tell what the bags come to.
func substrateFunctions() []formula.Function { return []formula.Function{bagCostEach} }

var bagCostEach = formula.Function{
	Name: "bag_cost_each",
	Card: formula.Card{
		Family: feedFamily,
		Says:   "What a plant's substrate costs in one crop: (price + freight + disposal of a bag) / (plants in it x crops it serves). Times plants on a square metre it is the cost by floor.",
		Gives:  "money/plant",
		Valid:  "Plants in a bag and crops above 0. Price by the bag, whether you buy them singly, by the pallet or the container: ask which it is. Disease is to be expected after 3 to 5 crops; coir settles, and each winter's bags should be looked at. Their sleeves are plastic waste.",
		Source: "definition; crops: ghvi.co.nz, on planter bags; two plants a bag: LSU AgCenter 2003, 320 bags and 640 plants in a house of 30 x 96 ft",
		Example: formula.Example{
			Lines: []string{"price : 3.60 USD/bag", "freight : 0.50 USD/bag", "disposal : 0.30 USD/bag", "in_bag : 2 plant/bag", "crops : 2", "each = bag_cost_each(price, freight, disposal, in_bag, crops) -> USD/plant"},
			Ask:   "each", Want: []float64{1.10},
		},
	},
	Params: []formula.Param{
		{Name: "price", Says: "price of a bag", Unit: "money/bag"},
		{Name: "freight", Says: "freight of a bag", Unit: "money/bag"},
		{Name: "disposal", Says: "getting rid of a bag", Unit: "money/bag"},
		{Name: "plants", Says: "plants in a bag", Unit: "plant/bag"},
		{Name: "crops", Says: "crops that a bag serves; left out, four", Unit: "1", Optional: true, Default: feed.BagCrops(),
			Measured: []formula.Measured{{Low: 1, High: 5, Outside: "it is used as given, and disease is to be expected"}}},
	},
	Kernel: &formula.Kernel{
		Name:    "bag cost",
		Results: []formula.Result{{Unit: "money/plant"}},
		Run: func(c *formula.Call) {
			if c.In[3][0] <= 0 || c.In[4][0] <= 0 {
				c.Refuse("the plants in a bag and the crops it serves are above 0")
				return
			}
			cell(c, func(in [][]float64) float64 { return feed.BagCost(in[0][0], in[1][0], in[2][0], in[3][0], in[4][0]) })
		},
	},
}
