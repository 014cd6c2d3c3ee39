package ui

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// How long a test waits for something to appear. It is long for a loaded machine
// under the race detector; how quick the page is, benchmarks say.
const patience = 90 * time.Second

// window is a browser window with a profile of its own.
type window struct {
	t    testing.TB
	name string
	ctx  context.Context

	mu       sync.Mutex
	problems []string // what the page complained of; guarded by mu
}

// openWindow opens a window at an address. What its page complains of fails the
// test when it ends, save what forgiven says it may.
func openWindow(t testing.TB, name, url string, forgiven ...string) *window {
	t.Helper()
	w := &window{t: t, name: name}
	t.ArtifactDir() // made now, so that it is still there when the window is closed
	parent := startChromium(t)
	ctx, cancel := chromedp.NewContext(parent, chromedp.WithNewBrowserContext(), chromedp.WithListener(w.listen))
	w.ctx = ctx
	t.Cleanup(func() {
		if t.Failed() {
			w.picture()
		}
		cancel()
		for _, p := range w.complaints() {
			ok := false
			for _, f := range forgiven {
				ok = ok || strings.Contains(p, f)
			}
			if !ok {
				t.Errorf("%s: the page complains: %s", name, p)
			}
		}
	})
	// The first step opens the window, which lives as long as that step's context.
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900), beforePages(stopwatch)); err != nil {
		t.Fatalf("%s cannot be opened: %v", name, err)
	}
	w.visit(url)
	return w
}

// stopwatch notes when each change of the book was painted: its number is the key,
// milliseconds since 1970 the value. Windows of one computer share that clock.
const stopwatch = `window.paintedAt = {}
new MutationObserver(() => { paintedAt[document.body.dataset.number] ??= performance.timeOrigin + performance.now() })
	.observe(document, { subtree: true, attributes: true, attributeFilter: ['data-number'] })`

// beforePages runs a script in each page that is loaded from now on, before its own.
func beforePages(script string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		return err
	})
}

// listen is called for each event of the window; it must be quick.
func (w *window) listen(event any) {
	var said string
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		said = e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			said += " " + e.ExceptionDetails.Exception.Description
		}
	case *runtime.EventConsoleAPICalled:
		if e.Type != runtime.ConsoleAPICalledTypeError && e.Type != runtime.ConsoleAPICalledTypeWarning && e.Type != runtime.ConsoleAPICalledTypeAssert {
			return
		}
		for _, a := range e.Args {
			said += fmt.Sprint(string(a.Value), a.Description, " ")
		}
	case *log.EventEntryAdded:
		if e.Entry.Level != log.EntryLevelError && e.Entry.Level != log.EntryLevelWarning {
			return
		}
		said = e.Entry.Text + " " + e.Entry.URL
	default:
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.problems = append(w.problems, said)
}

func (w *window) complaints() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return append([]string(nil), w.problems...)
}

// picture saves what the window shows beside the other artifacts of the test.
func (w *window) picture() {
	ctx, cancel := context.WithTimeout(w.ctx, 10*time.Second)
	defer cancel()
	b, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	file := filepath.Join(w.t.ArtifactDir(), w.name+".png")
	if err == nil {
		err = os.WriteFile(file, b, 0o644)
	}
	w.t.Logf("%s, as it stood: %s (%v)", w.name, file, err)
}

func (w *window) do(steps ...chromedp.Action[chromedp.Void]) {
	w.t.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		w.t.Fatalf("%s: %v", w.name, err)
	}
}

// get gives the value of a script.
func get[T any](w *window, script string, options ...chromedp.EvaluateOption) T {
	w.t.Helper()
	return getWithin[T](w, patience, script, options...)
}

// getWithin is get for a script that takes its time.
func getWithin[T any](w *window, longest time.Duration, script string, options ...chromedp.EvaluateOption) T {
	w.t.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, longest)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, options...))
	if err != nil {
		w.t.Fatalf("%s: %s: %v", w.name, script, err)
	}
	return v
}

// until waits until a script gives true.
func (w *window) until(script string) {
	w.t.Helper()
	ctx, cancel := context.WithTimeout(w.ctx, patience+5*time.Second)
	defer cancel()
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool]("!!("+script+")", chromedp.WithPollingTimeout(patience))); err != nil {
		w.t.Fatalf("%s waits in vain until %s: %v\nit shows: %s", w.name, script, err,
			get[string](w, `document.body.dataset.number + ", bands " + document.body.dataset.bands + ", " + (document.getElementById('state')?.innerText ?? 'nothing')`))
	}
}

// visit loads an address and waits until the book is on the screen.
func (w *window) visit(url string) {
	w.t.Helper()
	w.do(chromedp.Navigate(url))
	w.until(`document.body.dataset.number !== undefined && document.querySelectorAll('[data-answer]').length === 3 && document.title.endsWith('. Wintertruss')`)
}

// turnTo opens a page of the book from the contents.
func (w *window) turnTo(title string) {
	w.t.Helper()
	w.click(`.contents a`, title)
	// The title is set when the page has been brought to its top.
	w.until(fmt.Sprintf(`document.querySelector('main h1')?.textContent === %s && document.title.startsWith(%s)`, quoted(title), quoted(title+". ")))
}

// pages gives the titles in the contents.
func (w *window) pages() []string {
	w.t.Helper()
	return get[[]string](w, `[...document.querySelectorAll('.contents a span:first-child')].map((e) => e.textContent)`)
}

// click brings an element into view and clicks it with the mouse, in its middle.
// With text, it is the one of the selector's elements that shows it. Something else
// that lies over it fails the test: a person could not click it either.
func (w *window) click(selector string, text ...string) {
	w.t.Helper()
	x, y := w.middle(selector, text...)
	w.do(chromedp.MouseClickXY(x, y))
}

func (w *window) middle(selector string, text ...string) (x, y float64) {
	w.t.Helper()
	find := fmt.Sprintf(`[...document.querySelectorAll(%s)]`, quoted(selector))
	if len(text) > 0 {
		find += fmt.Sprintf(`.filter((e) => e.innerText.trim().startsWith(%s))`, quoted(text[0]))
	}
	spot := fmt.Sprintf(`new Promise((done) => {
		const found = %s
		if (found.length !== 1) return done({ says: found.length + ' elements' })
		const e = found[0]
		e.scrollIntoView({ block: 'center', inline: 'nearest', behavior: 'instant' })
		const box = () => e.getBoundingClientRect()
		const before = box()
		requestAnimationFrame(() => requestAnimationFrame(() => {
			const b = box(), x = b.left + b.width / 2, y = b.top + b.height / 2
			if (b.top !== before.top || b.left !== before.left) return done({ says: 'it moves' })
			const top = document.elementFromPoint(x, y)
			done({ x, y, says: top && (e.contains(top) || top.contains(e)) ? '' : 'beneath ' + (top?.outerHTML.slice(0, 200) ?? 'nothing, outside of the window') })
		}))
	})`, find)
	type place struct {
		X, Y float64
		Says string
	}
	for end := time.Now().Add(patience); ; time.Sleep(20 * time.Millisecond) {
		at := get[place](w, spot, chromedp.EvalAwaitPromise)
		if at.Says == "" {
			// The head of the page grows slim some time after the page has scrolled.
			time.Sleep(40 * time.Millisecond)
			if again := get[place](w, spot, chromedp.EvalAwaitPromise); again == at {
				return at.X, at.Y
			}
			at.Says = "it moves"
		}
		if time.Now().After(end) {
			w.t.Fatalf("%s cannot click %s %s: %s", w.name, selector, strings.Join(text, " "), at.Says)
		}
	}
}

// typeIn types on the keyboard. A key goes down with its letter, as keys do: sent one
// after the other, a letter can reach what has the focus only since the key.
func (w *window) typeIn(keys string, held ...chromedp.Modifier) {
	w.t.Helper()
	w.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for _, r := range keys {
			events := kb.Encode(r)
			down, up := *events[0], *events[len(events)-1]
			for _, h := range held {
				down.Modifiers |= int64(h)
				up.Modifiers |= int64(h)
			}
			if len(events) == 3 && len(held) == 0 {
				down.Text, down.UnmodifiedText = events[1].Text, events[1].UnmodifiedText
			}
			for _, e := range []input.DispatchKeyEventParams{down, up} {
				if _, err := cdp.Call(ctx, t, input.DispatchKeyEvent, e); err != nil {
					return err
				}
			}
		}
		return nil
	}))
}

// tabTo goes from control to control with Tab until one matches the selector.
func (w *window) tabTo(selector string) {
	w.t.Helper()
	for range 500 {
		if get[bool](w, fmt.Sprintf(`document.activeElement.matches(%s)`, quoted(selector))) {
			return
		}
		w.typeIn(kb.Tab)
	}
	w.t.Fatalf("%s: Tab does not lead to %s", w.name, selector)
}

// rewrite changes a line in place: the mouse opens it, the keyboard writes, Enter keeps.
func (w *window) rewrite(line, text string) {
	w.t.Helper()
	w.openLine(line)
	w.typeIn(text + kb.Enter)
}

// openLine opens the editor of a line with the mouse.
func (w *window) openLine(line string) {
	w.t.Helper()
	at := fmt.Sprintf(`[data-line=%s]`, line)
	if get[bool](w, fmt.Sprintf(`!!document.querySelector(%s)`, quoted(at+" button.exp[aria-expanded=false]"))) {
		w.click(at + " button.exp") // a weekly line shows its formula when it is opened
	}
	w.click(at + " :is(button.chip, button.open-formula)")
	w.until(fmt.Sprintf(`document.activeElement.matches(%s)`, quoted(at+" textarea")))
}

// shown is a script's function that gives the text a person sees of an element,
// without what is there for readers of the screen alone.
const shown = `((e) => { const c = e.cloneNode(true); c.querySelectorAll('.vh').forEach((x) => x.remove()); return c.textContent.replace(/\s+/g, ' ').trim() })`

// line is what a line shows.
type line struct{ Value, State string }

func (w *window) line(name string) line {
	w.t.Helper()
	return get[line](w, fmt.Sprintf(`(({ value = '', state = '' }) => ({ Value: value, State: state }))(document.querySelector('[data-line=%s]').dataset)`, name))
}

// answer gives what an answer shows: its first figure, its state, and all of its text.
func (w *window) answer(key string) (l line, text string) {
	w.t.Helper()
	at := fmt.Sprintf(`document.querySelector('[data-answer=%s]')`, key)
	l = get[line](w, fmt.Sprintf(`(({ value = '', state = '' }) => ({ Value: value, State: state }))(%s.dataset)`, at))
	return l, get[string](w, at+`.innerText`)
}

// number gives the number of the last change that is painted.
func (w *window) number() string {
	w.t.Helper()
	return get[string](w, `document.body.dataset.number`)
}

// painted waits until change n is on the screen.
func (w *window) painted(n int) {
	w.t.Helper()
	w.until(fmt.Sprintf(`document.body.dataset.number === '%d'`, n))
}

// drawn waits until the draws of what is shown have come.
func (w *window) drawn() {
	w.t.Helper()
	w.until(`document.body.dataset.bands === 'done'`)
}

// quoted writes a text as a script does.
func quoted(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(b)
}
