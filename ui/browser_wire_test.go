package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// refusedSocket is what a browser writes to its console for a socket that does not
// come about. Here it is meant not to.
const refusedSocket = "WebSocket connection to"

// record writes down one more of some records, by mouse and keyboard: fields by name
// with what is typed into them, of which the last is not a choice.
func (w *window) record(records string, fields ...string) {
	w.t.Helper()
	at := fmt.Sprintf(`[data-records=%s]`, records)
	if !get[bool](w, fmt.Sprintf(`!!document.querySelector(%s)`, quoted(at+" form"))) {
		w.click(at + " .table-head button")
		w.until(fmt.Sprintf(`document.querySelector(%s)`, quoted(at+" form")))
	}
	for i := 0; i < len(fields); i += 2 {
		field := fmt.Sprintf("%s form [name=%s]", at, fields[i])
		if get[bool](w, fmt.Sprintf(`document.querySelector(%s).matches('select')`, quoted(field))) {
			w.do(chromedp.Focus(chromedp.CSS(field))) // its list would open for the mouse
		} else {
			w.click(field)
		}
		w.typeIn(fields[i+1]) // in a choice the browser goes to the one that begins so
	}
	w.typeIn(kb.Enter)
}

// newest gives the rows of some records as they stand on the page, the newest first.
func (w *window) newest(records string) []string {
	w.t.Helper()
	return get[[]string](w, fmt.Sprintf(`[...document.querySelectorAll('[data-records=%s] tbody tr')].map((r) => [...r.querySelectorAll('td:not(.row-tools)')].map(%s).join(' | '))`, records, shown))
}

// state gives what the page says of the wire and of what waits.
func (w *window) state() string {
	w.t.Helper()
	return get[string](w, `document.getElementById('state').innerText`)
}

// stored gives what the browser keeps for the page when it is closed.
func (w *window) stored() string {
	w.t.Helper()
	return get[string](w, `JSON.stringify(localStorage)`)
}

// counts fails the test unless the kept book holds each text exactly once.
func (s *stand) counts(texts ...string) {
	s.t.Helper()
	book := s.text()
	for _, text := range texts {
		if n := strings.Count(book, text); n != 1 {
			s.t.Errorf("the book holds %q %d times, want once", text, n)
		}
	}
}

// TestConnectionKilled: a browser loses the server in the middle of work. It says so,
// goes on taking entries, and when the server is back it has what others did
// meanwhile and sends what waited: each entry stands in the book once, also one that
// was done while its browser could not hear that it was.
func TestConnectionKilled(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a := openWindow(t, "grower", s.localhost("records"), refusedSocket)
	b := openWindow(t, "owner", s.url("records"))
	a.drawn()
	b.drawn()

	s.cutLocalhost()
	a.until(`document.getElementById('state').innerText.includes('No connection')`)
	a.record("picks", "weight", "91.5", "seconds", "3.5")
	a.until(`document.querySelectorAll('[data-records=picks] tr[data-state=pending]').length === 1`)
	if got := a.state(); !strings.Contains(got, "1 entry waiting") {
		t.Errorf("cut off, the page says %q", got)
	}
	if got := get[string](a, `document.querySelector('.banners').innerText`); !strings.Contains(got, "1 entry waits") {
		t.Errorf("cut off, the banner says %q", got)
	}
	b.record("picks", "weight", "92.5")
	b.painted(1)
	b.turnTo("Lender")
	b.rewrite("living", "43500 USD")
	b.painted(2)
	s.counts("92.5", "43500 USD")
	if strings.Contains(s.text(), "91.5") || a.number() != "0" {
		t.Fatal("the wire was not cut")
	}

	s.mend()
	a.painted(3)
	b.painted(3)
	a.until(`document.getElementById('state').innerText.startsWith('Saved')`)
	s.counts("91.5", "92.5", "43500 USD")
	if got := s.number(); got != 3 {
		t.Errorf("the book is at edit %d, want 3", got)
	}
	if rows := a.newest("picks"); !strings.Contains(rows[0], "91.5") || !strings.Contains(rows[1], "92.5") {
		t.Errorf("back again, the page shows %q", rows[:3])
	}
	if got := get[int](a, `document.querySelectorAll('.banner, [data-state]').length`); got != 0 {
		t.Errorf("back again, %d marks of waiting are left", got)
	}
	a.turnTo("Lender")
	if got, want := a.line("can_pay"), b.line("can_pay"); got != want || a.line("living").Value != "$43,500" {
		t.Errorf("back again, it shows %+v and the other %+v", got, want)
	}

	// Now the server hears the entry and the browser does not hear the answer.
	a.turnTo("Records")
	s.deafen()
	a.record("picks", "weight", "93.5")
	b.painted(4)
	if got := a.state(); !strings.Contains(got, "Saving") {
		t.Errorf("without an answer the page says %q", got)
	}
	s.mend()
	a.painted(4)
	a.until(`document.getElementById('state').innerText.startsWith('Saved')`)
	s.counts("91.5", "92.5", "93.5")

	// The same, and the page is left and opened again: its entries are still there.
	s.deafen()
	a.record("picks", "weight", "94.5")
	b.painted(5)
	if !strings.Contains(a.stored(), "94.5") {
		t.Errorf("without an answer, the browser keeps %s", a.stored())
	}
	a.do(chromedp.Navigate("about:blank"))
	s.mend()
	a.visit(s.localhost("records"))
	a.painted(5)
	a.until(`document.getElementById('state').innerText.startsWith('Saved ')`)
	s.counts("91.5", "92.5", "93.5", "94.5")
	if s.number() != 5 || strings.Contains(a.stored(), "94.5") {
		t.Errorf("the book is at edit %d, and the browser keeps %s", s.number(), a.stored())
	}
	if rows := a.newest("picks"); !strings.Contains(rows[0], "94.5") || !strings.Contains(rows[1], "93.5") {
		t.Errorf("opened again, the page shows %q", rows[:3])
	}
}
