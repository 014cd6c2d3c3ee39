package array

import "math"

// A cell holds a float64. Two things are not numbers and travel as NaN with a
// payload, which the processor carries through arithmetic by itself:
//
//	blank  nothing is known; reducers skip it
//	fault  this cell cannot be computed; the payload says where it began
//
// Infinity never stands in a cell: kernels that could make one make a fault.
const (
	blankBits = 0x7FF8_0000_0000_0B1A
	faultBits = 0x7FFC_0000_0000_0000
)

// Blank is the cell that holds nothing.
var Blank = math.Float64frombits(blankBits)

// FaultCode says why a cell could not be computed.
type FaultCode uint8

const (
	DividedByZero FaultCode = iota + 1
	TooLarge                // beyond Limit
	OutsideDomain           // a root or logarithm of something it does not have
	ModelRefused            // a model function was given values it cannot work with
)

// Limit is the largest size that a cell is sure to keep. What could leave the
// numbers is a fault beyond it; a sum or product that cannot is let through.
const Limit = 1e60

// Fault gives the cell that says code went wrong at site (a number the
// compiler gave to the place, below 2^32).
func Fault(code FaultCode, site int) float64 {
	return math.Float64frombits(faultBits | uint64(code)<<32 | uint64(uint32(site)))
}

// IsBlank says whether nothing is known.
func IsBlank(x float64) bool { return x != x && math.Float64bits(x)&faultBits != faultBits }

// IsFault says whether the cell could not be computed.
func IsFault(x float64) bool { return x != x && math.Float64bits(x)&faultBits == faultBits }

// FaultOf gives code and site of a fault.
func FaultOf(x float64) (FaultCode, int) {
	b := math.Float64bits(x)
	return FaultCode(b >> 32), int(uint32(b))
}

// Truth gives 1 for true and 0 for false.
func Truth(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
