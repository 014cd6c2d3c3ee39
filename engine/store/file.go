package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"syscall"
)

// File keeps a book in a text file with a log beside it; see the package's page.
type File struct {
	path string // of the text, behind all symbolic links

	mu     sync.Mutex // guards all below
	log    *journal
	seen   fs.FileInfo // of the text when it was last read or written
	broken error       // why nothing can be written any more
	closed bool
}

// OpenFile opens a book for changing. Errors to know: fs.ErrNotExist, *ErrInUse,
// *ErrReadOnly. The log is made when there is none.
func OpenFile(path string) (*File, error) {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		return nil, fmt.Errorf("there is no book %s: %w", path, err)
	}
	if real, err = filepath.Abs(real); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	info, err := os.Stat(real)
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a file", path)
	}
	if err := writable(real, info); err != nil {
		return nil, err
	}
	f := &File{path: real}
	if f.log, err = openJournal(f.beside("edits"), real, info.Mode().Perm()|0o600); err != nil {
		return nil, f.inFolder(err)
	}
	if err := f.start(info); err != nil {
		return nil, errors.Join(f.inFolder(err), f.Close())
	}
	return f, nil
}

// start makes sure that what Commit needs can be done, and takes in the text.
func (f *File) start(info fs.FileInfo) error {
	// Left over, if the program died while it wrote.
	if err := os.Remove(f.beside("new")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if _, err := f.writeNew(nil, info); err != nil {
		return err
	}
	if err := os.Remove(f.beside("new")); err != nil {
		return err
	}
	if err := syncFolder(filepath.Dir(f.path)); err != nil {
		return err
	}
	_, err := f.read()
	return err
}

// beside names a file that belongs to the text: ".tern.md.edits" for "tern.md".
func (f *File) beside(what string) string { return beside(f.path, what) }

func beside(path, what string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+"."+what)
}

// writable says in plain words when the text may not be written. To replace a file
// only its folder must be writable, but whoever protects a file means the file.
func writable(path string, info fs.FileInfo) error {
	if info.Mode().Perm()&0o222 == 0 {
		return &ErrReadOnly{Path: path, Err: fs.ErrPermission}
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	switch {
	case isReadOnly(err):
		return &ErrReadOnly{Path: path, Err: err}
	case err != nil:
		return fmt.Errorf("open %s: %w", path, err)
	}
	return f.Close()
}

// inFolder says in plain words that the folder does not let us write.
func (f *File) inFolder(err error) error {
	if isReadOnly(err) {
		return &ErrReadOnly{Path: filepath.Dir(f.path), Folder: true, Err: err}
	}
	return err
}

func isReadOnly(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

// Load reads the text. One that the log does not know is entered as an outside change.
func (f *File) Load() ([]byte, uint64, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.closed {
		return nil, 0, errClosed
	}
	text, err := f.read()
	return text, f.log.last.Number, err
}

// read reads the text and makes the log agree with it.
func (f *File) read() ([]byte, error) {
	text, info, err := f.onDisk()
	if err != nil {
		return nil, err
	}
	if err := f.log.takeIn(text); err != nil {
		return nil, f.inFolder(err)
	}
	f.seen = info
	return text, nil
}

// onDisk gives the text as it is now.
func (f *File) onDisk() ([]byte, fs.FileInfo, error) {
	info, err := os.Stat(f.path) // before reading: a change meanwhile is then seen later
	var text []byte
	if err == nil {
		text, err = os.ReadFile(f.path)
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, &ErrChanged{Path: f.path, Gone: true}
	}
	return text, info, err
}

// Changed looks at the text's size and time, and at its bytes only where those differ.
func (f *File) Changed() (bool, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.closed {
		return false, errClosed
	}
	info, err := os.Stat(f.path)
	if errors.Is(err, fs.ErrNotExist) {
		return true, nil
	}
	if err != nil {
		return false, err
	}
	if os.SameFile(info, f.seen) && info.Size() == f.seen.Size() && info.ModTime().Equal(f.seen.ModTime()) {
		return false, nil
	}
	return f.differs()
}

// differs compares every byte of the text, by its hash.
func (f *File) differs() (bool, error) {
	text, info, err := f.onDisk()
	var changed *ErrChanged
	switch {
	case errors.As(err, &changed):
		return true, nil
	case err != nil:
		return false, err
	case hash(text) != f.log.last.Hash:
		return true, nil
	}
	f.seen = info
	return false, nil
}

// Commit replaces the text; see the package's page for the order of things.
func (f *File) Commit(number uint64, text, record []byte) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	switch {
	case f.closed:
		return errClosed
	case f.broken != nil:
		return f.broken
	case number != f.log.last.Number:
		return &ErrNumber{f.log.last.Number, number}
	}
	e, err := entry(number+1, text, record)
	if err != nil {
		return err
	}
	written, err := f.writeNew(text, f.seen)
	if err != nil {
		return f.inFolder(err)
	}
	differs, err := f.differs()
	if err == nil && differs {
		_, gone := os.Stat(f.path)
		err = &ErrChanged{Path: f.path, Gone: errors.Is(gone, fs.ErrNotExist)}
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.beside("new")))
	}
	if err := f.log.add(e); err != nil {
		return errors.Join(f.takeBack(err), os.Remove(f.beside("new")))
	}
	if err := os.Rename(f.beside("new"), f.path); err != nil {
		return errors.Join(f.takeBack(f.inFolder(err)), os.Remove(f.beside("new")))
	}
	f.log.accept(e)
	f.seen = written
	if err := syncFolder(filepath.Dir(f.path)); err != nil {
		// The new text stands there, and may be gone after a power cut: to go on as if
		// it were safe would be a lie, to go back impossible.
		f.broken = fmt.Errorf("it is not sure that edit %d is on the disk; close the book and open it again: %w", e.Number, err)
		return f.broken
	}
	return nil
}

// takeBack takes the entry of an edit that did not happen out of the log again.
func (f *File) takeBack(err error) error {
	if e := f.log.cut(); e != nil {
		f.broken = fmt.Errorf("%s cannot be written; close the book and open it again: %w", f.beside("edits"), e)
	}
	return err
}

// writeNew writes text beside the book, durable, with the rights of the book's file.
func (f *File) writeNew(text []byte, like fs.FileInfo) (info fs.FileInfo, err error) {
	path := f.beside("new")
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	// Of its own making, so that no one's link is followed, and closed to others until
	// it has the rights of the book.
	n, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, os.Remove(path))
		}
	}()
	_, err = n.Write(text)
	if err == nil {
		keepOwner(n, like)
		err = n.Chmod(like.Mode().Perm())
	}
	if err == nil {
		err = n.Sync()
	}
	if err == nil {
		info, err = n.Stat()
	}
	return info, errors.Join(err, n.Close())
}

// Since reads the log.
func (f *File) Since(number uint64) ([]Entry, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.closed {
		return nil, errClosed
	}
	return f.log.since(number)
}

// Close gives the book free for others. A second Close does nothing.
func (f *File) Close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.closed {
		return nil
	}
	f.closed = true
	return f.log.file.Close()
}
