//go:build !windows

package store

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

// The test program runs itself again as another program, told what to do by these.
const (
	commitsOn = "WINTERTRUSS_TEST_COMMITS_ON" // commit edits to this book until killed
	opens     = "WINTERTRUSS_TEST_OPENS"      // open this book and say what is wrong
)

func TestMain(m *testing.M) {
	if path := os.Getenv(commitsOn); path != "" {
		fmt.Println(commitForever(path))
		os.Exit(1)
	}
	if path := os.Getenv(opens); path != "" {
		f, err := OpenFile(path)
		if err == nil {
			err = f.Close()
		}
		var used *ErrInUse
		var folder *ErrReadOnly
		fmt.Println(errors.As(err, &used), errors.As(err, &folder), err)
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// commitForever says the number of each edit that was acknowledged.
func commitForever(path string) error {
	f, err := OpenFile(path)
	if err != nil {
		return err
	}
	for {
		_, number, err := f.Load()
		if err == nil {
			err = f.Commit(number, numbered(number+1), strconv.AppendUint(nil, number+1, 10))
		}
		if err != nil {
			return err
		}
		fmt.Println(number + 1)
	}
}

// numbered is a text that says on every line which edit it is of, so that a mixture
// or a piece of one is known. Its length changes from edit to edit.
func numbered(n uint64) []byte {
	return bytes.Repeat(fmt.Appendf(nil, "this is edit %d\n", n), 1000+int(n%7)*700)
}

// numberOf gives the edit that a whole text is of.
func numberOf(text []byte) (uint64, error) {
	first, _, _ := strings.Cut(string(text), "\n")
	n, err := strconv.ParseUint(strings.TrimPrefix(first, "this is edit "), 10, 64)
	if err != nil || !bytes.Equal(text, numbered(n)) {
		return 0, fmt.Errorf("a text of %d bytes that begins %.40q is not whole", len(text), text)
	}
	return n, nil
}

// A program that commits without pause is killed fifty times, at any moment. Each
// time every edit that it said was acknowledged is there.
func TestKilled(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tern.md")
	must(t, os.WriteFile(path, numbered(0), 0o644))
	acknowledged, lost, unsaid := uint64(0), 0, 0
	for round := range 50 {
		last := killedWhileCommitting(t, path)
		if last < acknowledged {
			t.Fatalf("round %d: the numbers went back from %d to %d", round, acknowledged, last)
		}
		acknowledged = last

		f, err := OpenFile(path)
		must(t, err)
		text, number, err := f.Load()
		must(t, err)
		edit, err := numberOf(text)
		if err != nil {
			t.Fatalf("round %d: %v", round, err)
		}
		if edit < acknowledged || number < edit {
			t.Fatalf("round %d: edit %d was acknowledged, the text is of %d and the number %d", round, acknowledged, edit, number)
		}
		entries, err := f.Since(0)
		must(t, err)
		if uint64(len(entries)) != number {
			t.Fatalf("round %d: %d entries at number %d", round, len(entries), number)
		}
		for i, e := range entries {
			if e.Number != uint64(i+1) || !e.Outside && (string(e.Record) != strconv.Itoa(i+1) || e.Hash != hash(numbered(e.Number))) {
				t.Fatalf("round %d: entry %d is %+v", round, i+1, e)
			}
		}
		if edit > acknowledged {
			unsaid++
		}
		if number != edit {
			lost++
			if e := entries[number-1]; number != edit+2 || e.TakesBack != edit+1 || e.Hash != hash(text) {
				t.Fatalf("round %d: the text is of %d and the last entry %+v", round, edit, e)
			}
		}
		must(t, f.Close())
	}
	t.Logf("%d edits acknowledged; killed %d times between entry and text, %d times between text and acknowledgement", acknowledged, lost, unsaid)
	if acknowledged < 50 {
		t.Errorf("only %d edits were made: the program was killed before it could do anything", acknowledged)
	}
}

// killedWhileCommitting runs the other program, kills it, and gives the last number
// that it said.
func killedWhileCommitting(t *testing.T, path string) uint64 {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), commitsOn+"="+path)
	out, err := c.StdoutPipe()
	must(t, err)
	must(t, c.Start())
	lines := bufio.NewReader(out)
	first, err := lines.ReadString('\n') // it is at work
	if err == nil {
		time.Sleep(time.Duration(rand.IntN(20_000)) * time.Microsecond)
	}
	must(t, c.Process.Kill()) // on Unix that is kill -9
	rest, _ := io.ReadAll(lines)
	_ = c.Wait()
	said := strings.SplitAfter(first+string(rest), "\n")
	n, err := strconv.ParseUint(strings.TrimSpace(said[len(said)-2]), 10, 64) // the last whole line
	if err != nil {
		t.Fatalf("the other program said %q", said)
	}
	return n
}

// elsewhere opens a book in another program, as another person if who is not 0.
func elsewhere(t *testing.T, path string, who uint32) string {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), opens+"="+path)
	if who != 0 {
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: who, Gid: who}}
	}
	out, err := c.CombinedOutput()
	if errors.Is(err, fs.ErrPermission) {
		t.Skip("cannot run as another person here:", err)
	}
	must(t, err)
	return string(out)
}

func TestTwoPrograms(t *testing.T) {
	f := open(t, "first")
	if said := elsewhere(t, f.path, 0); !strings.HasPrefix(said, "true false") || !strings.Contains(said, "is open in another wintertruss") {
		t.Errorf("a book that is open opens elsewhere with %s", said)
	}
	must(t, f.Close())
	if said := elsewhere(t, f.path, 0); !strings.HasPrefix(said, "false false <nil>") {
		t.Errorf("a book that was closed opens elsewhere with %s", said)
	}
}

// A folder in which nothing can be written, with a log in it and without.
func TestReadOnlyFolder(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "tern.md")
	must(t, os.WriteFile(path, []byte("first"), 0o666))
	must(t, os.Chmod(path, 0o666))
	who := uint32(0)
	if os.Geteuid() == 0 { // for whom everything can be written
		who = 65534
		for dir := folder; dir != os.TempDir() && dir != "/"; dir = filepath.Dir(dir) {
			must(t, os.Chmod(dir, 0o755))
		}
		program, err := os.ReadFile(os.Args[0])
		must(t, err)
		copied := filepath.Join(folder, "program")
		must(t, os.WriteFile(copied, program, 0o755))
		mine := os.Args[0]
		os.Args[0] = copied
		defer func() { os.Args[0] = mine }()
	}
	must(t, os.Chmod(folder, 0o555))
	defer func() { must(t, os.Chmod(folder, 0o755)) }()
	for range 2 {
		if said := elsewhere(t, path, who); !strings.HasPrefix(said, "false true") || !strings.Contains(said, "nothing can be written in "+folder) {
			t.Errorf("a folder that cannot be written: %s", said)
		}
		must(t, os.Chmod(folder, 0o755))
		must(t, os.WriteFile(filepath.Join(folder, ".tern.md.edits"), nil, 0o666))
		must(t, os.Chmod(filepath.Join(folder, ".tern.md.edits"), 0o666))
		must(t, os.Chmod(folder, 0o555))
	}
}
