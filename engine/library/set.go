package library

import (
	"strings"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// setFunctions tell how many flowers become fruit, and what it takes.
func setFunctions() []formula.Function {
	return []formula.Function{setLimit, setByLight, pollinated, hives, vibratingTime}
}

var setLimit = formula.Function{
	Name: "set_limit",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of fruit set that the temperature leaves: nothing at 12 degC, all from 18 to 22 degC, nothing at 27 degC, on straight lines between.",
		Gives:  "a share, 0 to 1, for each cell of air",
		Valid:  "24-hour means. The four temperatures are published for the growth of the organs; that set follows them is our reading.",
		Source: "Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, appendix C; poor set at 10 and 12.8 degC: Charles & Harris 1972; limit at 25 to 26 degC: Harel et al. 2014, Agronomy 4:167",
		Table:  setLimitTable,
		Example: formula.Example{
			Lines: []string{"air : 15 degC", "left = set_limit(air) -> 1"},
			Ask:   "left", Want: []float64{0.5},
		},
	},
	Params: []formula.Param{{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC"}},
	Kernel: &formula.Kernel{
		Name:    "set limit",
		Results: []formula.Result{{Unit: "1"}},
		Run:     cellwise(func(in [][]float64) float64 { return crop.SetLimit(in[0][0]) }),
	},
}

var setByLight = formula.Function{
	Name: "set_by_light",
	Card: formula.Card{
		Family: "crop",
		Says:   "The share of fruit set that the light leaves: in proportion to the sugar that the crop can give its fruit, all from 8.6 g of sugar a m2 and day on, which is light of about 14 mol/m2/d; half at 6.",
		Gives:  "a share, 0 to 1, for each cell of light",
		Valid:  "The source calls the 8.6 g an assumption; the growth from light is from memory, without added CO2. Count on marked plants as soon as there are trusses: what is counted is always better.",
		Source: "Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, equation 29 and table 3; 74 % to fruit: appendix C, after Heuvelink 1996; light: Marcelis et al. 2006, Acta Horticulturae 711",
		Table:  loadedTable,
		Example: formula.Example{
			Lines: []string{"light : 10 mol/m2/d", "own_growth : 0.6 g/mol", "left = set_by_light(light, own_growth) -> % // 6 g x 0.74 / 0.79 / 8.6 g"},
			Ask:   "left", Want: []float64{65.3517810},
		},
	},
	Params: []formula.Param{
		{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d"},
		{Name: "growth", Says: "dry growth of the whole crop from light, at 10 mol/m2/d", Unit: "g/mol", Optional: true, Default: crop.CropGrowth.Value},
	},
	Kernel: &formula.Kernel{
		Name:    "set by light",
		Results: []formula.Result{{Unit: "1"}},
		Run:     cellwise(func(in [][]float64) float64 { return crop.SetByLight(in[0][0], in[1][0]) }),
	},
}

var pollinated = formula.Function{
	Name: "pollinated",
	Card: formula.Card{
		Family: "crop",
		Says:   "The usual share of flowers that become fruit in winter, by how they are pollinated: bees (or a vibrator every day) 0.90, vibrator three times a week 0.75, none 0.66. Use it until you have counts of your own.",
		Gives:  "a share, 0 to 1",
		Valid:  "A cool house; measured over ten trusses as 0.991, 0.767 and 0.657. In cold or dark weeks less.",
		Source: "Al-Attal, Kasrawi & Nazer 2003, Agricultural and Marine Sciences 8:21-26, abstract; bees lowered to 0.90 by our own choice; Pressman et al. 1999, Journal of Horticultural Science and Biotechnology 74:101-104, for the daily vibrator",
		Table:  pollinatedTable,
		Example: formula.Example{
			Lines: []string{"way : vibrator", "set_share = pollinated(way) -> 1"},
			Ask:   "set_share", Want: []float64{0.75},
		},
	},
	Params: []formula.Param{{Name: "way", Says: "how flowers are pollinated: " + strings.Join(crop.Pollinations[:], ", "), Takes: formula.Words}},
	Kernel: &formula.Kernel{
		Name:    "pollinated",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0]); found {
				skip(c, gap)
				return
			}
			share, ok := crop.Pollinated(c.Word(c.In[0][0]))
			if !ok {
				c.Refuse(`"` + c.Word(c.In[0][0]) + `" is no way of pollinating known here: ` + strings.Join(crop.Pollinations[:], ", "))
				return
			}
			c.Out[0][0] = share
		},
	},
}

var hives = formula.Function{
	Name: "hives_needed",
	Card: formula.Card{
		Family: "crop",
		Says:   "Bumblebee hives to set up at once for a floor of tomatoes: 11 a hectare, rounded up, so at least one.",
		Gives:  "hive, whole ones",
		Valid:  "7 to 15 a hectare were enough, growers ran 8 to 20. A hive lasts about six weeks. In a small house too many visits wear the flowers out: open it on four days a week. Bees sting: whoever is allergic must know where the hive stands; and before any spray read its label for bees, and take the hive out.",
		Source: "Morandin, Laverty & Kevan 2001, Journal of Economic Entomology 94:462-467, abstract; Hanna 2007, LSU AgCenter",
		Table:  hivesTable,
		Example: formula.Example{
			Lines: []string{"floor : 2880 ft2", "at_once = hives_needed(floor) -> hive"},
			Ask:   "at_once", Want: []float64{1},
		},
	},
	Params: []formula.Param{{Name: "floor", Says: "floor of tomatoes", Unit: "m2"}},
	Kernel: &formula.Kernel{
		Name:    "hives needed",
		Results: []formula.Result{{Unit: "hive"}},
		Run: func(c *formula.Call) {
			if c.In[0][0] < 0 {
				c.Refuse("a floor cannot be less than 0")
				return
			}
			cell(c, func(in [][]float64) float64 { return crop.Hives(in[0][0]) })
		},
	},
}

var vibratingTime = formula.Function{
	Name: "vibrating_time",
	Card: formula.Card{
		Family: "crop",
		Says:   "The work of vibrating the trusses three times a week, where there are no bees: 5.1 seconds a plant and week.",
		Gives:  "h/week, for each cell of plants",
		Valid:  "One house of 640 plants over 18 weeks. A vibrator every day does as well as bees in winter, and takes more than twice as long.",
		Source: "Hanna 2007, LSU AgCenter: 16.27 hours; every day: Pressman et al. 1999, Journal of Horticultural Science and Biotechnology 74:101-104",
		Example: formula.Example{
			Lines: []string{"plants : 640 plant", "in_flower : 18 week", "work = vibrating_time(plants) * in_flower -> h"},
			Ask:   "work", Want: []float64{16.32},
		},
	},
	Params: []formula.Param{{Name: "plants", Says: "plants standing", Unit: "plant"}},
	Kernel: &formula.Kernel{
		Name:    "vibrating time",
		Results: []formula.Result{{Unit: "h/week"}},
		Run:     cellwise(func(in [][]float64) float64 { return crop.VibratingHours(in[0][0]) }),
	},
}
