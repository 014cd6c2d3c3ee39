package main

import (
	"fmt"
	"strings"

	"wintertruss/engine"
)

func scenarioAnswers(x *engine.Comparison) [][]engine.Answer {
	var out [][]engine.Answer
	for _, s := range x.Scenarios {
		out = append(out, s.Answers)
	}
	return out
}

// comparisonJSON gives a comparison for programs: the values of the answers by
// column, and the steps.
func comparisonJSON(x *engine.Comparison) any {
	type step struct {
		What string  `json:"what"`
		By   float64 `json:"by"`
	}
	type column struct {
		Scenario string          `json:"scenario"`
		Values   []*engine.Value `json:"values"`
		Figure   string          `json:"figure,omitempty"`
		Unit     string          `json:"unit,omitempty"`
		From     *float64        `json:"from,omitempty"`
		To       *float64        `json:"to,omitempty"`
		Steps    []step          `json:"steps,omitempty"`
		NoSteps  string          `json:"no_steps,omitempty"`
	}
	out := []column{{Scenario: "", Values: entryValues(x.Plan)}}
	for _, s := range x.Scenarios {
		c := column{Scenario: s.Name, Values: entryValues(s.Answers), Figure: s.Label, Unit: s.Unit, NoSteps: s.NoSteps}
		if s.NoSteps == "" {
			c.From, c.To = &s.From, &s.To
			for _, st := range s.Steps {
				c.Steps = append(c.Steps, step{st.What, st.By})
			}
		}
		out = append(out, c)
	}
	return out
}

// printComparison prints the answers side by side, then the steps to each scenario.
func (c *command) printComparison(x *engine.Comparison) {
	heads := []string{"the plan"}
	desks := []*engine.Desk{x.PlanDesk}
	columns := append([][]engine.Answer{x.Plan}, scenarioAnswers(x)...)
	for _, s := range x.Scenarios {
		heads = append(heads, s.Title)
		desks = append(desks, s.Desk)
	}
	fmt.Fprintf(c.out, "%s, as of %s\n", title(x.PlanDesk), x.PlanDesk.Day())
	c.row("", heads)
	for i := range x.Plan {
		fmt.Fprintf(c.out, "\n%s\n", x.Plan[i].Question)
		var verdicts []string
		for _, answers := range columns {
			word := ""
			if a := answers[i]; a.Verdict != "" {
				word = fmt.Sprintf("%s, %d of 20", a.Verdict, a.Of20)
			}
			verdicts = append(verdicts, word)
		}
		if strings.Join(verdicts, "") != "" {
			c.row("", verdicts)
		}
		for j := range x.Plan[i].Entries {
			c.compareEntry(i, j, columns, desks)
		}
	}
	for _, s := range x.Scenarios {
		fmt.Fprintf(c.out, "\nFrom the plan to: %s\n", s.Title)
		if s.NoSteps != "" {
			fmt.Fprintf(c.out, "  no steps: %s\n", s.NoSteps)
			continue
		}
		fmt.Fprintf(c.out, "  %-40s %12s   %s\n", "the plan", engine.Show(s.From, s.Unit), s.Label)
		for _, st := range s.Steps {
			sign := "+"
			if st.By < 0 {
				sign = ""
			}
			fmt.Fprintf(c.out, "  %-40s %12s\n", st.What, sign+engine.Show(st.By, s.Unit))
		}
		fmt.Fprintf(c.out, "  %-40s %12s\n", s.Title, engine.Show(s.To, s.Unit))
	}
	fmt.Fprintln(c.out, "\nEach step is the mean of what the change does over all orders of the changes (Shapley 1953).")
}

// compareEntry prints one figure of an answer for all columns; a figure over lists
// has a row for each member.
func (c *command) compareEntry(i, j int, columns [][]engine.Answer, desks []*engine.Desk) {
	first := columns[0][i].Entries[j].Value
	cells := desks[0].NowCells(first)
	if len(cells) > 1 {
		fmt.Fprintf(c.out, "  %s\n", first.Label)
	}
	for _, cell := range cells {
		label := first.Label
		if len(cells) > 1 {
			label = "  " + desks[0].CellLabel(first, cell)
		}
		var texts []string
		for k := range columns {
			v := columns[k][i].Entries[j].Value
			at := desks[k].NowCells(v)
			if v.Broken || len(at) != len(cells) {
				texts = append(texts, "-")
				continue
			}
			texts = append(texts, v.Text(at[indexOf(cells, cell)]))
		}
		c.row(label, texts)
	}
}

func indexOf(list []int, x int) int {
	for i, y := range list {
		if y == x {
			return i
		}
	}
	return 0
}

func (c *command) row(label string, texts []string) {
	fmt.Fprintf(c.out, "  %-38s", label)
	for _, t := range texts {
		fmt.Fprintf(c.out, " %22s", t)
	}
	fmt.Fprintln(c.out)
}
