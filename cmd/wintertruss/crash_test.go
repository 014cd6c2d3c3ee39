package main

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/gorilla/websocket"

	"wintertruss/engine/book"
	"wintertruss/ui"
)

const crashedBook = "# Picks\n\n```settings\nseason : 2026-W33 .. 2027-W32\ncurrency : USD\nas_of : 2027-03-10\ndraws : 64\n```\n" +
	"```records picks\ndate       | weight lb\n2027-03-01 | 1\n```\n```lines\nall = total(week_sum(picks.weight)) -> lb\n```\n"

// served is the program serving a book, as a person runs it.
type served struct {
	cmd  *exec.Cmd
	conn *websocket.Conn
}

// start runs the program and opens a page on it.
func start(t *testing.T, program, file string) *served {
	t.Helper()
	s := &served{cmd: exec.Command(program, "open", file)}
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	s.cmd.Stderr = os.Stderr
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.cmd.Process.Kill() }) // when the test ends before it does
	line, err := bufio.NewReader(out).ReadString('\n')
	addr := regexp.MustCompile(`http://([^/]+)/`).FindStringSubmatch(line)
	if err != nil || addr == nil {
		t.Fatalf("the program says %q: %v", line, err)
	}
	s.conn, _, err = websocket.DefaultDialer.Dial("ws://"+addr[1]+"/socket", http.Header{"Origin": {"http://" + addr[1]}})
	if err != nil {
		t.Fatal(err)
	}
	s.say(t, ui.FromPage{Type: "hello", Page: "grower"})
	return s
}

func (s *served) say(t *testing.T, m ui.FromPage) {
	t.Helper()
	if err := s.conn.WriteJSON(m); err != nil {
		t.Fatal(err)
	}
}

// acked waits for the acknowledgement of an edit; false when the program has died.
func (s *served) acked(t *testing.T, id string) bool {
	t.Helper()
	_ = s.conn.SetReadDeadline(time.Now().Add(20 * time.Second))
	for {
		var m ui.ToPage
		if s.conn.ReadJSON(&m) != nil {
			return false
		}
		if m.Type == "refused" {
			t.Fatalf("edit %s: %s", id, m.Fault.Message)
		}
		if m.Type == "ack" && m.ID == id {
			return true
		}
	}
}

// kill ends the program as a loss of power would end it, as far as a program can.
func (s *served) kill() {
	_ = s.cmd.Process.Kill() // signal 9: nothing of the program runs any more
	_ = s.cmd.Wait()
	s.conn.Close()
}

// TestKilled kills the serving program at any moment between an edit and its
// acknowledgement, fifty times. Every acknowledged edit is in the book, once; the
// one that was under way is there or not, and once when it is sent again.
func TestKilled(t *testing.T) {
	dir := t.TempDir()
	program := filepath.Join(dir, "wintertruss")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	file := filepath.Join(dir, "picks.md")
	if err := os.WriteFile(file, []byte(crashedBook), 0o644); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 9))
	next, underWay, between, kept := 100, "", 0, 0
	var done []string
	record := func(weight string) ui.FromPage {
		return ui.FromPage{Type: "edit", ID: "edit " + weight, Page: "grower",
			Edit: book.Edit{Kind: book.AddRecord, Name: "picks", Cells: map[string]string{"date": "2027-03-02", "weight": weight}}}
	}
	for round := range 50 {
		s := start(t, program, file)
		if underWay != "" {
			s.say(t, record(underWay))
			if !s.acked(t, "edit "+underWay) {
				t.Fatalf("round %d: the program died by itself", round)
			}
			done, underWay = append(done, underWay), ""
		}
		dies := time.AfterFunc(time.Duration(1+r.IntN(40))*time.Millisecond, func() { _ = s.cmd.Process.Kill() })
		for {
			weight := fmt.Sprint(next)
			next++
			if s.conn.WriteJSON(record(weight)) != nil {
				break // it died before: this edit was never made
			}
			underWay = weight
			if !s.acked(t, "edit "+weight) {
				between++
				break
			}
			done, underWay = append(done, weight), ""
		}
		dies.Stop()
		s.kill()
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, weight := range done {
			if n := strings.Count(string(text), "| "+weight+"\n"); n != 1 {
				t.Fatalf("round %d: the pick of %s lb stands %d times in the book", round, weight, n)
			}
		}
		if underWay != "" {
			n := strings.Count(string(text), "| "+underWay+"\n")
			if n > 1 {
				t.Fatalf("round %d: the edit under way stands %d times", round, n)
			}
			kept += n
		}
	}
	t.Logf("%d edits acknowledged; killed between an edit and its acknowledgement %d times of 50, %d of them with the edit already in the book", len(done), between, kept)
	if between < 25 || len(done) < 50 || kept == 0 {
		t.Errorf("too few kills fell between an edit and its acknowledgement (%d), or between the book and the acknowledgement (%d), or too few edits were done (%d)", between, kept, len(done))
	}
}
