package risk

import (
	"fmt"
	"math/bits"
)

// Key names a stream of draws. Two keys that differ in anything have streams that
// know nothing of each other.
type Key struct {
	Seed   uint64
	Name   string // of the line that holds the literal
	Member string // "" unless drawn for each member
	Week   int    // 0 unless drawn for each week; else the week, as counted by the calendar
}

// Uniforms fills dst with draws number first, first+1, ... of the stream of key:
// scrambled base-2 points (van der Corput radical inverse, index shuffled and
// digits scrambled by hash-based Owen scrambling, Burley 2020), so 1,024 draws are
// the first of 4,096, whatever the block. Each is half a step of 2^-32 above a
// multiple of it, never 0 or 1. A stream has 2^32 draws; asking for more, or from
// below 0, is a programmer's mistake and panics.
func (k Key) Uniforms(first int, dst []float64) {
	if first < 0 || first > 1<<32-len(dst) {
		panic(fmt.Sprintf("risk: draws %d to %d of a stream that has draws 0 to 2^32-1", first, first+len(dst)-1))
	}
	h := k.hash()
	order, digits := uint32(h>>32), uint32(h)
	for i := range dst {
		// toUniform(scramble(radicalInverse(scramble(i, order)), digits)), less
		// the two reversals that meet in the middle and undo each other.
		shuffled := flipUpward(bits.Reverse32(uint32(first+i)), order)
		dst[i] = toUniform(bits.Reverse32(flipUpward(bits.Reverse32(shuffled), digits)))
	}
}

// toUniform puts the 32 digits of x behind the binary point, and half a step on
// top.
func toUniform(x uint32) float64 { return (float64(x) + 0.5) / (1 << 32) }

// radicalInverse reads the 32 binary digits of i backwards: the van der Corput
// sequence 0, 1/2, 1/4, 3/4, 1/8, ... as multiples of 2^-32.
func radicalInverse(i uint32) uint32 { return bits.Reverse32(i) }

// scramble is a nested uniform scramble of the binary digits of x (Owen 1995):
// digit d is flipped or not by a coin that belongs to seed and to the digits above
// it. So numbers that share their first d digits share them afterwards.
func scramble(x, seed uint32) uint32 {
	return bits.Reverse32(flipUpward(bits.Reverse32(x), seed))
}

// flipUpward does the tossing on reversed digits, where "the digits above" are the
// lower bits: every operation carries only from lower to higher bits. This is the
// kind of hash of Laine and Karras (2011) that Burley (2020, section 3) uses, with
// the constants of N. Vegdahl ("Building a better LK hash", 2021, final hash): with
// the ones that Burley printed the coins of neighbouring digits are not
// independent, as the test of the coins shows.
func flipUpward(x, seed uint32) uint32 {
	x ^= x * 0x3d20adea
	x += seed
	x *= seed>>16 | 1
	x ^= x * 0x05526c56
	x ^= x * 0x53a22864
	return x
}

// hash gives 64 bits that stay the same for ever: a book's odds must not change
// because the program was rebuilt. Each part is closed by its length, so that no
// two keys spell the same text.
func (k Key) hash() uint64 {
	h := uint64(fnvOffset)
	h = fnvNumber(h, k.Seed)
	h = fnvNumber(fnvText(h, k.Name), uint64(len(k.Name)))
	h = fnvNumber(fnvText(h, k.Member), uint64(len(k.Member)))
	h = fnvNumber(h, uint64(int64(k.Week)))
	return mix(h)
}

// FNV-1a, 64 bits: Fowler, Noll, Vo and Eastlake, The FNV Non-Cryptographic Hash
// Algorithm (IETF draft). Written out because hash/fnv wants a writer and bytes.
const (
	fnvOffset = 0xcbf29ce484222325
	fnvPrime  = 0x100000001b3
)

func fnvText(h uint64, s string) uint64 {
	for i := range len(s) {
		h = (h ^ uint64(s[i])) * fnvPrime
	}
	return h
}

// fnvNumber takes the eight bytes of n, lowest first.
func fnvNumber(h, n uint64) uint64 {
	for range 8 {
		h = (h ^ n&0xff) * fnvPrime
		n >>= 8
	}
	return h
}

// mix is the output function of SplitMix64 (Steele, Lea and Flood 2014, Fast
// Splittable Pseudorandom Number Generators): FNV alone leaves traces of the last
// byte in the upper bits.
func mix(h uint64) uint64 {
	h += 0x9e3779b97f4a7c15
	h = (h ^ h>>30) * 0xbf58476d1ce4e5b9
	h = (h ^ h>>27) * 0x94d049bb133111eb
	return h ^ h>>31
}
