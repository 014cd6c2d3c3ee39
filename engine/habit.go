package engine

import "wintertruss/engine/unit"

// Habits are the ways in which people are used to read units.
var Habits = []string{"us", "metric"}

// Shown says how numbers of a unit are shown to people of another habit: x of the
// unit is x*Mul + Add of Unit.
type Shown struct {
	Unit     string
	Mul, Add float64
}

// ShownTo gives how numbers of a unit are shown to people of a habit; false when
// that is as they are.
func (d *Desk) ShownTo(habit, text string) (Shown, bool) {
	if d.prog == nil {
		return Shown{}, false
	}
	units := d.prog.Units()
	u, err := units.Parse(text)
	if err != nil {
		return Shown{}, false
	}
	to := units.Display(u, habit)
	if to == u || to.String() == u.String() {
		return Shown{}, false
	}
	mul, add, err := unit.Convert(u, to)
	return Shown{Unit: to.String(), Mul: mul, Add: add}, err == nil
}

// To gives the desk as people of a habit read it. It shares all that was computed, and is only
// read: an edit is for the desk itself.
func (d *Desk) To(habit string) *Desk {
	opts := d.opts
	opts.Units = habit
	return &Desk{Book: d.Book, opts: opts, run: d.run, seed: d.seed, sets: d.sets, made: d.made, prog: d.prog, errs: d.errs, drawn: d.drawn}
}
