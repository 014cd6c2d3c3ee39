package ui

import (
	"context"
	"net"
	"net/http"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"wintertruss/engine"
	"wintertruss/engine/store"
	"wintertruss/engine/week"
	"wintertruss/sheets"
)

// stand is a server of the book Tern Hollow, with wires that a test can cut. A window
// that asks for it under the name localhost hangs on a wire of its own; all others
// ask under 127.0.0.1.
type stand struct {
	t      testing.TB
	server *Server
	kept   *store.Memory
	port   string

	mu   sync.Mutex
	cut  bool            // localhost gets no answer; guarded by mu
	deaf bool            // localhost is heard, but hears nothing; guarded by mu
	open map[*cable]bool // of localhost; guarded by mu
}

// cable is a connection that may lose what is sent into it.
type cable struct {
	net.Conn
	deaf atomic.Bool
}

func (c *cable) Write(b []byte) (int, error) {
	if c.deaf.Load() {
		return len(b), nil
	}
	return c.Conn.Write(b)
}

type cables struct{ net.Listener }

func (l cables) Accept() (net.Conn, error) {
	c, err := l.Listener.Accept()
	if err != nil {
		return nil, err
	}
	return &cable{Conn: c}, nil
}

type cableKey struct{}

// The book's own number of draws takes long under the race detector. A few are enough
// to have bands to look at, and some for an answer to have earned its word.
const (
	fewDraws  = 64
	someDraws = 256
)

// serveTernHollow starts a server of the book, kept in memory; with draws 0 it has as
// many as the book says.
func serveTernHollow(t testing.TB, draws int) *stand {
	t.Helper()
	file, text, ok := sheets.Book("tern_hollow")
	if !ok {
		t.Fatal("the book Tern Hollow is not there")
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	kept := store.NewMemory(text)
	live, err := engine.OpenLive(file, kept, engine.Options{Today: week.Day(20500), Workers: 1, Draws: draws})
	if err != nil {
		t.Fatal(err)
	}
	server, err := New(live, l.Addr().String(), Options{File: file})
	if err != nil {
		t.Fatal(err)
	}
	_, port, _ := net.SplitHostPort(l.Addr().String())
	s := &stand{t: t, server: server, kept: kept, port: port, open: map[*cable]bool{}}
	h := &http.Server{Handler: s, ConnContext: func(ctx context.Context, c net.Conn) context.Context { return context.WithValue(ctx, cableKey{}, c) }}
	var serving sync.WaitGroup
	serving.Go(func() { _ = h.Serve(cables{l}) })
	t.Cleanup(func() {
		_ = h.Close()
		server.Close()
		serving.Wait()
	})
	return s
}

// url gives the address of a page of the book, by its word in the address; localhost
// the same under the other name.
func (s *stand) url(page string) string       { return "http://127.0.0.1:" + s.port + "/#/" + page }
func (s *stand) localhost(page string) string { return "http://localhost:" + s.port + "/#/" + page }

func (s *stand) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if strings.HasPrefix(r.Host, "localhost") {
		c := r.Context().Value(cableKey{}).(*cable)
		s.mu.Lock()
		s.open[c] = true
		cut := s.cut
		c.deaf.Store(s.deaf)
		s.mu.Unlock()
		if cut {
			panic(http.ErrAbortHandler) // ends the connection without an answer
		}
	}
	s.server.ServeHTTP(w, r)
}

// cutLocalhost ends the connections of localhost and lets no new ones through;
// mend does.
func (s *stand) cutLocalhost() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.cut = true
	s.endConnections()
}

// deafen lets localhost speak and not hear: what it asks is done, and it does not
// come to know.
func (s *stand) deafen() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.deaf = true
	for c := range s.open {
		c.deaf.Store(true)
	}
}

// mend gives localhost its wire back: connections that can hear.
func (s *stand) mend() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.cut, s.deaf = false, false
	s.endConnections()
}

func (s *stand) endConnections() {
	for c := range s.open {
		_ = c.Close()
		delete(s.open, c)
	}
}

// text gives the book as it is kept.
func (s *stand) text() string {
	s.t.Helper()
	text, _, err := s.kept.Load()
	if err != nil {
		s.t.Fatal(err)
	}
	return string(text)
}

// number gives the number of the last edit that is kept.
func (s *stand) number() int {
	s.t.Helper()
	_, number, err := s.kept.Load()
	if err != nil {
		s.t.Fatal(err)
	}
	return int(number)
}
