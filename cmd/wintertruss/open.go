package main

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"

	"wintertruss/engine"
	"wintertruss/engine/store"
	"wintertruss/sheets"
	"wintertruss/ui"
)

// The port that is tried first; another is taken when it is not free.
const usualPort = 4177

// serve opens a book to browsers on this computer, until it is interrupted.
func (c *command) serve(words []string) int {
	if len(words) > 1 {
		return c.wrong(&engine.OptionError{Message: "open takes one book", Hint: "wintertruss open BOOK"})
	}
	file, err := c.file(strings.Join(words, ""))
	if err != nil {
		return c.wrong(err)
	}
	st, err := store.OpenFile(file)
	if err != nil {
		return c.wrong(fmt.Errorf("the book cannot be opened: %w", err))
	}
	defer st.Close()
	o := c.opts
	o.Workers = max(1, runtime.GOMAXPROCS(0)-1) // one processor stays free for the next edit
	live, err := engine.OpenLive(filepath.Base(file), st, o)
	if err != nil {
		return c.wrong(err)
	}
	listener, err := listen(c.port)
	if err != nil {
		return c.wrong(err)
	}
	s, err := ui.New(live, listener.Addr().String(), ui.Options{File: file, Log: slog.New(slog.NewTextHandler(c.err, nil))})
	if err != nil {
		return c.wrong(err)
	}
	defer s.Close()
	server := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second}
	ended, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	fmt.Fprintf(c.out, "Wintertruss shows %s at http://%s/\nsaved in %s; to end it, press Ctrl and C\n", title(mustDesk(live)), listener.Addr(), file)
	select {
	case <-ended.Done():
	case err := <-failed:
		if !errors.Is(err, http.ErrServerClosed) {
			return c.wrong(err)
		}
	}
	_ = server.Close()
	return exitDone
}

func mustDesk(l *engine.Live) *engine.Desk {
	d, _ := l.Now()
	return d
}

// listen takes the port asked for; without one the usual, or any that is free.
// Only this computer can reach it.
func listen(port int) (net.Listener, error) {
	if port != 0 {
		return net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(port))
	}
	l, err := net.Listen("tcp", "127.0.0.1:"+strconv.Itoa(usualPort))
	if err != nil {
		l, err = net.Listen("tcp", "127.0.0.1:0")
	}
	return l, err
}

// file gives the file of a book. A starter book is copied to a place of the
// person's own at first, and found there from then on.
func (c *command) file(book string) (string, error) {
	if book == "" {
		book = sheets.Starter
	}
	if _, err := os.Stat(book); err == nil {
		return filepath.Abs(book)
	}
	name, text, ok := sheets.Book(book)
	if !ok {
		_, err := os.Open(book)
		return "", fmt.Errorf("the book cannot be read: %w", err)
	}
	home, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("there is no place to keep the starter book: %w", err)
	}
	file := filepath.Join(home, "wintertruss", name)
	if _, err := os.Stat(file); err == nil {
		return file, nil
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return "", err
	}
	return file, os.WriteFile(file, text, 0o644)
}
