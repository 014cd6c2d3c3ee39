package store

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"
)

// journal is the log of a book's edits, open and locked.
type journal struct {
	file   *os.File
	size   int64  // bytes of the entries that count
	added  int64  // bytes of one that was added and does not count yet
	last   Entry  // what the text is
	before string // hash of the entry before the last, "" without one
	first  uint64 // number of the first entry
	empty  bool   // there is no entry yet
}

// openJournal opens the log at path, or makes it, and locks it. book is the name
// that the error of a lock shows.
func openJournal(path, book string, mode fs.FileMode) (*journal, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, mode)
	if err != nil {
		return nil, err
	}
	j := &journal{file: file}
	err = lock(file)
	if errors.Is(err, errLocked) {
		err = &ErrInUse{book}
	} else if err != nil {
		err = fmt.Errorf("lock %s: %w", path, err)
	} else {
		err = j.read()
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	return j, nil
}

// read finds the last entries. What follows the last line ending is an entry that
// was never written to its end, so never acknowledged, and goes.
func (j *journal) read() error {
	data, err := io.ReadAll(j.file)
	if err != nil {
		return err
	}
	whole := bytes.LastIndexByte(data, '\n') + 1
	j.size = int64(whole)
	if whole < len(data) {
		if err := j.cut(); err != nil {
			return err
		}
	}
	if j.empty = whole == 0; j.empty {
		return nil
	}
	lines := bytes.Split(data[:whole-1], []byte("\n"))
	n := len(lines)
	var first, before Entry
	if err := errors.Join(j.decode(lines[0], 1, &first), j.decode(lines[n-1], n, &j.last)); err != nil {
		return err
	}
	j.first = first.Number
	if j.last.Number != j.first+uint64(n)-1 {
		return j.damaged(n, errors.New("its number does not follow"))
	}
	if n > 1 {
		if err := j.decode(lines[n-2], n-1, &before); err != nil {
			return err
		}
		j.before = before.Hash
	}
	return nil
}

func (j *journal) decode(line []byte, number int, e *Entry) error {
	if err := json.Unmarshal(line, e); err != nil {
		return j.damaged(number, err)
	}
	return nil
}

func (j *journal) damaged(line int, err error) error { return damaged(j.file.Name(), line, err) }

func damaged(path string, line int, err error) error {
	return fmt.Errorf("%s is damaged on line %d. The book itself is whole: move that file away and a new one is begun: %w", path, line, err)
}

// takeIn makes the log agree with the text that is on the disk. A text that it does
// not know gets an entry of its own, without a record.
func (j *journal) takeIn(text []byte) error {
	e := Entry{Time: time.Now().UTC(), Hash: hash(text)}
	switch {
	case j.empty: // number 0
	case e.Hash == j.last.Hash:
		return nil
	default:
		e.Number, e.Outside = j.last.Number+1, true
		if e.Hash == j.before {
			e.TakesBack = j.last.Number
		}
	}
	if err := j.add(e); err != nil {
		return errors.Join(err, j.cut())
	}
	j.accept(e)
	return nil
}

// add writes an entry and makes it durable. It counts when it is accepted.
func (j *journal) add(e Entry) error {
	var line bytes.Buffer
	encoder := json.NewEncoder(&line) // ends with the line's ending
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(e); err != nil {
		return err
	}
	n, err := j.file.WriteAt(line.Bytes(), j.size)
	if j.added = int64(n); err != nil {
		return err
	}
	return j.file.Sync()
}

// accept makes what add has written count.
func (j *journal) accept(e Entry) {
	if !j.empty {
		j.before = j.last.Hash
	} else {
		j.first, j.empty = e.Number, false
	}
	j.last, j.size, j.added = e, j.size+j.added, 0
}

// cut takes out what was added and not accepted.
func (j *journal) cut() error {
	return errors.Join(j.file.Truncate(j.size), j.file.Sync())
}

// since gives the entries after a number.
func (j *journal) since(number uint64) ([]Entry, error) {
	if number >= j.last.Number {
		return nil, nil
	}
	lines := bufio.NewReader(io.NewSectionReader(j.file, 0, j.size))
	entries := make([]Entry, 0, j.last.Number-max(number, j.first))
	for at := j.first; ; at++ {
		line, err := lines.ReadBytes('\n')
		if errors.Is(err, io.EOF) {
			return entries, nil
		}
		if err != nil {
			return nil, err
		}
		if at <= number {
			continue
		}
		var e Entry
		if err := j.decode(line, int(at-j.first)+1, &e); err != nil {
			return nil, err
		}
		if e.Number != at {
			return nil, j.damaged(int(at-j.first)+1, errors.New("its number does not follow"))
		}
		entries = append(entries, e)
	}
}
