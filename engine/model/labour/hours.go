package labour

// Task is what one kind of work takes; minutes, each by its own measure. What a task
// does not count by is 0.
type Task struct {
	Once   float64 // min/plant, spread over the days of the phase
	Plant  float64 // min/plant/week
	Stem   float64 // min/stem/week
	Truss  float64 // min/truss that opens
	Node   float64 // min/node that opens
	Weight float64 // min/kg picked
	Fixed  float64 // min/week for the planting, if anything stands
}

// Counts are what a planting brings to a week.
type Counts struct {
	Plants float64 // plants set out
	Stems  float64 // stems/plant
	Truss  float64 // truss/stem opened in the week
	Node   float64 // node/stem opened in the week
	Weight float64 // kg picked in the week, seconds with it
}

// Hours gives the hours of a task in a week of which share (0 to 1) lies in a phase of
// so many days. What opens or is picked in a week is counted whole once the phase has
// begun: it has its own weeks. effort is the crop's beside the one measured, for work
// on the plants; weightEffort that for work by weight.
//
//	hours = (plants x (once x 7 share / days + (plant + stem x stems) x share
//	        + stems x (truss x opened + node x opened) in phase) x effort
//	        + weight x picked x weightEffort in phase + fixed x share) / 60
func (t Task) Hours(c Counts, share, days, effort, weightEffort float64) float64 {
	if share <= 0 {
		return 0
	}
	once := 0.0
	if t.Once > 0 {
		once = t.Once * weekDays * share / days
	}
	minutes := c.Plants * effort * (once + (t.Plant+t.Stem*c.Stems)*share + c.Stems*(t.Truss*c.Truss+t.Node*c.Node))
	minutes += t.Weight * c.Weight * weightEffort
	if c.Plants > 0 {
		minutes += t.Fixed * share
	}
	return minutes / hourMinutes
}

const hourMinutes = 60

// Hired gives the hours that the family has no hands for, of those there are to do.
func Hired(hours, family float64) float64 { return max(0, hours-max(0, family)) }
