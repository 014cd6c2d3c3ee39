package ui

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// focused gives the week that the page speaks of: as the ribbon says it, as its slider
// tells readers of the screen, and as the tag on the string says it.
func (w *window) focused() (ribbon, slider, tag string) {
	w.t.Helper()
	said := get[[]string](w, `[document.querySelector('.rib-l strong').innerText.replace(/\s+/g, ' '), document.getElementById('season').getAttribute('aria-valuetext'), document.querySelector('.ribbon .tag').innerText]`)
	return said[0], said[1], said[2]
}

// TestChooseWeek: one week is chosen for the whole page, by the mouse on the ribbon,
// by its buttons, and by keys. That 8 March 2027 is the Monday of week 10, and 15
// March of week 11, is ISO 8601; the price of propane of those weeks is as the book
// says it: 2.35 USD/gal; 2.20 USD/gal from 2027-W11.
func TestChooseWeek(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	w := openWindow(t, "grower", s.url("heat"))
	w.drawn() // bands that come later make rows higher, and move what is to be clicked
	at := func(week, days, when, price string) {
		t.Helper()
		w.until(fmt.Sprintf(`document.querySelector('.ribbon .tag').innerText === %s`, quoted("W"+week)))
		ribbon, slider, _ := w.focused()
		if want := fmt.Sprintf("Week %s %s, %s", strings.TrimLeft(week, "0"), days, when); ribbon != want {
			t.Errorf("the ribbon says %q, want %q", ribbon, want)
		}
		if want := fmt.Sprintf("Week %s, %s, %s", week, days, when); slider != want {
			t.Errorf("the slider says %q, want %q", slider, want)
		}
		if got := w.line("fuel_price").Value; got != price {
			t.Errorf("in week %s propane costs %q, want %q", week, got, price)
		}
		// The string hangs at the week, in the ribbon and through the lines.
		off := get[float64](w, `(() => {
			const box = (e) => e.getBoundingClientRect()
			const ribbon = box(document.querySelector('.ribbon .string')), line = box(document.querySelector('section.lines .string')), tag = box(document.querySelector('.ribbon .tag'))
			return Math.max(Math.abs(ribbon.left - line.left), Math.abs(tag.left + tag.width / 2 - ribbon.left - ribbon.width / 2))
		})()`)
		if off > 1.5 { // of a pixel and a half
			t.Errorf("in week %s the string hangs %.1f pixels off", week, off)
		}
	}
	at("10", "8–14 Mar", "this week", "$2.35/gal")

	w.click(`[aria-label="Week after"]`)
	at("11", "15–21 Mar", "in 1 week", "$2.20/gal")
	w.click(`[aria-label="Week before"]`)
	w.click(`[aria-label="Week before"]`)
	at("09", "1–7 Mar", "1 week ago", "$2.35/gal")

	// The mouse on the ribbon: week 20 is the 41st of the season's 53 from week 33 of
	// 2026, a year of 53 weeks; those that are shown, the slider says.
	box := get[[]float64](w, `(() => { const e = document.getElementById('season'); e.scrollIntoView({ block: 'center', behavior: 'instant' }); const b = e.getBoundingClientRect(); return [b.left, b.top, b.width, b.height, +e.ariaValueMin, +e.ariaValueMax] })()`)
	w.do(chromedp.MouseClickXY(box[0]+box[2]*(40.5-box[4])/(box[5]-box[4]+1), box[1]+box[3]/2))
	at("20", "17–23 May", "in 10 weeks", "$2.20/gal")

	// The keys, on the slider and, when nothing else has them, anywhere.
	w.typeIn(kb.ArrowLeft)
	at("19", "10–16 May", "in 9 weeks", "$2.20/gal")
	w.typeIn(kb.Home)
	at("10", "8–14 Mar", "this week", "$2.35/gal")
	get[any](w, `document.activeElement.blur()`)
	w.typeIn(kb.ArrowRight + kb.ArrowRight)
	at("12", "22–28 Mar", "in 2 weeks", "$2.20/gal")

	// In a field the same keys move in the text, and the week stays.
	w.openLine("fuel_price")
	w.typeIn(kb.ArrowLeft + kb.ArrowLeft + kb.Escape)
	at("12", "22–28 Mar", "in 2 weeks", "$2.20/gal")

	// The numbers of all weeks stand under a line, for whom a picture does not serve.
	w.click(`[data-line=fuel_price] details.numbers summary`)
	rows := get[[]string](w, `[...document.querySelectorAll('[data-line=fuel_price] .numbers tbody tr')].map((r) => r.cells[0].innerText.slice(0, 3) + ' ' + r.cells[1].innerText)`)
	if len(rows) != 53 || rows[0] != "W33 $2.35/gal" || rows[52] != "W32 $2.20/gal" {
		t.Errorf("the numbers of all weeks: %q", rows)
	}
	if got := s.number(); got != 0 {
		t.Errorf("looking has changed the book: edit %d", got)
	}
}

// lastPick gives the last record of the picks as the page should show it: its day and
// its planting in words.
func lastPick(t *testing.T, book string) string {
	t.Helper()
	_, picks, _ := strings.Cut(book, "```records picks\n")
	picks, _, _ = strings.Cut(picks, "\n```")
	var cells []string
	for cell := range strings.SplitSeq(picks[strings.LastIndex(picks, "\n")+1:], "|") {
		cells = append(cells, strings.TrimSpace(cell))
	}
	day, err := time.Parse(time.DateOnly, cells[0])
	if err != nil {
		t.Fatal(err)
	}
	_, member, _ := strings.Cut(book, "\n"+cells[1]+" ")
	cells[0], cells[1] = day.Format("2 Jan 2006"), strings.TrimSpace(strings.Split(member, "|")[1])
	return strings.Join(cells, " | ")
}

// TestListsAndRecords: lists and records stand on their pages as they are written; a
// cell changed and a record added in one browser appear in the other, and move what
// is computed from them.
func TestListsAndRecords(t *testing.T) {
	t.Parallel()
	s := serveTernHollow(t, fewDraws)
	a, b := openWindow(t, "grower", s.url("season")), openWindow(t, "owner", s.url("season"))
	for list, wants := range map[string][]string{
		"house":    {"Long house", "Short house", "96", "2,880"},
		"crop":     {"Tomato", "Cucumber", "Pepper", "5.5"},
		"planting": {"Tomato, long house", "5 Oct 2026", "2 Nov 2026", "2,780"},
	} {
		shown := get[string](b, fmt.Sprintf(`document.querySelector('[data-list=%s]').innerText`, list))
		for _, want := range wants {
			if !strings.Contains(shown, want) {
				t.Errorf("the list %s does not show %q", list, want)
			}
		}
	}
	cell := `[data-test-floor]`
	for _, w := range []*window{a, b} { // the cell where the row Floor meets the column of the long house's tomatoes
		get[any](w, `(() => {
			const table = document.querySelector('[data-list=planting] table')
			const column = [...table.tHead.rows[0].cells].findIndex((c) => c.innerText.includes('long_tomato'))
			const row = [...table.tBodies[0].rows].find((r) => r.cells[0].innerText.startsWith('Floor'))
			row.cells[column].dataset.testFloor = ''
		})()`)
	}
	a.click(cell + " button")
	a.until(`document.activeElement.matches('textarea')`)
	a.typeIn("2600" + kb.Enter)
	b.painted(1)
	b.until(fmt.Sprintf(`%s(document.querySelector(%s)) === '2,600'`, shown, quoted(cell)))
	// 2780 and 2600 square feet of floor at 2.2 plants a square metre, which is 10.7639
	// square feet: 568 and 531 plants.
	if plants := get[string](b, `document.querySelector('[data-line=plants] .each div').innerText`); !strings.Contains(plants, "531") {
		t.Errorf("plants: %q", plants)
	}

	a.turnTo("Records")
	b.turnTo("Records")
	before := b.newest("picks")
	if want := lastPick(t, s.text()); before[0] != want {
		t.Fatalf("the newest of the picks reads %q, want %q", before[0], want)
	}
	pick := `document.querySelector('.rib-r').innerText`
	expected := get[string](b, pick)
	// The form has the focus from its first moment: a focus that comes later takes the
	// keys from the field that somebody types into by then.
	if first := get[string](a, `new Promise((done) => {
		const records = document.querySelector('[data-records=picks]')
		new MutationObserver(() => records.querySelector('form') && done(document.activeElement.name ?? '')).observe(records, { childList: true, subtree: true })
		records.querySelector('.table-head button').click()
	})`, chromedp.EvalAwaitPromise); first != "date" {
		t.Errorf("the form appears with the focus on %q, want its first field", first)
	}
	a.record("picks", "planting", "Pepper", "weight", "61.5", "seconds", "4")
	b.painted(2)
	if got, want := b.newest("picks")[0], "10 Mar 2027 | Pepper | 61.5 | 4"; got != want {
		t.Errorf("the record reads %q in the other browser, want %q", got, want)
	}
	if got := b.newest("picks")[1]; got != before[0] {
		t.Errorf("below it stands %q, want %q", got, before[0])
	}
	if got := get[string](b, pick); got == expected {
		t.Errorf("61.5 lb more were picked, and the harvest of the week stays at %s", got)
	}
	if got := get[string](b, `document.getElementById('voice').innerText`); !strings.Contains(got, "wrote down one of picks") {
		t.Errorf("readers of the screen are told %q", got)
	}

	// A record that cannot be read is kept as typed, and marked in both.
	a.record("picks", "weight", "ten")
	for _, w := range []*window{a, b} {
		w.painted(3)
		if got := get[string](w, `document.querySelector('[data-records=picks] .wave').textContent`); got != "ten" {
			t.Errorf("%s: the place marked is %q", w.name, got)
		}
	}
	a.click("#undo")
	b.painted(4)
	b.until(`!document.querySelector('.wave')`)
	s.counts("61.5")
}
