package engine

import "encoding/json"

// MarshalJSON writes a backtest for programs: amounts in the line's unit, per cents
// of the facts, null where there is nothing to say.
func (b *Backtest) MarshalJSON() ([]byte, error) {
	type object = map[string]any
	share := func(x, fact float64) any { return number(100 * x / fact) } // no fact: null
	lines := []object{}
	for _, s := range b.Lines {
		parts := []object{}
		for _, p := range s.Of {
			scores, pairs := []object{}, []object{}
			for _, k := range p.Scores {
				score := object{"ahead": k.Ahead, "weeks": k.Weeks, "fact": number(k.Fact), "bias": number(k.Bias), "bias_percent": share(k.Bias, k.Fact),
					"error": number(k.Error), "error_percent": share(k.Error, k.Fact), "held": nil, "banded": k.Banded, "coverage_percent": nil}
				if k.Banded > 0 {
					score["held"], score["coverage_percent"] = k.Held, 100*float64(k.Held)/float64(k.Banded)
				}
				score["two_weeks"] = object{"weeks": k.Peer.Weeks, "bias": number(k.Peer.Bias), "error": number(k.Peer.Error), "error_percent": share(k.Peer.Error, k.Peer.Fact), "forecast_error": number(k.Peer.Ours)}
				scores = append(scores, score)
			}
			for _, q := range p.Pairs {
				pairs = append(pairs, object{"made": q.Made.String(), "week": q.Week.String(), "ahead": q.Ahead, "forecast": number(q.Forecast),
					"low": number(q.Low), "high": number(q.High), "fact": number(q.Fact), "two_weeks": number(q.TwoWeeks)})
			}
			parts = append(parts, object{"member": p.Member, "label": p.Label, "scores": scores, "forecasts": pairs})
		}
		by := "records"
		if s.Bound {
			by = "observe"
		}
		lines = append(lines, object{"name": s.Name, "label": s.Label, "unit": s.Unit, "by": by, "facts": s.Facts, "parts": parts})
	}
	skipped := []object{}
	for _, s := range b.Skipped {
		skipped = append(skipped, object{"name": s.Name, "why": s.Why})
	}
	mondays := []string{}
	for _, w := range b.Mondays {
		mondays = append(mondays, w.String())
	}
	return json.Marshal(object{"mondays": mondays, "last_closed": b.Last.String(), "as_of": b.AsOf.String(), "bands": "draws only: not conditioned on records",
		"lines": lines, "skipped": skipped, "later": b.Later})
}

// MarshalJSON writes what was known only later, and what is to be said of it.
func (l *Later) MarshalJSON() ([]byte, error) {
	type edit struct {
		Name  string   `json:"name"`
		Input bool     `json:"input"`
		Day   string   `json:"day"`
		Times int      `json:"times"`
		In    []string `json:"in"`
	}
	edits := []edit{}
	for _, e := range l.Edits {
		edits = append(edits, edit(e))
	}
	outside := append([]string{}, l.Outside...)
	return json.Marshal(map[string]any{"since": l.From.Monday().String(), "logged": l.Logged, "log_begins": l.Begins, "edits": edits,
		"records_written": l.Records.Written, "records_corrected": l.Records.Corrected, "outside": outside, "unknown": l.Unknown, "says": l.Says()})
}
