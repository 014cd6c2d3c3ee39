//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

var errLocked = errors.New("locked by another program")

// lock takes the file for this program alone, until it is closed or the program ends.
func lock(f *os.File) error {
	err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if errors.Is(err, syscall.EWOULDBLOCK) {
		return errLocked
	}
	return err
}

// syncFolder makes the names in a folder durable.
func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

// keepOwner gives a new file the owner and the group of another, where we may. Where
// we may not, it stays ours: better a book of ours than none.
func keepOwner(f *os.File, like fs.FileInfo) {
	want, ok := like.Sys().(*syscall.Stat_t)
	if !ok {
		return
	}
	if f.Chown(int(want.Uid), int(want.Gid)) != nil {
		_ = f.Chown(-1, int(want.Gid))
	}
}
