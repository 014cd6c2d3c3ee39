package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"wintertruss/engine/store"
)

// TestSnapshotWhileDrawing: pages that come while draws run are given the book as it
// stands, and what the draws say when they are done. Under the race detector it
// also shows that draws do not fill in figures while they are read.
func TestSnapshotWhileDrawing(t *testing.T) {
	text := strings.Replace(strings.Replace(smallBook, "draws : 256", "draws : 4096", 1), "other : 3 kg\n", "other : 3 kg\ngood = odds(kilos > other * 33) -> %\n", 1)
	for i := range 10 {
		_, addr := serve(t, text)
		for j := range 3 {
			p := dial(t, addr, fmt.Sprintf("%d-%d", i, j))
			p.say(FromPage{Type: "hello"})
			if s := p.hear("snapshot", nil); s.Values["income"].Cells[0] != 400.0 || s.Values["income"].Low != nil {
				t.Fatalf("income %+v", s.Values["income"])
			}
			if j == 2 {
				if b := p.hear("bands", nil); b.Values["income"].Low == nil || b.Values["good"] == nil {
					t.Fatalf("bands %+v", b.Values)
				}
			}
		}
	}
}

// TestFileGone: while the file is gone an edit is refused and everyone is told, and
// the draws of the book as it was still come.
func TestFileGone(t *testing.T) {
	path := filepath.Join(t.TempDir(), "small.md")
	if err := os.WriteFile(path, []byte(strings.Replace(smallBook, "draws : 256", "draws : 65536", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	st, err := store.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, addr := serveStore(t, st)
	p := dial(t, addr, "p")
	p.say(FromPage{Type: "hello"})
	p.hear("snapshot", nil)
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	p.say(FromPage{Type: "edit", ID: "1", Edit: setLine("other : 4 kg")})
	told := false
	b := p.hear("bands", func(m *ToPage) { told = told || m.Type == "elsewhere" && m.Fault != nil })
	if b.Values["income"].Low == nil || b.Draws != 65536 {
		t.Errorf("bands %+v", b)
	}
	if !told {
		p.hear("elsewhere", nil)
	}
}
