package store

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"
)

// Store keeps one book: its text and its numbered edits.
type Store interface {
	// Load gives the text and the number of its last edit. A text that was changed by
	// another program comes under a new number.
	Load() (text []byte, number uint64, err error)
	// Commit makes text durable as edit number+1, with its record (JSON) for the log,
	// and returns when it is. number is the one that the edit was made upon: if it is
	// not the last one, the error is an *ErrNumber; if another program has changed
	// the text since, an *ErrChanged. Nothing is written then.
	Commit(number uint64, text []byte, record []byte) error
	// Changed says whether another program has changed the text since the last Load or
	// Commit. It is quick, so that it can be asked every second: it looks at the size
	// and the time of the file. Commit itself looks at every byte.
	Changed() (bool, error)
	// Since gives the entries after a number, oldest first.
	Since(number uint64) ([]Entry, error)
	Close() error
}

// Entry is one edit in the log.
type Entry struct {
	Number uint64          `json:"number"`
	Time   time.Time       `json:"time"` // when it was committed, UTC
	Record json.RawMessage `json:"record,omitempty"`
	// Outside is set where the text was found otherwise than the entry before says. It
	// was changed by another program; there is no record.
	Outside bool `json:"outside,omitempty"`
	// TakesBack is the number of the entry before when the text was found as it was
	// before that: its edit is not in the text. Most often the program died in the
	// middle of it and it was never acknowledged.
	TakesBack uint64 `json:"takes_back,omitempty"`
	Hash      string `json:"hash"` // SHA-256 of the text after it, in hexadecimal digits
}

func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

func entry(number uint64, text, record []byte) (Entry, error) {
	if len(record) > 0 && !json.Valid(record) {
		return Entry{}, fmt.Errorf("the record of edit %d is no JSON", number)
	}
	return Entry{Number: number, Time: time.Now().UTC(), Record: record, Hash: hash(text)}, nil
}

// ErrNumber says that an edit was made upon another state of the book than the last.
type ErrNumber struct{ Last, Given uint64 }

func (e *ErrNumber) Error() string {
	return fmt.Sprintf("the book is at edit %d and the change was made upon %d", e.Last, e.Given)
}

// ErrChanged says that another program has changed the book's file.
type ErrChanged struct {
	Path string
	Gone bool // there is no file any more
}

func (e *ErrChanged) Error() string {
	if e.Gone {
		return e.Path + " is no longer there: another program has moved or deleted it. Put it back, or open the book anew"
	}
	return e.Path + " has been changed by another program. Nothing was overwritten; load the book again"
}

// ErrInUse says that another program keeps the book open.
type ErrInUse struct{ Path string }

func (e *ErrInUse) Error() string {
	return e.Path + " is open in another wintertruss. Close it there, or go on working there; two at once would overwrite each other"
}

// ErrReadOnly says that a book's folder or file cannot be written.
type ErrReadOnly struct {
	Path   string
	Folder bool // the folder, in which the log and the new text are written
	Err    error
}

func (e *ErrReadOnly) Error() string {
	if e.Folder {
		return "nothing can be written in " + e.Path + ", so the book cannot be changed there. Copy it to a folder of your own"
	}
	return e.Path + " is marked as read-only, so it is not changed. Copy it, or allow writing"
}

func (e *ErrReadOnly) Unwrap() error { return e.Err }
