//go:build unix

package shelf

import (
	"os"
	"syscall"
	"time"
)

// lockFile waits until the lock is ours, for lockPatience at most. The system lets go of it when the programme ends,
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

// How long another programme may hold the lock before we give up, and how often we look.
const (
	lockPatience = 5 * time.Second
	lockPause    = 20 * time.Millisecond
)

func flock(f *os.File) error {
	for waited := time.Duration(0); ; {
		err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		switch err {
		case syscall.EINTR:
			continue
		case syscall.EWOULDBLOCK:
			if waited >= lockPatience {
				return errHeld
			}
			time.Sleep(lockPause)
			waited += lockPause
			continue
		case syscall.ENOTSUP, syscall.ENOLCK, syscall.ENOSYS: // a disk that knows no locks
			return nil
		}
		return err
	}
}
