package ui

import (
	"encoding/json"
	"testing"

	"wintertruss/engine/book"
)

// known is what a page knows of values, by the rules of the wire.
type known struct {
	number uint64
	values map[string]*Value
}

// take puts a message into the page, as ui/web/book.js does.
func (p *known) take(m *ToPage) {
	switch m.Type {
	case "snapshot":
		p.values = map[string]*Value{}
	case "change":
		p.number = m.Number
	case "bands":
		if m.Number != p.number {
			return
		}
	default:
		return
	}
	for name, v := range m.Values {
		old := p.values[name]
		if v != nil && v.Moved != nil {
			v.Cells = append([]any(nil), old.Cells...)
			for _, run := range v.Moved {
				copy(v.Cells[int(run[0].(float64)):], run[1:])
			}
			v.Moved = nil
		}
		if m.Type == "bands" && v.Cells == nil && old != nil {
			v.Cells, v.Season = old.Cells, old.Season
		}
		p.values[name] = v
	}
}

// TestBandsSince: a page that was there all along knows after every edit what one
// that comes new is told, and was not told again what stayed.
func TestBandsSince(t *testing.T) {
	_, addr := serve(t, smallBook)
	stays := dial(t, addr, "stays")
	here := &known{}
	stays.say(FromPage{Type: "hello"})
	here.take(stays.hear("snapshot", nil))
	here.take(stays.hear("bands", nil))
	for i, e := range []book.Edit{
		setLine("price : 5 USD/kg // Price"),          // income moves, kilos and its band stay
		setLine("other : 4 kg (3..5)"),                // a band comes
		setLine("other : 4 kg"),                       // and goes, and no cell moves
		setLine("kilos : 100 kg (80..110) // Kilos"),  // only bands move
		setLine("income = kilos * prise -> USD"),      // in error: the last good value stays
		setLine("income = kilos * price -> USD"),      // mended
		{Kind: book.RemoveLine, Name: "other"},        // a line goes
		setLine("kilos : 100 kg // Kilos"),            // nothing is unsure any more
		setLine("kilos : 100 kg (90..110) // Kilos"),  // and again
		{Kind: book.SetLine, Name: "", Text: "noise"}, // refused: nothing happens
	} {
		stays.say(FromPage{Type: "edit", ID: string(rune('a' + i)), Edit: e})
		var told map[string]*Value
		for heard := false; !heard; {
			var m ToPage
			if err := stays.conn.ReadJSON(&m); err != nil {
				t.Fatal(err)
			}
			here.take(&m)
			if heard = m.Type == "refused" || m.Type == "bands" && m.Number == uint64(i+1); heard {
				told = m.Values
			}
		}
		fresh, comes := dial(t, addr, "comes"), &known{number: here.number}
		fresh.say(FromPage{Type: "hello"})
		comes.take(fresh.hear("snapshot", nil))
		comes.take(fresh.hear("bands", nil))
		fresh.conn.Close()
		for name, want := range comes.values {
			a, _ := json.Marshal(here.values[name])
			b, _ := json.Marshal(want)
			if string(a) != string(b) {
				t.Errorf("after %q %s is\n%s to the page that stayed, and\n%s to one that comes", e.Text, name, a, b)
			}
		}
		if i == 0 && (told["kilos"] != nil || told["income"] == nil) {
			t.Errorf("the bands of an edit of the price bring %v", told)
		}
	}
}
