package ui

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"wintertruss/engine"
)

// tern gives the desk of the book Tern Hollow without draws, to hold the page against.
func tern(t testing.TB, s *stand) *engine.Desk {
	t.Helper()
	d, err := engine.Open("tern_hollow.md", []byte(s.text()), engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// numberIn reads the first number of a text.
func numberIn(t *testing.T, text string) float64 {
	t.Helper()
	text = strings.NewReplacer(",", "", "−", "-", "$", "").Replace(text)
	from := strings.IndexAny(text, "-0123456789")
	if from < 0 {
		t.Fatalf("%q holds no number", text)
	}
	to := from + 1
	for to < len(text) && strings.ContainsRune("0123456789.", rune(text[to])) {
		to++
	}
	x, err := strconv.ParseFloat(strings.TrimRight(text[from:to], "."), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestAnswersByCrop: the answer about prices shows what there is of one crop and what
// is asked for it at each place that takes it; a buyer who names his price is not
// advised one; all figures of an answer are one step away, by mouse and by keys.
func TestAnswersByCrop(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, someDraws)
	w := openWindow(t, "grower", s.url("market"))
	w.do(chromedp.EmulateViewport(1440, 900))
	w.drawn()
	d := tern(t, s)
	price, offers := d.Plain("advised_price"), d.Book.List("offer")
	crop, kind := d.Plain("offer.crop"), d.Plain("offer.kind")
	if got := get[[]string](w, `[...document.querySelectorAll('.choices button')].map((e) => e.innerText)`); !slices.Equal(got, []string{"Tomato", "Cucumber", "Pepper"}) {
		t.Fatalf("the crops to choose from are %q", got)
	}
	for _, choice := range []string{"Pepper", "Cucumber", "Tomato"} {
		w.click(`.choices button`, choice)
		w.until(fmt.Sprintf(`document.querySelector('.choices [aria-pressed=true]').innerText === %s`, quoted(choice)))
		var want, given []string
		for i := range offers.Members {
			if crop.CellJSON(i) == strings.ToLower(choice) {
				want = append(want, engine.Show(price.Cells[i], price.Unit))
				if kind.CellJSON(i) == "given" {
					given = append(given, want[len(want)-1])
				}
			}
		}
		got := get[[]string](w, `[...document.querySelectorAll('.prices dd b')].map((e) => e.textContent)`)
		if !slices.Equal(got, want) {
			t.Errorf("%s: the page asks %q, the book %q", choice, got, want)
		}
		his := get[[]string](w, `[...document.querySelectorAll('.prices > div')].filter((e) => e.querySelector('dt').textContent.endsWith('his price')).map((e) => e.querySelector('b').textContent)`)
		if !slices.Equal(his, given) {
			t.Errorf("%s: prices that a buyer names are %q, in the book %q", choice, his, given)
		}
	}
	if got := get[string](w, shown+`(document.querySelector('[data-answer=charge] .verdict'))`); !strings.Contains(got, "seconds price $0.75/lb") {
		t.Errorf("of the seconds it says %q", got)
	}
	// The answers leave the page its room: at most two hundred pixels of nine hundred.
	if h := get[float64](w, `document.getElementById('answers').offsetHeight`); h > 200 {
		t.Errorf("the answers are %v pixels high, want 200 at most", h)
	}
	// What is not shown is one step away: every entry of the book's answers.
	for i, key := range []string{"pays", "charge", "carries"} {
		entries := d.Book.Answers[i].Entries
		w.tabTo(fmt.Sprintf(`[data-answer=%s] .more`, key))
		w.typeIn(kb.Enter)
		w.until(fmt.Sprintf(`document.querySelector('#all-of-%s')`, key))
		for _, e := range entries {
			label := strings.TrimSpace(e.Left.Text)
			if l := d.Book.Line(label); l != nil && l.Label != "" {
				label = l.Label
			}
			label, _, _ = strings.Cut(label, ";")
			label, _, _ = strings.Cut(label, ":")
			label = strings.ReplaceAll(strings.TrimPrefix(label, "crop."), "_", " ")
			if all := get[string](w, fmt.Sprintf(`document.querySelector('#all-of-%s').innerText`, key)); !strings.Contains(strings.ToLower(all), strings.ToLower(label)) {
				t.Errorf("%s does not hold %q: %q", key, label, all)
			}
		}
		w.typeIn(kb.Escape)
		w.until(`!document.querySelector('.all')`)
		if !get[bool](w, fmt.Sprintf(`document.activeElement.matches('[data-answer=%s] .more')`, key)) {
			t.Errorf("%s: the keys are not where they were", key)
		}
	}
}

// TestSeasonShown: the time fields run from the first sowing to the last clearing. In
// Tern Hollow that is Monday 5 October 2026, in week 41, to Sunday 27 June 2027, in
// week 25 (ISO 8601), and a week more for what is cleared. All weeks are one button,
// or one key past the edge, away. Each vine bears fruit in the weeks with a pick.
func TestSeasonShown(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url("harvest"))
	w.do(chromedp.EmulateViewport(1440, 900))
	w.drawn()
	shown := func() []string {
		return get[[]string](w, `(() => { const all = [...document.querySelectorAll('.rib-weeks span')].map((e) => e.textContent); return [all[0], all.at(-1), String(all.length)] })()`)
	}
	if got := shown(); !slices.Equal(got, []string{"41", "26", "39"}) { // 13 of 2026, 26 of 2027
		t.Errorf("the weeks shown are %q", got)
	}
	d := tern(t, s)
	picks := d.Plain("expected")
	recorded, coming := 0, 0
	for c, x := range picks.Cells {
		switch i := c % picks.Lengths[1]; {
		case !(x > 0):
		case i < d.Now():
			recorded++
		default:
			coming++
		}
	}
	if got := get[[]int](w, `[document.querySelectorAll('.fruit.done').length, document.querySelectorAll('.fruit:not(.done)').length, document.querySelectorAll('.fruit.pepper path').length]`); got[0] != recorded || got[1] != coming || got[2] == 0 {
		t.Errorf("fruit of recorded weeks, of weeks to come, and peppers: %v, in the book %d and %d", got, recorded, coming)
	}
	// One string, through the ribbon and every line; knots sit on it.
	hangs := func(when string) {
		t.Helper()
		off := get[float64](w, `(() => {
			const middle = (e) => { const b = e.getBoundingClientRect(); return b.left + b.width / 2 }
			const at = middle(document.querySelector('.ribbon .string'))
			return Math.max(...[...document.querySelectorAll('main .string, main .line .knot:not([hidden]), .ribbon .knot')].map((e) => Math.abs(middle(e) - at)))
		})()`)
		if off > 1 {
			t.Errorf("%s a string or a knot hangs %.1f pixels off", when, off)
		}
	}
	hangs("at first")
	w.typeIn(kb.ArrowRight + kb.ArrowRight + kb.ArrowRight)
	w.until(`document.querySelector('.ribbon .tag').innerText === 'W13'`)
	hangs("three weeks on")
	w.click(`.reach`)
	w.until(`document.querySelectorAll('.rib-weeks span').length === 53`)
	if got := shown(); !slices.Equal(got, []string{"33", "32", "53"}) {
		t.Errorf("all weeks are %q", got)
	}
	hangs("with all weeks")
	w.click(`.reach`)
	w.until(`document.querySelectorAll('.rib-weeks span').length === 39`)
	w.do(chromedp.Focus(chromedp.CSS(`#season`)))
	for range 4 {
		w.typeIn(kb.PageDown)
	}
	w.until(`document.querySelectorAll('.rib-weeks span').length === 53 && document.querySelector('.ribbon .tag').innerText === 'W29'`)
	w.typeIn(kb.Home)
	w.until(`document.querySelector('.ribbon .tag').innerText === 'W10'`)

	// What each planting does is said in words, in any week.
	says := func() string { return get[string](w, `document.querySelector('.rib-picks').innerText`) }
	if got := says(); !strings.Contains(got, "picking, ") {
		t.Errorf("in week 10 the plantings are %q", got)
	}
	for week, want := range map[string]string{"42": "raising, week 2", "50": "planted, week ", "29": "cleared"} {
		get[any](w, fmt.Sprintf(`[...document.querySelectorAll('.rib-weeks span')].find((e) => e.textContent === %s).dataset.at = 'x'`, quoted(week)))
		w.do(chromedp.Focus(chromedp.CSS(`#season`)))
		x := get[[]float64](w, `(() => { const e = document.querySelector('[data-at]'), b = e.getBoundingClientRect(); delete e.dataset.at; return [b.left + b.width / 2, b.top + 60] })()`)
		w.do(chromedp.MouseClickXY(x[0], x[1]))
		w.until(fmt.Sprintf(`document.querySelector('.ribbon .tag').innerText === 'W%s'`, week))
		if got := says(); !strings.Contains(got, want) {
			t.Errorf("in week %s the plantings are %q, want %q", week, got, want)
		}
	}
	// When the page has scrolled, scale and fan stay in sight, and little else.
	get[any](w, `scrollTo(0, 900)`)
	w.until(`document.documentElement.classList.contains('scrolled')`)
	if h := get[float64](w, `document.querySelector('.hang').getBoundingClientRect().bottom`); h > 180 {
		t.Errorf("scrolled, the head of the page takes %v pixels", h)
	}
	if !get[bool](w, `(() => { const b = document.querySelector('.rib-line').getBoundingClientRect(); return b.height > 40 && b.top > 0 && document.querySelector('.slim').getBoundingClientRect().top === 0 })()`) {
		t.Error("scrolled, the fan or the slim answers are gone")
	}
}

// TestFind: any line is found by words of its label, its name or its page; Enter goes
// there and gives it the keys.
func TestFind(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url("season"))
	w.drawn()
	d := tern(t, s)
	price := d.Plain("fuel_price")
	w.typeIn("k", chromedp.ModifierCtrl)
	w.until(`document.activeElement.id === 'find'`)
	w.typeIn("price propane")
	w.until(`document.querySelectorAll('#found [role=option]').length > 0`)
	if got := get[string](w, `document.getElementById('found').innerText`); !strings.Contains(got, "fuel_price") || !strings.Contains(got, engine.Show(price.Cells[d.Now()], price.Unit)) || !strings.Contains(got, "Heat") {
		t.Errorf("found are %q", got)
	}
	if got := get[string](w, `document.getElementById(document.getElementById('find').getAttribute('aria-activedescendant')).getAttribute('aria-selected')`); got != "true" {
		t.Errorf("the one that Enter takes is not the one that is marked: %q", got)
	}
	w.typeIn(strings.Repeat("\b", len("price propane")) + "fuel_price" + kb.Enter)
	w.until(`document.querySelector('main h1').textContent === 'Heat' && document.activeElement.closest('[data-line=fuel_price]')`)
	if y := get[float64](w, `document.activeElement.getBoundingClientRect().top`); y < 100 || y > 900 {
		t.Errorf("the line stands at %v, out of sight", y)
	}
	w.click(`#find`)
	w.typeIn("market" + kb.ArrowDown + kb.ArrowUp)
	w.until(`document.querySelector('#found [aria-selected=true] b').textContent === 'Market'`)
	w.typeIn(kb.Enter)
	w.until(`document.querySelector('main h1').textContent === 'Market'`)
	w.click(`#find`)
	w.typeIn("zeppelin")
	w.until(`document.querySelector('.find [role=status]')`)
	w.typeIn(kb.Escape)
	w.until(`document.activeElement.id !== 'find' && document.getElementById('find').value === ''`)
}

// choose picks an option of a choice as the browser does for a person.
func (w *window) choose(selector, value string) {
	w.t.Helper()
	get[any](w, fmt.Sprintf(`(() => { const e = document.querySelector(%s); e.value = %s; e.dispatchEvent(new Event('change', { bubbles: true })) })()`, quoted(selector), quoted(value)))
}

// TestUnits: each viewer reads the book in the units they are used to, and keeps them.
// A pound is 0.45359237 kg and an inch 2.54 cm exactly (international yard and pound,
// 1959). Prices stay in the unit of sale, and inputs in the unit they are typed in.
func TestUnits(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a, b := openWindow(t, "grower", s.url("harvest")), openWindow(t, "owner", s.url("harvest"))
	a.drawn()
	b.drawn()
	read := func(w *window) (harvest, ribbon, weight float64) {
		return numberIn(t, w.line("harvest").Value), numberIn(t, get[string](w, `document.querySelector('.rib-total b').innerText`)), numberIn(t, get[string](w, `document.querySelector('.contents [aria-current] small').innerText`))
	}
	prices := get[string](a, `document.querySelector('.prices').innerText`)
	h, r, c := read(a)
	a.choose("#units", "metric")
	a.until(`document.querySelector('[data-line=harvest]').dataset.value.endsWith('kg')`)
	for i, x := range [][2]float64{{h, 0}, {r, 0}, {c, 0}} {
		h2, r2, c2 := read(a)
		x[1] = []float64{h2, r2, c2}[i]
		if math.Abs(x[1]/x[0]-0.45359237) > 0.002 { // both are rounded
			t.Errorf("%v lb read as %v kg", x[0], x[1])
		}
	}
	if got := get[string](a, `document.querySelector('.prices').innerText`); got != prices {
		t.Errorf("prices read %q, before %q", got, prices)
	}
	if got := get[string](a, `document.querySelector('.rib-sky').innerText`); !strings.Contains(got, "°C") || !strings.Contains(got, "MJ/m²/d") {
		t.Errorf("of the sky it says %q", got)
	}
	a.turnTo("Heat")
	a.openLine("propane_heat") // 91,333 BTU in a gallon, as the book has it
	if got := get[string](a, `document.activeElement.value + ' ' + document.activeElement.closest('.editor').innerText`); !strings.Contains(got, "91333") || !strings.Contains(got, "BTU/gal") {
		t.Errorf("the input is edited as %q", got)
	}
	a.typeIn(kb.Escape)
	if ribbon := get[string](b, `document.querySelector('.rib-total b').innerText`); !strings.HasSuffix(ribbon, "lb") {
		t.Errorf("the other viewer reads %q", ribbon)
	}
	a.visit(s.url("harvest"))
	a.until(`document.getElementById('units').value === 'metric' && document.querySelector('.rib-total b').innerText.endsWith('kg')`)
	a.choose("#units", "us")
	a.turnTo("Water and feed")
	if got := get[string](a, `document.querySelector('main').innerText`); !strings.Contains(got, "lb") {
		t.Errorf("in US units the page of the feed names no pound")
	}
	a.choose("#units", "")
	if s.number() != 0 {
		t.Errorf("looking has changed the book: edit %d", s.number())
	}
}

// TestOthersHere: a page says how many others have the book open.
func TestOthersHere(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a := openWindow(t, "owner", s.url("money"))
	if get[bool](a, `!!document.getElementById('here')`) {
		t.Error("alone, the page speaks of others")
	}
	b := openWindow(t, "grower", s.url("records"))
	a.until(`document.getElementById('here')?.innerText.startsWith('1 other page')`)
	c := openWindow(t, "bank", s.url("money"))
	for _, w := range []*window{a, b, c} {
		w.until(`document.getElementById('here')?.innerText.startsWith('2 other pages')`)
	}
	c.do(chromedp.Navigate("about:blank"))
	b.do(chromedp.Navigate("about:blank"))
	a.until(`!document.getElementById('here')`)
}

// TestFrameAccessible: axe-core finds nothing against what stands around the pages when
// it is opened: what is found, all figures of an answer, all weeks, other units.
func TestFrameAccessible(t *testing.T) {
	for scheme, rules := range map[string]string{"light": allRules, "dark": colourRules} {
		t.Run(scheme, func(t *testing.T) {
			t.Parallel()
			s := serveTernHollow(t, fewDraws)
			w := openWindow(t, "grower", s.url("what-if"))
			w.light(scheme)
			w.drawn()
			w.click(`#find`)
			w.typeIn("price")
			w.until(`document.querySelectorAll('#found [role=option]').length > 3`)
			w.scan("a line being looked for", rules, "'main', '.hang', '.lead', '.contents'") // it lies over those
			w.typeIn(kb.Escape)
			for _, key := range []string{"pays", "charge", "carries"} {
				w.click(fmt.Sprintf(`[data-answer=%s] .more`, key))
				w.until(fmt.Sprintf(`document.querySelector('#all-of-%s')`, key))
				w.scan("all figures of "+key, rules, "'main', '.hang'")
			}
			w.typeIn(kb.Escape)
			w.click(`.reach`)
			w.choose("#units", "metric")
			w.scan("all weeks, in metric units", rules, "'main', '#season'") // a drawing: ribbonContrast looks at it
			w.do(chromedp.EmulateViewport(390, 900))
			w.scan("in the hand", rules, "'main', '#season', '.contents'")
			// Of a strip of contents axe judges what is in sight: a hand turned on its side shows more.
			w.do(chromedp.EmulateViewport(844, 390))
			w.scan("in the hand, on its side", rules, "'main', '#season'")
			w.do(chromedp.EmulateViewport(390, 900))
			if got := w.ribbonContrast(); got < 4.5 { // WCAG 2.2, 1.4.3
				t.Errorf("the least contrast on the ribbon is %.2f, want 4.5", got)
			}
		})
	}
}
