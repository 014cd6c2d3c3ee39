package ui

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// onPaper shows the window as it would be printed, or with "" as a screen.
func (w *window) onPaper(media string) {
	w.t.Helper()
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: media})
		return err
	}))
	if media == "print" {
		w.until(`matchMedia('print').matches`)
	} else {
		w.until(`matchMedia('screen').matches`)
	}
}

// seen gives the first of the selector's elements that takes room, as it reads.
func (w *window) seen(selector string) string {
	w.t.Helper()
	return get[string](w, `[...document.querySelectorAll(`+quoted(selector)+`)].find((e) => e.checkVisibility() && e.getBoundingClientRect().height > 1)?.outerHTML.slice(0, 120) ?? ''`)
}

// TestPrinted: the mixing card is a sheet that a grower hangs beside the tanks: which
// salt goes into which tank, by stage, with what is to be taken care of. What stands
// around the page and what is there to be pressed stays on the screen, and comes back.
func TestPrinted(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url("mixing-card"))
	w.until(`document.querySelectorAll('[data-kind=table] tbody tr').length === 6`)
	w.light("dark")
	w.onPaper("print")
	for _, gone := range []string{".rail", ".tools", ".hang", ".answers", ".trace", ".write", ".exp", "#print", ".find", ".scenario select", ".editor", "nav"} {
		if got := w.seen(gone); got != "" {
			t.Errorf("%s is printed: %s", gone, got)
		}
	}
	text := strings.Join(strings.Fields(get[string](w, `document.body.innerText`)), " ")
	for _, want := range []string{
		"Tern Hollow, winter 2026-27", "as of 10 Mar", "Mixing card", "For a full tank before the fourth truss", "For a full tank from the fourth truss on", "Tank A", "Tank B", "1,218 mL", "mS/cm",
		"Calcium nitrate", "Potassium nitrate", "Iron chelate", "Monopotassium phosphate", "Potassium sulfate", "Epsom salt",
		"Calcium never meets sulfate or phosphate", "Acid goes into water, never the other way", "Gloves, goggles", "label",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	// Salts of lime stand in one tank, sulfates and phosphates in the other, as the card says.
	tanks := get[map[string]string](w, `Object.fromEntries([...document.querySelectorAll('[data-kind=table] tbody tr')].map((r) => [r.cells[0].innerText, r.cells[1].innerText]))`)
	for salt, tank := range map[string]string{"Calcium nitrate": "Tank A", "Potassium sulfate": "Tank B", "Monopotassium phosphate": "Tank B", "Epsom salt": "Tank B"} {
		if tanks[salt] != tank {
			t.Errorf("%s goes into %q, want %s", salt, tanks[salt], tank)
		}
	}
	w.scan("the mixing card on paper", allRules, "")

	// What the screen opens when it is asked lies open on paper: the members of a line.
	w.onPaper("")
	w.turnTo("Water and feed")
	if got := w.seen("#line-mix_now .each dd"); got != "" {
		t.Errorf("six members lie open on the screen: %s", got)
	}
	w.onPaper("print")
	w.until(`document.querySelectorAll('#line-mix_now .each dd').length === 6`)

	// A wide page goes on paper too, with the numbers of its pictures; nothing is cut off.
	w.onPaper("")
	for _, wide := range []string{"Market", "Money"} {
		w.do(chromedp.EmulateViewport(1280, 900))
		w.turnTo(wide)
		w.onPaper("print")
		w.do(chromedp.EmulateViewport(700, 990)) // A4 or letter within its margins, 96 dots to the inch
		if beyond := get[[]string](w, `[...document.querySelectorAll('main *')].filter((e) => e.checkVisibility() && !e.closest('.vh, svg') && e.getBoundingClientRect().left > 700).map((e) => e.outerHTML.slice(0, 120))`); len(beyond) > 0 {
			t.Errorf("%s: what stands beyond the paper: %q", wide, beyond[:1])
		}
		if wide == "Market" {
			w.onPaper("")
		}
	}
	w.until(`document.querySelectorAll('[data-kind=waterfall] details.of-chart tbody tr').length > 3`)
	var sheet page.PrintToPDFResult
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) (err error) {
		sheet, err = cdp.Call(ctx, t, page.PrintToPDF, page.PrintToPDFParams{})
		return err
	}))
	if !bytes.HasPrefix(sheet.Data, []byte("%PDF")) {
		t.Errorf("%d bytes are no sheet", len(sheet.Data))
	}

	w.onPaper("")
	w.until(`document.querySelectorAll('[data-kind=waterfall] details.of-chart tbody tr').length === 0`)
	if w.seen(".rail") == "" || w.seen("#print") == "" {
		t.Error("the desk does not come back")
	}
}

// TestPrintPage: the command is there to be pressed, on a desk and in the hand, and
// prints once.
func TestPrintPage(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url(""))
	get[any](w, `(window.printed = 0, window.print = () => { window.printed++ }, 0)`)
	for n, width := range []int64{1280, 390} {
		w.do(chromedp.EmulateViewport(width, 900))
		w.click("#print")
		w.until(`printed === ` + string(rune('1'+n)))
	}
	if got := get[string](w, `document.getElementById('print').textContent`); got != "Print this page" {
		t.Errorf("the command is called %q", got)
	}
}
