package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Log is what is remembered of a book's edits.
type Log struct {
	// Entries are in order; the first is of number 0, in which the log was begun.
	Entries []Entry
}

// ReadLog reads the log beside a book's file without opening the book: nothing is
// locked, waited for or written. The error is fs.ErrNotExist where the book has none.
func ReadLog(path string) (*Log, error) {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, fmt.Errorf("there is no book %s: %w", path, err)
	}
	path = beside(real, "edits")
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	whole := bytes.LastIndexByte(data, '\n') // an entry that is being written does not count yet
	if whole < 0 {
		return nil, fmt.Errorf("%s holds nothing yet: %w", path, fs.ErrNotExist)
	}
	l := &Log{}
	for i, line := range bytes.Split(data[:whole], []byte("\n")) {
		var e Entry
		if err := json.Unmarshal(line, &e); err != nil {
			return nil, damaged(path, i+1, err)
		}
		if i > 0 && e.Number != l.Entries[i-1].Number+1 {
			return nil, damaged(path, i+1, errors.New("its number does not follow"))
		}
		l.Entries = append(l.Entries, e)
	}
	return l, nil
}

// Knows says whether a text is the one that the last entry left.
func (l *Log) Knows(text []byte) bool {
	return len(l.Entries) > 0 && l.Entries[len(l.Entries)-1].Hash == hash(text)
}

// Day gives the day of an entry, where this computer stands, as 2027-03-10.
func (e *Entry) Day() string { return e.Time.Local().Format("2006-01-02") }
