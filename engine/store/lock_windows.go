package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
	"unsafe"
)

var errLocked = errors.New("locked by another program")

// From the Windows API: LockFileEx, its flags, and the error of a lock that is held.
const (
	lockExclusive       = 2
	lockFailImmediately = 1
	errorLockViolation  = syscall.Errno(33)
)

var lockFileEx = syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx")

// lock takes the file for this program alone, until it is closed or the program
// ends. The byte that is locked lies far behind the last one, because Windows keeps
// others from reading what is locked, and a log may be read by anyone.
func lock(f *os.File) error {
	at := syscall.Overlapped{OffsetHigh: 1 << 30}
	ok, _, err := lockFileEx.Call(f.Fd(), lockExclusive|lockFailImmediately, 0, 1, 0, uintptr(unsafe.Pointer(&at)))
	switch {
	case ok != 0:
		return nil
	case errors.Is(err, errorLockViolation):
		return errLocked
	}
	return err
}

// syncFolder does nothing: Windows makes a name durable with its file.
func syncFolder(string) error { return nil }

// keepOwner does nothing: on Windows a new file has the rights of its folder.
func keepOwner(*os.File, fs.FileInfo) {}
