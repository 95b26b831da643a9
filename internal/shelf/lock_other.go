//go:build !unix

package shelf

import "os"

// lockFile opens the lock's file. Where the system has no advisory lock in the standard
// library the save itself still compares before it replaces, and is whole.
func lockFile(root *os.Root, name string) (release func(), err error) {
	f, err := root.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o644)
	if err != nil {
		return nil, err
	}
	return func() { f.Close() }, nil
}
