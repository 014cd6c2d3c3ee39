package library

import (
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// nodeFunctions are the steps of cucumber and pepper; their flushes are in
// flush.go, a cucumber's yield by light in light_yield.go.
func nodeFunctions() []formula.Function {
	return append([]formula.Function{nodePace, fruitDays, setByLoad}, append(flushFunctions(), lightYieldFunctions()...)...)
}

// vegetableParam is the parameter for a crop that flowers node by node.
var vegetableParam = formula.Param{Name: "crop", Says: "the crop: " + strings.Join(crop.Vegetables[:], ", "), Takes: formula.Words}

// vegetableOf reads the crop given as argument i. Where it is blank or none that
// is known, it settles the call and says no.
func vegetableOf(c *formula.Call, i int) (crop.Vegetable, bool) {
	x := c.In[i][0]
	if x != x {
		return 0, skip(c, x)
	}
	v, ok := crop.VegetableOf(c.Word(x))
	if !ok {
		c.Refuse(`"` + c.Word(x) + noVegetable)
	}
	return v, ok
}

var noVegetable = `" does not flower node by node as known here: ` + strings.Join(crop.Vegetables[:], ", ")

const (
	cucumberRecord = "Hemming et al. 2019, Sensors 19:1807, and its data set (cucumber, the Netherlands, 2018)"
	pepperPeriod   = "Dickson et al. 2024, HortScience 59:1293, abstract: limit 0.0252 a day, cold end 9.3 and 13.3 degC"
)

var nodePace = formula.Function{
	Name: "node_pace",
	Card: formula.Card{
		Family: "crop",
		Says:   "How many nodes, each with a leaf and a flower, a stem makes in a day. Cucumber: -0.0204 + 0.0498 x the 24-hour mean of the air. Your own pace at 20 degC, counted, is carried to other temperatures; pepper needs one.",
		Gives:  "node/stem/d, for each cell of air",
		Valid:  "Cucumber from 19.9 to 24.2 degC, to 0.4 a week. Below 18 degC a straight fall to nothing at 14 degC; above 26 degC it stays. For pepper no pace was found in print: without your own count it is an error, and its response to temperature is assumed to be that of its ripening.",
		Source: "own fit to " + cucumberRecord + "; cold end: FAO 2017, Good agricultural practices for greenhouse vegetable production in the South East European countries, as quoted",
		Example: formula.Example{
			Lines: []string{"air : 22 degC", "grown : cucumber", "pace = node_pace(air, grown) -> node/stem/d"},
			Ask:   "pace", Want: []float64{1.0752},
		},
	},
	Params: []formula.Param{
		{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Measured: nodeMeasured},
		vegetableParam,
		{Name: "own_pace", Says: "your own pace at 20 degC; blank or left out, that of the record", Unit: "node/stem/d", Optional: true, Default: array.Blank},
	},
	Kernel: &formula.Kernel{
		Name:    "node pace",
		Results: []formula.Result{{Unit: "node/stem/d"}},
		Run: func(c *formula.Call) {
			air, own := c.In[0][0], c.In[2][0]
			v, ok := vegetableOf(c, 1)
			switch {
			case !ok:
			case air != air:
				skip(c, air)
			case own == own:
				c.Out[0][0] = own * crop.RelativePaceOf(v, air)
			case v == crop.Cucumber:
				c.Out[0][0] = crop.NodePace(air)
			default:
				c.Refuse("no published pace of a pepper's nodes was found: count nodes for three weeks and give your own pace")
			}
		},
	},
}

var fruitDays = formula.Function{
	Name: "fruit_days",
	Card: formula.Card{
		Family: "crop",
		Says:   "Days from open flower to pick of a cucumber or a pepper when the air stays the same. Cucumber: 1 / (0.0069 (T - 14)). Pepper, picked coloured: 59.5 days at 20.5 degC, at least 40 however warm.",
		Gives:  "d, for each cell of air",
		Valid:  "Cucumber from 20 to 24 degC, to 2.2 days; it stays above 26 degC and never ripens at 14 degC: an error. More fruit on the plant take longer, which is left out. Pepper from 18 to 30 degC; its 59.5 days are from memory: put your own dates in their place.",
		Source: "own fit to " + cucumberRecord + "; pepper: " + pepperPeriod,
		Table:  fruitDaysTable,
		Example: formula.Example{
			Lines: []string{"air : 22 degC", "grown : cucumber", "to_pick = fruit_days(air, grown) -> d"},
			Ask:   "to_pick", Want: []float64{18.1159420},
		},
	},
	Params: []formula.Param{{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Measured: nodeRipening}, vegetableParam},
	Kernel: &formula.Kernel{
		Name:    "fruit days",
		Results: []formula.Result{{Unit: "d"}},
		Run: func(c *formula.Call) {
			v, ok := vegetableOf(c, 1)
			if !ok {
				return
			}
			air := c.In[0][0]
			if air != air {
				skip(c, air)
				return
			}
			gain := crop.FruitGain(v, air)
			if gain <= 0 {
				c.Refuse("in air that cold the fruit never come to be picked")
				return
			}
			c.Out[0][0] = 1 / gain
		},
	},
}

var setByLoad = formula.Function{
	Name: "set_by_load",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of a pepper's flowers that set, by the fruit that already hang on the plant: 78, 56, 28 and 6 % with 0, 1, 2 and 4.",
		Gives:  "a share, 0 to 1, for each cell of hanging",
		Valid:  "0 to 4 fruit, straight lines between; carried on to nothing at 4.5. Counted on early fruits of one trial: plants with more stems carry more, see flush_set.",
		Source: flushSource,
		Table:  setByLoadTable,
		Example: formula.Example{
			Lines: []string{"on_it : 2 fruit/plant", "sets = set_by_load(on_it) -> %"},
			Ask:   "sets", Want: []float64{28},
		},
	},
	Params: []formula.Param{{Name: "hanging", Says: "fruit on the plant", Unit: "fruit/plant", Measured: loadMeasured}},
	Kernel: &formula.Kernel{
		Name:    "set by load",
		Results: []formula.Result{{Unit: "1"}},
		Run: cellwise(func(in [][]float64) float64 {
			return crop.SetByLoad(crop.Pepper, max(0, in[0][0]))
		}),
	},
}
