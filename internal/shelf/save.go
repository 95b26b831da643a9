package shelf

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"time"
)

// SaveAtomic replaces the bytes of path, which may be new, and keeps what it held before
// as path with "~" at its end. Whatever happens on the way, also a power cut, path holds
// the old bytes or the new ones, whole. Saving what is there already changes nothing.
// A link is followed, not replaced. The error is always an *Error.
func SaveAtomic(path string, data []byte) error {
	target := path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real
	}
	d, base, err := place(target)
	if err != nil {
		return writeFault(path, err)
	}
	defer d.Close()
	return asFault(path, save(d, base, path, data))
}

// save writes and syncs a new file beside base, renames it over base, then syncs the
// folder: without the first sync a power cut can leave an empty file, without the second
// the rename may be lost (Pillai et al., OSDI 2014).
func save(d disk, base, path string, data []byte) error {
	perm := fs.FileMode(0o644)
	info, err := d.Lstat(base)
	switch {
	case err == nil && info.IsDir():
		return fault("shelf.folder", path, nil)
	case err == nil:
		perm = info.Mode().Perm()
		old, err := d.ReadFile(base)
		if err != nil || bytes.Equal(old, data) {
			return err
		}
		if err := put(d, base+"~", old, perm); err != nil {
			return err
		}
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if err := put(d, base, data, perm); err != nil {
		return err
	}
	return d.SyncDir(".")
}

// put writes a file beside name and renames it over name; on a failure nothing is left.
func put(d disk, name string, data []byte, perm fs.FileMode) error {
	temp := beside(name, "new")
	err := writeFile(d, temp, data, perm)
	if err == nil {
		err = d.Rename(temp, name)
	}
	if err != nil {
		_ = d.RemoveAll(temp) // the first error is the one to tell
		return err
	}
	sweep(d, name)
	return nil
}

// leftFor is how old a half-written file must be before it is taken for that of a programme
// that was stopped: nobody writes for so long.
const leftFor = 24 * time.Hour

// sweep removes what stopped programmes left half written beside a file that was just
// written, by whose own time their age is told. What cannot be removed is left.
func sweep(d disk, name string) {
	info, err := d.Lstat(name)
	if err != nil {
		return
	}
	folder, prefix := path.Dir(name), path.Base(besidePrefix(name, "new"))
	entries, err := d.ReadDir(folder)
	if err != nil {
		return
	}
	for _, e := range entries {
		if left, err := e.Info(); strings.HasPrefix(e.Name(), prefix) && err == nil && info.ModTime().Sub(left.ModTime()) > leftFor {
			_ = d.RemoveAll(path.Join(folder, e.Name()))
		}
	}
}
