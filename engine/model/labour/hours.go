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

// Parts are the hours of a task on a planting, before the weeks are known.
type Parts struct {
	Week   float64 // h in a week that lies in the phase
	Truss  float64 // h for each truss that opens on a stem
	Node   float64 // h for each node that opens on a stem
	Weight float64 // h for each kg picked
}

// Parts gives the hours of a task on a planting whose phase has so many days. effort is
// the crop's beside the one the minutes were measured on, for work on the plants;
// weightEffort that for work by weight.
//
//	week   = (plants x (once x 7 / days + plant + stem x stems) x effort + fixed) / 60
//	truss  = plants x stems x truss x effort / 60, and so for nodes
//	weight = weight x weightEffort / 60
func (t Task) Parts(plants, stems, days, effort, weightEffort float64) Parts {
	week := t.Plant + t.Stem*stems
	if t.Once > 0 {
		week += t.Once * weekDays / days
	}
	week *= plants * effort
	if plants > 0 {
		week += t.Fixed
	}
	open := plants * stems * effort / hourMinutes
	return Parts{Week: week / hourMinutes, Truss: t.Truss * open, Node: t.Node * open, Weight: t.Weight * weightEffort / hourMinutes}
}

// Hours gives the hours of a task in a week of which share (0 to 1) lies in its phase.
// What opens or is picked in a week is counted whole once the phase has begun: it has
// weeks of its own.
func (t Task) Hours(c Counts, share, days, effort, weightEffort float64) float64 {
	if share <= 0 {
		return 0
	}
	p := t.Parts(c.Plants, c.Stems, days, effort, weightEffort)
	return p.Week*share + p.Truss*c.Truss + p.Node*c.Node + p.Weight*c.Weight
}

const hourMinutes = 60

// Hired gives the hours that the family has no hands for, of those there are to do.
func Hired(hours, family float64) float64 { return max(0, hours-max(0, family)) }
