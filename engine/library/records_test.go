package library

import (
	"testing"

	"wintertruss/engine/array"
	"wintertruss/engine/formula"
	"wintertruss/engine/week"
)

// entry is one record of a kind that refers to one list of two members.
type entry struct {
	day    string
	member int
	x      float64
}

func rowsOf(t testing.TB, entries []entry) (x []float64, rows *formula.Rows) {
	rows = &formula.Rows{Refers: [][]int{nil}, Size: []int{2}}
	for _, e := range entries {
		rows.Day = append(rows.Day, dayAt(t, e.day))
		rows.Refers[0] = append(rows.Refers[0], e.member)
		x = append(x, e.x)
	}
	return x, rows
}

// ofRecords runs the kernel of a function of records.
func ofRecords(t testing.TB, name string, season week.Season, standing week.Standing, entries []entry) []float64 {
	t.Helper()
	f := kernelOf(t, recordsFunctions(), name)
	x, rows := rowsOf(t, entries)
	var outs [][]float64
	for _, r := range f.Kernel.Results {
		n := 2
		if len(r.Whole) == 2 {
			n *= season.Len()
		}
		outs = append(outs, make([]float64, n))
	}
	c := formula.NewCall(season, standing, [][]float64{x}, nil, outs)
	c.Rows = rows
	f.Kernel.Run(c)
	return outs[f.Output]
}

func TestRecordsByWeek(t *testing.T) {
	// Six weeks from Monday 2027-02-15; the day is Wednesday of the fourth.
	season := seasonOf(t, "2027-W07", "2027-W12")
	standing := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	fault := array.Fault(array.OutsideDomain, 4)
	for _, c := range []struct {
		about                  string
		entries                []entry
		sum, mean, last, count []float64
	}{
		{"added up by member and week, the open week so far",
			[]entry{{"2027-02-16", 0, 4}, {"2027-02-19", 0, 6}, {"2027-02-21", 1, 1}, {"2027-03-02", 0, 5}, {"2027-03-10", 1, 2}},
			row(10, 0, 5, 0, blank, blank, 1, 0, 0, 2, blank, blank),
			row(5, blank, 5, blank, blank, blank, 1, blank, blank, 2, blank, blank),
			row(6, blank, 5, blank, blank, blank, 1, blank, blank, 2, blank, blank),
			row(2, 0, 1, 0, blank, blank, 1, 0, 0, 1, blank, blank)},
		{"no entry in that week or later: not known, not none",
			[]entry{{"2027-02-23", 0, 3}},
			row(0, 3, blank, blank, blank, blank, 0, 0, blank, blank, blank, blank),
			row(blank, 3, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(blank, 3, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(0, 1, blank, blank, blank, blank, 0, 0, blank, blank, blank, blank)},
		{"the last is by date, not by place; of one day the later row",
			[]entry{{"2027-02-19", 0, 6}, {"2027-02-16", 0, 4}, {"2027-02-19", 0, 7}, {"2027-02-17", 0, 9}},
			row(26, blank, blank, blank, blank, blank, 0, blank, blank, blank, blank, blank),
			row(6.5, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(7, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(4, blank, blank, blank, blank, blank, 0, blank, blank, blank, blank, blank)},
		{"a blank says nothing, but someone kept records; a row without a member belongs nowhere",
			[]entry{{"2027-02-16", 0, blank}, {"2027-02-24", -1, 8}},
			row(0, 0, blank, blank, blank, blank, 0, 0, blank, blank, blank, blank),
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(0, 0, blank, blank, blank, blank, 0, 0, blank, blank, blank, blank)},
		{"dated after the day the book stands at: not known yet",
			[]entry{{"2027-02-16", 0, 4}, {"2027-03-11", 0, 50}, {"2027-03-18", 0, 50}},
			row(4, blank, blank, blank, blank, blank, 0, blank, blank, blank, blank, blank),
			row(4, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(4, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(1, blank, blank, blank, blank, blank, 0, blank, blank, blank, blank, blank)},
		{"before the season: in no week of it",
			[]entry{{"2027-02-14", 0, 4}},
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank),
			row(blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank, blank)},
		{"a fault stays in its cell",
			[]entry{{"2027-02-16", 0, fault}, {"2027-02-17", 0, 1}, {"2027-02-18", 1, 2}},
			row(fault, blank, blank, blank, blank, blank, 2, blank, blank, blank, blank, blank),
			row(fault, blank, blank, blank, blank, blank, 2, blank, blank, blank, blank, blank),
			row(1, blank, blank, blank, blank, blank, 2, blank, blank, blank, blank, blank),
			row(2, blank, blank, blank, blank, blank, 1, blank, blank, blank, blank, blank)},
	} {
		t.Run(c.about, func(t *testing.T) {
			for _, o := range []struct {
				name string
				want []float64
			}{{"week_sum", c.sum}, {"week_mean", c.mean}, {"week_last", c.last}, {"recorded_count", c.count}} {
				if got := ofRecords(t, o.name, season, standing, c.entries); !same(got, o.want) {
					t.Errorf("%s:\n%v, want\n%v", o.name, got, o.want)
				}
			}
		})
	}
}

func TestRecordsOfAWeekClosedByHand(t *testing.T) {
	season := seasonOf(t, "2027-W09", "2027-W11")
	open := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	closed := week.NewStanding(season, dayAt(t, "2027-03-10"), []week.Week{season.At(1)})
	entries := []entry{{"2027-03-09", 0, 3}, {"2027-03-12", 0, 4}}
	if got, want := ofRecords(t, "week_sum", season, open, entries), row(0, 3, blank, 0, 0, blank); !same(got, want) {
		t.Errorf("open: %v, want %v", got, want)
	}
	if got, want := ofRecords(t, "week_sum", season, closed, entries), row(0, 7, blank, 0, 0, blank); !same(got, want) {
		t.Errorf("closed by hand, so that all its records are in: %v, want %v", got, want)
	}
}

func TestRecordsAfterTheSeasonShowThatRecordsWereKept(t *testing.T) {
	season := seasonOf(t, "2027-W09", "2027-W10")
	standing := week.NewStanding(season, dayAt(t, "2027-06-01"), nil)
	got := ofRecords(t, "week_sum", season, standing, []entry{{"2027-04-01", 0, 3}})
	if want := row(0, 0, 0, 0); !same(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestRecordsByMember(t *testing.T) {
	season := seasonOf(t, "2027-W07", "2027-W12") // from Monday 2027-02-15
	standing := week.NewStanding(season, dayAt(t, "2027-06-01"), nil)
	for _, c := range []struct {
		about       string
		entries     []entry
		all, before []float64
	}{
		{"in, before and after the season",
			[]entry{{"2027-02-14", 0, 1}, {"2027-02-15", 0, 2}, {"2026-01-01", 1, 4}, {"2027-05-05", 0, 8}},
			row(11, 4), row(1, 4)},
		{"nothing recorded is none", nil, row(0, 0), row(0, 0)},
		{"blanks only", []entry{{"2027-02-14", 0, blank}, {"2027-02-16", 1, blank}}, row(blank, blank), row(blank, 0)},
		{"blanks are passed over", []entry{{"2027-02-14", 0, blank}, {"2027-02-13", 0, 5}}, row(5, 0), row(5, 0)},
		{"of nobody", []entry{{"2027-02-14", -1, 3}}, row(0, 0), row(0, 0)},
		{"not known yet", []entry{{"2027-06-02", 0, 3}}, row(0, 0), row(0, 0)},
	} {
		if got := ofRecords(t, "all_recorded", season, standing, c.entries); !same(got, c.all) {
			t.Errorf("all_recorded, %s: %v, want %v", c.about, got, c.all)
		}
		if got := ofRecords(t, "before_season", season, standing, c.entries); !same(got, c.before) {
			t.Errorf("before_season, %s: %v, want %v", c.about, got, c.before)
		}
	}
}

// Records that refer to two lists fill every pair, the later list innermost.
func TestRecordsOfTwoLists(t *testing.T) {
	season := seasonOf(t, "2027-W09", "2027-W09")
	standing := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	monday := season.First.Monday()
	f := kernelOf(t, recordsFunctions(), "week_sum")
	outs := make([][]float64, len(f.Kernel.Results))
	for i := range outs {
		outs[i] = make([]float64, 2*3)
	}
	c := formula.NewCall(season, standing, [][]float64{{1, 2, 4, 8}}, nil, outs)
	c.Rows = &formula.Rows{Day: []week.Day{monday, monday, monday, monday},
		Refers: [][]int{{0, 1, 1, 0}, {2, 0, 0, -1}}, Size: []int{2, 3}}
	f.Kernel.Run(c)
	if got, want := outs[f.Output], row(0, 0, 1, 6, 0, 0); !same(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

func TestFactInThePlaceOfForecast(t *testing.T) {
	season := seasonOf(t, "2027-W07", "2027-W12")
	// On a Wednesday 4 days of 7 are left; the day itself is recorded.
	wednesday := week.NewStanding(season, dayAt(t, "2027-03-10"), nil)
	before := week.NewStanding(season, dayAt(t, "2026-08-01"), nil)
	after := week.NewStanding(season, dayAt(t, "2027-06-01"), nil)
	byHand := week.NewStanding(season, dayAt(t, "2027-03-10"), []week.Week{season.At(3)})
	fault := array.Fault(array.DividedByZero, 9)
	forecast := row(10, 20, 30, 70, 50, 60)
	for _, c := range []struct {
		about             string
		standing          week.Standing
		fact, forecast    []float64
		recorded, counted []float64
	}{
		{"closed, open, to come", wednesday, row(9, 0, blank, 5, blank, blank), forecast, row(9, 0, 30, 45, 50, 60), row(9, 0, 30, 5, 50, 60)},
		{"nothing yet in the open week", wednesday, row(9, 0, 1, blank, blank, blank), forecast, row(9, 0, 1, 70, 50, 60), row(9, 0, 1, 70, 50, 60)},
		{"a fact of a week to come is none", wednesday, row(blank, blank, blank, blank, 1, 2), forecast, forecast, forecast},
		{"before the season", before, row(1, 2, 3, 4, 5, 6), forecast, forecast, forecast},
		{"after the season", after, row(1, 2, 3, 4, blank, 6), forecast, row(1, 2, 3, 4, 50, 6), row(1, 2, 3, 4, 50, 6)},
		{"closed by hand", byHand, row(9, 0, 1, 5, blank, blank), forecast, row(9, 0, 1, 5, 50, 60), row(9, 0, 1, 5, 50, 60)},
		{"no forecast", wednesday, row(9, blank, 1, 5, blank, blank), row(blank, blank, blank, blank, blank, 60), row(9, blank, 1, blank, blank, 60), row(9, blank, 1, 5, blank, 60)},
		{"a fault is not a blank", wednesday, row(fault, 0, 1, fault, fault, blank), forecast, row(fault, 0, 1, fault, 50, 60), row(fault, 0, 1, fault, 50, 60)},
	} {
		for _, o := range []struct {
			name string
			want []float64
		}{{"recorded_or", c.recorded}, {"counted_or", c.counted}} {
			f := kernelOf(t, recordsFunctions(), o.name)
			out := make([]float64, season.Len())
			f.Kernel.Run(formula.NewCall(season, c.standing, [][]float64{c.fact, c.forecast, {blank}}, nil, [][]float64{out}))
			if !same(out, o.want) {
				t.Errorf("%s, %s: %v, want %v", o.name, c.about, out, o.want)
			}
		}
	}
}

// Two stalls: one on Saturdays, one on Tuesdays and Fridays. Shares are worked out by
// hand from the four weeks before the open one, 2027-W11 (from Monday 2027-03-15).
func TestStillToCome(t *testing.T) {
	season := seasonOf(t, "2027-W05", "2027-W12")
	entries := []entry{
		{"2027-02-10", 0, 900}, // W06, five weeks before: too long ago to say anything
		{"2027-02-20", 0, 30}, {"2027-02-27", 0, 50}, {"2027-03-06", 0, 40}, {"2027-03-13", 0, 20},
		{"2027-03-02", 1, 10}, {"2027-03-05", 1, 40}, {"2027-03-09", 1, 20}, {"2027-03-12", 1, 30},
		{"2027-03-12", -1, 70}, {"2027-03-12", 1, blank},
	}
	with := func(more ...entry) []entry { return append(entries[:len(entries):len(entries)], more...) }
	for _, c := range []struct {
		about, day string
		entries    []entry
		want       []float64
	}{
		{"on Monday all is to come", "2027-03-15", entries, row(1, 1)},
		{"on Tuesday nothing is recorded yet", "2027-03-16", entries, row(1, 1)},
		{"on Tuesday it is recorded: 70 of 100 come on Fridays", "2027-03-16", with(entry{"2027-03-16", 1, 12}), row(1, 0.7)},
		{"on Wednesday Tuesday is over", "2027-03-17", entries, row(1, 0.7)},
		{"on Saturday, before the stall closes", "2027-03-20", with(entry{"2027-03-19", 1, 33}), row(1, 0)},
		{"on Saturday, after it", "2027-03-20", with(entry{"2027-03-20", 0, 33}), row(0, 0)},
		{"on Sunday", "2027-03-21", entries, row(0, 0)},
		{"what is dated later says nothing", "2027-03-17", with(entry{"2027-03-18", 0, 500}), row(1, 0.7)},
		{"nothing in those weeks", "2027-03-17", entries[:1], row(blank, blank)},
		{"only none in those weeks", "2027-03-17", []entry{{"2027-03-06", 0, 0}}, row(blank, blank)},
		{"no week is open", "2027-05-01", entries, row(blank, blank)},
	} {
		if got := ofRecords(t, "still_to_come", season, week.NewStanding(season, dayAt(t, c.day), nil), c.entries); !same(got, c.want) {
			t.Errorf("%s: %v, want %v", c.about, got, c.want)
		}
	}
	f := kernelOf(t, recordsFunctions(), "recorded_or")
	standing := week.NewStanding(season, dayAt(t, "2027-03-20"), nil)
	recorded, forecast := row(1, 2, 3, 4, 5, 6, 7, blank), row(40, 40, 40, 40, 40, 40, 40, 40)
	for _, c := range []struct{ left, want float64 }{{0, 7}, {1, 47}, {0.25, 17}, {blank, 7 + 40./7}} {
		out := make([]float64, season.Len())
		f.Kernel.Run(formula.NewCall(season, standing, [][]float64{recorded, forecast, {c.left}}, nil, [][]float64{out}))
		if want := row(1, 2, 3, 4, 5, 6, c.want, 40); !same(out, want) {
			t.Errorf("with %v left: %v, want %v", c.left, out, want)
		}
	}
	call := formula.NewCall(season, standing, [][]float64{recorded, forecast, {1.5}}, nil, [][]float64{make([]float64, season.Len())})
	f.Kernel.Run(call)
	if call.Refused() == "" {
		t.Error("more than all is still to come, and nothing is said")
	}
}
