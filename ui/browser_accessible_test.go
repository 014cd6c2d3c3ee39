package ui

import (
	"context"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

//go:embed testdata/axe.min.js
var axe string

// The rules that axe-core is asked: all it has for WCAG 2.2 at levels A and AA, and its
// best practices; and of those the ones that look at colours.
const (
	allRules    = `{ type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] }`
	colourRules = `{ type: 'rule', values: ['color-contrast', 'link-in-text-block'] }`
)

// frame is what stands around every page alike: contents, answers, ribbon.
const frame = `'.rail', '.lead', '.hang'`

// rule is a rule of axe-core with the elements it speaks of.
type rule struct {
	ID, Help string
	Nodes    []struct{ HTML, FailureSummary string }
}

// judge lets axe-core look at the page without the elements excluded. It gives the
// rules that are broken, those it cannot judge, and how many hold.
func (w *window) judge(rules, excluded string) (broken, unjudged []rule, hold int) {
	w.t.Helper()
	get[any](w, `scrollTo(0, 0)`) // what the page has scrolled beneath its head is not out of reach
	if !get[bool](w, `'axe' in window`) {
		get[any](w, axe+";0")
	}
	found := getWithin[struct {
		Passes                 int
		Violations, Incomplete []rule
	}](w, 4*patience, `axe.run({ include: [document], exclude: [`+excluded+`] }, { runOnly: `+rules+`, resultTypes: ['violations', 'incomplete'], selectors: false, preload: false }).then(({ passes, violations, incomplete }) => {
		const short = (rules) => rules.map(({ id, help, nodes }) => ({ id, help, nodes: nodes.map(({ html, failureSummary }) => ({ html, failureSummary })) }))
		return { passes: passes.length, violations: short(violations), incomplete: short(incomplete) }
	})`, chromedp.EvalAwaitPromise)
	return found.Violations, found.Incomplete, found.Passes
}

// scan fails the test when axe-core finds something, or nothing to look at.
func (w *window) scan(what, rules, excluded string) {
	w.t.Helper()
	broken, unjudged, hold := w.judge(rules, excluded)
	if hold == 0 {
		w.t.Errorf("%s: axe looked at nothing", what)
	}
	for _, r := range broken {
		n := r.Nodes[0]
		w.t.Errorf("%s: %s (%s), %d times, first:\n%.300s\n%s", what, r.Help, r.ID, len(r.Nodes), n.HTML, strings.ReplaceAll(n.FailureSummary, "\n", " "))
	}
	for _, r := range unjudged {
		if n := len(r.Nodes); n > mostUnjudged && excluded != "" {
			w.t.Errorf("%s: axe cannot judge %d elements (%s), first:\n%.300s", what, n, r.ID, r.Nodes[0].HTML)
		}
	}
}

// mostUnjudged is how many elements of a page axe may fail to judge: where one lies
// half beneath another it cannot tell colours. More means that it is blind to the page.
const mostUnjudged = 10

// ribbonContrast gives the least contrast of the months and weeks on the ribbon with
// its lightest and its darkest ground, a ratio as WCAG 2.2 defines it. The ground is a
// drawing, which axe does not look into.
func (w *window) ribbonContrast() float64 {
	w.t.Helper()
	return get[float64](w, `(() => {
		const probe = document.body.appendChild(document.createElement('i'))
		const read = (colour) => { probe.style.color = colour; return getComputedStyle(probe).color.match(/[\d.]+/g).slice(0, 3).map(Number) }
		const light = (colour) => {
			const [r, g, b] = read(colour).map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
			return 0.2126 * r + 0.7152 * g + 0.0722 * b
		}
		const inks = [...document.querySelectorAll('.rib-months span, .rib-weeks span')].map((e) => light(getComputedStyle(e).color))
		const all = inks.flatMap((ink) => ['var(--dusk)', 'var(--noon)'].map(light).map((ground) => (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05)))
		probe.remove()
		return all.length ? Math.min(...all) : 0
	})()`)
}

// light makes the window that of a person who prefers "light" or "dark".
func (w *window) light(scheme string) {
	w.t.Helper()
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
	w.until(fmt.Sprintf(`matchMedia('(prefers-color-scheme: %s)').matches`, scheme))
}

// TestAccessible: axe-core finds nothing against the page, on every page of the book,
// in light and in dark, with editors open, with something wrong, and cut off. What
// stands around the pages is looked at with the first, and whenever it says something
// else. In the dark only the rules that look at colours can say anything new.
func TestAccessible(t *testing.T) {
	for scheme, rules := range map[string]string{"light": allRules, "dark": colourRules} {
		t.Run(scheme, func(t *testing.T) {
			t.Parallel()
			s := serveTernHollow(t, fewDraws)
			w := openWindow(t, "grower", s.localhost(""), refusedSocket)
			w.light(scheme)
			w.drawn()
			walkAccessible(w, s, func(what, excluded string) { t.Helper(); w.scan(what, rules, excluded) })
		})
	}
}

// walkAccessible goes through all that there is to look at.
func walkAccessible(w *window, s *stand, look func(what, excluded string)) {
	w.t.Helper()
	pages := w.pages()
	if len(pages) < 10 {
		w.t.Fatalf("the contents name %q", pages)
	}
	look("all around", "")
	if got := w.ribbonContrast(); got < 4.5 { // WCAG 2.2, 1.4.3
		w.t.Errorf("the least contrast on the ribbon is %.2f, want 4.5", got)
	}
	for _, page := range pages {
		w.turnTo(page)
		look("page "+page, frame)
	}

	w.turnTo("Heat")
	get[any](w, `document.querySelectorAll('[data-line] button.exp').forEach((e) => e.click())`)
	get[any](w, `document.querySelectorAll('details').forEach((e) => { e.open = true })`)
	look("every line open", frame)

	w.turnTo("Money")
	w.openLine("margin_over_cash")
	w.typeIn(kb.End + " - marg")
	w.until(`document.querySelector('[role=listbox]')`)
	look("an editor with suggestions", frame)
	w.typeIn("i" + kb.Enter)
	w.painted(1)
	w.until(`document.querySelector('.wave')`)
	look("a formula in error, and answers that are stale", "")
	w.turnTo("Lender")
	w.openLine("living")
	w.typeIn("a b" + kb.Enter)
	w.painted(2)
	look("an input in error", frame)

	w.tabTo(".prose .write")
	w.typeIn(kb.Enter)
	w.until(`document.activeElement.matches('.writing textarea')`)
	look("prose being written", frame)
	w.typeIn(kb.Escape)

	w.turnTo("Records")
	w.click(`[data-records=picks] .table-head button`)
	w.until(`document.querySelector('[data-records=picks] form :focus')`)
	look("a record being written down", frame)
	s.cutLocalhost()
	w.until(`document.getElementById('state').innerText.includes('No connection')`)
	w.record("picks", "weight", "61.5")
	w.until(`document.querySelector('.banner')`)
	look("cut off, with an entry that waits", "")
}

// TestPageBrokenOnPurpose: what the other tests rely on does see a page that is wrong:
// axe-core a button without a name and a text too pale, the window what a page
// complains of.
func TestPageBrokenOnPurpose(t *testing.T) {
	t.Parallel()
	complaints := []string{"broken on purpose", "404"}
	w := openWindow(t, "vandal", serveTernHollow(t, fewDraws).url(""), complaints...)
	get[any](w, `(() => {
		const undo = document.getElementById('undo')
		undo.removeAttribute('title')
		undo.textContent = ''
		undo.disabled = false
		document.querySelector('main h1').style.color = '#ddd'
		console.error('broken on purpose, said')
		setTimeout(() => { throw new Error('broken on purpose, thrown') })
		fetch('/nothing.js')
	})()`)
	broken, _, _ := w.judge(allRules, "")
	var ids []string
	for _, r := range broken {
		ids = append(ids, r.ID)
	}
	for _, want := range []string{"button-name", "color-contrast"} {
		if !slices.Contains(ids, want) {
			t.Errorf("axe does not find %s, only %q", want, ids)
		}
	}
	said := strings.Join(w.complaints(), "\n")
	for _, want := range []string{"on purpose, said", "on purpose, thrown", "404"} {
		if !strings.Contains(said, want) {
			t.Errorf("the window does not hear %q, only:\n%s", want, said)
		}
	}
}
