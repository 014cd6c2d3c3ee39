package ui

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"sync"
	"time"

	"github.com/gorilla/websocket"

	"wintertruss/engine"
	"wintertruss/engine/syntax"
)

const (
	queueLength  = 64               // messages a viewer may be behind before it is dropped
	writeTimeout = 10 * time.Second // a viewer that takes longer for one message is dropped
	pingEvery    = 25 * time.Second
	pongWithin   = 60 * time.Second
	rememberMost = 512 // changes kept for viewers that come back
	lookEvery    = time.Second
	// Draws keep a processor busy. They begin when the browsers of this computer have
	// had time to paint what they were sent.
	letPaint  = 100 * time.Millisecond
	mostAsked = 20 // lines that a try looks at
)

// hub owns all viewers of one book.
type hub struct {
	live *engine.Live
	file string
	boot string // this run of the server
	log  *slog.Logger

	mu      sync.Mutex // guards all below
	viewers map[*viewer]bool
	changes []*ToPage // the last changes, in order
	bands   *ToPage   // what the draws of the newest number said; nil while they run
	said    *ToPage   // what the last draws that were done said
	stop    context.CancelFunc
	stopped chan struct{} // closed when the draws let go of the desk; nil when they were halted
	drawing sync.WaitGroup
	lost    bool // the pages know that the file cannot be read
	closed  bool
	end     chan struct{} // closed by close
}

// viewer is one open page.
type viewer struct {
	hub  *hub
	conn *websocket.Conn
	out  chan []byte
	page string
	gone chan struct{}
	once sync.Once
	// looks is what it looks at beside the plan; guarded by the hub's mu.
	looks looks
	bands *ToPage // what it was told last of draws, nil: nothing; guarded likewise
}

func newHub(live *engine.Live, file, boot string, log *slog.Logger) *hub {
	h := &hub{live: live, file: file, boot: boot, log: log, viewers: map[*viewer]bool{}, stop: func() {}, end: make(chan struct{})}
	h.mu.Lock()
	h.draw()
	h.mu.Unlock()
	h.drawing.Go(h.watch)
	return h
}

// watch looks now and then whether another program changed the file.
func (h *hub) watch() {
	look := time.NewTicker(lookEvery)
	defer look.Stop()
	for {
		select {
		case <-h.end:
			return
		case <-look.C:
			if changed, err := h.live.Changed(); err == nil && changed {
				h.mu.Lock()
				if !h.closed {
					h.elsewhere()
				}
				h.mu.Unlock()
			}
		}
	}
}

// serve runs one viewer until its connection ends.
func (h *hub) serve(conn *websocket.Conn) {
	v := &viewer{hub: h, conn: conn, out: make(chan []byte, queueLength), gone: make(chan struct{})}
	conn.SetReadLimit(mostMessage)
	_ = conn.SetReadDeadline(time.Now().Add(pongWithin))
	conn.SetPongHandler(func(string) error { return conn.SetReadDeadline(time.Now().Add(pongWithin)) })
	var writer sync.WaitGroup
	writer.Go(v.write)
	defer writer.Wait()
	defer h.leave(v)
	for {
		var m FromPage
		if err := conn.ReadJSON(&m); err != nil {
			return
		}
		h.take(v, &m)
	}
}

// write sends what is queued, and a ping now and then, until the viewer is gone.
func (v *viewer) write() {
	ping := time.NewTicker(pingEvery)
	defer ping.Stop()
	defer v.conn.Close()
	for {
		var err error
		select {
		case <-v.gone:
			return
		case m := <-v.out:
			_ = v.conn.SetWriteDeadline(time.Now().Add(writeTimeout))
			err = v.conn.WriteMessage(websocket.TextMessage, m)
		case <-ping.C:
			err = v.conn.WriteControl(websocket.PingMessage, nil, time.Now().Add(writeTimeout))
		}
		if err != nil {
			return
		}
	}
}

// send queues a message; a viewer whose queue is full is dropped. The hub is locked.
func (v *viewer) send(m []byte) {
	select {
	case v.out <- m:
	default:
		v.hub.log.Info("a page was dropped: it cannot keep up", "page", v.page)
		v.drop()
	}
}

// drop ends the viewer. The hub is locked.
func (v *viewer) drop() {
	delete(v.hub.viewers, v)
	if v.looks.stop != nil {
		v.looks.stop()
	}
	v.once.Do(func() { close(v.gone) })
	v.conn.Close()
}

func (h *hub) leave(v *viewer) {
	h.mu.Lock()
	defer h.mu.Unlock()
	v.drop()
	if !h.closed {
		h.tellHere()
	}
}

// tellHere says how many pages have the book open. The hub is locked.
func (h *hub) tellHere() { h.broadcast(&ToPage{Type: "here", Here: len(h.viewers)}) }

// take does what a page asks.
func (h *hub) take(v *viewer, m *FromPage) {
	switch m.Type {
	case "hello":
		h.hello(v, m)
	case "edit", "undo":
		h.edit(v, m)
	case "try":
		h.try(v, m)
	case "why":
		h.why(v, m)
	case "look":
		h.look(v, m)
	default:
		h.mu.Lock()
		defer h.mu.Unlock()
		h.answer(v, &ToPage{Type: "refused", ID: m.ID, Fault: &Fault{Message: "the server does not know the message " + m.Type, Hint: "load the page again"}})
	}
}

// hello brings a viewer up to now: by the changes it missed, or by the whole book.
func (h *hub) hello(v *viewer, m *FromPage) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		v.drop()
		return
	}
	v.page = m.Page
	d, number := h.live.Now()
	if !h.resume(v, m, number) {
		h.halt() // draws fill in what a snapshot reads
		h.answer(v, h.snapshot(d, number, v.page))
		h.drawOn()
	}
	h.viewers[v] = true
	h.tellHere()
	if h.bands != nil && h.bands.Number == number {
		h.answer(v, h.bands)
		v.bands = h.bands
	}
}

// resume sends the changes after the one that the viewer has; false when they are
// not all there.
func (h *hub) resume(v *viewer, m *FromPage, number uint64) bool {
	if m.Boot != h.boot || m.From == 0 && number != 0 || m.From > number {
		return false
	}
	missed := number - m.From
	if missed > uint64(len(h.changes)) {
		return false
	}
	tail := h.changes[uint64(len(h.changes))-missed:]
	for i, c := range tail {
		if c.Number != m.From+uint64(i)+1 {
			return false // a reload came between
		}
	}
	h.answer(v, &ToPage{Type: "resumed", Version: WireVersion, Boot: h.boot, Number: m.From, Undo: h.live.NextUndo(v.page)})
	for _, c := range tail {
		h.answer(v, c)
	}
	return true
}

func (h *hub) snapshot(d *engine.Desk, number uint64, page string) *ToPage {
	m := &ToPage{Type: "snapshot", Version: WireVersion, Boot: h.boot, Number: number, Book: bookView(d, h.file), Values: map[string]*Value{}, Undo: h.live.NextUndo(page)}
	for _, name := range d.Names() {
		m.Values[name] = valueView(d.Plain(name), h.live.Good(name))
	}
	m.Answers, m.Units = h.plainAnswers(d), unitsOf(d, m.Values)
	return m
}

// plainAnswers gives the answers without what draws say: those come with the bands.
func (h *hub) plainAnswers(d *engine.Desk) []Answer {
	return answersView(d, d.PlainAnswers(), h.live.Good)
}

// answer sends one message to one viewer. The hub is locked.
func (h *hub) answer(v *viewer, m *ToPage) {
	b, err := json.Marshal(m)
	if err != nil {
		h.log.Error("a message could not be written", "type", m.Type, "error", err)
		v.drop()
		return
	}
	v.send(b)
}

// edit does an edit or an undo, tells everyone, and then acknowledges it.
func (h *hub) edit(v *viewer, m *FromPage) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.closed {
		return
	}
	h.halt()
	var c *engine.Change
	var fault *syntax.Error
	if m.Type == "undo" {
		c, fault = h.live.Undo(m.ID, v.page)
	} else {
		c, fault = h.live.Apply(m.Edit, m.ID, v.page)
	}
	if fault != nil {
		h.answer(v, &ToPage{Type: "refused", ID: m.ID, Fault: faultView(fault)})
		if changed, err := h.live.Changed(); err == nil && changed {
			h.elsewhere()
		}
		h.drawOn()
		return
	}
	if c.Again {
		h.drawOn()
	} else {
		h.tell(changeMessage(c, h.live, h.file))
		h.draw()
	}
	h.answer(v, &ToPage{Type: "ack", ID: m.ID, Number: c.Number, Undo: c.Undo})
}

// try says what an edit would give, without doing it. The book is opened beside
// the one that is served, so nobody waits for it.
func (h *hub) try(v *viewer, m *FromPage) {
	d, number := h.live.Now()
	out := &ToPage{Type: "would", ID: m.ID, Number: number}
	if would, fault := d.Would(m.Edit); fault != nil {
		out.Fault = faultView(fault)
	} else {
		out.Values = map[string]*Value{}
		for _, name := range m.Ask[:min(len(m.Ask), mostAsked)] {
			if w := valueView(would.Plain(name), nil); w != nil {
				out.Values[name] = w
			}
		}
		out.Answers, out.Units = answersView(would, would.PlainAnswers(), h.live.Good), unitsOf(would, out.Values)
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.answer(v, out)
}

// tell sends a change to every viewer and remembers it. The hub is locked.
func (h *hub) tell(m *ToPage) {
	h.changes = append(h.changes, m)
	if len(h.changes) > rememberMost {
		h.changes = append([]*ToPage(nil), h.changes[len(h.changes)-rememberMost:]...)
	}
	h.broadcast(m)
}

func (h *hub) broadcast(m *ToPage) {
	b, err := json.Marshal(m)
	if err != nil {
		h.log.Error("a message could not be written", "type", m.Type, "error", err)
		return
	}
	for v := range h.viewers {
		v.send(b)
	}
}

// draw starts the draws of the book as it stands; those of an older number are
// cancelled. The hub is locked.
func (h *hub) draw() {
	h.halt()
	h.lookAgain()
	h.bands = nil
	ctx, cancel := context.WithCancel(context.Background())
	h.stop, h.stopped = cancel, make(chan struct{})
	stopped := h.stopped
	d, number := h.live.Now()
	h.drawing.Go(func() {
		defer cancel()
		select {
		case <-ctx.Done():
		case <-time.After(letPaint):
		}
		m, err := h.bandsMessage(ctx, d, number)
		close(stopped)
		if err != nil {
			if !errors.Is(err, context.Canceled) {
				h.log.Error("the draws failed", "error", err)
			}
			return
		}
		h.mu.Lock()
		defer h.mu.Unlock()
		if ctx.Err() == nil && !h.closed {
			h.tellBands(m)
		}
	})
}

// drawOn starts draws that were halted before they were done. The hub is locked.
func (h *hub) drawOn() {
	if h.bands == nil && h.stopped == nil {
		h.draw()
	}
}

// halt ends the draws that run and waits until they let go of the desk, which the
// next edit may change. The hub is locked; the draws do not need it for that.
func (h *hub) halt() {
	h.stop()
	if h.stopped != nil {
		<-h.stopped
		h.stopped = nil
	}
}

// tellBands says what draws said: to a page that knows what those before said, what is
// otherwise by now. Draws are the same before and after an edit but for what the edit
// moves, so that is little; all of it, sent to fifty pages, kept the processor from the
// next edit for a tenth of a second. The hub is locked.
func (h *hub) tellBands(m *ToPage) {
	all, errAll := json.Marshal(m)
	news, errNews := json.Marshal(m.since(h.said, h.changes))
	if err := errors.Join(errAll, errNews); err != nil {
		h.log.Error("a message could not be written", "type", m.Type, "error", err)
		return
	}
	for v := range h.viewers {
		if h.said != nil && v.bands == h.said {
			v.send(news)
		} else {
			v.send(all)
		}
		v.bands = m
	}
	h.bands, h.said = m, m
}

// bandsMessage runs the draws of a desk and says what they say.
func (h *hub) bandsMessage(ctx context.Context, d *engine.Desk, number uint64) (*ToPage, error) {
	values, answers, err := d.Bands(ctx, d.Names())
	if err != nil {
		return nil, err
	}
	m := &ToPage{Type: "bands", Number: number, Values: map[string]*Value{}, Answers: answersView(d, answers, h.live.Good), Draws: d.Draws()}
	for name, v := range values {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if w := valueView(v, nil); w != nil && !v.Broken && (w.Low != nil || w.Odds != nil || d.HangsOnDraws(name)) {
			if !d.HangsOnDraws(name) { // every page has those
				w.Cells, w.Season = nil, nil
			}
			m.Values[name] = w
		}
	}
	m.Cautions = cautionsView(d)
	return m, nil
}

// elsewhere takes in the file as another program left it, and tells everyone. The
// hub is locked.
func (h *hub) elsewhere() {
	d, number, err := h.live.Reload()
	if err != nil {
		if h.lost {
			return // said already
		}
		h.lost = true
		h.broadcast(&ToPage{Type: "elsewhere", Fault: &Fault{Message: "the file was changed by another program and cannot be read: " + err.Error(), Hint: "nothing of yours was written over it"}})
		return
	}
	h.changes, h.lost = nil, false
	h.broadcast(&ToPage{Type: "elsewhere", Number: number, Fault: &Fault{Message: "the file was changed by another program; this is the book as it stands there", Hint: "what you had just typed was not kept: look at it and type it again"}})
	for v := range h.viewers {
		h.answer(v, h.snapshot(d, number, v.page))
		v.bands = nil
	}
	h.draw()
}

// close drops everyone and waits for what runs.
func (h *hub) close() {
	h.mu.Lock()
	h.closed = true
	close(h.end)
	h.stop()
	for v := range h.viewers {
		v.drop()
	}
	h.mu.Unlock()
	h.drawing.Wait()
}
