package risk

import (
	"math"

	"wintertruss/engine/fact"
)

// FewestDraws is the least number of known draws that earns a word.
var FewestDraws = fact.New(fact.Fact{
	Name: "fewest draws for a verdict word", Value: 200, Unit: "1", Low: 200, High: 200,
	Source: "standard error of a share, sqrt(p(1-p)/N): at 200 draws 3.5 % at most, less than the 5 % that one season of twenty stands for",
	Known:  fact.Assumed,
})

// MostUnknown is the largest share of draws without an answer that still leaves a
// word: with more, one of the twenty seasons of which the word speaks would be
// unknown, and it is often the bad ones that cannot be computed.
var MostUnknown = fact.New(fact.Fact{
	Name: "most draws without an answer for a verdict word", Value: 0.05, Unit: "1", Low: 0.05, High: 0.05,
	Source: "one season of twenty",
	Known:  fact.Assumed,
})

// Odds gives the share, 0 to 1, of the draws in x in which a condition holds (is
// not 0). Blank and faulty draws are skipped; with none left the result is NaN.
func Odds(x []float64) float64 { return Earn(x).Odds() }

// ladder is the one ladder of words, from the top: the fewest of twenty seasons
// that still earn the word.
var ladder = [...]struct {
	fewest int
	word   string
}{
	{19, "Yes"},
	{16, "Very likely"},
	{12, "Probably"},
	{8, "Doubtful"},
	{0, "No"},
}

// Verdict puts odds, 0 to 1, into a count of twenty seasons and the word the count
// earns: Yes 19-20, Very likely 16-18, Probably 12-15, Doubtful 8-11, No under 8.
//
// The count is the nearest, and at equal distance the lower. One exception: 20 of
// 20 is said only when every draw holds, since people read it as "cannot fail";
// short of that the most is 19. So 97 % and 99.9 % are both 19 of 20, and both Yes.
// Odds that are not a share give "" and 0. Whether draws earn a word at all is
// asked of Earned.
func Verdict(odds float64) (word string, of20 int) {
	if !(0 <= odds && odds <= 1) {
		return "", 0
	}
	of20 = int(math.Ceil(20*odds - 0.5))
	if odds < 1 {
		of20 = min(of20, 19)
	}
	for _, rung := range ladder {
		if of20 >= rung.fewest {
			return rung.word, of20
		}
	}
	return "", 0
}

// Earned counts what the draws say about a condition.
type Earned struct {
	Hold    int // draws in which it holds
	Known   int // draws that have an answer
	Unknown int // draws that are blank or faulty
}

// Earn counts the draws of a condition: 0 no, other numbers yes, NaN unknown.
func Earn(x []float64) Earned {
	var e Earned
	for _, v := range x {
		switch {
		case v != v:
			e.Unknown++
		case v != 0:
			e.Hold++
			e.Known++
		default:
			e.Known++
		}
	}
	return e
}

// Odds gives the share of known draws that hold, NaN without any.
func (e Earned) Odds() float64 {
	if e.Known == 0 {
		return math.NaN()
	}
	return float64(e.Hold) / float64(e.Known)
}

// Verdict is the function Verdict, but only when the draws have earned it: ok is
// false, word empty, when fewer than FewestDraws are known or more than MostUnknown
// of them are not.
func (e Earned) Verdict() (word string, of20 int, ok bool) {
	all := float64(e.Known + e.Unknown)
	if float64(e.Known) < FewestDraws.Value || float64(e.Unknown) > MostUnknown.Value*all {
		return "", 0, false
	}
	word, of20 = Verdict(e.Odds())
	return word, of20, true
}
