//go:build unix

package shelf

import (
	"os"
	"syscall"
)

// lockFile waits until the lock is ours. The system lets go of it when the programme ends,
// however it ends.
func lockFile(root *os.Root, name string) (release func(), err error) {
	f, err := root.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	if err := flock(f); err != nil {
		f.Close()
		return nil, err
	}
	return func() { f.Close() }, nil
}

func flock(f *os.File) error {
	for {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX)
		switch err {
		case syscall.EINTR:
			continue
		case syscall.ENOTSUP, syscall.ENOLCK, syscall.ENOSYS: // a disk that knows no locks
			return nil
		}
		return err
	}
}
