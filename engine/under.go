package engine

// Under gives the same book looked at under one of its scenarios, "" for the plan, as
// a desk of its own without draws; this desk stays as it is.
func (d *Desk) Under(scenario string) (*Desk, error) {
	o := d.opts
	o.Scenario = scenario
	return open(d.Book.Doc, o)
}

// StepsTo takes apart what a scenario does to the first figure of pays, change by
// change, as Compare does; the desk is one of the plan.
func (d *Desk) StepsTo(scenario string) (Compared, error) {
	s := Compared{Name: scenario}
	of := d.Book.Scenario(scenario)
	if of == nil || d.made == nil {
		return s, &OptionError{"the book has no scenario " + scenario, ""}
	}
	return s, d.waterfall(&s, of)
}
