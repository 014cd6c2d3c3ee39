package book

import (
	"os"
	"slices"
	"testing"

	"wintertruss/engine/syntax"
)

func quailRun(t testing.TB) *Book {
	text, err := os.ReadFile("testdata/quail_run.md")
	if err != nil {
		t.Fatal(err)
	}
	b := assembled(string(text))
	for _, e := range b.Errors {
		t.Fatalf("%d:%d: %v", e.Line, e.Col, e)
	}
	return b
}

func same[T comparable](t *testing.T, what string, got, want T) {
	t.Helper()
	if got != want {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// piece checks the number and the unit of a piece.
func piece(t *testing.T, in *Input, i int, member int, from string, number float64, unit string) {
	t.Helper()
	if i >= len(in.Pieces) {
		t.Errorf("there is no piece %d", i)
		return
	}
	p := in.Pieces[i]
	same(t, "member", p.Member, member)
	same(t, "holds from the beginning", p.First, from == "")
	if from != "" {
		same(t, "week", p.From.String(), from)
	}
	same(t, "number", p.Value.Number, number)
	if p.Value.Unit == nil {
		same(t, "unit", "", unit)
	} else {
		same(t, "unit", p.Value.Unit.String(), unit)
	}
}

func TestSettings(t *testing.T) {
	b := quailRun(t)
	s := b.Settings
	same(t, "title", b.Title, "Quail Run, winter 2026-27")
	same(t, "season", s.Season.First.String()+s.Season.Last.String(), "2026-W332027-W32")
	same(t, "weeks", s.Season.Len(), 53)
	same(t, "currency", s.Currency, "USD")
	same(t, "latitude", s.Latitude, 42)
	// 1 ft = 0.3048 m exactly (NIST Handbook 44, appendix C).
	same(t, "elevation", s.Elevation, 304.8)
	same(t, "things", len(s.Things), 2)
	same(t, "as of", s.AsOf.String(), "2027-03-10")
	same(t, "said so", s.HasAsOf && s.HasSeason && s.HasLatitude && s.HasElevation, true)
	same(t, "draws", s.Draws, 4096)
	same(t, "seed", s.Seed, 18446744073709551615)
	same(t, "years", s.Years, 7)
	same(t, "closed", s.Closed[0].String(), "2027-W10")
	// The week of 10 March 2027 is the tenth, and closed by hand: now is the eleventh.
	same(t, "now", s.Season.At(s.Standing.Now()).String(), "2027-W11")
	if _, err := b.Units.Parse("crate/sachet"); err != nil {
		t.Error(err)
	}

	d := assembled(base).Settings
	same(t, "draws left out", d.Draws, 1024)
	same(t, "seed left out", d.Seed, 1)
	same(t, "years left out", d.Years, 5)
	same(t, "as of left out", d.AsOf == today && !d.HasAsOf && !d.HasLatitude && !d.HasElevation, true)
	same(t, "title left out", assembled(base).Title, "Quail Run")
	same(t, "title in quotes", assembled(base+"```settings\ntitle : \"Rook Farm\"\n```\n").Title, "Rook Farm")
}

func TestLists(t *testing.T) {
	b := quailRun(t)
	house := b.List("house")
	same(t, "members", len(house.Members), 3)
	same(t, "label", house.Members[0].Label, `Long house, "the A"`)
	same(t, "label left out", house.Members[2].Label, "lean")
	same(t, "columns", len(house.Columns), 5)

	floor := &b.Column("house", "floor").Input
	same(t, "axes", floor.Axes[0], "house")
	same(t, "along", floor.Along, "house")
	same(t, "unit", floor.Unit.String(), "ft2")
	same(t, "a blank cell has no piece", len(floor.Pieces), 2)
	piece(t, floor, 0, 0, "", 2880, "ft2")
	piece(t, floor, 1, 1, "", 100, "m2") // as written
	same(t, "exact", floor.Pieces[1].Value.Exact.String(), "100")

	night := &b.Column("house", "night").Input
	same(t, "over week", slices.Equal(night.Axes, []string{"house", "week"}), true)
	piece(t, night, 0, 0, "", 62, "degF")
	piece(t, night, 1, 0, "2027-W09", 18, "degC")
	piece(t, night, 2, 0, "2027-W12", 60, "degF") // as the first
	piece(t, night, 3, 1, "", 64, "degF")

	same(t, "kinds", b.Column("house", "shape").Input.Kind, Word)
	same(t, "kind", b.Column("house", "shape").Input.Pieces[1].Value.Word, "gable")
	same(t, "yes", b.Column("house", "heated").Input.Pieces[0].Value.Number, 1)
	same(t, "no", b.Column("house", "heated").Input.Pieces[1].Value.Number, 0)

	in := &b.Column("planting", "house").Input
	same(t, "refers", in.Refers, "house")
	same(t, "member", in.Pieces[1].Value.Member, 1)
	same(t, "refers by arrow", b.Column("planting", "next").Input.Refers, "planting")
	same(t, "member", b.Column("planting", "next").Input.Pieces[0].Value.Member, 1)
	same(t, "a kind is no member", b.Column("planting", "crop").Input.Pieces[0].Value.Member, -1)

	out := &b.Column("planting", "set_out").Input
	same(t, "dates", out.Kind, Date)
	same(t, "a day", out.Pieces[0].Value.Number, float64(mustDay("2026-11-02")))
	same(t, "a week stands for its Monday", out.Pieces[1].Value.Number, float64(mustDay("2026-12-28")))

	share := b.Column("planting", "share").Input.Pieces[1].Value
	same(t, "per cents stay per cents", share.Number, 75)
	same(t, "unit of the header", share.Unit.String(), "%")
	same(t, "spread", *share.Spread, Spread{Form: syntax.PlainNumber, Low: 70, Middle: 75, High: 79, Key: Key{Name: "planting.share", Member: "short_pepper"}})

	density := &b.Column("planting", "density").Input
	same(t, "unit of the first cell that names one", density.Unit.String(), "plant/m2")
	piece(t, density, 0, 0, "", 0, "plant/m2") // 0 fits every unit
}

func TestInputs(t *testing.T) {
	b := quailRun(t)
	input := func(name string) *Input {
		t.Helper()
		l := b.Line(name)
		if l == nil || l.Input == nil {
			t.Fatalf("%s is no input", name)
		}
		return l.Input
	}
	share := input("set_share")
	same(t, "one literal for all members", share.Pieces[0].Member, -1)
	same(t, "along", share.Along, "")
	same(t, "spread", *share.Pieces[0].Value.Spread, Spread{syntax.PlainNumber, 68, 80, 88, true, Key{Name: "set_share"}})
	same(t, "each", len(share.Each), 0)
	same(t, "label", b.Line("set_share").Label, "Flowers that become fruit")
	same(t, "source", b.Line("set_share").Source, "own counts")
	same(t, "page", b.Line("set_share").Page, "Lines")
	same(t, "unit", b.Line("set_share").Unit.String(), "%")

	shift := input("shift")
	same(t, "each", slices.Equal(shift.Each, []Each{{"week", 0.6}, {"house", 0}}), true)
	same(t, "axes", slices.Equal(shift.Axes, []string{"week", "house"}), true)
	same(t, "half-width", *shift.Pieces[0].Value.Spread, Spread{syntax.PlainNumber, -2, 0, 2, false, Key{Name: "shift"}})

	high := input("high")
	same(t, "along", high.Along, "month_of_year")
	same(t, "months", len(high.Pieces), 12)
	piece(t, high, 0, 0, "", 33, "degF")
	piece(t, high, 11, 11, "", 37, "degF")

	slope := input("slope")
	same(t, "along the axis beside week", slope.Along, "house")
	piece(t, slope, 2, 2, "", 3, "1")

	freeze := input("freeze").Pieces[0].Value
	same(t, "a chance is 0 in the plain pass", freeze.Number, 0)
	same(t, "chance", *freeze.Spread, Spread{syntax.ChanceForm, 0, 0.04, 1, false, Key{Name: "freeze"}})
	same(t, "chance's unit", freeze.Unit, b.Units.One())

	same(t, "the middle of likely is its mode", *input("pick").Pieces[0].Value.Spread, Spread{syntax.LikelyForm, 1, 2, 4, false, Key{Name: "pick"}})
	same(t, "the middle of even is its midpoint", *input("rent").Pieces[0].Value.Spread, Spread{syntax.EvenForm, 100, 150, 200, false, Key{Name: "rent"}})
	same(t, "exact midpoint", input("rent").Pieces[0].Value.Exact.String(), "150")

	price := input("price")
	piece(t, price, 0, -1, "", 5.5, "USD/lb")
	piece(t, price, 1, -1, "2027-W14", 5, "USD/lb")
	piece(t, price, 2, -1, "2027-W20", 0, "USD/lb")
	same(t, "exact", price.Pieces[0].Value.Exact.String(), "5.5")

	same(t, "a week as a value", input("begins").Pieces[0].Value.Number, float64(mustDay("2026-12-28")))
	same(t, "a kind", input("shape_wanted").Pieces[0].Value.Word, "arch")
	same(t, "text", input("note").Pieces[0].Value.Word, "as they come // and go")
	same(t, "text has no unit", b.Line("note").Unit == nil && input("note").Unit == nil, true)
	same(t, "yes", input("sound").Pieces[0].Value.Number, 1)

	harvest := b.Line("harvest")
	same(t, "computed", harvest.Input == nil && harvest.Formula != nil, true)
	same(t, "formula", harvest.Formula.Text, "planting.share * 3")
	same(t, "declared unit", harvest.Unit.String(), "lb")
	same(t, "gathers", harvest.Gather, "level")
	same(t, "no unit declared", b.Line("plain").Unit == nil, true)
	same(t, "lines", len(b.Lines), 15)
}

// Comma-separated values over week alone are a schedule with a step every week.
func TestValuesByWeek(t *testing.T) {
	b := assembled("```settings\nseason : 2026-W52 .. 2027-W01\ncurrency : USD\n```\n```lines\nrain over week : 1, 2, 3 mm\n```\n")
	if len(b.Errors) > 0 {
		t.Fatal(b.Errors[0])
	}
	rain := b.Line("rain").Input
	same(t, "along", rain.Along, "")
	piece(t, rain, 0, -1, "", 1, "mm")
	piece(t, rain, 1, -1, "2026-W53", 2, "mm")
	piece(t, rain, 2, -1, "2027-W01", 3, "mm")
}

func TestRecords(t *testing.T) {
	b := quailRun(t)
	picks := b.RecordsOf("picks")
	same(t, "days outside the season are kept", picks.Day[1].String(), "2024-01-01")
	same(t, "place", picks.Places[2], syntax.Place{Line: 57, Col: 1, Len: 10})
	planting := b.RecordColumn("picks", "planting")
	same(t, "refers", planting.Refers, "planting")
	same(t, "member", planting.Cells[0].Member, 0)
	same(t, "blank", planting.Cells[2].Kind, Blank)
	same(t, "a blank is no member", planting.Cells[2].Member, -1)
	weight := b.RecordColumn("picks", "weight")
	same(t, "unit", weight.Unit.String(), "lb")
	same(t, "own unit", weight.Cells[2].Number == 500 && weight.Cells[2].Unit.String() == "g", true)
	same(t, "blank is not zero", weight.Cells[1].Kind, Blank)
	seconds := b.RecordColumn("picks", "seconds")
	same(t, "unit of the first cell that names one", seconds.Unit.String(), "lb")
	same(t, "0 fits it", seconds.Cells[1].Kind == Number && seconds.Cells[1].Unit == seconds.Unit, true)
}

func TestOverrides(t *testing.T) {
	b := quailRun(t)
	same(t, "pins", len(b.Pins), 3)
	p := b.Pins[0]
	same(t, "target", p.Target(), "harvest")
	same(t, "member", p.Where[0].Position, Position{"planting", 0})
	same(t, "week", p.Where[1].Position, Position{"week", 36}) // 2026 has 53 weeks: 21 of them and 15 of 2027 come first
	same(t, "the week is the one written", b.Settings.Season.At(p.Where[1].Index).String(), "2027-W16")
	same(t, "label", p.Label+p.Source, "half a crewown")
	piece(t, p.Input, 0, -1, "", 140, "lb")
	same(t, "order does not matter", b.Pins[1].Where[1].Position, Position{"house", 1})
	same(t, "axes that are left", len(b.Pins[1].Input.Axes), 0)
	same(t, "month of the year", b.Pins[2].Where[0].Position, Position{"month_of_year", 1})

	s := b.Scenario("later")
	same(t, "title", s.Title, "Sow three weeks later")
	same(t, "rows", len(s.Overrides), 5)
	same(t, "a formula", s.Overrides[0].Formula.Text, `base + measure("21 d")`)
	same(t, "of a column", s.Overrides[0].Column, b.Column("planting", "set_out"))
	same(t, "draws as the cell it replaces", s.Overrides[1].Input.Pieces[0].Value.Spread.Key, b.Column("planting", "density").Input.Pieces[1].Value.Spread.Key)
	piece(t, s.Overrides[2].Input, 1, -1, "2027-W14", 3, "USD/lb")
	same(t, "a formula for one cell", s.Overrides[3].Where[0].Position, Position{"planting", 0})
	same(t, "one a member of the axis that is left", s.Overrides[4].Input.Along, "house")
	piece(t, s.Overrides[4].Input, 2, 2, "", 6, "1")
}

// A word that names cells of several axes is left to the line's formula where
// the target is computed.
func TestOpenSpots(t *testing.T) {
	b := assembled(base + "```list stall\n   | a\nlong | 1\n```\n```pins\nplants @ long : 3 ft2\nplants @ 2027-03, 3 : 4 ft2\n```\n")
	if len(b.Errors) > 0 {
		t.Fatal(b.Errors[0])
	}
	spot := b.Pins[0].Where[0]
	same(t, "first", spot.Position, Position{"house", 0})
	same(t, "others", slices.Equal(spot.Others, []Position{{"stall", 0}}), true)
	same(t, "month", b.Pins[1].Where[0].Position, Position{"month", 7}) // August is 0
	same(t, "year ahead", b.Pins[1].Where[1].Position, Position{"year_ahead", 2})
}

func TestRisk(t *testing.T) {
	b := quailRun(t)
	bind := b.Binds[0]
	same(t, "line", bind.Line, b.Line("harvest"))
	same(t, "formula", bind.Formula.Text, "week_sum(picks.weight)")
	same(t, "within", bind.Within, 0.06)
	same(t, "label", bind.Label+bind.Source, "the scaleown")
	link := b.Links[0]
	same(t, "link", link.A == b.Line("set_share") && link.B == b.Line("rent") && link.Share == -0.3, true)
}

func TestAnswersAndCharts(t *testing.T) {
	b := quailRun(t)
	c := b.Cautions[0]
	same(t, "message", c.Message, "More than there is")
	same(t, "condition", c.Condition.Op+c.Condition.Left.Text, "<=harvest")
	same(t, "literal", c.Condition.Literal.Number == 100 && c.Condition.Literal.Unit.String() == "lb", true)
	same(t, "page", c.Page, "Lines")
	same(t, "answers", len(b.Answers), 2)
	same(t, "key", b.Answers[0].Key, "pays")
	same(t, "a bare line", b.Answers[0].Entries[1].Op+b.Answers[0].Entries[1].Text, "plain")
	same(t, "a name on the right", b.Answers[1].Entries[0].Right.Text, "plain")
	chart := b.Charts[0]
	same(t, "chart", chart.Title+chart.Kind+chart.Split, "Harvest to sellfanplanting")
	same(t, "lines", slices.Equal(chart.Lines, []string{"harvest", "house.night"}), true)
	phases := assembled(base + "```chart \"Phases\"\nkind : phases\nsplit : house\n```\n")
	same(t, "phases need no lines", len(phases.Errors) == 0 && phases.Charts[0].Kind == "phases", true)
}

func TestAxes(t *testing.T) {
	b := quailRun(t)
	for axis, want := range map[string][3]string{ // how many, first and last
		"week":          {"53", "2026-W33", "2027-W32"},
		"month":         {"13", "2026-08", "2027-08"},
		"month_of_year": {"12", "01", "12"},
		"year_ahead":    {"7", "1", "7"},
		"house":         {"3", "long", "lean"},
	} {
		names := b.AxisMembers(axis)
		n, ok := b.AxisLen(axis)
		if !ok || n != len(names) {
			t.Errorf("%s has %d cells and %d names", axis, n, len(names))
		}
		same(t, axis, [3]string{itoa(n), names[0], names[n-1]}, want)
	}
	if _, ok := b.AxisLen("harvest"); ok || b.AxisMembers("harvest") != nil {
		t.Error("a line is no axis")
	}
	if _, ok := assembled("no book").AxisLen("week"); ok {
		t.Error("a book without a season has no weeks")
	}
}
