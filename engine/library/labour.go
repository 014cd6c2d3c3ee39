package library

import (
	"math"
	"strings"

	"wintertruss/engine/formula"
	"wintertruss/engine/model/labour"
)

const labourFamily = "labour, protection"

// labourFunctions turn tasks into hours.
func labourFunctions() []formula.Function { return []formula.Function{taskHours, phaseShare} }

// Columns of the list of tasks, and arguments, by place; the list stands first.
const (
	taskPhase = iota
	taskOnce
	taskPlant
	taskStem
	taskTruss
	taskNode
	taskWeight
	taskFixed
)

const (
	labourPlants = iota + 1
	labourStems
	labourTrusses
	labourNodes
	labourPicked
	labourSown // the first of six days
)

const (
	labourEffort = labourSown + 6 + iota
	labourWeightEffort
)

// lifeDays are the days that bound the phases, in the order of labour.Days.
var lifeDays = []formula.Param{
	{Name: "sown", Says: "day of sowing", Takes: formula.Dates},
	{Name: "set_out", Says: "day of setting out", Takes: formula.Dates},
	{Name: "first_flower", Says: "day of the first open flower", Takes: formula.Dates},
	{Name: "first_pick", Says: "day of the first pick", Takes: formula.Dates},
	{Name: "topped", Says: "day of topping", Takes: formula.Dates},
	{Name: "cleared", Says: "day of clearing", Takes: formula.Dates},
}

const phaseNote = "Phases: raising (sowing to setting out), setting (the week from then), growing (setting out to clearing), flowering (first open flower to topping), " +
	"leafing (from five weeks before the first pick, when lower leaves begin to come off, to clearing), lowering (from the wire, eight weeks after setting out, to topping), " +
	"picking (first pick to clearing), clearing (the week from then), always. A phase whose day is blank never comes; a crop without a day of topping counts as topped when it is cleared. "

var phaseWords = strings.Join(labour.Phases[:], ", ")

var unknownPhase = "a phase is not known; those known are " + phaseWords

// lifeOf reads six days from argument at on.
func lifeOf(c *formula.Call, at int) labour.Days {
	return labour.Days{Sown: c.In[at][0], SetOut: c.In[at+1][0], FirstFlower: c.In[at+2][0], FirstPick: c.In[at+3][0], Topped: c.In[at+4][0], Cleared: c.In[at+5][0]}
}

// labourBook is the book of the example: 100 kg picked in a week.
func labourBook(lines ...string) string {
	return strings.ReplaceAll(`'''settings
season   : 2026-W33 .. 2027-W32
currency : USD
'''
'''list planting
     | label | sown       | set_out    | cleared    | plants plant
long | Long  | 2026-10-05 | 2026-11-02 | 2027-06-27 | 600
'''
'''list task
     | label         | phase   | plant min/plant/week | weight min/kg
tend | Clip, sucker  | growing | 0.5                  |
pick | Pick          | picking |                      | 1.2
'''
'''lines
flower : 2026-12-02
pick : 2027-02-01
picked over week : 0 kg; 100 kg from 2027-W05
`+strings.Join(lines, "\n")+"\n'''\n", "'''", "```")
}

var taskHours = formula.Function{
	Name: "task_hours",
	Card: formula.Card{
		Family: labourFamily,
		Says: "The hours of every task on every planting in every week. Reads from the list of tasks: phase, and what a task takes: once (min/plant, spread over the phase), plant (min/plant/week), stem (min/stem/week), " +
			"truss (min/truss that opens), node (min/node that opens), weight (min/kg picked), fixed (min/week for a planting); columns left out, and blank cells, count as none.",
		Gives: "h in the week, over the list of tasks, week, and the list of plantings that the arguments are over",
		Valid: phaseNote + "Trusses, nodes and weight have weeks of their own and count whole in a week that the phase touches. Work is even over a phase. " +
			"For a start: 20 hours a week in a house of 24 x 96 ft, picking with it (Mississippi State handbook); picking 53 kg/h, sorting and packing 90; leaves and side shoots 28 % of all hours; large growers 12 hours a week for 10,000 ft2 at the start and 37 at the peak. Write down your own for two weeks.",
		Source: "definition; figures: Ylaranta & Ryynanen, study of 1977, abstract; Greenhouse Grower; Mississippi State handbook; the phases' days: common practice",
		Example: formula.Example{
			Book: labourBook("one_stem : 1 stem/plant", "hours = task_hours(task, planting.plants, one_stem, 0, 0, picked, planting.sown, planting.set_out, flower, pick, planting.cleared, planting.cleared) -> h",
				`a_week = at(total(hours, task, planting), "2027-W06") -> h // 600 x 0.5 and 100 x 1.2 minutes`),
			Ask: "a_week", Want: []float64{7},
		},
		Table: &formula.Table{
			Title: "Greenhouse tomatoes in Finland", Heads: []string{"crop", "hours for 1,000 m2, h", "kilograms an hour, kg"},
			Of: []string{"short", "medium", "long"}, Rows: [][]float64{{1253, 6.6}, {1583, 7.7}, {1998, 11.0}},
			Source: "Ylaranta & Ryynanen, study of 1977, abstract",
		},
	},
	Params: append(append([]formula.Param{
		{Name: "task", Says: "the list of tasks", Takes: formula.ListName},
		{Name: "plants", Says: "plants set out", Unit: "plant"},
		{Name: "stems", Says: "stems on a plant", Unit: "stem/plant"},
		{Name: "trusses", Says: "trusses that open on a stem in each week", Unit: "truss/stem", Whole: []string{"week"}},
		{Name: "nodes", Says: "nodes that open on a stem in each week", Unit: "node/stem", Whole: []string{"week"}},
		{Name: "picked", Says: "what is picked in each week, seconds with it", Unit: "kg", Whole: []string{"week"}},
	}, lifeDays...),
		formula.Param{Name: "effort", Says: "work on the plants beside the crop the minutes are for; left out, the same", Unit: "1", Optional: true, Default: 1},
		formula.Param{Name: "weight_effort", Says: "work by weight beside it; left out, the same", Unit: "1", Optional: true, Default: 1}),
	Kernel: &formula.Kernel{
		Name: "task hours",
		Columns: []formula.Column{
			taskPhase:  {Name: "phase", Takes: formula.Words, Whole: []string{"list"}},
			taskOnce:   taskColumn("once", "min/plant"),
			taskPlant:  taskColumn("plant", "min/plant/week"),
			taskStem:   taskColumn("stem", "min/stem/week"),
			taskTruss:  taskColumn("truss", "min/truss"),
			taskNode:   taskColumn("node", "min/node"),
			taskWeight: taskColumn("weight", "min/kg"),
			taskFixed:  taskColumn("fixed", "min/week"),
		},
		Results: []formula.Result{{Unit: "h", Whole: []string{"list", "week"}}},
		Run:     runTaskHours,
	},
}

func taskColumn(name, unit string) formula.Column {
	none := 0.0
	return formula.Column{Name: name, Unit: unit, Whole: []string{"list"}, Default: &none}
}

func runTaskHours(c *formula.Call) {
	plants, stems, effort, heavy := c.In[labourPlants][0], c.In[labourStems][0], c.In[labourEffort][0], c.In[labourWeightEffort][0]
	if gap, found := missing(plants, stems, effort, heavy); found {
		skip(c, gap)
		return
	}
	if plants < 0 || stems < 0 || effort < 0 || heavy < 0 {
		c.Refuse("neither plants nor stems nor effort are below 0")
		return
	}
	life := lifeOf(c, labourSown)
	trusses, nodes, picked := c.In[labourTrusses], c.In[labourNodes], c.In[labourPicked]
	weeks := c.Season.Len()
	first := float64(c.Season.At(0).Monday())
	for i, word := range c.Columns[taskPhase] {
		row := c.Out[0][i*weeks : (i+1)*weeks]
		if word != word {
			continue // a task without a phase is blank
		}
		phase, known := labour.PhaseOf(c.Word(word))
		if !known {
			c.Refuse(unknownPhase)
			return
		}
		from, to := phase.Span(life)
		cell := func(column int) float64 { return given(c.Columns[column][i], 0) }
		t := labour.Task{Once: cell(taskOnce), Plant: cell(taskPlant), Stem: cell(taskStem), Truss: cell(taskTruss), Node: cell(taskNode), Weight: cell(taskWeight), Fixed: cell(taskFixed)}
		parts := t.Parts(plants, stems, to-from, effort, heavy)
		// The weeks that the phase touches; none when its days are not known.
		begin, end := 0, 0
		if to > from {
			begin, end = max(0, int(math.Floor((from-first)/7))), min(weeks, int(math.Ceil((to-first)/7)))
		}
		for w := range row {
			row[w] = 0
			if w >= begin && w < end {
				row[w] = float64(parts.Week * labour.ShareOfWeek(first+float64(7*w), from, to))
			}
		}
		// What a task does not count by may be blank.
		add(row, trusses, parts.Truss, begin, end)
		add(row, nodes, parts.Node, begin, end)
		add(row, picked, parts.Weight, begin, end)
	}
}

// add adds hours by what opens or is picked to the weeks begin..end-1.
func add(row, x []float64, hours float64, begin, end int) {
	if hours == 0 {
		return
	}
	for w := begin; w < end; w++ {
		row[w] += float64(hours * x[w])
	}
}

var phaseShare = formula.Function{
	Name: "phase_share",
	Card: formula.Card{
		Family: labourFamily,
		Says:   "How much of each week lies in a phase of a planting's life: for work that is not in the list of tasks.",
		Gives:  "a share, over week and the lists of its arguments",
		Valid:  phaseNote + "Words: " + phaseWords + ".",
		Source: "definition; five weeks of leaves and eight to the wire: common practice",
		Example: formula.Example{
			Lines: []string{"part : leafing", "sown : 2026-10-05", "set_out : 2026-11-02", "flower : 2026-12-02", "pick : 2027-02-03", "cleared : 2027-06-27",
				`begun = at(phase_share(part, sown, set_out, flower, pick, cleared, cleared), "2026-W53") -> % // from Wednesday 30 December`},
			Ask: "begun", Want: []float64{500.0 / 7},
		},
	},
	Params: append([]formula.Param{{Name: "phase", Says: "the phase", Takes: formula.Words}}, lifeDays...),
	Kernel: &formula.Kernel{
		Name:    "phase share",
		Results: []formula.Result{{Unit: "1", Whole: []string{"week"}}},
		Run: func(c *formula.Call) {
			word := c.In[0][0]
			if word != word {
				skip(c, word)
				return
			}
			phase, known := labour.PhaseOf(c.Word(word))
			if !known {
				c.Refuse(unknownPhase)
				return
			}
			from, to := phase.Span(lifeOf(c, 1))
			first := float64(c.Season.At(0).Monday())
			for w := range c.Out[0] {
				c.Out[0][w] = labour.ShareOfWeek(first+float64(7*w), from, to)
			}
		},
	},
}
