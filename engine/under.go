package engine

// Under gives the same book looked at under one of its scenarios, "" for the plan, as
// a desk of its own without draws; this desk stays as it is.
func (d *Desk) Under(scenario string) (*Desk, error) {
	o := d.opts
	o.Scenario = scenario
	return open(d.Book.Doc, o)
}
