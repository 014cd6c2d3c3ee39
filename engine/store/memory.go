package store

import (
	"bytes"
	"errors"
	"sync"
)

// Memory keeps a book as long as the program runs: for tests, and for a starter
// book that is only looked at.
type Memory struct {
	mu      sync.Mutex // guards all below
	text    []byte
	entries []Entry // after number 0
	closed  bool
}

// NewMemory keeps a copy of text, at number 0.
func NewMemory(text []byte) *Memory { return &Memory{text: bytes.Clone(text)} }

var errClosed = errors.New("the book has been closed")

// Load gives a copy of the text.
func (m *Memory) Load() ([]byte, uint64, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.closed {
		return nil, 0, errClosed
	}
	return bytes.Clone(m.text), uint64(len(m.entries)), nil
}

// Commit keeps copies of text and record.
func (m *Memory) Commit(number uint64, text, record []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.closed {
		return errClosed
	}
	if last := uint64(len(m.entries)); number != last {
		return &ErrNumber{last, number}
	}
	e, err := entry(number+1, text, bytes.Clone(record))
	if err != nil {
		return err
	}
	m.text, m.entries = bytes.Clone(text), append(m.entries, e)
	return nil
}

// Changed is false: no other program can reach the text.
func (m *Memory) Changed() (bool, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.closed {
		return false, errClosed
	}
	return false, nil
}

// Since gives the entries after a number.
func (m *Memory) Since(number uint64) ([]Entry, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.closed {
		return nil, errClosed
	}
	if number >= uint64(len(m.entries)) {
		return nil, nil
	}
	return append([]Entry(nil), m.entries[number:]...), nil
}

// Close ends it. A second Close does nothing.
func (m *Memory) Close() error {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.closed = true
	return nil
}
