package engine_test

import (
	"math"
	"testing"
)

// togetherBook: two beds, each with a range of its own and the same one for all weeks.
const togetherBook = "# Plan\n\n```settings\nseason : 2026-W40 .. 2026-W43\ncurrency : USD\nas_of : 2026-10-01\ndraws : 4096\n```\n\n" +
	"```list bed\n      | label\nleft  | Left\nright | Right\n```\n\n```lines\n" +
	"each over each bed : 100 kg (87.2..112.8) open\npicked = each * (week_days / week_days) -> kg\nshare = picked / each -> %\n```\n"

// TestBandsTogether: the band of two independent and equal normal amounts is narrower
// than the sum of their bands by the root of two; its middle half reaches 0.674 of a
// standard deviation to either side, its 8 in 10 1.282 (tables of the normal distribution).
func TestBandsTogether(t *testing.T) {
	d := openBook(t, togetherBook)
	v, err := d.Value("picked")
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Low) != 8 || len(v.Together.Low) != 4 {
		t.Fatalf("%d bands of cells and %d of weeks, want 8 and 4", len(v.Low), len(v.Together.Low))
	}
	const one = 12.8 / 1.2816 // standard deviation of a bed
	for w, got := range v.Together.Low {
		for name, pair := range map[string][2]float64{
			"10th": {got, 200 - 1.2816*one*math.Sqrt2}, "90th": {v.Together.High[w], 200 + 1.2816*one*math.Sqrt2},
			"25th": {v.Together.InnerLow[w], 200 - 0.6745*one*math.Sqrt2}, "75th": {v.Together.InnerHigh[w], 200 + 0.6745*one*math.Sqrt2},
		} {
			if math.Abs(pair[0]-pair[1]) > 0.8 { // 4,096 draws; a twentieth of the spread
				t.Errorf("week %d: the %s percentile is %.2f, want %.2f", w, name, pair[0], pair[1])
			}
		}
	}
	if v, err = d.Value("share"); err != nil || v.Together.Low != nil {
		t.Errorf("shares do not add up, but have a band together: %v, %v", v.Together, err)
	}
}
