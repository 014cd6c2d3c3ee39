package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// TestHoldWeekByHand: a person opens a line, holds one of its weeks by hand with a
// reason, sees the diamond and the value, and lets it go again.
func TestHoldWeekByHand(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url("heat"))
	w.drawn()
	get[any](w, `document.activeElement.blur()`)
	w.typeIn(strings.Repeat(kb.ArrowRight, 6))
	w.until(`document.querySelector('.ribbon .tag').innerText === 'W16'`)
	before := w.line("power_cost").Value
	w.click(`[data-line=power_cost] .exp`)
	w.click(`[data-line=power_cost] .opened .tool-link`, "Hold W16 by hand")
	w.until(`document.activeElement.matches('[data-line=power_cost] textarea')`)
	w.typeIn("50 USD // the lamps are lent out" + kb.Enter)
	w.painted(1)
	if got := w.line("power_cost").Value; got != "$50.00" {
		t.Errorf("held at 50 dollars the week stands at %q, before at %q", got, before)
	}
	if !strings.Contains(s.text(), "power_cost @ 2027-W16 : 50 USD // the lamps are lent out") {
		t.Error("the book does not hold the pin")
	}
	if n := get[int](w, `document.querySelectorAll('[data-line=power_cost] .held-at').length`); n != 1 {
		t.Errorf("%d diamonds stand on the line", n)
	}
	if got := get[string](w, shown+`(document.querySelector('[data-line=power_cost] .by-hand'))`); !strings.Contains(got, "$50 by hand") || !strings.Contains(got, "the lamps are lent out") {
		t.Errorf("the line says %q", got)
	}
	w.scan("a week held by hand", allRules, frame)
	w.click(`[data-line=power_cost] .by-hand button`, "Let it go")
	w.painted(2)
	if got := w.line("power_cost").Value; got != before {
		t.Errorf("let go, the week stands at %q, want %q", got, before)
	}
}

// TestFormulaInPlace: names that fit come with what they are worth, what would come of
// it is said before it is kept, and a formula that is wrong goes back to what worked.
func TestFormulaInPlace(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url("money"))
	w.drawn()
	was, costs := w.line("margin_over_cash").Value, w.line("cash_costs").Value
	at := `[data-line=margin_over_cash]`
	w.openLine("margin_over_cash")
	w.typeIn(kb.End + " - lowest_c")
	w.until(`document.querySelector('` + at + ` [role=option][aria-selected=true]')`)
	if got := get[string](w, `document.querySelector('`+at+` [role=option]').innerText`); !strings.HasPrefix(got, "lowest_cash") || !strings.Contains(got, w.line("lowest_cash").Value) || !strings.Contains(got, "Money") {
		t.Errorf("the first name that fits reads %q", got)
	}
	w.typeIn(kb.Tab)
	w.until(`document.querySelector('` + at + ` textarea').value.endsWith(' - lowest_cash')`)
	w.until(`document.querySelector('` + at + ` .would b')`)
	would := get[string](w, `document.querySelector('`+at+` .would b').innerText`)
	w.typeIn(kb.Enter)
	w.painted(1)
	if got := w.line("margin_over_cash").Value; got != would || got == was {
		t.Errorf("it would give %q and gives %q; it was %q", would, got, was)
	}
	w.click("#undo")
	w.painted(2)

	// The card of the function at the caret says what it takes and who says so.
	w.openLine("cash_costs")
	w.typeIn(kb.End + " + total(")
	w.until(`document.querySelector('[data-line=cash_costs] .fcard')`)
	if got := get[string](w, `document.querySelector('[data-line=cash_costs] .fcard').innerText`); !strings.Contains(got, "Takes") || !strings.Contains(got, "Gives") || !strings.Contains(got, "Source") {
		t.Errorf("the card reads %q", got)
	}
	w.scan("an editor with the card of a function", allRules, frame)
	w.typeIn(kb.Escape)

	w.rewrite("cash_costs", "total(bills) + nothing_such")
	w.painted(3)
	if got := get[string](w, `document.querySelector('[data-line=cash_costs] .behind').innerText`); !strings.Contains(got, "Left over cash costs") {
		t.Errorf("what waits for the line: %q", got)
	}
	if got := get[string](w, `document.querySelector('[data-line=margin_over_cash]').innerText`); !strings.Contains(got, "stale since ") {
		t.Errorf("what hangs on it says %q", got)
	}
	w.click(`[data-line=cash_costs] button.act`, "Go back to what worked")
	w.painted(4)
	w.until(`!document.querySelector('[data-state]')`)
	if got := w.line("cash_costs").Value; got != costs {
		t.Errorf("gone back, it stands at %q, want %q", got, costs)
	}
}

// TestGuessByItsParts: a guess is changed by its middle and its range, each in a field
// of its own; the text above follows.
func TestGuessByItsParts(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url("lender"))
	w.openLine("living")
	field := func(says string) string {
		return fmt.Sprintf(`[data-line=living] .parts input[aria-label^=%s]`, quoted(says))
	}
	w.click(field("from"))
	get[any](w, `document.activeElement.select()`)
	w.typeIn("39000")
	w.click(field("Middle"))
	get[any](w, `document.activeElement.select()`)
	w.typeIn("42000" + kb.Enter)
	w.painted(1)
	if !strings.Contains(s.text(), "living : 42000 USD (39000..44500)") {
		t.Error("the book does not hold the guess with its new middle and range")
	}
	if got := get[string](w, shown+`(document.querySelector('[data-line=living]'))`); !strings.Contains(got, "$42,000") || !strings.Contains(got, "$39,000 to $44,500") {
		t.Errorf("the line shows %q", got)
	}
}

// TestListByItsTools: a member is added like another, its day and its kind of cell are
// changed by what they are, and it is taken out again when one has said so twice.
func TestListByItsTools(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url("money"))
	rows := `[...document.querySelectorAll('[data-list=loan] tbody tr')]`
	n := get[int](w, rows+`.length`)
	w.click(`[data-list=loan] .table-head .tool-link`)
	w.until(`document.activeElement.matches('[data-list=loan] form input')`)
	w.typeIn("Delivery van")
	w.scan("a member being added", allRules, frame)
	w.typeIn(kb.Enter)
	w.painted(1)
	if got := get[int](w, rows+`.length`); got != n+1 {
		t.Fatalf("%d loans, want %d", got, n+1)
	}
	if got := get[string](w, rows+`.at(-1).innerText`); !strings.Contains(got, "Delivery van") || !strings.Contains(got, "delivery_van") {
		t.Errorf("the new row reads %q", got)
	}
	get[any](w, rows+`.at(-1).querySelectorAll('td button').forEach((b) => { if (/ 20\d\d$/.test(b.innerText)) b.dataset.testDay ??= '' })`)
	get[any](w, `document.querySelectorAll('[data-test-day]').forEach((b, i) => { if (i) delete b.dataset.testDay })`)
	w.click(`[data-test-day]`)
	w.until(`document.activeElement.matches('input[type=date]')`)
	get[any](w, `document.activeElement.value = '2026-09-07'`)
	w.typeIn(kb.Enter)
	w.painted(2)
	if got := get[string](w, rows+`.at(-1).innerText`); !strings.Contains(got, "7 Sep 2026") {
		t.Errorf("the day was changed, and the row reads %q", got)
	}
	get[any](w, `{ const r = `+rows+`.at(-1).querySelector('.member-tools button'); r.dataset.testOut = '' }`)
	w.click(`[data-test-out]`)
	w.click(`[data-list=loan] .sure button`, "Take out")
	w.painted(3)
	if got := get[int](w, rows+`.length`); got != n {
		t.Errorf("taken out, %d loans are left, want %d", got, n)
	}
}

// TestCautionBesideNumber: what the book warns of stands beside the number it speaks
// of, and goes when it no longer holds.
func TestCautionBesideNumber(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "bank", s.url("lender"))
	w.drawn()
	w.rewrite("required_cover", "9")
	w.painted(1)
	w.drawn()
	if got := get[string](w, `document.querySelector('[data-line=cover] .take-care')?.innerText ?? ''`); !strings.HasPrefix(got, "Take care. Less is left to pay with than a lender asks for") {
		t.Errorf("beside the cover stands %q", got)
	}
	w.scan("a caution", allRules, frame)
	w.rewrite("required_cover", "0.01")
	w.painted(2)
	w.drawn()
	w.until(`!document.querySelector('[data-line=cover] .take-care')`)
}
