package labour

import "wintertruss/engine/fact"

var (
	leavesBefore = fact.New(fact.Fact{Name: "days before the first pick from which lower leaves come off", Value: 35, Unit: "d", Low: 21, High: 49, Known: fact.CommonPractice})
	toWire       = fact.New(fact.Fact{Name: "days from setting out until a stem reaches the wire and is lowered", Value: 56, Unit: "d", Low: 42, High: 84, Known: fact.CommonPractice})
	shortPhase   = fact.New(fact.Fact{Name: "days over which setting out, and again clearing, are spread", Value: 7, Unit: "d", Low: 2, High: 14, Known: fact.Assumed})
)

// Phase is a part of a planting's life.
type Phase int

const (
	Raising   Phase = iota // from sowing to setting out
	Setting                // the week from setting out
	Growing                // from setting out to clearing: clip, twist, side shoots
	Flowering              // from the first open flower to topping: pollinate, prune trusses
	Leafing                // from five weeks before the first pick to clearing: lower leaves off
	Lowering               // from the wire, eight weeks after setting out, to topping: lower and lean
	Picking                // from the first pick to clearing: pick, sort, pack
	Clearing               // the week from clearing: clear, clean
	Always                 // whenever there is something to count
	phaseCount
)

// Phases are the words for them, in their order.
var Phases = [phaseCount]string{"raising", "setting", "growing", "flowering", "leafing", "lowering", "picking", "clearing", "always"}

// PhaseOf gives the phase of a word; no to a word that is none of [Phases].
func PhaseOf(word string) (Phase, bool) {
	for p, w := range Phases {
		if w == word {
			return Phase(p), true
		}
	}
	return 0, false
}

// Days are the days of a planting's life, on any one calendar of whole or broken
// days. A day that is not known is not a number: what hangs on it does not happen.
type Days struct{ Sown, SetOut, FirstFlower, FirstPick, Topped, Cleared float64 }

// Span gives the days on which a phase begins and is over; both are not numbers when
// it never comes. A crop that is not topped flowers and is lowered until it is cleared.
func (p Phase) Span(d Days) (from, to float64) {
	topped := d.Topped
	if topped != topped || topped > d.Cleared {
		topped = d.Cleared
	}
	switch p {
	case Raising:
		return d.Sown, d.SetOut
	case Setting:
		return d.SetOut, d.SetOut + shortPhase.Value
	case Growing:
		return d.SetOut, d.Cleared
	case Flowering:
		return d.FirstFlower, topped
	case Leafing:
		return d.FirstPick - leavesBefore.Value, d.Cleared
	case Lowering:
		return d.SetOut + toWire.Value, topped
	case Picking:
		return d.FirstPick, d.Cleared
	case Clearing:
		return d.Cleared, d.Cleared + shortPhase.Value
	}
	return d.Sown, d.Cleared + shortPhase.Value
}

// ShareOfWeek gives how much of the week that begins on a day lies from..to, 0 to 1;
// nothing when either is not known.
func ShareOfWeek(monday, from, to float64) float64 {
	days := min(to, monday+weekDays) - max(from, monday)
	if !(days > 0) {
		return 0
	}
	return days / weekDays
}

const weekDays = 7
