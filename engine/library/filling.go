package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// fillingFunctions tell what fruit come to weigh when all that hang share the light.
// They share one kernel.
func fillingFunctions() []formula.Function {
	return []formula.Function{
		fillingFunction("fruit_grown", 0, "What a fruit picked in each week weighs: each grows along its own curve as long as light makes enough for all, and else by its share of it. More fruit or more stems to the floor make lighter fruit; the first of a plant are its heaviest; topped, all goes to the fruit.",
			"g/fruit, over week; 0 in weeks in which none comes ripe", "apiece", `at(fruit_grown(newly_set, air, light, heads, full, dry), "2027-W20") -> g/fruit // by hand 62.9: all would take 12.77 + 6.18 g dry a m2 and day, the light makes 9.16, so 48 % of 130 g`, 63.0127779),
		fillingFunction("green_grown", 1, "What the fruit that hang unripe weigh at each week's end, by floor: what the strings carry beside leaves and stems. Have the frame checked by someone who may sign for it.",
			"kg/m2, over week", "hangs", `at(green_grown(newly_set, air, light, heads, full, dry), "2027-W20") -> kg/m2 // by hand, 96 fruit of half of 63 g: 3.0`, 2.89537929),
	}
}

const (
	fillingValid  = "A closed crop. Growth of a fruit: measured at 17 to 23 degC. Light acts by 0.8 % for 1 % (0.7 to 1 in print), and by way of the mean of four weeks, which makes the delay that was measured. The growth from light is from memory (0.5 to 0.65 without added CO2; three lit compartments with CO2 come to 0.92): let your picks correct it. Before the book's weeks the light of the first week holds."
	fillingSource = "curve of growth: Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, equations 38 to 41, after de Koning 1994; share of leaves, stem and roots: Heuvelink 1997, Scientia Horticulturae 69:51-59, abstract; light: Marcelis et al. 2006, Acta Horticulturae 711; delay: Gent 2007, HortScience 42:514-520"
)

var fillingParams = []formula.Param{
	{Name: "set", Says: "fruit set in each week, by floor", Unit: "fruit/m2", Whole: []string{"week"}},
	{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}, Measured: growthMeasured},
	{Name: "light", Says: "daily light at the crop", Unit: "mol/m2/d", Whole: []string{"week"}},
	{Name: "heads", Says: "stems that grow on, by floor: none once they are topped", Unit: "stem/m2", Whole: []string{"week"}},
	{Name: "full_weight", Says: "what a fruit weighs that wants for nothing, at 20 degC: about 1.3 times its usual weight in spring", Unit: "g/fruit"},
	{Name: "dry_matter", Says: "dry share of the fruit, as dry_matter gives it", Unit: "1"},
	daysFactorParam,
	{Name: "spread", Says: "days over which the fruit of a truss flower, as for ripening", Unit: "d", Optional: true},
	{Name: "growth", Says: "dry growth of the whole crop from light, at 10 mol/m2/d", Unit: "g/mol", Optional: true, Default: crop.CropGrowth.Value},
}

var fillingKernel = &formula.Kernel{
	Name: "filling",
	Results: []formula.Result{
		{Unit: "g/fruit", Whole: []string{"week"}},
		{Unit: "g/m2", Whole: []string{"week"}},
	},
	Run: runFilling,
}

// runFilling settles what is not known: weeks without a known set add no fruit, and
// over blanks only the result is blank; where air, light or heads are not known while
// fruit hang, nothing is known from that week on.
func runFilling(c *formula.Call) {
	set, air, light, heads := c.In[0], c.In[1], c.In[2], c.In[3]
	full, dry, factor, spread, growth := c.In[4][0], c.In[5][0], c.In[6][0], c.In[7][0], c.In[8][0]
	if gap, found := missing(full, dry, factor, spread, growth); found {
		skip(c, gap)
		return
	}
	switch {
	case factor < leastDaysFactor:
		c.Refuse(tooQuick)
		return
	case dry <= 0 || dry > 1:
		c.Refuse("the dry share of fruit lies above 0 and not above 100 %")
		return
	case full <= 0 || spread < 0 || growth < 0:
		c.Refuse("the full weight of a fruit is above 0; the days of its truss and the growth from light are not below it")
		return
	}
	n := len(set)
	work := c.Scratch((4 + crop.FillingWork) * n)
	fruit, gain, lit, stems := work[:n], work[n:2*n], work[2*n:3*n], work[3*n:4*n]
	some, known := false, n // the first week from which something is not known while fruit hang
	for w := range set {
		if set[w] == set[w] {
			if set[w] < 0 {
				c.Refuse("no fewer fruit can set than none")
				return
			}
			fruit[w], some = set[w], true
		}
		if air[w] == air[w] {
			gain[w] = crop.StageGain(air[w]) / factor
		}
		if light[w] == light[w] {
			lit[w] = max(0, light[w])
		}
		if heads[w] == heads[w] {
			stems[w] = max(0, heads[w])
		}
	}
	if !some {
		skip(c, array.Blank)
		return
	}
	f := crop.Filler{FullWeight: full, DryMatter: dry, Growth: growth, DaysFactor: factor, Spread: spread}
	f.Fill(c.Out[0], c.Out[1], fruit, gain, lit, stems, work[4*n:])
	for w := range set {
		if known == n && (c.Out[1][w] > 0 || fruit[w] > 0) && (air[w] != air[w] || light[w] != light[w] || heads[w] != heads[w]) {
			known = w
		}
		if w >= known {
			c.Out[0][w], c.Out[1][w] = array.Blank, array.Blank
		}
	}
}

// fillingFunction gives one output of the kernel its name and card. Its example is a
// crop of five fruit a truss in the light of spring, long in bearing.
func fillingFunction(name string, output int, says, gives, ask, formulaText string, want float64) formula.Function {
	return formula.Function{
		Name: name,
		Card: formula.Card{
			Family: "crop",
			Says:   says,
			Gives:  gives,
			Valid:  fillingValid,
			Source: fillingSource,
			Table:  loadedTable,
			Example: formula.Example{
				Lines: []string{"air : 20 degC", "light : 14 mol/m2/d", "heads : 2.5 stem/m2", "full : 130 g/fruit", "dry : 5.5 %",
					"newly_set over week : 12.5 fruit/m2", ask + " = " + formulaText},
				Ask: ask, Want: []float64{want},
			},
		},
		Params: fillingParams,
		Kernel: fillingKernel,
		Output: output,
	}
}
