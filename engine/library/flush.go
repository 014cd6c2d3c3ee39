package library

import (
	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/model/crop"
)

// flushFunctions take a cucumber's or pepper's flowers to fruit. The three share
// one kernel, as set, picks and load each hang on the others.
func flushFunctions() []formula.Function {
	return []formula.Function{
		flushFunction("flush_set", 0, "The fruit that set on a plant in each week: its nodes, times the share that the fruit already hanging let set, times what the grower and the light leave; or times what was counted on marked plants.", "first_week", `at(flush_set(nodes, air, grown), "2026-W40")`, 1.74584577),
		flushFunction("flush_ripe", 1, "The fruit of a plant that come ripe in each week. A pepper's come in flushes: weeks of plenty, then weeks of next to nothing.", "picks", `total(flush_ripe(nodes, air, grown))`, 16.2081656),
		flushFunction("flush_hanging", 2, "The fruit on a plant at each week's end. Set so far = ripe so far + hanging.", "load", `at(flush_hanging(nodes, air, grown), "2026-W40")`, 1.74584577),
	}
}

const flushSource = "Heuvelink & Marcelis, on flushing in sweet pepper, abstract: 78, 56, 28, 6 % set with 0, 1, 2, 4 early fruits"

var flushParams = []formula.Param{
	{Name: "nodes", Says: "nodes that flower on a plant in each week", Unit: "node/plant", Whole: []string{"week"}},
	{Name: "air", Says: "24-hour mean of the air at the crop", Unit: "degC", Whole: []string{"week"}, Measured: nodeRipening},
	vegetableParam,
	{Name: "kept", Says: "share that you and the light leave of what would set; blank or left out, half of a cucumber's and all of a pepper's", Unit: "fruit/node", Whole: []string{"week"}, Optional: true, Default: array.Blank},
	{Name: "room", Says: "fruit your plant carries for each one on a plant of the trial: about the stems of yours over the stems of theirs", Unit: "1", Optional: true, Default: 1},
	{Name: "counted", Says: "fruit a node, counted on marked plants; blank where not", Unit: "fruit/node", Whole: []string{"week"}, Optional: true, Default: array.Blank},
	{Name: "own_days", Says: "your own days from flower to pick, against those of fruit_days", Unit: "1", Optional: true, Default: 1},
}

var flushKernel = &formula.Kernel{
	Name: "flush",
	Results: []formula.Result{
		{Unit: "fruit/plant", Whole: []string{"week"}},
		{Unit: "fruit/plant", Whole: []string{"week"}},
		{Unit: "fruit/plant", Whole: []string{"week"}},
	},
	Run: runFlush,
}

// runFlush settles what is not known as runRipening does: weeks whose nodes are
// not known add none; where the air is not known while fruit hang, nothing is
// known from that week on.
func runFlush(c *formula.Call) {
	v, ok := vegetableOf(c, 2)
	if !ok {
		return
	}
	room, own := c.In[4][0], c.In[6][0]
	if gap, found := missing(room, own); found {
		skip(c, gap)
		return
	}
	if room <= 0 || own < leastDaysFactor {
		c.Refuse("the room for fruit and your own days, against the usual ones, are above 0")
		return
	}
	n := len(c.In[0])
	work := c.Scratch((3 + crop.WeekDays) * n)
	nodes, gain, kept := work[:n], work[n:2*n], work[2*n:3*n]
	known := false
	for w, x := range c.In[0] {
		if x < 0 {
			c.Refuse("there are no nodes below 0")
			return
		}
		if x == x {
			nodes[w], known = x, true
		}
		if air := c.In[1][w]; air == air {
			gain[w] = crop.FruitGain(v, air) / own
		}
		kept[w] = crop.UsualKept(v)
		if k := c.In[3][w]; k == k {
			kept[w] = max(0, k)
		}
	}
	if !known {
		skip(c, array.Blank)
		return
	}
	crop.Flush(v, c.Out[0], c.Out[1], c.Out[2], nodes, gain, kept, c.In[5], room, work[3*n:])
	lost := false
	for w, air := range c.In[1] {
		if lost = lost || air != air && c.Out[2][w] != 0; lost {
			c.Out[0][w], c.Out[1][w], c.Out[2][w] = array.Blank, array.Blank, array.Blank
		}
	}
}

// flushFunction gives one output of the kernel its name and card. Its example is
// a pepper of which nodes flower from week 40 on.
func flushFunction(name string, output int, says, ask, formulaText string, want float64) formula.Function {
	return formula.Function{
		Name: name,
		Card: formula.Card{
			Family: "crop",
			Says:   says,
			Gives:  "fruit/plant over week",
			Valid:  "Pepper: the set by load was measured from 0 to 4 early fruits on the plants of one trial; give room for plants that carry more. Cucumber: the load does not act, the grower's thinning does; in dark months about a quarter of the flowers drop, and more in cold nights. Days to ripe as on the card of fruit_days. Nothing hangs when the book begins.",
			Source: flushSource + "; days: " + cucumberRecord + "; " + pepperPeriod + "; dropped cucumber flowers: de Lint & Heij 1982, abstract",
			Table:  setByLoadTable,
			Example: formula.Example{
				Lines: []string{"air : 20.5 degC", "grown : pepper", "nodes over week : 0 node/plant; 3 node/plant from 2026-W40", ask + " = " + formulaText + " -> fruit/plant"},
				Ask:   ask, Want: []float64{want},
			},
		},
		Params: flushParams,
		Kernel: flushKernel,
		Output: output,
	}
}
