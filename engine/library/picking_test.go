package library

import (
	"strings"
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
)

func TestPickingFunctions(t *testing.T) {
	ripe, hands := steady(70), steady(1)
	for w := range 10 {
		ripe[w], hands[w] = array.Blank, array.Blank // no crop yet
	}
	hands[11] = 0
	outputs := func() (picked, waiting, soft []float64) {
		in := [][]float64{ripe, hands, one(0.9), one(3)}
		picked, _ = cropCall(t, "picked", nil, in...)
		waiting, _ = cropCall(t, "waiting", nil, in...)
		soft, _ = cropCall(t, "overripe", nil, in...)
		return
	}
	// By hand: 30 of 70 ripen after Thursday; in week 11 nobody picks, a tenth of the
	// 70 missed goes soft, and 63 and 30 wait.
	picked, waiting, soft := outputs()
	for w, want := range map[int][3]float64{10: {40, 30, 0}, 11: {0, 93, 7}, 12: {133, 30, 0}, 13: {70, 30, 0}} {
		closeTo(t, "picked", picked[w], want[0], 1e-9)
		closeTo(t, "waiting", waiting[w], want[1], 1e-9)
		closeTo(t, "overripe", soft[w], want[2], 1e-9)
	}
	// Cleared in week 13: it is picked to the end, and nothing waits.
	cleared := float64(cropDay(t, "2026-11-12"))
	last, _ := cropCall(t, "picked", nil, ripe, hands, one(0.9), one(3), one(cleared))
	closeTo(t, "the week of clearing", last[13], 100, 1e-9)
	left, _ := cropCall(t, "waiting", nil, ripe, hands, one(0.9), one(3), one(cleared))
	closeTo(t, "left then", left[13], 0, 1e-9)
	if !array.IsBlank(picked[9]) {
		t.Errorf("picks before the crop: %v", picked[9])
	}
	ripe[20] = array.Blank
	if picked, _, _ = outputs(); array.IsBlank(picked[19]) || !array.IsBlank(picked[20]) || !array.IsBlank(picked[52]) {
		t.Errorf("after a gap: %v, %v, %v", picked[19], picked[20], picked[52])
	}
	// Left out, all is picked as it comes.
	all, _ := cropCall(t, "picked", nil, steady(70), steady(1))
	closeTo(t, "all", all[0]+all[52], 140, 0)
	for _, in := range [][][]float64{{steady(1), steady(1.1)}, {steady(1), steady(-0.1)}, {steady(1), steady(1), one(1.1)}, {steady(1), steady(1), one(1), one(8)}} {
		if _, why := cropCall(t, "picked", nil, in...); why == "" {
			t.Errorf("%v passes", in[1:])
		}
	}
	if got, _ := cropCall(t, "waiting", nil, steady(1), steady(1), one(array.Blank)); !array.IsBlank(got[3]) {
		t.Errorf("what keeps is not known: %v", got[3])
	}
}

func TestPickDays(t *testing.T) {
	ask := func(name string, texts ...string) (float64, string) {
		for _, f := range pickingFunctions() {
			if f.Name == name {
				s, standing := cropSeason(t)
				out := [][]float64{{array.Blank}}
				c := formula.NewCall(s, standing, make([][]float64, len(texts)), nil, out)
				c.Text = texts
				f.Kernel.Run(c)
				return out[0][0], c.Refused()
			}
		}
		t.Fatal(name)
		return 0, ""
	}
	for _, c := range []struct {
		days, day string
		want      float64
	}{{"Mon Thu", "Mon", 4. / 7}, {"thu, mon", "THU", 3. / 7}, {"Mon Thu", "Fri", 0}, {"Sun", "Sun", 1}} {
		got, why := ask("pick_day_share", c.days, c.day)
		closeTo(t, c.days+why, got, c.want, 1e-12)
	}
	for days, want := range map[string]float64{"Mon Thu": 3, "Mon": 6, "Sun Mon": 0} {
		got, _ := ask("unpicked_days", days)
		closeTo(t, days, got, want, 0)
	}
	for _, texts := range [][]string{{"Moon", "Mon"}, {"", "Mon"}, {"Mon", "noon"}} {
		if _, why := ask("pick_day_share", texts...); why == "" {
			t.Errorf("%q passes", texts)
		}
	}
	if _, why := ask("unpicked_days", "Mon Tues"); !strings.Contains(why, "Tues") {
		t.Errorf("says %q", why)
	}
}

func TestLeftAlive(t *testing.T) {
	dying := steady(0)
	dying[5], dying[6], dying[40] = 0.1, 0.1, 1
	got, _ := cropCall(t, "left_alive", nil, dying)
	for w, want := range map[int]float64{4: 1, 5: 0.9, 6: 0.81, 39: 0.81, 40: 0, 52: 0} {
		closeTo(t, "alive", got[w], want, 1e-12)
	}
	if _, why := cropCall(t, "left_alive", nil, steady(-0.1)); why == "" {
		t.Error("plants rise from the dead")
	}
	dying[10] = array.Blank
	if got, _ = cropCall(t, "left_alive", nil, dying); array.IsBlank(got[9]) || !array.IsBlank(got[10]) {
		t.Errorf("not known in week 10: %v, %v", got[9], got[10])
	}
}

func TestGradingFunctions(t *testing.T) {
	cell := func(name string, in ...float64) (float64, string) {
		rows := make([][]float64, len(in))
		for i, x := range in {
			rows[i] = one(x)
		}
		got, why := cropCall(t, name, []string{"large", "cluster", "cherry"}, rows...)
		return got[0], why
	}
	sound, _ := cell("sound_share", 0.141) // cherry, Ohio 2024
	closeTo(t, "sound", sound, 0.859, 1e-12)
	// NIST tables: 0.15866 below -1, density 0.24197.
	small, _ := cell("too_small", 100, 75)
	closeTo(t, "small", small, 0.15866-0.25*0.24197, 1e-5)
	rot, _ := cell("rotten", 0.02, 0)
	closeTo(t, "moist bags", rot, 0.02, 0)
	dry, _ := cell("dry_matter", 2)
	closeTo(t, "cherry", dry, 0.0885, 0.0075) // 8.1 to 9.6 %
	for name, in := range map[string][]float64{"sound_share": {1.1}, "rotten": {0.1, -0.1}, "too_small": {0, 75}} {
		if _, why := cell(name, in...); why == "" {
			t.Errorf("%s of %v passes", name, in)
		}
	}
	for name, in := range map[string][]float64{"sound_share": {0.1, array.Blank}, "rotten": {array.Blank, 0}, "too_small": {100, array.Blank}, "dry_matter": {array.Blank}} {
		if got, _ := cell(name, in...); !array.IsBlank(got) {
			t.Errorf("%s of %v: %v", name, in, got)
		}
	}
}

func TestNextPick(t *testing.T) {
	ask := func(day float64, days string) (float64, string) {
		s, standing := cropSeason(t)
		out := [][]float64{{array.Blank}}
		c := formula.NewCall(s, standing, [][]float64{one(day), one(0)}, nil, out)
		c.Text = []string{"", days}
		nextPick.Kernel.Run(c)
		return out[0][0], c.Refused()
	}
	// 2027-03-10 is a Wednesday (ISO 8601).
	wednesday := float64(cropDay(t, "2027-03-10"))
	for days, wait := range map[string]float64{"Mon Thu": 1, "Tue Fri": 2, "Wed": 0, "Tue": 6, "Sun": 4} {
		got, _ := ask(wednesday, days)
		closeTo(t, days, got-wednesday, wait, 0)
	}
	if got, _ := ask(array.Blank, "Mon"); !array.IsBlank(got) {
		t.Errorf("not known when ripe: %v", got)
	}
	for _, days := range []string{"", "Someday"} {
		if _, why := ask(wednesday, days); why == "" {
			t.Errorf("%q passes", days)
		}
	}
}
