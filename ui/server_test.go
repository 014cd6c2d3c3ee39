package ui

import (
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"wintertruss/engine"
	"wintertruss/engine/book"
	"wintertruss/engine/store"
	"wintertruss/engine/week"
)

const smallBook = "# Small\n\nA book.\n\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\ndraws : 256\n```\n" +
	"```lines\nkilos : 100 kg (90..110) // Kilos\nprice : 4 USD/kg // Price\nincome = kilos * price -> USD // Income\nother : 3 kg\n```\n" +
	"```answers\npays : income > 0\n```\n"

// serve starts a server on loopback.
func serve(t testing.TB, text string) (*Server, string) {
	t.Helper()
	return serveStore(t, store.NewMemory([]byte(text)))
}

func serveStore(t testing.TB, st store.Store) (*Server, string) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	live, err := engine.OpenLive("small.md", st, engine.Options{Today: week.Day(20500), Workers: 1})
	if err != nil {
		t.Fatal(err)
	}
	s, err := New(live, l.Addr().String(), Options{File: "small.md"})
	if err != nil {
		t.Fatal(err)
	}
	h := &http.Server{Handler: s}
	go h.Serve(l)
	t.Cleanup(func() { h.Close(); s.Close() })
	return s, l.Addr().String()
}

// browser is a page's side of the socket.
type browser struct {
	t    testing.TB
	conn *websocket.Conn
	name string
}

func dial(t testing.TB, addr, name string) *browser {
	t.Helper()
	conn, _, err := websocket.DefaultDialer.Dial("ws://"+addr+"/socket", http.Header{"Origin": {"http://" + addr}})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	return &browser{t, conn, name}
}

func (b *browser) say(m FromPage) {
	b.t.Helper()
	m.Page = b.name
	if err := b.conn.WriteJSON(m); err != nil {
		b.t.Fatal(err)
	}
}

// hear waits for a message of a type; others before it are given to each.
func (b *browser) hear(kind string, each func(*ToPage)) *ToPage {
	b.t.Helper()
	_ = b.conn.SetReadDeadline(time.Now().Add(20 * time.Second))
	for {
		var m ToPage
		if err := b.conn.ReadJSON(&m); err != nil {
			b.t.Fatalf("%s waits for %s: %v", b.name, kind, err)
		}
		if m.Type == kind {
			return &m
		}
		if each != nil {
			each(&m)
		}
	}
}

func setLine(text string) book.Edit {
	name, _, _ := strings.Cut(text, " ")
	return book.Edit{Kind: book.SetLine, Name: name, Text: book.Verbatim(text)}
}

// TestEditReachesEveryone: an edit in one browser moves, in all of them, what
// depends on it and nothing else.
func TestEditReachesEveryone(t *testing.T) {
	_, addr := serve(t, smallBook)
	a, b := dial(t, addr, "a"), dial(t, addr, "b")
	a.say(FromPage{Type: "hello"})
	b.say(FromPage{Type: "hello"})
	a.hear("snapshot", nil)
	s := b.hear("snapshot", nil)
	if got := s.Values["income"].Cells[0]; got != 400.0 {
		t.Fatalf("income %v", got)
	}
	if len(s.Book.Pages) != 1 || s.Book.Pages[0].Title != "Small" {
		t.Fatalf("pages %+v", s.Book.Pages)
	}
	a.say(FromPage{Type: "edit", ID: "a-1", Edit: setLine("price : 5 USD/kg // Price")})
	c := b.hear("change", nil)
	if c.Number != 1 || c.By != "a" || c.Values["income"].Cells[0] != 500.0 {
		t.Errorf("change %+v", c)
	}
	if _, there := c.Values["other"]; there || c.Recomputed != 1 {
		t.Errorf("the change brings %v and computed %d", c.Values, c.Recomputed)
	}
	if len(c.Rows) != 1 || c.Rows[0].Name != "price" || c.Book != nil {
		t.Errorf("rows %+v", c.Rows)
	}
	ack := a.hear("ack", nil)
	if ack.ID != "a-1" || ack.Number != 1 || ack.Undo != "changed price" {
		t.Errorf("ack %+v", ack)
	}
	bands := b.hear("bands", nil)
	for bands.Number != 1 {
		bands = b.hear("bands", nil)
	}
	if bands.Values["income"].Low == nil || len(bands.Answers) != 1 || bands.Answers[0].Verdict == "" {
		t.Errorf("bands %+v", bands)
	}

	// Undo is each page's own.
	b.say(FromPage{Type: "undo", ID: "b-1"})
	if r := b.hear("refused", nil); r.ID != "b-1" {
		t.Errorf("refused %+v", r)
	}
	a.say(FromPage{Type: "undo", ID: "a-2"})
	if c := b.hear("change", nil); c.Number != 2 || c.Values["income"].Cells[0] != 400.0 {
		t.Errorf("undo gives %+v", c)
	}
}

// TestWrongFormula keeps the last good values and marks them stale.
func TestWrongFormula(t *testing.T) {
	_, addr := serve(t, smallBook+"```lines\ntwice = income * 2 -> USD\n```\n")
	a := dial(t, addr, "a")
	a.say(FromPage{Type: "hello"})
	a.hear("snapshot", nil)
	a.say(FromPage{Type: "edit", ID: "1", Edit: setLine("income = kilos * prise -> USD // Income")})
	c := a.hear("change", nil)
	v := c.Values["income"]
	if !v.Stale || v.Cells[0] != 400.0 || v.Fault == nil || !strings.Contains(v.Fault.Message, "prise") || v.Fault.Hint != "did you mean price?" {
		t.Fatalf("income %+v", v)
	}
	if w := c.Values["twice"]; !w.Stale || w.Cells[0] != 800.0 || w.Fault.Waits != "income" {
		t.Errorf("twice %+v", w)
	}
	row := c.Rows[0]
	if got := row.Text[row.Fault.From:row.Fault.To]; got != "prise" {
		t.Errorf("the place is %q", got)
	}
	if c.Answers[0].Fault == nil {
		t.Error("the answer does not say that it waits")
	}
	a.say(FromPage{Type: "edit", ID: "2", Edit: setLine("income = kilos * price -> USD // Income")})
	if v := a.hear("change", nil).Values["income"]; v.Stale || v.Fault != nil {
		t.Errorf("mended: %+v", v)
	}
}

// TestResume: a page that comes back gets what it missed, once; an edit sent again
// is answered again and not done again; after another run of the server it gets
// the whole book.
func TestResume(t *testing.T) {
	_, addr := serve(t, smallBook)
	a, b := dial(t, addr, "a"), dial(t, addr, "b")
	a.say(FromPage{Type: "hello"})
	boot := a.hear("snapshot", nil).Boot
	b.say(FromPage{Type: "hello"})
	b.hear("snapshot", nil)
	a.say(FromPage{Type: "edit", ID: "a-1", Edit: setLine("price : 5 USD/kg")})
	a.hear("ack", nil)
	a.conn.Close()
	for i := range 3 {
		b.say(FromPage{Type: "edit", ID: fmt.Sprint("b-", i), Edit: setLine(fmt.Sprintf("kilos : %d kg", 101+i))})
		b.hear("ack", nil)
	}
	a = dial(t, addr, "a")
	a.say(FromPage{Type: "hello", From: 1, Boot: boot})
	r := a.hear("resumed", nil)
	if r.Number != 1 || r.Undo != "changed price" {
		t.Errorf("resumed %+v", r)
	}
	for want := uint64(2); want <= 4; want++ {
		if c := a.hear("change", nil); c.Number != want {
			t.Fatalf("change %d, want %d", c.Number, want)
		}
	}
	a.say(FromPage{Type: "edit", ID: "a-1", Edit: setLine("price : 5 USD/kg")})
	changes := 0
	if ack := a.hear("ack", func(m *ToPage) {
		if m.Type == "change" {
			changes++
		}
	}); ack.Number != 1 || changes != 0 {
		t.Errorf("an edit sent again: ack %+v, %d changes", ack, changes)
	}
	other := dial(t, addr, "a")
	other.say(FromPage{Type: "hello", From: 4, Boot: "another"})
	if s := other.hear("snapshot", nil); s.Number != 4 {
		t.Errorf("snapshot %d", s.Number)
	}
}

// TestStrangers: another host's name, another site's page, a program without an
// origin, and a message too long are all refused.
func TestStrangers(t *testing.T) {
	s, addr := serve(t, smallBook)
	for host, want := range map[string]int{addr: 200, "localhost" + addr[strings.Index(addr, ":"):]: 200, "evil.example": 403, "127.0.0.1": 403} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Host = host
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("host %s: %d, want %d", host, w.Code, want)
		}
		if want == 200 && !strings.Contains(w.Header().Get("Content-Security-Policy"), "default-src 'self'") {
			t.Errorf("no policy: %v", w.Header())
		}
	}
	for _, origin := range []string{"", "null", "http://evil.example", "https://" + addr, "http://127.0.0.1:1"} {
		h := http.Header{}
		if origin != "" {
			h.Set("Origin", origin)
		}
		if _, r, err := websocket.DefaultDialer.Dial("ws://"+addr+"/socket", h); err == nil || r == nil || r.StatusCode != 403 {
			t.Errorf("origin %q was taken", origin)
		}
	}
	b := dial(t, addr, "b")
	b.say(FromPage{Type: "hello"})
	b.hear("snapshot", nil)
	long, _ := json.Marshal(FromPage{Type: "edit", ID: "x", Edit: setLine("price : 5 USD/kg // " + strings.Repeat("x", mostMessage))})
	_ = b.conn.WriteMessage(websocket.TextMessage, long)
	_ = b.conn.SetReadDeadline(time.Now().Add(10 * time.Second))
	for {
		if _, _, err := b.conn.ReadMessage(); err != nil {
			break // the connection was ended
		}
	}
}

// TestSlowViewer: a page that does not read is dropped and does not hold up the others.
func TestSlowViewer(t *testing.T) {
	s, addr := serve(t, smallBook)
	slow, quick := dial(t, addr, "slow"), dial(t, addr, "quick")
	slow.say(FromPage{Type: "hello"})
	quick.say(FromPage{Type: "hello"})
	quick.hear("snapshot", nil)
	long := strings.Repeat("a long label ", 4000)
	for i := 0; ; i++ {
		quick.say(FromPage{Type: "edit", ID: fmt.Sprint(i), Edit: setLine(fmt.Sprintf("price : %d USD/kg // %s", 2+i%5, long))})
		quick.hear("ack", nil)
		s.hub.mu.Lock()
		n := len(s.hub.viewers)
		s.hub.mu.Unlock()
		if n == 1 {
			return
		}
		if i > 2000 {
			t.Fatal("the slow page was not dropped")
		}
	}
}

// TestTry: an edit that is tried changes nothing.
func TestTry(t *testing.T) {
	_, addr := serve(t, smallBook)
	a := dial(t, addr, "a")
	a.say(FromPage{Type: "hello"})
	a.hear("snapshot", nil)
	a.say(FromPage{Type: "try", ID: "t", Edit: setLine("price : 9 USD/kg"), Ask: []string{"income", "nothing"}})
	w := a.hear("would", nil)
	if w.ID != "t" || w.Values["income"].Cells[0] != 900.0 || len(w.Values) != 1 || len(w.Answers) != 1 {
		t.Errorf("would %+v", w)
	}
	a.say(FromPage{Type: "try", ID: "u", Edit: setLine("nobody : 9 USD/kg")})
	if w := a.hear("would", nil); w.Fault == nil {
		t.Errorf("would %+v", w)
	}
	b := dial(t, addr, "b")
	b.say(FromPage{Type: "hello"})
	if s := b.hear("snapshot", nil); s.Number != 0 || s.Values["income"].Cells[0] != 400.0 || s.Book.Pages[0].Blocks[2].Rows[2].Reads[0] != "kilos" {
		t.Errorf("after a try: %+v", s)
	}
}
