package market

// Carried is what a store of fruit did. Sold and Lost hold one number a day, in
// the unit of what was picked; Lost of a day is what the night before it took.
// Picked = sold + lost + Left.
type Carried struct {
	Sold, Lost []float64
	Left       float64 // in store after the last day
}

// CarryOver keeps what is not sold for the next days. Each day's picking joins
// the store, what is wanted is sold oldest first; each night the share loss
// spoils, and what is then older than oldest days is thrown away. Errors: a loss
// outside 0 to 1; days that do not match.
func CarryOver(picked, wanted []float64, loss float64, oldest int) (Carried, error) {
	if !(loss >= 0 && loss <= 1) {
		return Carried{}, ErrLoss
	}
	if len(picked) != len(wanted) || oldest < 0 {
		return Carried{}, ErrDays
	}
	c := Carried{Sold: make([]float64, len(picked)), Lost: make([]float64, len(picked))}
	store := make([]float64, oldest+1) // by age in days, today's first
	for day := range picked {
		if !(picked[day] >= 0 && wanted[day] >= 0) {
			return Carried{}, ErrDays
		}
		if day > 0 {
			c.Lost[day] = night(store, loss)
		}
		store[0] = picked[day]
		still := wanted[day]
		for age := oldest; age >= 0; age-- {
			sold := min(store[age], still)
			store[age] -= sold
			still -= sold
			c.Sold[day] += sold
		}
	}
	for _, s := range store {
		c.Left += s
	}
	return c, nil
}

// night spoils a share of the store and ages the rest; it gives what was lost.
func night(store []float64, loss float64) (lost float64) {
	oldest := len(store) - 1
	lost = store[oldest]
	for age := oldest; age > 0; age-- {
		lost += store[age-1] * loss
		store[age] = store[age-1] * (1 - loss)
	}
	store[0] = 0
	return lost
}
