package ui

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

const (
	heaviestPage = 400_000         // bytes of all files, as sent
	slowestFirst = 3 * time.Second // from the address to the first answer, on a loaded machine under the race detector; 1 s is what is meant
)

// TestLayout: on a desk, on a small one and in the hand no page scrolls sideways as a
// whole; wide tables do in a region of their own, that the keys can reach.
func TestLayout(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url(""))
	w.drawn()
	pages := w.pages()
	for _, width := range []int64{1440, 1280, 390} {
		w.do(chromedp.EmulateViewport(width, 900))
		for _, page := range pages {
			w.turnTo(page)
			get[any](w, `document.querySelectorAll('[data-line] button.exp[aria-expanded=false]').forEach((e) => e.click())`)
			found := get[struct {
				Width, Inner, Font float64
				Wide               []string
			}](w, `(() => {
				const inner = window.innerWidth, root = document.documentElement
				const scrolls = (e) => e && (/auto|scroll|hidden|clip/.test(getComputedStyle(e).overflowX) || scrolls(e.parentElement))
				const wide = root.scrollWidth <= inner ? [] : [...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > inner + 0.5 && !scrolls(e.parentElement))
				return { width: root.scrollWidth, inner, font: parseFloat(getComputedStyle(document.body).fontSize), wide: wide.slice(0, 3).map((e) => e.outerHTML.slice(0, 160)) }
			})()`)
			if found.Inner != float64(width) {
				t.Fatalf("the window is %v wide, want %d", found.Inner, width)
			}
			if found.Width > found.Inner {
				t.Errorf("%s, %d pixels wide: the page is %v wide, because of %q", page, width, found.Width, found.Wide)
			}
		}
	}
}

// TestWeight: a browser that was never here has few bytes to fetch and soon shows the
// first answer. All files come from this server.
func TestWeight(t *testing.T) {
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "banker", s.url(""))
	found := get[struct {
		First float64
		Files []struct {
			Name  string
			Bytes float64
		}
	}](w, `({ first: paintedAt[0] - performance.timeOrigin, files: [...performance.getEntriesByType('navigation'), ...performance.getEntriesByType('resource')].map((e) => ({ name: e.name, bytes: e.transferSize })) })`)
	total := 0.0
	for _, f := range found.Files {
		if f.Bytes == 0 {
			t.Errorf("%s was not fetched, or not from here", f.Name)
		}
		total += f.Bytes
	}
	if len(found.Files) < 10 {
		t.Fatalf("only %v were fetched", found.Files)
	}
	t.Logf("%d files of %.0f bytes; the first answer stands after %.0f ms", len(found.Files), total, found.First)
	if total > heaviestPage {
		t.Errorf("the page weighs %.0f bytes, want %d at most", total, heaviestPage)
	}
	if first := time.Duration(found.First) * time.Millisecond; first <= 0 || first > slowestFirst {
		t.Errorf("the first answer stands after %v, want %v at most", first, slowestFirst)
	}
}
