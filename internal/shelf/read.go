package shelf

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// ReadFile returns the bytes of a regular file of at most limit bytes. A larger one is
// refused by its size, before it is read; one that grows while it is read is refused too.
// The error is always an *Error.
func ReadFile(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, readFault(path, err)
	case info.IsDir():
		return nil, fault("shelf.folder", path, nil)
	case !info.Mode().IsRegular(): // a pipe would keep us waiting, a device for ever
		return nil, fault("shelf.not-a-file", path, nil)
	case info.Size() > limit:
		return nil, tooLarge(path, info.Size(), limit)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, readFault(path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit+1))
	if err != nil {
		return nil, readFault(path, err)
	}
	if int64(len(data)) > limit {
		return nil, tooLarge(path, int64(len(data)), limit)
	}
	return data, nil
}

// ReadBeside returns the bytes of a file that a job file names, which stands in the job
// file's folder or below it. No link and no ".." leads out of that folder: a folder of
// jobs may come from somebody else. The error is always an *Error.
func ReadBeside(jobFile, name string, limit int64) ([]byte, error) {
	f, err := OpenFolder(filepath.Dir(jobFile))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return f.Beside(name, limit)
}

func readFault(path string, err error) *Error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault("shelf.missing", path, err)
	case errors.Is(err, fs.ErrPermission):
		return fault("shelf.read-forbidden", path, err)
	}
	return fault("shelf.unreadable", path, err)
}

func tooLarge(path string, size, limit int64) *Error {
	e := fault("shelf.too-large", path, nil)
	e.Args["size"], e.Args["limit"] = megabytes(size), megabytes(limit)
	return e
}

// megabytes prints a number of bytes for a message.
func megabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }
