package library

import (
	"strings"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/house"
)

// insideLightFunctions bring the sun outside to the light at the plants, by the
// best that is known of it.
func insideLightFunctions() []formula.Function {
	return []formula.Function{bestSun, sunBasis, coverPasses, insideLight}
}

var bestSunParams = []formula.Param{
	{Name: "sky", Says: skySays, Unit: sunPerDay},
	{Name: "high", Says: "the day's highest outside air", Unit: "degC"},
	{Name: "low", Says: "the day's lowest outside air", Unit: "degC"},
	{Name: "coast_factor", Says: "0.16 inland to 0.19 at a coast", Unit: "1", Measured: coastFactors},
	{Name: "elevation", Says: "height above the sea, for the clear sky", Unit: "m", Measured: elevations},
	{Name: "measured", Says: "the sun as measured; blank where it was not", Unit: sunPerDay, Optional: true, Default: array.Blank},
	{Name: "sunshine", Says: "hours of sunshine of a day; blank where not recorded", Unit: "h", Optional: true, Default: array.Blank},
	{Name: "day_length", Says: dayHoursSays + "; needed with sunshine", Unit: "h", Optional: true, Default: array.Blank},
}

var bestSunKernel = &formula.Kernel{
	Name:    "best sun",
	Results: []formula.Result{{Unit: sunPerDay}, {Unit: "1"}},
	Run: func(c *formula.Call) {
		in := func(i int) float64 { return c.In[i][0] }
		bySunshine := array.Blank
		byAir, found := missing(in(0), in(1), in(2), in(3), in(4))
		if !found {
			byAir = house.SunFromAir(in(0), in(1), in(2), in(3), in(4))
		}
		if _, found := missing(in(0), in(6), in(7)); !found {
			bySunshine = house.SunFromSunshine(in(0), in(6), in(7))
		}
		sun, by := house.BestSun(in(5), bySunshine, byAir)
		c.Out[0][0], c.Out[1][0] = sun, array.Blank
		if by != house.Unknown {
			c.Out[1][0] = float64(by)
		}
	},
}

const bestSunValid = "Measured sun is taken as typed. Estimates are good to about 20 % either way; in dark northern winters they are 20 to 33 % too bright. Blank where nothing is known."

var bestSun = formula.Function{
	Name: "best_sun",
	Card: formula.Card{
		Family: sunAndAir,
		Says:   "The sun outside by the best that is known, cell by cell: what was measured, else the estimate from hours of sunshine, else that from the day's high and low.",
		Gives:  "MJ/m2/d over the axes of its arguments",
		Valid:  bestSunValid,
		Source: penman + "equations 35 and 50, held to equation 37",
		Example: formula.Example{
			Lines: []string{"sky : 25.1 MJ/m2/d", "high : 27 degC", "low : 18 degC", "inland : 0.16", "elevation_here : 0 m",
				"none : 0 MJ/m2/d", "not_measured = none * (0 / 0) -> MJ/m2/d", "shining : 7.1 h", "hours : 10.9 h",
				"best = best_sun(sky, high, low, inland, elevation_here, not_measured, shining, hours) -> MJ/m2/d // example 10 of the paper: 14.5"},
			Ask:  "best",
			Want: []float64{14.4498},
		},
	},
	Params: bestSunParams, Kernel: bestSunKernel, Output: 0,
}

var sunBasis = formula.Function{
	Name: "sun_basis",
	Card: formula.Card{
		Family: sunAndAir,
		Says:   "What best_sun rests on, cell by cell: 1 measured, 2 hours of sunshine, 3 the day's high and low.",
		Gives:  "a plain number over the axes of its arguments",
		Valid:  bestSunValid,
		Source: "definition",
		Example: formula.Example{
			Lines: []string{"sky : 25.1 MJ/m2/d", "high : 27 degC", "low : 18 degC", "inland : 0.16", "elevation_here : 0 m",
				"basis = sun_basis(sky, high, low, inland, elevation_here) -> 1"},
			Ask:  "basis",
			Want: []float64{3},
		},
	},
	Params: bestSunParams, Kernel: bestSunKernel, Output: 1,
}

var coverPasses = formula.Function{
	Name: "cover_passes",
	Card: formula.Card{
		Family: sunAndAir,
		Says:   "The share of light that a clean, dry cover passes, by its kind: single_poly 0.90, double_poly 0.80, glass 0.88, polycarbonate 0.80.",
		Gives:  "a share, 0 to 1",
		Valid:  "New and clean. Old or dusty film passes less: a light meter inside and outside, at noon on an evenly grey day, is better. Kinds known: " + strings.Join(house.ClearCovers(), ", ") + ".",
		Source: "S. Sanford, University of Wisconsin Extension (films); Extension Foundation, Glazing materials (polycarbonate 78 to 82 %); National Greenhouse Manufacturers Association, as given by Stuppy (glass)",
		Example: formula.Example{
			Lines: []string{"film : double_poly", "clean = cover_passes(film) -> %"},
			Ask:   "clean", Want: []float64{80},
		},
		Table: &formula.Table{
			Title: "Light that clean and dry covers pass, of what falls on them", Heads: []string{"cover", "low, %", "high, %"},
			Of:     []string{"single film", "inflated double film", "twin-wall polycarbonate", "glass of 3 mm"},
			Rows:   factRows(100, house.SinglePasses, house.DoublePasses, house.PolycarbonatePasses, house.GlassPasses),
			Source: "films: S. Sanford, University of Wisconsin Extension, 90 and 80 %, ranges assumed; polycarbonate: Extension Foundation; glass: National Greenhouse Manufacturers Association, as given by Stuppy, range assumed",
		},
	},
	Params: []formula.Param{{Name: "cover", Says: "kind of cover: " + strings.Join(house.ClearCovers(), ", "), Takes: formula.Words}},
	Kernel: &formula.Kernel{
		Name:    "cover passes",
		Results: []formula.Result{{Unit: "1"}},
		Run: func(c *formula.Call) {
			if gap, found := missing(c.In[0][0]); found {
				skip(c, gap)
				return
			}
			share, ok := house.CoverLight(c.Word(c.In[0][0]))
			if !ok {
				c.Refuse(`the light that "` + c.Word(c.In[0][0]) + `" passes is not known here; known are ` + strings.Join(house.ClearCovers(), ", ") + "; or type a share of your own")
				return
			}
			c.Out[0][0] = share
		},
	},
}

var insideLight = formula.Function{
	Name: "inside_light",
	Card: formula.Card{
		Family: sunAndAir,
		Says:   "The daily light sum at the plants: sun x visible light in it x what the cover passes x (1 - wet x wet_takes) x (1 - shaded).",
		Gives:  "mol/m2/d over the axes of its arguments",
		Valid:  "Shares from 0 to 100 %, others are refused. Water on the film takes 15 to 25 % of the light at the plants; frame, wires and strings about 12 % (5 to 25, assumed). A megajoule of sun holds 2.06 to 2.3 mol.",
		Source: "S. Sanford, University of Wisconsin Extension (condensation); 0.45 of sunlight at 4.6 umol/J, horti-generation.com; to 0.50, manual of the R package bigleaf",
		Example: formula.Example{
			Lines: []string{"sun : 8.69 MJ/m2/d", "clean : 80 %", "wet_hours : 50 %", "frame : 10 %",
				"at_plants = inside_light(sun, clean, wet_hours, frame) -> mol/m2/d // 8.69 x 2.07 x 0.80 x 0.90 x 0.90"},
			Ask: "at_plants", Want: []float64{11.6564184},
		},
	},
	Params: []formula.Param{
		{Name: "sun", Says: "the sun outside", Unit: sunPerDay},
		{Name: "passes", Says: "share that the clean, dry cover passes, as cover_passes gives it, or measured", Unit: "1"},
		{Name: "wet", Says: "share of the light hours in which water stands on the film", Unit: "1", Optional: true},
		{Name: "shaded", Says: "share that frame, wires, strings and drawn screens take of what comes through", Unit: "1", Optional: true, Default: house.FrameTakes.Value},
		{Name: "wet_takes", Says: "share that water on the film takes", Unit: "1", Optional: true, Default: house.WetTakes.Value, Measured: wetPublished},
		{Name: "visible", Says: "growing light in the sun", Unit: "mol/MJ", Optional: true, Default: house.MolInMegajoule.Value, Measured: visiblePublished},
	},
	Kernel: &formula.Kernel{
		Name:    "inside light",
		Results: []formula.Result{{Unit: "mol/m2/d"}},
		Run: func(c *formula.Call) {
			for _, argument := range c.In {
				if gap, found := missing(argument[0]); found {
					skip(c, gap)
					return
				}
			}
			for _, share := range c.In[1:5] {
				if share[0] < 0 || share[0] > 1 {
					c.Refuse("what passes, wets, takes or shades is a share from 0 to 100 %")
					return
				}
			}
			c.Out[0][0] = house.InsideLight(c.In[0][0], c.In[5][0], house.Passed(c.In[1][0], c.In[2][0], c.In[4][0], c.In[3][0]))
		},
	},
}
