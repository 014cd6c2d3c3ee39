package engine_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/store"
)

// scoredBook can be scored by hand: two plantings, ten and twenty pounds a week
// forecast, and what was weighed. Its Wednesday of 2027-W07 stands open.
const scoredBook = "```settings\nseason : 2027-W01 .. 2027-W12\ncurrency : USD\nas_of : 2027-02-17\ndraws : 256\n```\n" +
	"```list planting\n  | label\na | Long\nb | Short\n```\n" +
	"```records picks\ndate | planting | weight lb\n" +
	"2027-01-06 | a | 8\n2027-01-06 | b | 20\n" + // W01
	"2027-01-13 | a | 12\n2027-01-13 | b | 20\n" + // W02
	"2027-01-20 | a | 10\n2027-01-20 | b | 26\n" + // W03
	"2027-01-25 | a | 4\n2027-01-27 | a | 10\n2027-01-27 | b | 18\n" + // W04
	"2027-02-03 | a | 6\n" + // W05
	"2027-02-10 | a | 10\n2027-02-10 | b | 22\n" + // W06
	"2027-02-16 | a | 3\n2027-02-16 | b | 5\n```\n" + // W07
	"```lines\nfactor : 1 (0.8..1.25)\ngrown over planting : 10, 20 lb\nlived : yes\n" +
	"usual = grown * factor * (week_days / week_days) -> lb\n" +
	"harvest = lived ? recorded_or(week_sum(picks.weight), usual) : usual -> lb // Harvest\n" +
	"by_sum = recorded_or(week_sum(picks.weight), all_recorded(picks.weight) / 4) -> lb\n" +
	"whole = total(harvest, planting) -> lb\nat_once = total(harvest)\n```\n" +
	"```observe\nusual ~ week_sum(picks.weight) +- 5 %\n```\n"

func backtest(t *testing.T, text, from string, names ...string) *engine.Backtest {
	t.Helper()
	b, err := engine.RunBacktest("book.md", []byte(text), engine.Options{Draws: 128}, from, names, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func line(t *testing.T, b *engine.Backtest, name string) *engine.Scored {
	t.Helper()
	for _, s := range b.Lines {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("%s is not scored", name)
	return nil
}

// Every figure is worked out by hand from the book above.
func TestBacktest(t *testing.T) {
	b := backtest(t, scoredBook, "2027-W03")
	if len(b.Mondays) != 4 || b.Last.String() != "2027-W06" {
		t.Fatalf("Mondays %v, last %v", b.Mondays, b.Last)
	}
	type want struct {
		ahead, weeks                    int
		fact, bias, err                 float64
		held, banded, peers             int
		peerBias, peerErr, ours, ofPeer float64
	}
	for _, name := range []string{"harvest", "usual"} {
		s := line(t, b, name)
		if s.Bound != (name == "usual") || s.Unit != "lb" || len(s.Of) != 3 {
			t.Fatalf("%s: %+v", name, s)
		}
		for member, scores := range map[string][]want{
			// Ahead 1: facts 10, 14, 6, 10 beside 10 (8 to 12.5); two weeks' means 10, 11, 12, 10.
			// Ahead 2: facts 14, 6, 10; means 10, 11, 12. Ahead 4: fact 10, mean 10.
			"a": {{1, 4, 10, 0, 2, 2, 4, 4, 0.75, 2.25, 2, 10}, {2, 3, 10, 0, 8. / 3, 1, 3, 3, 1, 11. / 3, 8. / 3, 10}, {4, 1, 10, 0, 0, 1, 1, 1, 0, 0, 0, 10}},
			// Ahead 1: facts 26, 18, 0, 22 beside 20 (16 to 25); means 20, 23, 22, 9. Ahead 2: facts 18, 0, 22; means 20, 23, 22.
			"b": {{1, 4, 16.5, 3.5, 7.5, 2, 4, 4, 2, 11.5, 7.5, 16.5}, {2, 3, 40. / 3, 20. / 3, 8, 2, 3, 3, 25. / 3, 25. / 3, 8, 40. / 3}, {4, 1, 22, -2, 2, 1, 1, 1, -2, 2, 2, 22}},
			// Ahead 1: facts 36, 32, 6, 32 beside 30 (24 to 37.5); means 30, 34, 34, 19. Ahead 2: facts 32, 6, 32; means 30, 34, 34.
			"": {{1, 4, 26.5, 3.5, 8.5, 3, 4, 4, 2.75, 12.25, 8.5, 26.5}, {2, 3, 70. / 3, 20. / 3, 28. / 3, 2, 3, 3, 28. / 3, 32. / 3, 28. / 3, 70. / 3}, {4, 1, 32, -2, 2, 1, 1, 1, -2, 2, 2, 32}},
		} {
			var part *engine.Part
			for _, p := range s.Of {
				if p.Member == member {
					part = p
				}
			}
			if part == nil || len(part.Scores) != len(scores) {
				t.Fatalf("%s %q: %+v", name, member, part)
			}
			for i, w := range scores {
				k := part.Scores[i]
				got := want{k.Ahead, k.Weeks, k.Fact, k.Bias, k.Error, k.Held, k.Banded, k.Peer.Weeks, k.Peer.Bias, k.Peer.Error, k.Peer.Ours, k.Peer.Fact}
				for _, x := range [][2]float64{{got.fact, w.fact}, {got.bias, w.bias}, {got.err, w.err}, {got.peerBias, w.peerBias}, {got.peerErr, w.peerErr}, {got.ours, w.ours}, {got.ofPeer, w.ofPeer}} {
					if math.Abs(x[0]-x[1]) > 1e-9 {
						t.Errorf("%s %q, %d weeks ahead: %+v, want %+v", name, member, w.ahead, got, w)
						break
					}
				}
				if got.ahead != w.ahead || got.weeks != w.weeks || got.held != w.held || got.banded != w.banded || got.peers != w.peers {
					t.Errorf("%s %q, %d weeks ahead: %+v, want %+v", name, member, w.ahead, got, w)
				}
			}
		}
	}
	if s := line(t, b, "harvest"); s.Facts != "week_sum(picks.weight)" || s.Of[0].Label != "in total" || s.Of[1].Label != "Long" {
		t.Errorf("%q, %q, %q", s.Facts, s.Of[0].Label, s.Of[1].Label)
	}
	// A forecast made of records knows those before its Monday and no others: on the
	// Monday of W04 a had 8, 12 and 10, and the 4 of that day are not among them.
	for _, p := range line(t, b, "by_sum").Of[1].Pairs {
		if want := map[string]float64{"2027-W03": 5, "2027-W04": 7.5, "2027-W05": 11, "2027-W06": 12.5}[p.Made.String()]; p.Forecast != want || p.Low == p.Low {
			t.Errorf("by_sum on %v: %v, want %v without a band", p.Made, p.Forecast, want)
		}
	}
	if len(b.Lines) != 3 { // whole and at_once are no lines of records: they are made of one
		t.Errorf("%d lines, want 3", len(b.Lines))
	}
	if got := backtest(t, scoredBook, "2027-W01", "usual"); len(got.Lines) != 1 || got.Lines[0].Of[1].Scores[0].Peer.Weeks != 5 || got.Lines[0].Of[1].Scores[3].Weeks != 1 {
		t.Errorf("from the first week, where nothing was known: %+v", got.Lines[0].Of[1].Scores)
	}
}

var recordRow = regexp.MustCompile(`(?m)^(\d{4}-\d\d-\d\d)( *\|[^\n]*)$`)

// otherRecords changes the numbers of every record from a day on.
func otherRecords(text, from string) string {
	number := regexp.MustCompile(`\d+(\.\d+)?`)
	return recordRow.ReplaceAllStringFunc(text, func(row string) string {
		if row[:10] < from {
			return row
		}
		cells := strings.Split(row, "|")
		last := len(cells) - 1
		cells[last] = number.ReplaceAllStringFunc(cells[last], func(s string) string { return s + "7" })
		return strings.Join(cells, "|")
	})
}

// What is recorded on a Monday or later moves no forecast made on it: the book is
// changed in every record from that day on, and the forecasts are the same bits.
func TestBacktestSeesNothingLater(t *testing.T) {
	starter, err := os.ReadFile("../sheets/tern_hollow.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, text, from, monday, made string }{
		{"by hand", scoredBook, "2027-W02", "2027-01-25", "2027-W04"},
		{"starter", string(starter), "2027-W08", "2027-02-22", "2027-W08"},
	} {
		changed := otherRecords(c.text, c.monday)
		if strings.Count(changed, "7 ")+strings.Count(changed, "7\n") == strings.Count(c.text, "7 ")+strings.Count(c.text, "7\n") {
			t.Fatal("no record was changed")
		}
		one, two := backtest(t, c.text, c.from), backtest(t, changed, c.from)
		same, differ := 0, 0
		for i, s := range one.Lines {
			for _, p := range s.Of {
				for _, q := range two.Lines[i].Of {
					if q.Member != p.Member {
						continue
					}
					made := map[string]engine.Pair{}
					for _, x := range q.Pairs {
						made[fmt.Sprint(x.Made, x.Week)] = x
					}
					for _, x := range p.Pairs {
						y, ok := made[fmt.Sprint(x.Made, x.Week)]
						bits := func(p engine.Pair) string { return fmt.Sprint(p.Forecast, p.Low, p.High, p.TwoWeeks) }
						switch {
						case !ok: // the total has other members where one was idle
						case x.Made.String() > c.made:
							if bits(x) != bits(y) {
								differ++
							}
						case p.Member != "" && bits(x) != bits(y):
							t.Errorf("%s, %s of %s: made in %v for %v: %s, after a change of later records %s", c.name, s.Name, p.Label, x.Made, x.Week, bits(x), bits(y))
						default:
							same++
						}
					}
				}
			}
		}
		if same < 10 || differ == 0 {
			t.Errorf("%s: %d forecasts were compared, and %d of later Mondays moved: the test looks at nothing", c.name, same, differ)
		}
	}
}

func TestBacktestRefuses(t *testing.T) {
	for _, c := range []struct{ from, name, want string }{
		{"soon", "", "--from: "},
		{"2026-W50", "", "no week of the season"},
		{"2027-W07", "", "is not over yet"},
		{"2027-W03", "harvets", "did you mean harvest"},
		{"2027-W03", "grown", "grown has no records to be held against"},
	} {
		var names []string
		if c.name != "" {
			names = []string{c.name}
		}
		if _, err := engine.RunBacktest("book.md", []byte(scoredBook), engine.Options{}, c.from, names, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %s: %v, want %q", c.from, c.name, err, c.want)
		}
	}
	broken := strings.Replace(scoredBook, "by_sum = recorded_or(week_sum(picks.weight), all_recorded(picks.weight) / 4) -> lb", "by_sum = recorded_or(week_sum(picks.weight), nobody) -> lb", 1)
	if b := backtest(t, broken, "2027-W03"); len(b.Lines) != 2 || len(b.Skipped) != 1 || b.Skipped[0].Name != "by_sum" {
		t.Errorf("%+v", b.Skipped)
	}
}

// The log tells what was edited after the first Monday: inputs that scored lines are
// made of, and records that came late; other edits and earlier ones say nothing.
func TestBacktestKnewMore(t *testing.T) {
	sum := sha256.Sum256([]byte(scoredBook))
	text := hex.EncodeToString(sum[:])
	log := &store.Log{}
	add := func(day, record string, more ...func(*store.Entry)) {
		at, err := time.ParseInLocation("2006-01-02 15:04", day+" 12:00", time.Local)
		if err != nil {
			t.Fatal(err)
		}
		e := store.Entry{Number: uint64(len(log.Entries)), Time: at, Hash: text}
		if record != "" {
			e.Record = json.RawMessage(`{"id":"x","by":"y","what":"z","edit":` + record + `}`)
		}
		for _, f := range more {
			f(&e)
		}
		log.Entries = append(log.Entries, e)
	}
	says := func() string {
		t.Helper()
		b, err := engine.RunBacktest("book.md", []byte(scoredBook), engine.Options{Draws: 16}, "2027-W03", []string{"harvest", "by_sum"}, log)
		if err != nil {
			t.Fatal(err)
		}
		return strings.Join(b.Later.Says(), "\n")
	}
	add("2027-01-01", "") // the log begins
	add("2027-01-04", `{"kind":"set_line","name":"factor","text":"factor : 1.1 (0.8..1.25)"}`)
	add("2027-01-18", `{"kind":"set_line","name":"factor","text":"factor : 1 (0.8..1.25)"}`) // on the Monday
	add("2027-01-06", `{"kind":"add_record","name":"picks","cells":{"date":"2027-01-06","planting":"a","weight":"8"}}`)
	if got, want := says(), "By its log, nothing that these forecasts are made of was edited after 2027-01-18, the Monday of 2027-W03."; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	add("2027-02-02", `{"kind":"set_line","name":"grown","text":"grown over planting : 10, 20 lb"}`)
	add("2027-02-03", `{"kind":"set_line","name":"lived","text":"lived : yes"}`)
	add("2027-02-04", `{"kind":"write_prose","text":"prose"}`)
	add("2027-02-04", `{"kind":"set_line","name":"at_once","text":"at_once = total(harvest)"}`)
	add("2027-02-05", `{"kind":"replace","in":"lines","text":"factor : 1 (0.8..1.25)","was":"factor : 2"}`)
	add("2027-02-05", `{"kind":"add_record","name":"picks","cells":{"date":"2027-02-03","planting":"a","weight":"6"}}`)  // in time
	add("2027-02-09", `{"kind":"add_record","name":"picks","cells":{"date":"2027-01-27","planting":"b","weight":"18"}}`) // a week late
	add("2027-02-09", `{"kind":"correct_record","name":"picks","record":1,"cells":{"weight":"8"}}`)                      // of 2027-01-06
	add("2027-02-16", `{"kind":"add_record","name":"picks","cells":{"date":"2027-02-10","planting":"a","weight":"10"}}`) // no Monday of the run used it
	add("2027-02-16", `{"kind":"set_override","name":"bad_year","address":"factor","text":"0.5"}`)                       // nobody looks at it
	add("2027-02-11", "", func(e *store.Entry) { e.Outside = true })
	want := "3 inputs were edited after 2027-01-18, the Monday of 2027-W03: grown on 2027-02-02 (in harvest); lived on 2027-02-03 (in harvest); factor on 2027-02-05 (in harvest); so these forecasts knew more than you did.\n" +
		"1 record was written down after a Monday whose forecast used it.\n" +
		"1 record was corrected or removed after a Monday whose forecast used it as it is now.\n" +
		"Another program changed the file on 2027-02-11; what it changed is not known."
	if got := says(); got != want {
		t.Errorf("says\n%s\nwant\n%s", got, want)
	}
	// An edit that never came to be counts as little as one that was never made.
	gone := uint64(4) // grown
	add("2027-02-12", "", func(e *store.Entry) { e.Outside, e.TakesBack = true, gone })
	if got := says(); strings.Contains(got, "grown") || !strings.HasPrefix(got, "2 inputs were edited") {
		t.Errorf("says %s", got)
	}
	log.Entries[0].Time = time.Date(2027, 1, 30, 12, 0, 0, 0, time.Local)
	log.Entries[len(log.Entries)-1].Hash = "another"
	if got := says(); !strings.HasPrefix(got, "The log of edits begins on 2027-01-30; ") || !strings.HasSuffix(got, "Another program has changed the file since the last edit in its log; what it changed is not known.") {
		t.Errorf("says %s", got)
	}
	log = nil
	if got := says(); !strings.Contains(got, "no log of edits") {
		t.Errorf("says %s", got)
	}
}

// What pages change in a live book stands in its log as the backtest reads it.
func TestBacktestReadsTheLogOfALiveBook(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stall.md")
	text := strings.NewReplacer("2027-W", "2025-W", "2027-", "2025-").Replace(scoredBook) // long ago, so that any edit is later
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	st, err := store.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	live, err := engine.OpenLive("stall.md", st, engine.Options{Draws: 16})
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range []book.Edit{
		{Kind: book.SetLine, Name: "factor", Text: "factor : 1.1 (0.8..1.25)"},
		{Kind: book.AddRecord, Name: "picks", Cells: map[string]string{"date": "2025-01-14", "planting": "a", "weight": "2"}},
		{Kind: book.SetSetting, Name: "title", Text: "Another name"},
	} {
		if _, fault := live.Apply(e, fmt.Sprint("edit-", i), "p"); fault != nil {
			t.Fatal(fault.Message)
		}
	}
	if _, fault := live.Undo("undo-1", "p"); fault != nil { // of the title
		t.Fatal(fault.Message)
	}
	log, err := store.ReadLog(path) // while it is open
	if err != nil {
		t.Fatal(err)
	}
	now, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	b, err := engine.RunBacktest("stall.md", now, engine.Options{Draws: 16}, "2025-W04", []string{"harvest"}, log)
	if err != nil {
		t.Fatal(err)
	}
	if l := b.Later; len(l.Edits) != 1 || l.Edits[0].Name != "factor" || l.Edits[0].Times != 1 || l.Records.Written != 1 || l.Records.Corrected != 0 || l.Unknown || l.Outside != nil {
		t.Errorf("%+v", l)
	}
	if err := live.Close(); err != nil {
		t.Fatal(err)
	}
}
