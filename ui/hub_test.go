package ui

import (
	"fmt"
	"strings"
	"testing"
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
