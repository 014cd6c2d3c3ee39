package library

import (
	"math"
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
	"wintertruss/engine/week"
)

// The crop's kernels, here and in ripening.go and counts.go, settle what is blank;
// faults never reach them, as the caller makes a fault its result.

// cropFunctions are the steps from sowing to the weight of a fruit. Fruit set,
// ripening, the counts on marked plants, picking, grading, and cucumber and pepper
// have files of their own.
func cropFunctions() []formula.Function {
	functions := []formula.Function{trussPace, paceOffset, ownOffset, firstFlower, usualWeight, filled, lightCeiling}
	for _, more := range [][]formula.Function{setFunctions(), fillingFunctions(), pickingFunctions(), gradingFunctions(), nodeFunctions()} {
		functions = append(functions, more...)
	}
	return functions
}

// tomatoKind is the parameter for a type of tomato.
var tomatoKind = formula.Param{Name: "kind", Says: "type of tomato: " + strings.Join(crop.Kinds[:], ", "), Takes: formula.Words}

// tomatoKindOf reads the type of tomato given as argument i. Where it is blank or
// no type that is known, it settles the call and says no.
func tomatoKindOf(c *formula.Call, i int) (crop.Kind, bool) {
	x := c.In[i][0]
	if x != x {
		return 0, skip(c, x)
	}
	k, ok := crop.KindOf(c.Word(x))
	if !ok {
		c.Refuse(`"` + c.Word(x) + noTomato)
	}
	return k, ok
}

// noTomato is put together once: where a book has other crops too, it is said in every draw.
var noTomato = `" is no type of tomato known here: ` + strings.Join(crop.Kinds[:], ", ")

var trussPace = formula.Function{
	Name: "truss_pace",
	Card: formula.Card{
		Family: "crop",
		Says:   "How many trusses open on a stem in a day: offset + 0.1454 x the natural logarithm of the 24-hour mean of the air. The offset is that of the type (large -0.295, cluster -0.2903, cherry -0.267), or your own from pace_offset, which is better after a few weeks of counts.",
		Gives:  "truss/stem/d, for each cell of air",
		Valid:  "Measured from 17 to 27 degC. Below, the curve is carried on, and fades to nothing from 13 to 12 degC; above, it stays at its value for 27 degC. Cultivars of one type differ by about a tenth.",
		Source: "de Koning 1994, thesis, Wageningen, equation 3.2.3, as quoted; offsets for large and cherry from two open crop records, Ohio 2024 and the Netherlands 2019",
		Table:  paceTable,
		Example: formula.Example{
			Lines: []string{"air : 20 degC", "grown : cluster", "pace = truss_pace(air, grown) -> truss/stem/d"},
			Ask:   "pace", Want: []float64{0.1452794726},
		},
	},
	Params: []formula.Param{
		{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Measured: paceMeasured},
		tomatoKind,
		{Name: "own_offset", Says: "your own offset; blank or left out, that of the type", Unit: "truss/stem/d", Optional: true, Default: array.Blank},
	},
	Kernel: &formula.Kernel{
		Name:    "truss pace",
		Results: []formula.Result{{Unit: "truss/stem/d"}},
		Run: func(c *formula.Call) {
			air, offset := c.In[0][0], c.In[2][0]
			if air != air {
				skip(c, air)
				return
			}
			if offset != offset {
				k, ok := tomatoKindOf(c, 1)
				if !ok {
					return
				}
				offset = crop.PaceOffset(k)
			}
			c.Out[0][0] = crop.TrussPace(air, offset)
		},
	},
}

var paceOffset = formula.Function{
	Name: "pace_offset",
	Card: formula.Card{
		Family: "crop",
		Says:   "The offset of the truss pace that a counted pace stands for, of one week; own_offset takes the weeks together.",
		Gives:  "truss/stem/d, for each cell of pace and air",
		Valid:  "Air from 17 to 27 degC. Above, as at 27 degC. Below 13 degC, where growth fades out, it says nothing and is blank. Counts scatter: in an open record of cherry tomato (ten stems, Ohio, 2024) the offset stood at -0.299 after four weeks and at -0.277 after fifteen.",
		Source: "de Koning 1994, thesis, Wageningen, equation 3.2.3, as quoted, solved for the offset",
		Table:  paceTable,
		Example: formula.Example{
			Lines: []string{"counted : 0.17 truss/stem/d", "air : 24 degC", "own = pace_offset(counted, air) -> truss/stem/d"},
			Ask:   "own", Want: []float64{-0.2920890269},
		},
	},
	Params: []formula.Param{
		{Name: "pace", Says: "trusses opened on a stem in a day, counted", Unit: "truss/stem/d"},
		{Name: "air", Says: "24-hour mean of the air at the crop in that time", Unit: "degC", Measured: paceCounted},
	},
	Kernel: &formula.Kernel{
		Name:    "pace offset",
		Results: []formula.Result{{Unit: "truss/stem/d"}},
		Run:     cellwise(func(in [][]float64) float64 { return crop.OffsetOf(in[0][0], in[1][0]) }),
	},
}

var ownOffset = formula.Function{
	Name: "own_offset",
	Card: formula.Card{
		Family: "crop",
		Says:   "The offset of the truss pace of your own cultivar, for truss_pace: the mean over the weeks counted, held to that of the type as if it had been counted for three weeks more.",
		Gives:  "truss/stem/d",
		Valid:  "Air from 17 to 27 degC. Weeks not counted, or below 13 degC, are passed over; without any, the offset of the type. In an open record of cherry tomato (ten stems, Ohio, 2024) four weeks of counts held to the type come to -0.285, where the whole crop showed -0.277 and the four weeks alone -0.299.",
		Source: "de Koning 1994, thesis, Wageningen, equation 3.2.3, as quoted, solved for the offset; the three weeks are our own choice",
		Table:  paceTable,
		Example: formula.Example{
			Lines: []string{"air : 24 degC", "grown : cherry", "counted over week : 0.17 truss/stem/d",
				"own = own_offset(counted, air, grown) -> truss/stem/d // 53 weeks at -0.2921, 3 at -0.267"},
			Ask: "own", Want: []float64{-0.290745},
		},
	},
	Params: []formula.Param{
		{Name: "pace", Says: "trusses opened on a stem in a day, counted in each week; blank where not", Unit: "truss/stem/d", Whole: []string{"week"}},
		{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}, Measured: paceCounted},
		tomatoKind,
	},
	Kernel: &formula.Kernel{
		Name:    "own offset",
		Results: []formula.Result{{Unit: "truss/stem/d"}},
		Run: func(c *formula.Call) {
			if k, ok := tomatoKindOf(c, 2); ok {
				c.Out[0][0] = crop.OwnOffset(c.In[0], c.In[1], crop.PaceOffset(k))
			}
		},
	},
}

var firstFlower = formula.Function{
	Name: "first_flower",
	Card: formula.Card{
		Family: "crop",
		Says:   "The day of the first open flower: 8 days from sowing to spread cotyledons, then until the light at the plants adds up to 287 mol/m2, but no less than 40 days of 20 degC; a cooler day counts for 0.047 T + 0.060 of one. The date you saw it yourself is always better.",
		Gives:  "a date, to the nearest day",
		Valid:  "Any season, at 17 to 23 degC; the light sum is known to 10 %, and advisers' calendars run one to three weeks later. Outside the book's weeks the light of the nearest week holds. Blank when the light is not known from sowing on; plants in the dark are an error.",
		Source: "Calvert 1959, Journal of Horticultural Science 34:154-162, abstract: about 400,000 foot-candle hours in winter, about 40 days in summer; cooler days: Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, equation 28",
		Table:  calendarTable,
		Example: formula.Example{
			Lines: []string{"sown : 2026-11-10", "light : 4.1 mol/m2/d", "to_flower = first_flower(sown, light) - sown -> d"},
			Ask:   "to_flower", Want: []float64{78},
		},
	},
	Params: []formula.Param{
		{Name: "sown", Says: "date of sowing", Takes: formula.Dates},
		{Name: "light", Says: "daily light at the seedlings, wherever they stand", Unit: "mol/m2/d", Whole: []string{"week"}},
		{Name: "air", Says: "24-hour mean of the air at the seedlings; left out, 20 degC", Unit: "degC", Whole: []string{"week"}, Optional: true, Default: 20, Measured: flowerMeasured},
	},
	Kernel: &formula.Kernel{
		Name:    "first flower",
		Results: []formula.Result{{Takes: formula.Dates}},
		Run: func(c *formula.Call) {
			sown, light, air := c.In[0][0], c.In[1], c.In[2]
			if gap, found := missing(sown); found {
				skip(c, gap)
				return
			}
			start := sown - float64(c.Season.At(0).Monday())
			from, to := knownFrom(light, start)
			_, warmTo := knownFrom(air, start)
			end := light
			if warmTo < to {
				to, end = warmTo, air
			}
			if from == to {
				c.Out[0][0] = end[from]
				return
			}
			first := crop.WeekDays * float64(from)
			at, ok := crop.FirstFlower(light[from:to], air[from:to], start-first, c.Scratch(to-from))
			switch {
			case to < len(light) && (!ok || first+at > crop.WeekDays*float64(to)):
				c.Out[0][0] = end[to]
			case !ok:
				c.Refuse("light and warmth at the seedlings never add up to a first flower")
			default:
				c.Out[0][0] = dateOf(c.Season, first+at)
			}
		},
	},
}

var usualWeight = formula.Function{
	Name: "usual_weight",
	Card: formula.Card{
		Family: "crop",
		Says:   "What a fruit of a type usually weighs in spring light: large 133 g, cluster 100 g, cherry 18 g; a long cucumber 350 g. Cultivars differ widely: the mean of your own last three picks is better.",
		Gives:  "g/fruit",
		Valid:  "A start, until there are picks: large 119 to 147 g, cluster 84 to 150 g, cherry 14 to 24 g, cucumber 323 to 384 g. For pepper no figure was found: weigh your own.",
		Source: "large and cherry: two open crop records, the Netherlands 2019 and Ohio 2024; cluster: Al-Attal, Kasrawi & Nazer 2003, abstract (round fruit, bees, cool house); cucumber: " + cucumberRecord,
		Table:  usualWeightTable,
		Example: formula.Example{
			Lines: []string{"grown : cherry", "apiece = usual_weight(grown) -> g/fruit"},
			Ask:   "apiece", Want: []float64{18},
		},
	},
	Params: []formula.Param{{Name: "kind", Says: tomatoKind.Says + "; or cucumber", Takes: formula.Words}},
	Kernel: &formula.Kernel{
		Name:    "usual weight",
		Results: []formula.Result{{Unit: "g/fruit"}},
		Run: func(c *formula.Call) {
			if x := c.In[0][0]; x == x && c.Word(x) == crop.Vegetables[crop.Cucumber] {
				c.Out[0][0] = crop.CucumberWeight()
				return
			}
			if k, ok := tomatoKindOf(c, 0); ok {
				c.Out[0][0] = crop.UsualWeight(k)
			}
		},
	},
}

var filled = formula.Function{
	Name: "filled",
	Card: formula.Card{
		Family: "crop",
		Says:   "What a fruit picked in each week weighs, by the light it has lived on: its usual weight x (light seen / light that the usual weight belongs to) ^ response. The light seen is the mean of the weeks from 7 to 3 before the pick, as shade tells in the picks only then.",
		Gives:  "as potential, over week",
		Valid:  "Kept within 0.5 and 1.3 of the usual weight. The rule was published for whole yields; here all of it falls on the weight. Fewer fruit on the plant also make heavier ones, which this leaves out. Before the book's weeks the light of the first week holds.",
		Source: "Marcelis et al. 2006, Acta Horticulturae 711, abstract: 0.7 to 1 % of yield for 1 % of light, more in winter; delay: Gent 2007, HortScience 42:514-520, abstract",
		Table:  shadeTable,
		Example: formula.Example{
			Lines: []string{
				"light over week : 16 mol/m2/d; 8 mol/m2/d from 2027-W01", "full : 120 g/fruit", "full_light : 16 mol/m2/d",
				`dark_pick = at(filled(full, light, full_light), "2027-W10") -> g/fruit`,
			},
			Ask: "dark_pick", Want: []float64{68.9219013},
		},
	},
	Params: []formula.Param{
		{Name: "potential", Says: "what the fruit weigh in the reference light", Whole: []string{"week"}},
		{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d", Whole: []string{"week"}},
		{Name: "reference", Says: "daily light that the usual weight belongs to", Unit: "mol/m2/d"},
		{Name: "response", Says: "per cent of weight for one per cent of light", Unit: "1", Optional: true, Default: crop.LightResponse.Value, Measured: responsePublished},
	},
	Kernel: &formula.Kernel{
		Name:    "filled",
		Results: []formula.Result{{Unit: "like potential", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			potential, light, reference, response := c.In[0], c.In[1], c.In[2][0], c.In[3][0]
			if reference <= 0 {
				c.Refuse("the light that the usual weight belongs to must be above 0")
				return
			}
			for w := range c.Out[0] {
				seen := crop.LightSeen(light, w)
				x, found := missing(potential[w], seen, reference, response)
				if !found {
					x = potential[w] * crop.Filled(seen, reference, response)
				}
				c.Out[0][w] = x
			}
		},
	},
}

var lightCeiling = formula.Function{
	Name: "light_ceiling",
	Card: formula.Card{
		Family: "crop",
		Says:   "The most fruit that the light of the last six weeks could make, to hold a forecast against: 7 days x daily light x 0.41 g of dry fruit a mol / dry share of the fruit.",
		Gives:  "kg/m2 in each week",
		Valid:  "A full crop with fruit on it. Generous for a house without lamps and CO2, where the 0.41 was read from such; a forecast that passes it by a fifth is wrong somewhere. In the book's first weeks, the mean of the weeks there are.",
		Source: "own arithmetic on Hemming et al. 2020, data set, doi 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7: 4.5 to 4.7 g of fresh cherry tomato a mol, at 9 % dry matter; delay: Gent 2007, HortScience 42:514-520",
		Table:  contestTable,
		Example: formula.Example{
			Lines: []string{"light : 10 mol/m2/d", "dry : 9 %", `most = at(light_ceiling(light, dry), "2027-W10") -> kg/m2`},
			Ask:   "most", Want: []float64{0.3188888889},
		},
	},
	Params: []formula.Param{
		{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d", Whole: []string{"week"}},
		{Name: "dry_matter", Says: "dry share of the fruit: cherry 8 to 10 %, round fruit less", Unit: "1"},
	},
	Kernel: &formula.Kernel{
		Name:    "light ceiling",
		Results: []formula.Result{{Unit: "kg/m2", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			light, dry := c.In[0], c.In[1][0]
			if dry <= 0 || dry > 1 {
				c.Refuse("the dry share of fruit lies above 0 and not above 100 %")
				return
			}
			for w := range c.Out[0] {
				c.Out[0][w] = crop.LightCeiling(light, w, dry)
			}
		},
	},
}

// knownFrom gives the weeks, from that of day start (from the season's beginning;
// the nearest week outside it), through which a weekly series is known without a
// gap: from and not to.
func knownFrom(weekly []float64, start float64) (from, to int) {
	from = max(0, min(len(weekly)-1, int(math.Floor(start/crop.WeekDays))))
	for to = from; to < len(weekly) && weekly[to] == weekly[to]; to++ {
	}
	return from, to
}

// dateOf gives a day, counted from the season's beginning, as a date: whole days.
func dateOf(s week.Season, day float64) float64 { return math.Round(float64(s.At(0).Monday()) + day) }
