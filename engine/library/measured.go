package library

import (
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
	"wintertruss/engine/model/house"
)

// The ranges in which responses were measured, and the published tables behind them,
// as cards show them. Several functions rest on the same ones.

// asGiven is said of figures that a book may put in place of published ones.
const asGiven = "it is used as given"

var (
	ripeningMeasured = []formula.Measured{{Low: 14, High: 26, Outside: "its lines are carried on to 13 and to 27 degC; below, ripening fades out, above it stays"}}
	paceMeasured     = []formula.Measured{{Low: 17, High: 27, Outside: "below, its curve is carried on and fades out from 13 to 12 degC; above, it stays as at 27"}}
	growthMeasured   = []formula.Measured{{Low: 17, High: 23, Outside: "its curve is carried on"}}
	flowerMeasured   = []formula.Measured{{Low: 17, High: 23, Outside: "the straight line is carried on"}}
	nodeMeasured     = []formula.Measured{{Low: 19.9, High: 24.2, For: crop.Vegetables[crop.Cucumber], Outside: "its line is carried on to 18 and to 26 degC; from 18 it falls to nothing at 14, above 26 it stays"}}
	nodeRipening     = []formula.Measured{
		{Low: 20, High: 24, For: crop.Vegetables[crop.Cucumber], Outside: "its line is carried on to 14 degC, where nothing ripens, and to 26, where it stays"},
		{Low: 18, High: 30, For: crop.Vegetables[crop.Pepper], Outside: "its curve is carried on"},
	}
	loadMeasured      = []formula.Measured{{Low: 0, High: 4, Outside: "its line is carried on, to nothing at 4.5"}}
	responsePublished = []formula.Measured{{Low: 0.7, High: 1, Outside: asGiven}}
	visiblePublished  = []formula.Measured{{Low: house.MolInMegajoule.Low, High: house.MolInMegajoule.High, Outside: asGiven}}
	wetPublished      = []formula.Measured{{Low: house.WetTakes.Low, High: house.WetTakes.High, Outside: asGiven}}
	paceCounted       = []formula.Measured{{Low: 17, High: 27, Outside: "the offset is read off the curve as it is carried on"}}
)

var ripeningTable = &formula.Table{
	Title: "Days from open flower to ripe fruit, the air kept the same", Heads: []string{"air, degC", "to ripe, d"},
	Rows:   [][]float64{{14, 95}, {18, 65}, {22, 46}, {26, 42}},
	Source: "Adams, Cockshull & Cave 2001, Annals of Botany 88:869-877, abstract",
}

// paceTable is the published curve at a few temperatures: no table of it was found.
var paceTable = func() *formula.Table {
	t := &formula.Table{
		Title: "Trusses a stem and week by the published curve, mean of cultivars", Heads: []string{"air, degC", "trusses, truss/stem/week"},
		Source: "de Koning 1994, thesis, Wageningen, equation 3.2.3, as quoted; worked out here, 7 x (-0.2903 + 0.1454 ln T)",
	}
	for air := 17.0; air <= 27; air += 2 {
		t.Rows = append(t.Rows, []float64{air, rounded(7*crop.TrussPace(air, crop.MeanOffset.Value), 100)})
	}
	return t
}()

var daysFactorTable = &formula.Table{
	Title: "Days from flower to pick of whole trusses, of those to a ripe fruit in the same air", Heads: []string{"type", "days, %", "trusses counted"},
	Of: []string{"large", "cherry"}, Rows: [][]float64{{122, 49}, {99, 116}},
	Source: "own fit to an open crop record, four types of tomato, the Netherlands, 2019, against Adams, Cockshull & Cave 2001",
}

var usualWeightTable = &formula.Table{
	Title: "What a fruit weighed", Heads: []string{"kind", "low, g/fruit", "high, g/fruit"},
	Of: []string{"large", "cluster", "cherry", "long cucumber"}, Rows: [][]float64{{119, 147}, {84, 100}, {14, 24}, {323, 384}},
	Source: "large and cherry: open crop record, the Netherlands, 2019; cluster: round fruit of Al-Attal, Kasrawi & Nazer 2003, abstract; cucumber: " + cucumberRecord,
}

var setLimitTable = &formula.Table{
	Title: "Limits of a crop's growth by the 24-hour mean of its air", Heads: []string{"air, degC", "left of growth, %"},
	Rows:   [][]float64{{12, 0}, {18, 100}, {22, 100}, {27, 0}},
	Source: "Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, appendix C",
}

var pollinatedTable = &formula.Table{
	Title: "Ten trusses in a cool house", Heads: []string{"way", "flowers set, %", "fruit weigh, g/fruit"},
	Of: []string{"bees", "vibrator", "none"}, Rows: [][]float64{{99.1, 100.3}, {76.7, 84.1}, {65.7, 70.6}},
	Source: "Al-Attal, Kasrawi & Nazer 2003, Agricultural and Marine Sciences 8:21-26, abstract",
}

var setByLoadTable = &formula.Table{
	Title: "Pepper flowers that set, by the early fruit on the plant", Heads: []string{"fruit, fruit/plant", "set, %"},
	Rows:   [][]float64{{0, 78}, {1, 56}, {2, 28}, {4, 6}},
	Source: flushSource,
}

var drainTable = &formula.Table{
	Title: "Run-off to aim at, by the day's sun", Heads: []string{"sun from, MJ/m2/d", "low, %", "high, %"},
	Rows:   [][]float64{{0, 0, 10}, {5, 10, 20}, {10, 20, 30}, {15, 30, 40}},
	Source: dripSource,
}

var loadedTable = &formula.Table{
	Title: "Where the dry growth of a fully loaded tomato crop goes", Heads: []string{"part", "share, %"},
	Of: []string{"fruit", "leaves", "stem", "roots"}, Rows: [][]float64{{74}, {rounded(26*7/11.5, 10)}, {rounded(26*3/11.5, 10)}, {rounded(26*1.5/11.5, 10)}},
	Source: "Vanthoor et al. 2011, Biosystems Engineering 110:378-395, electronic appendix, appendix C, after Heuvelink 1996: 74 % to fruit, the rest 7 : 3 : 1.5",
}

// rounded keeps parts of one: 100 for hundredths.
func rounded(x, parts float64) float64 { return float64(int64(x*parts+0.5)) / parts }
