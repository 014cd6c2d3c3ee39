package house

import (
	"math"

	"wintertruss/engine/fact"
)

// FillTo is how full a propane tank may be filled.
var FillTo = fact.New(fact.Fact{Name: "share to which a propane tank is filled, for the gas to expand", Value: 0.80, Unit: "1", Low: 0.80, High: 0.85,
	Source: "NFPA 58, Liquefied Petroleum Gas Code; from memory: the dealer's rule counts", Place: "", Known: fact.Memory})

// Tank is a farm's store of fuel, in any unit of amount.
type Tank struct {
	Holds    float64 // usable amount when filled
	RefillAt float64 // the dealer comes when no more than this is left; below Holds
}

// Use takes an amount out of the tank that holds left, the dealer filling it each
// time it has fallen to RefillAt, and gives how often that is, what was brought and
// what is left:
//
//	left + brought = used + left after
//
// A delivery brings the tank up to Holds. With less left at the start than RefillAt
// the dealer comes at once. Amounts below 0 count as none.
func (t Tank) Use(left, used float64) (deliveries, brought, after float64) {
	used = max(0, used)
	room := t.Holds - t.RefillAt
	if left-used > t.RefillAt {
		return 0, 0, left - used
	}
	if left < t.RefillAt { // fill first
		deliveries, brought, left = 1, t.Holds-left, t.Holds
		if left-used > t.RefillAt {
			return deliveries, brought, left - used
		}
	}
	// From here on each delivery brings the same.
	more := math.Floor((t.RefillAt-(left-used))/room) + 1
	return deliveries + more, brought + more*room, left - used + more*room
}
