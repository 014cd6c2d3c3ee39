package ui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// live gives what the live number of an address shows in the text.
func (w *window) live(address string) string {
	w.t.Helper()
	return get[string](w, fmt.Sprintf(`%s(document.querySelector('[data-live=%s]'))`, shown, quoted(address)))
}

// TestProse: numbers in the text are the book's numbers: they say what the answer
// says, move with an edit, lead to the reasons, and stand where a person wrote them.
func TestProse(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "owner", s.url(""))
	same := func() string {
		t.Helper()
		pays, _ := w.answer("pays")
		got := strings.ReplaceAll(w.live("margin_over_cold"), "−", "-")
		if got == "" || got != pays.Value {
			t.Errorf("the text says %q, the answer %q", got, pays.Value)
		}
		return got
	}
	before := same()
	// The week's harvest in the text is that of the line on its page, all plantings together.
	harvest := w.live("expected @ this_week")

	w.turnTo("Heat") // the live number of a heading is not part of the page's name
	w.rewrite("propane_heat", "80000 BTU/gal")
	w.painted(1)
	w.turnTo("Tern Hollow")
	if after := same(); after == before {
		t.Errorf("more propane is burned, and the text still says %s", after)
	}
	w.click(`[data-live=margin_over_cold] button`)
	w.until(`document.querySelector('.trace h2').innerText === 'More than cold houses leave'`)
	w.typeIn(kb.Escape)
	w.turnTo("Harvest")
	if got := w.line("expected").Value; got != harvest {
		t.Errorf("the text says %q, the line %q", harvest, got)
	}

	// Writing: the text opens as it was written, with its marks and braces.
	w.tabTo(`.prose .write`)
	w.typeIn(kb.Enter)
	w.until(`document.activeElement.matches('.writing textarea')`)
	if text := get[string](w, `document.activeElement.value`); !strings.HasPrefix(text, "# Harvest {harvest}\n") {
		t.Errorf("the text opens as %.60q", text)
	}
	get[any](w, `document.activeElement.setSelectionRange(1e6, 1e6)`)
	w.typeIn("\nAll season {harvest}, of them {harvest @ pepper} peppers, and {harvst}.")
	w.typeIn(kb.Enter, chromedp.ModifierCtrl)
	w.painted(2)
	w.until(`!!document.querySelector('.prose .wave')`)
	if got := get[string](w, `document.querySelector('.prose .wave').innerText`); got != "{harvst}" {
		t.Errorf("wrong in the text is %q", got)
	}
	season := get[string](w, shown+`(document.querySelector('[data-line=harvest] .vals > :last-child'))`)
	if got := w.live("harvest"); got == "" || !strings.HasPrefix(season, got) {
		t.Errorf("the text says %q for the season, the line %q", got, season)
	}
	if pepper := w.live("harvest @ pepper"); pepper == "" || pepper == season {
		t.Errorf("of all %s, %q are peppers", season, pepper)
	}
	if !strings.Contains(s.text(), "\nAll season {harvest}, of them {harvest @ pepper} peppers, and {harvst}.\n\n```lines") {
		t.Error("the file does not hold what was written")
	}
	w.click("#undo")
	w.painted(3)
	if strings.Contains(s.text(), "harvst") {
		t.Error("what was written is not taken back")
	}
}
