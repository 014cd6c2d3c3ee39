package ui

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// dollars reads an amount of money as the page shows it.
func dollars(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.NewReplacer("$", "", ",", "", "−", "-").Replace(text), 64)
	if err != nil {
		t.Fatalf("%q is no amount of money", text)
	}
	return x
}

// TestTwoBrowsers: two people have one book open. What one of them changes in place
// the other sees at once: the line, what is computed from it, and the answers. The
// wanted amounts are plain sums: what the family lives on is taken off what is left
// to pay loans with, dollar for dollar, and money in the purse at the beginning is
// there in every week after.
func TestTwoBrowsers(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, someDraws)
	a, b := openWindow(t, "owner", s.url("lender")), openWindow(t, "bank", s.url("lender"))
	a.drawn()
	b.drawn()
	living, left := b.line("living"), b.line("can_pay")
	carries, said := b.answer("carries")
	if living.Value != "$42,500" || left.Value == "" || carries.Value == "" || !strings.Contains(said, " in 20") {
		t.Fatalf("before: living %+v, can_pay %+v, the answer %q", living, left, said)
	}
	for _, key := range []string{"pays", "charge", "carries"} {
		if l, text := a.answer(key); l.State != "" || !strings.Contains(text, l.Value) && key != "charge" {
			t.Errorf("the answer %s shows %+v: %q", key, l, text)
		}
	}

	// The mouse opens the line, the keyboard writes.
	a.rewrite("living", "43500 USD (41500..45500)")
	b.painted(1)
	if got := b.line("living"); got.Value != "$43,500" || got.State != "" {
		t.Errorf("living in the other browser: %+v", got)
	}
	if was := get[string](b, `document.querySelector('[data-line=living] .was')?.textContent ?? ''`); was != "was $42,500" {
		t.Errorf("the other browser does not say what it was: %q", was)
	}
	if got := dollars(t, b.line("can_pay").Value) - dollars(t, left.Value); math.Abs(got+1000) > 1 { // each is rounded to the dollar
		t.Errorf("left to pay loans with moved by %v, want -1000", got)
	}
	if now, _ := b.answer("carries"); now.Value == carries.Value || now.State != "" {
		t.Errorf("the answer stands at %+v, as before", now)
	}
	b.drawn()
	if _, now := b.answer("carries"); !strings.Contains(now, " in 20") || now == said {
		t.Errorf("the answer says %q after the draws", now)
	}
	a.painted(1)
	a.until(`document.getElementById('state').innerText.startsWith('Saved ')`)
	if got, want := a.line("can_pay"), b.line("can_pay"); got != want {
		t.Errorf("two browsers show %+v and %+v", got, want)
	}
	if !strings.Contains(s.text(), "living : 43500 USD (41500..45500)") {
		t.Error("the book does not hold what was typed")
	}

	// The keyboard alone, in the other browser.
	for _, w := range []*window{a, b} {
		w.turnTo("Money")
	}
	purse := a.line("lowest_cash")
	b.tabTo(`[data-line=opening_cash] button.chip`)
	b.typeIn(kb.Enter)
	b.until(`document.activeElement.matches('[data-line=opening_cash] textarea')`)
	b.typeIn("28000 USD" + kb.Enter)
	a.painted(2)
	if got := dollars(t, a.line("lowest_cash").Value) - dollars(t, purse.Value); math.Abs(got-1000) > 1 {
		t.Errorf("the least in the purse moved by %v, want 1000", got)
	}
	if _, text := a.answer("carries"); !strings.Contains(text, strings.TrimPrefix(a.line("lowest_cash").Value, "−")) {
		t.Errorf("the answer does not say the least in the purse: %q", text)
	}

	// Each takes back their own, by the button and by the keys.
	if got := get[string](a, `document.getElementById('undo').innerText`); !strings.Contains(got, "changed living") {
		t.Errorf("the undo button says %q", got)
	}
	a.click("#undo")
	b.painted(3)
	b.turnTo("Lender")
	if l, c := b.line("living"), b.line("can_pay"); l != living || c != left {
		t.Errorf("taken back: %+v and %+v, want %+v and %+v", l, c, living, left)
	}
	if now, _ := b.answer("carries"); now != carries {
		t.Errorf("taken back, the answer stands at %+v, want %+v", now, carries)
	}
	b.until(`!document.activeElement.matches('textarea')`) // out of the editor, where the keys take back letters
	b.typeIn("z", chromedp.ModifierCtrl)
	a.painted(4)
	if got := a.line("lowest_cash"); got != purse {
		t.Errorf("taken back by the keys: %+v, want %+v", got, purse)
	}
	b.until(`document.getElementById('undo').disabled`)

	// An editor that is left keeps nothing.
	a.turnTo("Lender")
	a.openLine("living")
	a.typeIn("1 USD" + kb.Escape)
	a.until(`!document.querySelector('textarea')`)
	if s.number() != 4 || a.line("living") != living {
		t.Errorf("an editor that was left has changed the book: edit %d, %+v", s.number(), a.line("living"))
	}
}

// TestWrongFormulaInPage: a formula that names nothing is marked at its place in both
// browsers, with the way out; all that hangs on it keeps its last good value, marked
// as stale, down to the answers, and the rest goes on. Put right, the marks are gone.
func TestWrongFormulaInPage(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a, b := openWindow(t, "owner", s.url("money")), openWindow(t, "bank", s.url("money"))
	a.drawn()
	b.drawn()
	hangs := []string{"margin_all_labour", "margin_over_cold", "hour_earns", "break_even_price"} // of Money
	good := map[string]line{}
	for _, name := range append(hangs, "margin_over_cash", "cash_costs", "cash") {
		if good[name] = b.line(name); good[name].Value == "" || good[name].State != "" {
			t.Fatalf("before, %s shows %+v", name, good[name])
		}
	}
	answers := map[string]line{}
	for _, key := range []string{"pays", "charge", "carries"} {
		answers[key], _ = b.answer(key)
	}

	a.rewrite("margin_over_cash", "income - cash_cost")
	a.painted(1)
	late := openWindow(t, "late", s.url("money")) // one who comes only now sees the same
	for _, w := range []*window{a, b, late} {
		w.painted(1)
		w.until(`!document.querySelector('[data-state=pending]')`)
		if got := w.line("margin_over_cash"); got != (line{good["margin_over_cash"].Value, "wrong"}) {
			t.Errorf("%s: the broken line shows %+v", w.name, got)
		}
		if got := get[string](w, `document.querySelector('[data-line=margin_over_cash] .wave').textContent`); got != "cash_cost" {
			t.Errorf("%s: the place marked is %q", w.name, got)
		}
		if got := get[string](w, `document.querySelector('[data-line=margin_over_cash] .plain').innerText`); !strings.Contains(got, "cash_cost") || !strings.Contains(got, "Did you mean cash_costs?") {
			t.Errorf("%s: it says %q", w.name, got)
		}
		for _, name := range hangs {
			if got := w.line(name); got != (line{good[name].Value, "stale"}) {
				t.Errorf("%s: %s shows %+v, want the value it had, stale: %q", w.name, name, got, good[name].Value)
			}
			if got := get[string](w, fmt.Sprintf(`document.querySelector('[data-line=%s]').innerText`, name)); !strings.Contains(got, "stale") {
				t.Errorf("%s: %s does not say that it is stale: %q", w.name, name, got)
			}
		}
		for _, name := range []string{"cash_costs", "cash"} {
			if got := w.line(name); got != good[name] {
				t.Errorf("%s: %s does not hang on it and shows %+v, want %+v", w.name, name, got, good[name])
			}
		}
		for _, key := range []string{"pays", "carries"} {
			if got, text := w.answer(key); got != (line{answers[key].Value, "stale"}) || !strings.Contains(text, "Stale") {
				t.Errorf("%s: the answer %s shows %+v (want %q, stale): %q", w.name, key, got, answers[key].Value, text)
			}
		}
		if got, _ := w.answer("charge"); got != answers["charge"] {
			t.Errorf("%s: the answer charge does not hang on it and shows %+v", w.name, got)
		}
		if got := get[string](w, `document.querySelector('.contents [aria-current]').innerText`); !strings.Contains(got, "1 to put right") {
			t.Errorf("%s: the contents say %q", w.name, got)
		}
	}

	// The other one takes the way out that the page offers.
	b.click(`[data-line=margin_over_cash] button.act`, "Use cash_costs")
	for _, w := range []*window{a, b, late} {
		w.painted(2)
		w.until(`!document.querySelector('[data-state]')`)
		for name, want := range good {
			if got := w.line(name); got != want {
				t.Errorf("%s: mended, %s shows %+v, want %+v", w.name, name, got, want)
			}
		}
		for key, want := range answers {
			if got, _ := w.answer(key); got != want {
				t.Errorf("%s: mended, the answer %s shows %+v, want %+v", w.name, key, got, want)
			}
		}
		if got := get[int](w, `document.querySelectorAll('.wave, .plain, .stale, .contents .bad').length`); got != 0 {
			t.Errorf("%s: %d marks are left", w.name, got)
		}
	}
	if !strings.Contains(s.text(), "\nmargin_over_cash = income - cash_costs -> USD") {
		t.Error("the book does not hold the mended formula")
	}
}
