// Package shelf reads and writes files: the one door to the disk.
//
// Stage: the edge. It takes names and bytes from the command line and gives bytes back,
// or an *Error in words that says which file, what is wrong and what to do. What it
// writes appears whole or not at all: a folder is filled beside its place and renamed
// into it, a file likewise. A Folder of job files keeps every version of them and a trash.
// It knows nothing of what the bytes mean.
package shelf

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"

	"tideover/internal/words"
)

// Error says what could not be read or written, in words.
type Error struct {
	ID   string            // message id, "shelf.missing"
	Args map[string]string // what fills the message's places
	Err  error             // the cause the system gave, or nil
}

// Error returns the message in words.
func (e *Error) Error() string { return words.Say(e.ID, e.Args) }

// Unwrap returns the cause the system gave.
func (e *Error) Unwrap() error { return e.Err }

// fault names what went wrong with path; why is the system's own word for it.
func fault(id, path string, err error) *Error {
	return &Error{ID: id, Args: map[string]string{"path": path, "why": reason(err)}, Err: err}
}

// reason is the innermost cause, without the names of calls and of our own temporary files.
func reason(err error) string {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return fmt.Sprint(err)
		}
		err = inner
	}
}

// writeFault names what kept path from being written.
func writeFault(path string, err error) *Error {
	id := "shelf.unwritable"
	switch {
	case errors.Is(err, fs.ErrNotExist):
		id = "shelf.no-parent"
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		id = "shelf.write-forbidden"
	case errors.Is(err, syscall.ENOSPC):
		id = "shelf.full"
	}
	return fault(id, path, err)
}

// asFault gives an error of the system words; ours has them.
func asFault(path string, err error) error {
	var e *Error
	if err == nil || errors.As(err, &e) {
		return err
	}
	return writeFault(path, err)
}

// disk is the file operations that writing needs, all below one folder. Tests put one
// under the code that fails or stops at any operation.
type disk interface {
	Lstat(name string) (fs.FileInfo, error)
	ReadDir(name string) ([]fs.DirEntry, error)
	ReadFile(name string) ([]byte, error)
	Mkdir(name string, perm fs.FileMode) error
	Create(name string, perm fs.FileMode) (file, error) // fails when name is taken
	Rename(from, to string) error
	RemoveAll(name string) error
	SyncDir(name string) error // makes the entries of a folder last
}

// file is an open file being written.
type file interface {
	io.WriteCloser
	Sync() error
}

// rooted is the real disk below one folder; os.Root keeps every name inside it.
type rooted struct{ *os.Root }

func (r rooted) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(r.FS(), name) }

func (r rooted) Create(name string, perm fs.FileMode) (file, error) {
	return r.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
}

// SyncDir is left undone where the system has no such operation.
func (r rooted) SyncDir(name string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := r.Open(name)
	if err != nil {
		return err
	}
	defer d.Close()
	err = d.Sync()
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.EINVAL) {
		return nil
	}
	return err
}

// place opens the folder that path stands in and returns it with the last name of path.
func place(path string) (rooted, string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return rooted{}, "", err
	}
	root, err := os.OpenRoot(filepath.Dir(abs))
	return rooted{root}, filepath.Base(abs), err
}

// writeFile makes a new file and brings it to the disk before it returns.
func writeFile(d disk, name string, data []byte, perm fs.FileMode) error {
	f, err := d.Create(name, perm)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// beside returns a hidden name next to base that nobody else uses: ".out.new-3f9a62c1".
func beside(base, role string) string {
	var b [4]byte
	rand.Read(b[:])
	return besidePrefix(base, role) + hex.EncodeToString(b[:])
}

func besidePrefix(base, role string) string {
	i := strings.LastIndexByte(base, '/') + 1
	return base[:i] + "." + base[i:] + "." + role + "-"
}
