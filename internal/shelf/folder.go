package shelf

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"syscall"
	"time"
	"unicode"
)

// Suffix is what the name of a job file ends with.
const Suffix = ".job.yaml"

// hidden is the folder beside the job files that holds what is ours: earlier versions,
// what was thrown away, the lock.
const hidden = ".tideover"

// Folder is a folder of job files. Nothing in it is overwritten or removed for good:
// each save keeps the version before it, and what is deleted goes to a trash from which it
// can be put back. Names never leave the folder. It may be used from several goroutines;
// several programmes at work on one folder take turns.
type Folder struct {
	path string
	d    disk
	root *os.Root
	mu   sync.Mutex
}

// Entry is one job file of a folder.
type Entry struct {
	Name    string // without Suffix
	Changed time.Time
}

// Changed says that a file is not what the caller took it for. Now is what it holds, nil
// when it is gone.
type Changed struct {
	Name string
	Now  []byte
}

// Error returns the message in words.
func (c *Changed) Error() string { return fault("shelf.overtaken", c.Name, nil).Error() }

// OpenFolder opens a folder that is there. The error is always an *Error.
func OpenFolder(path string) (*Folder, error) {
	root, err := os.OpenRoot(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fault("shelf.no-folder", path, err)
	case err != nil:
		if info, noted := os.Stat(path); noted == nil && !info.IsDir() {
			return nil, fault("shelf.file-for-folder", path, err)
		}
		return nil, readFault(path, err)
	}
	return &Folder{path: path, d: rooted{root}, root: root}, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

// Path is the folder's name, as it was opened.
func (f *Folder) Path() string { return f.path }

// errHeld is another programme that does not let go of the lock.
var errHeld = errors.New("held")

// Unshown lists what is called a job file but is not listed by Jobs: links, folders, and
// names that a job cannot have everywhere.
func (f *Folder) Unshown() ([]string, error) {
	entries, err := f.d.ReadDir(".")
	if err != nil {
		return nil, readFault(f.path, err)
	}
	var list []string
	for _, e := range entries {
		stem, is := strings.CutSuffix(e.Name(), Suffix)
		if is && !strings.HasPrefix(stem, ".") && (checkJob(stem) != nil || !e.Type().IsRegular()) {
			list = append(list, strings.ToValidUTF8(e.Name(), "\ufffd"))
		}
	}
	return list, nil
}

// Jobs lists the job files by name. Links and anything else that is no plain file are
// left out.
func (f *Folder) Jobs() ([]Entry, error) {
	entries, err := f.d.ReadDir(".")
	if err != nil {
		return nil, readFault(f.path, err)
	}
	var list []Entry
	for _, e := range entries {
		stem, is := strings.CutSuffix(e.Name(), Suffix)
		if !is || checkJob(stem) != nil || !e.Type().IsRegular() {
			continue
		}
		if info, err := e.Info(); err == nil { // else it went away meanwhile
			list = append(list, Entry{stem, info.ModTime()})
		}
	}
	return list, nil
}

// checkJob refuses names a job file cannot have everywhere.
func checkJob(stem string) error {
	bad := stem == "" || len(stem) > 100 || strings.HasPrefix(stem, ".") || strings.TrimSpace(stem) != stem ||
		strings.ContainsAny(stem, "/\\:*?\"<>|") || strings.ContainsFunc(stem, unseen) ||
		!strings.ContainsFunc(stem, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }) ||
		!filepath.IsLocal(stem+Suffix) || !fs.ValidPath(stem+Suffix)
	if bad {
		return fault("shelf.job-name", stem, nil)
	}
	return nil
}

// unseen reports whether a character cannot be seen or turns its neighbours round. The two
// joiners stay: some scripts are not written without them.
func unseen(r rune) bool {
	const nonJoiner, joiner = 0x200c, 0x200d
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && r != nonJoiner && r != joiner
}

// Read returns the bytes of a job file of at most limit bytes and when they were last
// changed.
func (f *Folder) Read(name string, limit int64) ([]byte, time.Time, error) {
	if err := checkJob(name); err != nil {
		return nil, time.Time{}, err
	}
	return f.read(name+Suffix, limit)
}

// Beside returns the bytes of another file of the folder, one a job names.
func (f *Folder) Beside(name string, limit int64) ([]byte, error) {
	local := filepath.FromSlash(name)
	if !filepath.IsLocal(local) || strings.HasPrefix(filepath.Clean(local), hidden) {
		return nil, fault("shelf.outside", name, nil)
	}
	data, _, err := f.read(filepath.ToSlash(filepath.Clean(local)), limit)
	return data, err
}

func (f *Folder) read(name string, limit int64) ([]byte, time.Time, error) {
	info, err := f.d.Lstat(name)
	switch {
	case err != nil:
		return nil, time.Time{}, readFault(name, err)
	case info.IsDir():
		return nil, time.Time{}, fault("shelf.folder", name, nil)
	case !info.Mode().IsRegular():
		return nil, time.Time{}, fault("shelf.not-a-file", name, nil)
	case info.Size() > limit:
		return nil, time.Time{}, tooLarge(name, info.Size(), limit)
	}
	data, err := f.d.ReadFile(name)
	switch {
	case err != nil:
		return nil, time.Time{}, readFault(name, err)
	case int64(len(data)) > limit:
		return nil, time.Time{}, tooLarge(name, int64(len(data)), limit)
	}
	return data, info.ModTime(), nil
}

// Create makes a new job file; one of that name must not be there.
func (f *Folder) Create(name string, data []byte) error {
	return f.alone(name, func() error {
		if err := f.free(name); err != nil {
			return err
		}
		if err := put(f.d, name+Suffix, data, 0o644); err != nil {
			return err
		}
		return f.d.SyncDir(".")
	})
}

// Save replaces a job file that holds was by data, whole or not at all, and keeps was as
// its latest version. A file that holds anything else is left alone, and the error is a
// *Changed with what it holds.
func (f *Folder) Save(name string, was, data []byte) error {
	return f.alone(name, func() error {
		now, err := f.d.ReadFile(name + Suffix)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if err != nil || !bytes.Equal(now, was) {
			return &Changed{Name: name, Now: now}
		}
		if bytes.Equal(now, data) {
			return nil
		}
		info, err := f.d.Lstat(name + Suffix)
		if err != nil {
			return err
		}
		if err := f.roomFor(name, func() error { return f.keep(name, now, info.ModTime()) }); err != nil {
			return err
		}
		if err := f.roomFor(name, func() error { return put(f.d, name+Suffix, data, info.Mode().Perm()) }); err != nil {
			return err
		}
		return f.d.SyncDir(".")
	})
}

// roomFor writes, and where the disk is full makes room by letting go of the job's oldest
// versions, a few at a time: on a full disk work goes on. The latest version stays.
func (f *Folder) roomFor(name string, write func() error) error {
	const atOnce, stay = 8, 1
	for {
		err := write()
		if !errors.Is(err, syscall.ENOSPC) {
			return err
		}
		list, failed := f.names(historyOf(name))
		if failed != nil || len(list) <= stay {
			return err
		}
		for _, old := range list[:min(atOnce, len(list)-stay)] {
			if failed := f.d.RemoveAll(historyOf(name) + "/" + old); failed != nil {
				return err
			}
		}
	}
}

// Rename gives a job file another name; its versions go with it.
func (f *Folder) Rename(from, to string) error {
	if err := checkJob(to); err != nil {
		return err
	}
	return f.alone(from, func() error {
		if err := f.free(to); err != nil {
			return err
		}
		if err := f.d.Rename(from+Suffix, to+Suffix); err != nil {
			return err
		}
		if err := f.d.SyncDir("."); err != nil {
			return err
		}
		return f.moveVersions(historyOf(from), historyOf(to))
	})
}

// free is an error when a job of that name is there.
func (f *Folder) free(name string) error {
	_, err := f.d.Lstat(name + Suffix)
	switch {
	case err == nil:
		return fault("shelf.taken", name, nil)
	case errors.Is(err, fs.ErrNotExist):
		return nil
	}
	return err
}

// alone does work on a job while nobody else who asks works in the folder.
func (f *Folder) alone(name string, work func() error) error {
	if err := checkJob(name); err != nil {
		return err
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.root != nil {
		if err := makeFolders(f.d, hidden); err != nil {
			return asFault(name, err)
		}
		release, err := lockFile(f.root, hidden+"/lock")
		switch {
		case errors.Is(err, errHeld):
			return fault("shelf.held", f.path, nil)
		case err != nil:
			return fault("shelf.busy", f.path, err)
		}
		defer release()
	}
	err := work()
	var changed *Changed
	if errors.As(err, &changed) {
		return err
	}
	return asFault(name, err)
}

// makeFolders makes a folder and those above it.
func makeFolders(d disk, path string) error {
	for i := range len(path) + 1 {
		if i == len(path) || path[i] == '/' {
			if err := d.Mkdir(path[:i], 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
				return err
			}
		}
	}
	return nil
}

// names lists the entries of a folder that may not be there, in order.
func (f *Folder) names(folder string) ([]string, error) {
	entries, err := f.d.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var list []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") { // what a stopped programme left half written
			list = append(list, e.Name())
		}
	}
	sort.Strings(list)
	return list, err
}
