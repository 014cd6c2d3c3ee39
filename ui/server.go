package ui

import (
	"crypto/rand"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"

	"github.com/gorilla/websocket"

	"wintertruss/engine"
)

// web holds the page: plain files, no build step.
//
//go:embed all:web
var web embed.FS

// Server serves one book. It is an http.Handler.
type Server struct {
	hub   *hub
	mux   *http.ServeMux
	hosts map[string]bool // names under which it may be asked
}

// Options of a server.
type Options struct {
	File string // shown to the person: where the book is saved
	Log  *slog.Logger
}

// New makes the server of a book, to be asked under the given address (host:port
// of the listener). Close ends it.
func New(live *engine.Live, addr string, o Options) (*Server, error) {
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	_, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, fmt.Errorf("the server's address: %w", err)
	}
	var boot [8]byte
	if _, err := rand.Read(boot[:]); err != nil {
		return nil, err
	}
	files, err := newFiles()
	if err != nil {
		return nil, err
	}
	s := &Server{hub: newHub(live, o.File, hex.EncodeToString(boot[:]), o.Log), mux: http.NewServeMux(), hosts: map[string]bool{}}
	for _, name := range []string{"127.0.0.1", "localhost", "[::1]"} {
		s.hosts[name+":"+port] = true
	}
	s.mux.Handle("GET /", files)
	s.mux.HandleFunc("GET /socket", s.socket)
	s.mux.HandleFunc("GET /cards.json", cards)
	return s, nil
}

// policy lets the page load only what this server sends.
const policy = "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// ServeHTTP refuses whoever asks under another name than this computer's own, so
// that no foreign name can be pointed at the book.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if !s.hosts[strings.ToLower(r.Host)] {
		http.Error(w, "this book is served to this computer only", http.StatusForbidden)
		return
	}
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-cache")
	s.mux.ServeHTTP(w, r)
}

// socket takes a page's websocket. Origin must be this server itself: another
// site's page in the same browser is refused, and so is a program that sends none.
func (s *Server) socket(w http.ResponseWriter, r *http.Request) {
	up := websocket.Upgrader{CheckOrigin: s.ownOrigin, EnableCompression: false}
	conn, err := up.Upgrade(w, r, nil)
	if err != nil {
		return // answered by the upgrader
	}
	s.hub.serve(conn)
}

func (s *Server) ownOrigin(r *http.Request) bool {
	u, err := url.Parse(r.Header.Get("Origin"))
	return err == nil && u.Scheme == "http" && s.hosts[strings.ToLower(u.Host)]
}

// cards sends the cards of all functions, by name.
func cards(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "application/json")
	if err := json.NewEncoder(w).Encode(engine.Cards()); err != nil {
		return // the page is gone
	}
}

// Close drops all pages and ends what runs.
func (s *Server) Close() { s.hub.close() }
