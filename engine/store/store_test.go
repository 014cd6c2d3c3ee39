package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// open writes a book and opens it.
func open(t *testing.T, text string) *File {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tern.md")
	if err := os.WriteFile(path, []byte(text), 0o640); err != nil {
		t.Fatal(err)
	}
	return reopen(t, path)
}

func reopen(t *testing.T, path string) *File {
	t.Helper()
	f, err := OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { must(t, f.Close()) })
	return f
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// holds checks what a store has.
func holds(t *testing.T, s Store, text string, number uint64) {
	t.Helper()
	got, n, err := s.Load()
	if err != nil || string(got) != text || n != number {
		t.Fatalf("the store has %.40q at %d (%v), want %.40q at %d", got, n, err, text, number)
	}
}

// each runs a test on every sort of store.
func each(t *testing.T, text string, run func(*testing.T, Store)) {
	t.Run("memory", func(t *testing.T) { run(t, NewMemory([]byte(text))) })
	t.Run("file", func(t *testing.T) { run(t, open(t, text)) })
}

func TestStore(t *testing.T) {
	each(t, "first", func(t *testing.T, s Store) {
		holds(t, s, "first", 0)
		begun := time.Now()
		must(t, s.Commit(0, []byte("second"), []byte("{\"who\": \"ann\",\n \"row\": \"a <b> \\u00e9\"}")))
		holds(t, s, "second", 1)
		must(t, s.Commit(1, nil, nil))
		holds(t, s, "", 2)

		var wrong *ErrNumber
		if err := s.Commit(1, []byte("third"), nil); !errors.As(err, &wrong) || *wrong != (ErrNumber{2, 1}) {
			t.Errorf("an edit upon an old number gives %v", err)
		}
		if err := s.Commit(2, []byte("third"), []byte("{who")); err == nil {
			t.Error("a record that is no JSON is taken")
		}
		holds(t, s, "", 2)
		must(t, s.Commit(2, []byte("third"), []byte("3")))

		entries, err := s.Since(0)
		if err != nil || len(entries) != 3 {
			t.Fatalf("%d entries (%v)", len(entries), err)
		}
		for i, e := range entries {
			if e.Number != uint64(i+1) || e.Outside || e.TakesBack != 0 || e.Time.Before(begun.Add(-time.Second)) || e.Time.After(time.Now()) {
				t.Errorf("entry %d is %+v", i, e)
			}
		}
		var record struct{ Who, Row string }
		if err := json.Unmarshal(entries[0].Record, &record); err != nil || record.Who != "ann" || record.Row != "a <b> é" {
			t.Errorf("the record came back as %s (%v)", entries[0].Record, err)
		}
		for from, want := range map[uint64]int{1: 2, 2: 1, 3: 0, 9: 0} {
			if entries, err := s.Since(from); err != nil || len(entries) != want || want > 0 && entries[0].Number != from+1 {
				t.Errorf("since %d: %d entries (%v)", from, len(entries), err)
			}
		}
		if changed, err := s.Changed(); changed || err != nil {
			t.Errorf("changed: %t (%v)", changed, err)
		}

		must(t, s.Close())
		must(t, s.Close())
		_, _, err = s.Load()
		_, changedErr := s.Changed()
		_, sinceErr := s.Since(0)
		for _, err := range []error{err, changedErr, sinceErr, s.Commit(3, nil, nil)} {
			if !errors.Is(err, errClosed) {
				t.Errorf("a closed store says %v", err)
			}
		}
	})
}

// What a caller does with its bytes afterwards is its own business.
func TestStoreKeepsItsOwn(t *testing.T) {
	each(t, "first", func(t *testing.T, s Store) {
		text, record := []byte("second"), []byte(`"b"`)
		must(t, s.Commit(0, text, record))
		text[0], record[1] = 'x', 'x'
		got, _, err := s.Load()
		must(t, err)
		got[0] = 'y'
		holds(t, s, "second", 1)
		if entries, err := s.Since(0); err != nil || string(entries[0].Record) != `"b"` {
			t.Errorf("the record is %s (%v)", entries[0].Record, err)
		}
	})
}

// Of many who commit upon the same number one comes through.
func TestStoreTogether(t *testing.T) {
	each(t, "0", func(t *testing.T, s Store) {
		var wait sync.WaitGroup
		for who := range 4 {
			wait.Go(func() {
				for range 5 {
					for {
						_, number, err := s.Load()
						if err == nil {
							err = s.Commit(number, fmt.Appendf(nil, "%d", number+1), fmt.Appendf(nil, "%d", who))
						}
						var wrong *ErrNumber
						if errors.As(err, &wrong) {
							continue
						}
						if err != nil {
							t.Error(err)
						}
						break
					}
				}
			})
		}
		wait.Wait()
		holds(t, s, "20", 20)
	})
}

func TestFileOutlives(t *testing.T) {
	f := open(t, "first")
	must(t, f.Commit(0, []byte("second"), []byte(`{"who":"ann"}`)))
	must(t, f.Commit(1, []byte("third"), []byte(`{"who":"ben"}`)))
	must(t, f.Close())
	g := reopen(t, f.path)
	holds(t, g, "third", 2)
	must(t, g.Commit(2, []byte("fourth"), nil))
	entries, err := g.Since(0)
	if err != nil || len(entries) != 3 || string(entries[1].Record) != `{"who":"ben"}` || entries[2].Hash != hash([]byte("fourth")) {
		t.Errorf("the log has %+v (%v)", entries, err)
	}
	var names []string
	found, err := os.ReadDir(filepath.Dir(f.path))
	for _, e := range found {
		names = append(names, e.Name())
	}
	if err != nil || !slices.Equal(names, []string{".tern.md.edits", "tern.md"}) {
		t.Errorf("in the folder stand %q (%v)", names, err)
	}
}

// What another program writes is never overwritten unseen, and gets its number.
func TestFileChangedOutside(t *testing.T) {
	f := open(t, "first")
	must(t, f.Commit(0, []byte("second"), nil))
	old := f.seen

	write := func(text string) { must(t, os.WriteFile(f.path, []byte(text), 0o640)) }
	changed := func(want bool) {
		t.Helper()
		if got, err := f.Changed(); got != want || err != nil {
			t.Errorf("changed: %t (%v), want %t", got, err, want)
		}
	}
	refused := func(gone bool) {
		t.Helper()
		var e *ErrChanged
		if err := f.Commit(f.log.last.Number, []byte("ours"), nil); !errors.As(err, &e) || e.Gone != gone || e.Path != f.path {
			t.Errorf("a commit over another's change gives %v", err)
		}
		if _, err := os.Stat(f.beside("new")); err == nil {
			t.Error("the refused text is left lying about")
		}
	}
	write("theirs")
	changed(true)
	refused(false)
	holds(t, f, "theirs", 2)
	changed(false)
	must(t, f.Commit(2, []byte("ours"), nil))
	entries, err := f.Since(0)
	if err != nil || len(entries) != 3 || !entries[1].Outside || entries[1].TakesBack != 0 || entries[1].Record != nil || entries[2].Outside {
		t.Errorf("the log has %+v (%v)", entries, err)
	}

	// Written again, with the same text: no change.
	write("ours")
	must(t, os.Chtimes(f.path, time.Time{}, time.Now().Add(time.Hour)))
	changed(false)
	must(t, f.Commit(3, []byte("fourth"), nil))

	// Of the same size and time: only Commit looks that closely.
	write("FOURTH")
	must(t, os.Chtimes(f.path, time.Time{}, f.seen.ModTime()))
	changed(false)
	refused(false)
	holds(t, f, "FOURTH", 5)

	// Back to the text before: the number goes on, and the log says so.
	must(t, f.Commit(5, []byte("sixth"), nil))
	write("FOURTH")
	holds(t, f, "FOURTH", 7)
	if entries, err := f.Since(6); err != nil || len(entries) != 1 || !entries[0].Outside || entries[0].TakesBack != 6 {
		t.Errorf("the log has %+v (%v)", entries, err)
	}

	// Gone, and put back.
	must(t, os.Rename(f.path, f.path+".away"))
	changed(true)
	refused(true)
	var e *ErrChanged
	if _, _, err := f.Load(); !errors.As(err, &e) || !e.Gone {
		t.Errorf("a book that is gone loads with %v", err)
	}
	must(t, os.Rename(f.path+".away", f.path))
	holds(t, f, "FOURTH", 7)

	// While the book was closed.
	must(t, f.Close())
	write("in between")
	holds(t, reopen(t, f.path), "in between", 8)
	if os.SameFile(old, f.seen) {
		t.Error("the text was written in place, not replaced")
	}
}

func TestFileLinksAndRights(t *testing.T) {
	f := open(t, "first")
	must(t, f.Close())
	must(t, os.Chmod(f.path, 0o604))
	folder := t.TempDir()
	link := filepath.Join(folder, "link.md")
	if err := os.Symlink(f.path, link); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	g := reopen(t, link)
	must(t, g.Commit(0, []byte("second"), nil))
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link was replaced: %v (%v)", info, err)
	}
	info, err := os.Stat(f.path)
	if text, _ := os.ReadFile(f.path); err != nil || string(text) != "second" || info.Mode().Perm() != 0o604 {
		t.Errorf("behind the link stands %q with %v (%v)", text, info.Mode(), err)
	}
	if names, _ := os.ReadDir(folder); len(names) != 1 {
		t.Errorf("beside the link stand %v", names)
	}

	// The same book under another name is the same book.
	var used *ErrInUse
	if _, err := OpenFile(f.path); !errors.As(err, &used) || !strings.Contains(err.Error(), "tern.md is open in another wintertruss") {
		t.Errorf("a book that is open opens with %v", err)
	}
	must(t, g.Close())
	reopen(t, f.path)
}

func TestFileRefusals(t *testing.T) {
	folder := t.TempDir()
	if _, err := OpenFile(filepath.Join(folder, "none.md")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	if _, err := OpenFile(folder); err == nil || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("a folder: %v", err)
	}
	path := filepath.Join(folder, "tern.md")
	must(t, os.WriteFile(path, []byte("first"), 0o444))
	var protected *ErrReadOnly
	if _, err := OpenFile(path); !errors.As(err, &protected) || protected.Folder || !strings.Contains(err.Error(), "marked as read-only") {
		t.Errorf("a protected file: %v", err)
	}
	must(t, os.Chmod(path, 0o644))
	must(t, os.WriteFile(filepath.Join(folder, ".tern.md.edits"), []byte("{\"number\":0}\nno entry\n"), 0o644))
	if _, err := OpenFile(path); err == nil || !strings.Contains(err.Error(), "damaged on line 2") {
		t.Errorf("a damaged log: %v", err)
	}
	must(t, os.WriteFile(filepath.Join(folder, ".tern.md.edits"), []byte("{\"number\":0}\n{\"number\":2}\n"), 0o644))
	if _, err := OpenFile(path); err == nil || !strings.Contains(err.Error(), "does not follow") {
		t.Errorf("a log with a gap: %v", err)
	}
	must(t, os.Remove(filepath.Join(folder, ".tern.md.edits")))
	reopen(t, path) // and no lock is left behind
}

// What a person reads says what happened and what to do.
func TestErrorsInWords(t *testing.T) {
	for _, c := range []struct {
		err  error
		says []string
	}{
		{&ErrNumber{Last: 7, Given: 5}, []string{"at edit 7", "made upon 5"}},
		{&ErrChanged{Path: "tern.md"}, []string{"tern.md has been changed by another program", "Nothing was overwritten"}},
		{&ErrChanged{Path: "tern.md", Gone: true}, []string{"tern.md is no longer there", "Put it back"}},
		{&ErrInUse{Path: "tern.md"}, []string{"tern.md is open in another wintertruss", "Close it there"}},
		{&ErrReadOnly{Path: "books", Folder: true}, []string{"nothing can be written in books", "Copy it"}},
		{&ErrReadOnly{Path: "tern.md"}, []string{"tern.md is marked as read-only", "Copy it"}},
	} {
		for _, want := range c.says {
			if !strings.Contains(c.err.Error(), want) {
				t.Errorf("%q does not say %q", c.err, want)
			}
		}
	}
}

// The states in which a program can die, one by one. Each is put together by hand
// from a book at 1 with the text "second", as the program would have left it.
func TestFileAfterDeath(t *testing.T) {
	third, err := entry(2, []byte("third"), []byte(`"lost"`))
	must(t, err)
	line, err := json.Marshal(third)
	must(t, err)
	for _, c := range []struct {
		why       string
		log, text string // what comes on top
		leftover  string
		want      string
		number    uint64
	}{
		{"in writing the new text", "", "", "thi", "second", 1},
		{"in writing the entry", string(line[:20]), "", "third", "second", 1},
		{"before the entry's last byte", string(line), "", "third", "second", 1},
		{"in writing the entry, with zeros that a power cut leaves", string(line[:20]) + "\x00\x00\x00", "", "third", "second", 1},
		{"before the new text took its place", string(line) + "\n", "", "third", "second", 3},
		{"after that", string(line) + "\n", "third", "", "third", 2},
	} {
		f := open(t, "first")
		must(t, f.Commit(0, []byte("second"), []byte(`"kept"`)))
		must(t, f.Close())
		log, err := os.ReadFile(f.beside("edits"))
		must(t, err)
		must(t, os.WriteFile(f.beside("edits"), append(log, c.log...), 0o640))
		if c.text != "" {
			must(t, os.WriteFile(f.path, []byte(c.text), 0o640))
		}
		if c.leftover != "" {
			must(t, os.WriteFile(f.beside("new"), []byte(c.leftover), 0o600))
		}
		for range 2 { // a second time it is as it was left
			g := reopen(t, f.path)
			holds(t, g, c.want, c.number)
			entries, err := g.Since(0)
			if err != nil || uint64(len(entries)) != c.number || string(entries[0].Record) != `"kept"` {
				t.Errorf("%s: the log has %+v (%v)", c.why, entries, err)
			}
			if c.number == 3 && (entries[2].TakesBack != 2 || !entries[2].Outside) {
				t.Errorf("%s: the log does not say that edit 2 was lost: %+v", c.why, entries[2])
			}
			if log, err := os.ReadFile(f.beside("edits")); err != nil || !bytes.HasSuffix(log, []byte("}\n")) {
				t.Errorf("%s: the log ends with %q (%v)", c.why, log[len(log)-10:], err)
			}
			if _, err := os.Stat(g.beside("new")); err == nil {
				t.Errorf("%s: the half-written text is left", c.why)
			}
			must(t, g.Close())
		}
		g := reopen(t, f.path)
		must(t, g.Commit(c.number, []byte("next"), nil))
		must(t, g.Close())
		holds(t, reopen(t, f.path), "next", c.number+1)
	}
}

// A commit that cannot be written to its end leaves everything as it was.
func TestFileCannotWrite(t *testing.T) {
	f := open(t, "first")
	must(t, f.Commit(0, []byte("second"), nil))

	// Something that is not ours to remove stands where the new text is written.
	must(t, os.MkdirAll(filepath.Join(f.beside("new"), "in"), 0o755))
	if err := f.Commit(1, []byte("third"), nil); err == nil {
		t.Error("a commit without a place to write is taken")
	}
	holds(t, f, "second", 1)
	must(t, os.RemoveAll(f.beside("new")))
	must(t, f.Commit(1, []byte("third"), nil))

	// The log cannot be written: the text stays, and what is not known to be whole is
	// not written any more.
	must(t, f.log.file.Close())
	if err := f.Commit(2, []byte("fourth"), nil); err == nil {
		t.Error("a commit without a log is taken")
	}
	if text, err := os.ReadFile(f.path); err != nil || string(text) != "third" {
		t.Errorf("the text is %q (%v)", text, err)
	}
	if err := f.Commit(2, []byte("fourth"), nil); err == nil || !strings.Contains(err.Error(), "open it again") {
		t.Errorf("a store that cannot write says %v", err)
	}
	f.closed = true // its log is closed already
	holds(t, reopen(t, f.path), "third", 2)
}

func TestLargeBook(t *testing.T) {
	f := open(t, "")
	text := bytes.Repeat([]byte("price : 3 USD/lb\n"), 1<<16)
	for n := range uint64(3) {
		text[0]++
		must(t, f.Commit(n, text, []byte(`{"row":"`+strings.Repeat("a", 1<<17)+`"}`)))
	}
	must(t, f.Close())
	g := reopen(t, f.path)
	holds(t, g, string(text), 3)
	if entries, err := g.Since(1); err != nil || len(entries) != 2 || len(entries[1].Record) < 1<<17 {
		t.Errorf("%d entries (%v)", len(entries), err)
	}
}

func BenchmarkCommit(b *testing.B) {
	path := filepath.Join(b.TempDir(), "tern.md")
	text := bytes.Repeat([]byte("price : 3 USD/lb\n"), 4000)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		b.Fatal(err)
	}
	f, err := OpenFile(path)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	n := uint64(0)
	for b.Loop() {
		if err := f.Commit(n, text, []byte(`{"kind":"set_line"}`)); err != nil {
			b.Fatal(err)
		}
		n++
	}
}

// The log can be read while the book is open elsewhere, and without touching it.
func TestReadLog(t *testing.T) {
	f := open(t, "first")
	must(t, f.Commit(0, []byte("second"), []byte(`{"what":"a"}`)))
	must(t, f.Commit(1, []byte("third"), []byte(`{"what":"b"}`)))
	path := beside(f.path, "edits")
	half, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	must(t, err)
	_, err = half.WriteString(`{"number":3,"ti`)
	must(t, errors.Join(err, half.Close()))
	before, err := os.ReadFile(path)
	must(t, err)
	l, err := ReadLog(f.path)
	must(t, err)
	if len(l.Entries) != 3 || l.Entries[0].Number != 0 || string(l.Entries[2].Record) != `{"what":"b"}` {
		t.Errorf("%+v", l.Entries)
	}
	if !l.Knows([]byte("third")) || l.Knows([]byte("second")) {
		t.Error("it does not know the text that the last entry left")
	}
	if day := l.Entries[2].Day(); day != time.Now().Format("2006-01-02") && day != time.Now().Add(-time.Minute).Format("2006-01-02") {
		t.Errorf("the day is %s", day)
	}
	after, err := os.ReadFile(path)
	must(t, err)
	if !bytes.Equal(before, after) {
		t.Error("the log was changed")
	}
	alone := filepath.Join(t.TempDir(), "tern.md")
	must(t, os.WriteFile(alone, []byte("text"), 0o600))
	if _, err := ReadLog(alone); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a book without a log: %v", err)
	}
	must(t, os.WriteFile(beside(alone, "edits"), []byte("{\"number\":0}\n{\"number\":2}\n"), 0o600))
	if _, err := ReadLog(alone); err == nil || !strings.Contains(err.Error(), "damaged on line 2") {
		t.Errorf("a gap in the numbers: %v", err)
	}
}
