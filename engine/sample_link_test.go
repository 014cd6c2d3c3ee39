package engine_test

import (
	"math"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/week"
)

// A link holds in every week between inputs that both remember the week before. Two
// normal scores of correlation r lie on the same side of their middles with odds of
// 1/2 + asin(r)/pi, and r is 2 sin(pi s / 6) for a rank correlation s (Pearson 1907,
// from memory): 80.3 % for 0.8.
func TestLinkOfInputsThatRemember(t *testing.T) {
	const text = "```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2026-08-01\ndraws : 4096\n```\n" +
		"```lines\nsun over each week keeps 60 % : 0 degF_diff (-3..3)\nswing over each week keeps 60 % : 0 degF_diff (-5..5)\n" +
		"nothing : 0 degF_diff\n" +
		"together = odds((sun > nothing) == (swing > nothing)) -> %\n```\n" +
		"```links\nsun, swing : 0.8\n```\n"
	d, err := engine.Open("linked.md", []byte(text), engine.Options{Today: week.Day(20500)})
	if err != nil {
		t.Fatal(err)
	}
	v, err := d.Value("together")
	if err != nil || v.Error != nil {
		t.Fatal(err, v.Error)
	}
	want := 0.5 + math.Asin(2*math.Sin(math.Pi*0.8/6))/math.Pi
	for _, i := range []int{0, 1, 10, 52} {
		got := v.Cells[i]
		if v.Unit == "%" {
			got /= 100
		}
		if !(math.Abs(got-want) < 0.025) { // four standard errors of 4,096 draws
			t.Errorf("week %d: together in %.3f of the draws, want %.3f", i, got, want)
		}
	}
}
