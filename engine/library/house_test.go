package library

import (
	"strings"
	"testing"

	"wintertruss/engine/array"
)

const (
	footM   = 0.3048
	lossSI  = 5.678263 // W/m2/K in a BTU/h/ft2/degF, NIST SP 811
	wattBTU = btuMJ * 1e6 / 3600
)

// longHouse is a 30 x 96 ft half circle under double film at one air change.
func longHouse(changes map[string]any) map[string]any {
	columns := map[string]any{"shape": "half_circle", "length": 96 * footM, "width": 30 * footM, "cover": "double_poly",
		"air_changes": 1.0, "night": celsius(62), "day": celsius(70)}
	for name, x := range changes {
		if x == nil {
			delete(columns, name)
		} else {
			columns[name] = x
		}
	}
	return columns
}

// Worked by hand: pi 15 96 + pi 15^2 = 5230.8 ft2, pi 15^2 96 / 2 = 33,929 ft3,
// and at 0.70 and 60 degF 219,692 + 36,644 = 256,335 BTU/h.
func TestHouseForm(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	cover, _ := results(t, "cover_area", season, nil, longHouse(nil))
	room, _ := results(t, "house_volume", season, nil, longHouse(nil))
	near(t, "cover", cover[0]/footM/footM, 5230.8, 0.1)
	near(t, "room", room[0]/footM/footM/footM, 33929, 1)
	lost, _ := results(t, "heat_loss", season, []float64{celsius(60), celsius(0)}, longHouse(nil))
	near(t, "lost", lost[0]/wattBTU, 256335, 5)
	own, _ := results(t, "heat_loss", season, []float64{celsius(60), celsius(0)}, longHouse(map[string]any{"loss": 1.15 * lossSI}))
	near(t, "lost through single film by its own loss", own[0]/wattBTU, 397565, 10)

	arch := map[string]any{"shape": "arch", "wall": 4 * footM, "rise": 9 * footM}
	cover, _ = results(t, "cover_area", season, nil, longHouse(arch))
	near(t, "arch of 9 on 4 ft", cover[0]/footM/footM, 4920.6, 5)
	gable := map[string]any{"shape": "gable", "wall": 6 * footM, "rise": 7 * footM}
	cover, _ = results(t, "cover_area", season, nil, longHouse(gable))
	near(t, "gable from 6 to 13 ft", cover[0]/footM/footM, 4900.2, 5)
}

// End walls of another cover, and bays in a row, by hand: half circles of 30 x 96 ft
// under double film with polycarbonate ends lose 60 (4523.9 x 0.70 + 706.9 x 0.53) +
// 36,644 = 249,127 BTU/h, three of them joined three times that (hoops from the ground
// have no walls to lose); gables from 6 to 13 ft joined save two inner walls a joint.
func TestEndsAndBays(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	lost := func(changes map[string]any) float64 {
		t.Helper()
		cells, refused := results(t, "heat_loss", season, []float64{celsius(60), celsius(0)}, longHouse(changes))
		if refused != "" {
			t.Fatal(refused)
		}
		return cells[0] / wattBTU
	}
	near(t, "ends of polycarbonate", lost(map[string]any{"end_cover": "polycarbonate"}), 249127, 20)
	near(t, "ends by their own loss", lost(map[string]any{"end_cover": "straw", "end_loss": 0.53 * lossSI}), 249127, 20)
	near(t, "ends as the cover", lost(map[string]any{"end_cover": "double_poly"}), lost(nil), 1e-6)
	near(t, "three half circles", lost(map[string]any{"bays": 3.0}), 3*256335, 10)
	gable := map[string]any{"shape": "gable", "wall": 6 * footM, "rise": 7 * footM, "bays": 2.0}
	near(t, "two gables", lost(gable), 60*(0.70*(2*4900.2-2*96*6)+0.018*2*27360), 20)
}

func TestHouseRefusals(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	arguments := []float64{26, 6, -4, 8, 10}
	for what, columns := range map[string]map[string]any{
		"shape":       {"shape": "dome"},
		"length":      {"length": 0.0},
		"wall":        {"wall": -1.0},
		"bays":        {"bays": 1.5},
		"known":       {"end_cover": "straw"},
		"losses":      {"end_loss": -1.0},
		"rise":        {"shape": "arch", "rise": 0.0},
		"cover":       {"cover": "straw"},
		"cover or":    {"cover": nil},
		"loss":        {"loss": -1.0},
		"air_changes": {"air_changes": -0.5},
		"screen":      {"screen_saves": 1.5},
		"passes":      {"passes": -0.1},
		"floor":       {"floor": -3.0},
	} {
		if _, refused := results(t, "house_heat", season, arguments, longHouse(columns)); !strings.Contains(refused, strings.Fields(what)[0]) {
			t.Errorf("%s: refused %q", what, refused)
		}
	}
}

// A blank cell in a column that may be left out counts as if it were; in one
// that may not, the result is blank.
func TestHouseBlanks(t *testing.T) {
	season := testSeason(t, "2026-W40", "2026-W43")
	arguments := []float64{26, 6, -4, 8, 10}
	want, _ := results(t, "house_heat", season, arguments, longHouse(nil))
	blanks := map[string]any{"wall": array.Blank, "rise": array.Blank, "loss": array.Blank, "screen_saves": array.Blank, "passes": array.Blank, "floor": array.Blank}
	got, refused := results(t, "house_heat", season, arguments, longHouse(blanks))
	if refused != "" || got[0] != want[0] {
		t.Errorf("blank cells: %v, refused %q, want %v", got[0], refused, want[0])
	}
	for _, name := range []string{"length", "width", "air_changes", "night", "day"} {
		got, refused := results(t, "house_heat", season, arguments, longHouse(map[string]any{name: array.Blank}))
		if refused != "" || !array.IsBlank(got[0]) {
			t.Errorf("blank %s: %v, refused %q", name, got[0], refused)
		}
	}
	arch := longHouse(map[string]any{"shape": "arch", "rise": array.Blank})
	if got, refused := results(t, "cover_area", season, nil, arch); refused != "" || !array.IsBlank(got[0]) {
		t.Errorf("arch without a rise: %v, refused %q", got, refused)
	}
}
