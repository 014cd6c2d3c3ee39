package ui

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// traced gives what the panel shows: the number's name, the number, and all of its text.
func (w *window) traced() (name, number, text string) {
	w.t.Helper()
	said := get[[]string](w, `['h2', '.num'].map((s) => `+shown+`(document.querySelector('.trace ' + s))).concat(document.querySelector('.trace').innerText)`)
	return said[0], said[1], said[2]
}

// TestWalkTrace: from what is left over cash costs one walks by the mouse to what it is
// made of, down to an input with its range and who says so, and back; by the keys too.
// What is left is what was taken in less what was paid, so both stand there with their
// signs; the guesses that spread it are named, with what each moves.
func TestWalkTrace(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, someDraws)
	w := openWindow(t, "bank", s.url("money"))
	w.drawn()
	left := w.line("margin_over_cash").Value
	w.click(`[data-line=margin_over_cash] .calc`)
	name, number, text := w.traced()
	if name != "Left over cash costs" || !strings.HasPrefix(number, left) {
		t.Errorf("the panel shows %q, %q; the line shows %q", name, number, left)
	}
	made := get[[]string](w, `[...document.querySelectorAll('.trace .made li')].map((e) => e.querySelector('.sign').innerText + ' ' + e.querySelector('.who').innerText.split('\n')[0].split(',')[0])`)
	if got := strings.Join(made, "; "); got != "+ Taken in; − Cash costs" {
		t.Errorf("it is made of %q\n%s", got, text)
	}
	amounts := get[[]string](w, `[...document.querySelectorAll('.trace .made b')].map((e) => e.innerText)`)
	if d := dollars(t, amounts[0]) - dollars(t, amounts[1]) - dollars(t, left); d > 1.5 || d < -1.5 { // each is rounded to the dollar
		t.Errorf("%s less %s is not %s", amounts[0], amounts[1], left)
	}
	w.until(`document.querySelectorAll('.trace .drives li').length > 2`)
	moves := get[[]string](w, `[...document.querySelectorAll('.trace .drives b')].map((e) => e.innerText)`)
	for i := 1; i < len(moves); i++ {
		if dollars(t, strings.TrimPrefix(moves[i], "±")) > dollars(t, strings.TrimPrefix(moves[i-1], "±")) {
			t.Errorf("what moves it most does not stand first: %q", moves)
		}
	}

	// Down: cash costs, bills, the propane bill, the price of propane.
	for _, step := range []string{"Cash costs", "Bills of the week", "Propane bill", "Propane price"} {
		w.click(`.trace .made button`, step)
		w.until(`document.querySelector('.trace h2').innerText.startsWith(` + quoted(step) + `)`)
	}
	if _, _, text = w.traced(); !strings.Contains(text, "2.20 USD/gal (1.90 to 2.60) from 2027-W11") || !strings.Contains(text, "Says who") || !strings.Contains(text, "Invented") {
		t.Errorf("the price of propane says %q", text)
	}
	way := get[[]string](w, `[...document.querySelectorAll('.trace .way button')].map((e) => e.innerText)`)
	if got := strings.Join(way, " › "); got != "Left over cash costs › Cash costs › Bills of the week › Propane bill" {
		t.Errorf("the way here reads %q", got)
	}
	w.click(`.trace .way button`, "Cash costs")
	if name, _, _ = w.traced(); name != "Cash costs" {
		t.Errorf("back on the way stands %q", name)
	}

	// The keys: the panel has the focus, Escape gives it back to the figure.
	w.typeIn(kb.Escape)
	w.until(`!document.querySelector('.trace') && document.activeElement.matches('[data-line=margin_over_cash] .calc')`)
	w.typeIn(kb.Enter)
	w.until(`document.activeElement.matches('.trace')`)
	w.tabTo(`.trace .made button`)
	w.typeIn(kb.Enter)
	w.until(`document.querySelector('.trace h2').innerText.startsWith('Taken in')`)
	w.scan("a number's why", allRules, frame)
}

// TestTraceSaysWhatChanged: after an edit the panel says who moved the figure, and from
// what to what. The family's living is taken off what is left, dollar for dollar.
func TestTraceSaysWhatChanged(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a, b := openWindow(t, "owner", s.url("lender")), openWindow(t, "bank", s.url("lender"))
	was := a.line("can_pay").Value
	a.rewrite("living", "43500 USD (41500..45500)")
	b.painted(1)
	a.painted(1)
	is := a.line("can_pay").Value
	for _, w := range []*window{a, b} {
		w.click(`[data-line=can_pay] .calc`)
		w.until(`document.querySelector('.trace .changes')`)
		got := get[string](w, shown+`(document.querySelector('.trace .changes span'))`)
		who := map[*window]string{a: "You", b: "Someone else"}[w]
		if want := who + " changed living: " + was + " → " + is; got != want {
			t.Errorf("%s: the panel says %q, want %q", w.name, got, want)
		}
	}
}
