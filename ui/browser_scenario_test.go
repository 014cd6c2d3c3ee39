package ui

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wintertruss/engine"
)

// under gives a line's first cell under a scenario of the book as it is kept, as the page shows it.
func under(t testing.TB, s *stand, scenario, name string) string {
	t.Helper()
	d, err := engine.Open("tern_hollow.md", []byte(s.text()), engine.Options{Scenario: scenario})
	if err != nil {
		t.Fatal(err)
	}
	v := d.Plain(name)
	return strings.ReplaceAll(engine.Show(v.Cells[0], v.Unit), "-", "−")
}

// TestLookAtScenario: one page looks at a scenario: its values, answers and season are
// what the book comes to under it, with the plan in dashes; others see the plan. What
// is edited is the plan, and the scenario follows.
func TestLookAtScenario(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a, b := openWindow(t, "owner", s.url("money")), openWindow(t, "grower", s.url("money"))
	a.drawn()
	b.drawn()
	const line = "margin_over_cash"
	plan := b.line(line)
	if want := under(t, s, "", line); plan.Value != want {
		t.Fatalf("the plan says %+v, the engine %s", plan, want)
	}
	a.choose("#scenario", "left_cold")
	want := under(t, s, "left_cold", line)
	a.until(fmt.Sprintf(`document.querySelector('[data-line=%s]').dataset.value === %s`, line, quoted(want)))
	a.drawn()
	if got, _ := a.answer("pays"); got.Value != under(t, s, "left_cold", "margin_over_cold") {
		t.Errorf("under the scenario the first answer is %+v", got)
	}
	if !get[bool](a, `document.querySelector('.looking').innerText.startsWith('Leave both houses cold') && !!document.querySelector('.rib-line .other')`) {
		t.Error("it does not say that this is a scenario, or the plan's harvest is not drawn beside it")
	}
	if got := b.line(line); got != plan || get[bool](b, `!!document.querySelector('.looking, .rib-line .other')`) {
		t.Errorf("the other page sees %+v, want the plan: %+v", got, plan)
	}
	// An edit while one looks.
	a.turnTo("Lender")
	b.turnTo("Lender")
	a.rewrite("living", "43500 USD (41500..45500)")
	b.painted(1)
	a.painted(1)
	if !strings.Contains(s.text(), "living : 43500 USD (41500..45500)") {
		t.Error("what was edited is not the plan")
	}
	cold := under(t, s, "left_cold", "can_pay")
	a.until(fmt.Sprintf(`document.querySelector('[data-line=can_pay]').dataset.value === %s`, quoted(cold)))
	a.drawn()
	if got := b.line("can_pay").Value; got != under(t, s, "", "can_pay") || got == cold {
		t.Errorf("the other page has %s left to pay with", got)
	}
	a.click(".looking button")
	a.until(fmt.Sprintf(`document.querySelector('[data-line=can_pay]').dataset.value === %s && !document.querySelector('.looking')`, quoted(under(t, s, "", "can_pay"))))
	if got, want := a.line("cover"), b.line("cover"); got != want {
		t.Errorf("back at the plan it shows %+v, the other page %+v", got, want)
	}
	if got := get[string](a, `document.querySelector('[data-answer=carries]').dataset.value`); got != get[string](b, `document.querySelector('[data-answer=carries]').dataset.value`) {
		t.Errorf("back at the plan the answer is %s", got)
	}
}

// TestCompare: the scenarios stand below the plan, each with the figures of the
// answers, on the same draws; any of them can be looked at from there.
func TestCompare(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url("season"))
	w.drawn()
	w.tabTo(`.plans a`)
	w.typeIn(kb.Enter)
	d := tern(t, s)
	rows := len(d.Book.Scenarios) + 1
	w.until(fmt.Sprintf(`document.querySelectorAll('.beside-plan tbody tr').length === %d && !document.querySelector('.beside-plan .drawing')`, rows))
	got := get[[]string](w, `[...document.querySelectorAll('.beside-plan tbody tr')].map((r) => r.cells[0].firstChild.textContent + ' | ' + r.cells[1].querySelector('b').textContent)`)
	for i, row := range got {
		name, title := "", "The plan"
		if i > 0 {
			name, title = d.Book.Scenarios[i-1].Name, d.Book.Scenarios[i-1].Title
		}
		if want := title + " | " + under(t, s, name, "margin_over_cold"); row != want {
			t.Errorf("row %d reads %q, want %q", i, row, want)
		}
	}
	// What a scenario that changes several things does is taken apart: the steps add up.
	steps := get[[]string](w, `[...document.querySelectorAll('.differences h3')].filter((e) => e.innerText.startsWith('Plant the long house only')).flatMap((e) => [...e.nextElementSibling.querySelectorAll('b')].map((b) => b.textContent))`)
	sum := 0.0
	for _, step := range steps {
		sum += dollars(t, strings.TrimPrefix(step, "+"))
	}
	if by := dollars(t, under(t, s, "long_only", "margin_over_cold")) - dollars(t, under(t, s, "", "margin_over_cold")); len(steps) < 2 || math.Abs(sum-by) > 3 { // each is rounded to the dollar
		t.Errorf("the steps %q add up to %v, and the scenario brings %v", steps, sum, by)
	}
	for _, width := range []int64{1440, 390} {
		w.do(chromedp.EmulateViewport(width, 900))
		if over := get[float64](w, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
			t.Errorf("%d pixels wide, the page is %v too wide", width, over)
		}
	}
	w.do(chromedp.EmulateViewport(1440, 900))
	w.scan("scenarios side by side", allRules, frame)
	w.click(`.beside-plan tbody tr:nth-child(2) button`)
	w.until(`document.querySelector('.looking') && document.getElementById('scenario').value === 'left_cold' && document.querySelector('.beside-plan .cur th').innerText.startsWith('Leave both houses cold')`)
	w.drawn()
	get[any](w, `scrollTo(0, 0)`)
	w.until(`!document.documentElement.classList.contains('scrolled')`)
	w.scan("a scenario looked at", allRules, "'main', '#season'")
}
