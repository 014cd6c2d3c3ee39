package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
)

// Published tables behind the cards of the crop, beside those in measured.go.

var calendarTable = &formula.Table{
	Title: "What an adviser's calendar says, rounded and careful", Heads: []string{"crop", "seed to bag, week", "seed to first pick, week"},
	Of: []string{"early spring", "late spring", "fall"}, Rows: [][]float64{{9.5, 22.5}, {6.5, 19.5}, {5, 16}},
	Source: "McAvoy 1994 (revised 2012), Scheduling a greenhouse tomato crop, University of Connecticut; middle of each range",
}

var shadeTable = &formula.Table{
	Title: "Less light, and less yield of a whole crop", Heads: []string{"light less, %", "yield less, %"},
	Rows:   [][]float64{{26, 18.5}, {40, 23.3}},
	Source: "Tewolde et al. 2018, PLoS One 13(11), abstract",
}

var lightUseTable = &formula.Table{
	Title: "Cucumbers from light, and how the other two told each compartment", Heads: []string{"compartment", "use, g/mol", "error of the rest, %", "of the next two weeks, %", "by the last two weeks, %"},
	Of: []string{"A", "B", "C"}, Rows: [][]float64{{33.5, 10.0, 3.7, 12.4}, {27.9, 3.9, 13.2, 25.2}, {28.7, 6.8, 20.8, 26.8}},
	Source: "own arithmetic on " + cucumberRecord + "; light ahead as it came, a cover that passes 0.5 assumed",
}

var contestTable = &formula.Table{
	Title: "Cherry tomatoes of whole crops, with lamps and CO2", Heads: []string{"compartment", "picked, kg/m2", "from light, g/mol"},
	Of: []string{"A", "B", "C"}, Rows: [][]float64{{14.30, 4.49}, {13.76, 4.52}, {14.92, 4.66}},
	Source: "own arithmetic on Hemming et al. 2020, data set, doi 10.4121/uuid:88d22c60-21b3-4ea8-90db-20249a5be2a7",
}

var ownTrialTable = &formula.Table{
	Title: "Forecasts of every Monday, corrected by this share, nothing fitted to the crop itself", Heads: []string{"crop", "error of the rest, %", "of the next two weeks, %", "by the last two weeks, %"},
	Of:     []string{"cherry A, 2020", "cherry B, 2020", "cherry C, 2020", "cherry, 2019", "large, 2019", "cherry, Ohio"},
	Rows:   [][]float64{{9.8, 29.1, 34.9}, {9.6, 22.7, 29.0}, {6.7, 34.6, 50.7}, {4.6, 15.7, 45.9}, {11.6, 25.9, 57.1}, {21.0, 24.7, 36.8}},
	Source: ownTrial + "; air ahead as it came; once two weeks had been picked in Ohio, the last two weeks told the next two to 15 % and the forecast to 25",
}

var lostTable = &formula.Table{
	Title: "Weight that was not first grade", Heads: []string{"crop", "share, %"},
	Of: []string{"cherry, lit winter, A", "cherry, lit winter, B", "cherry, lit winter, C", "cherry, late summer, Ohio"}, Rows: [][]float64{{0.02}, {0.7}, {3.8}, {14.1}},
	Source: "open crop records: Hemming et al. 2020, data set of the second autonomous greenhouse challenge; Ohio 2024",
}

var fruitDaysTable = &formula.Table{
	Title: "Days of a cucumber from flower to pick, and how the other two compartments told each", Heads: []string{"compartment", "least, d", "most, d", "error, d"},
	Of: []string{"A, 22 to 24 degC", "B, 20 to 22 degC", "C, 21 to 23 degC"}, Rows: [][]float64{{14, 19, 1.4}, {12, 28, 2.8}, {12, 22, 2.2}},
	Source: "own arithmetic on " + cucumberRecord,
}

var samplingTable = &formula.Table{
	Title: "Plants to count, of very many, to be within 10 and within 20 %", Heads: []string{"spread, %", "within 10 %, plant", "within 20 %, plant"},
	Rows:   [][]float64{{5, 1, 1}, {15, 9, 3}, {30, 35, 9}, {45, 78, 20}},
	Source: "Cochran 1977, Sampling Techniques, chapter 4; worked out here",
}

var hivesTable = &formula.Table{
	Title: "Bumblebee colonies in commercial houses of tomatoes", Heads: []string{"colonies", "low, hive/ha", "mean, hive/ha", "high, hive/ha"},
	Of: []string{"that growers ran", "that were enough"}, Rows: [][]float64{{7.6, 11.6, 19.8}, {7, array.Blank, 15}},
	Source: "Morandin, Laverty & Kevan 2001, Journal of Economic Entomology 94:462-467, abstract",
}
