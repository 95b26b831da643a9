package shelf

import (
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"strings"
	"time"
)

// mostVersions is how many earlier versions of a job file are kept: months of work; a
// job file is a few kilobytes.
const mostVersions = 500

// stamp is how the moment of a version stands in its file's name.
const stamp = "20060102T150405Z"

// Version is an earlier state of a job file.
type Version struct {
	ID      string
	Changed time.Time // when it was written
}

// Thrown is a job file in the trash.
type Thrown struct {
	ID, Name string
	Changed  time.Time // when it was last changed before it was thrown away
}

func historyOf(name string) string { return hidden + "/history/" + name }

const trash = hidden + "/trash"

// keep puts bytes among a job's versions: "000012-20260302T172044Z.job.yaml".
func (f *Folder) keep(name string, data []byte, changed time.Time) error {
	folder := historyOf(name)
	if err := makeFolders(f.d, folder); err != nil {
		return err
	}
	list, err := f.names(folder)
	if err != nil {
		return err
	}
	id := fmt.Sprintf("%06d-%s", next(list), changed.UTC().Format(stamp))
	if err := put(f.d, folder+"/"+id+Suffix, data, 0o644); err != nil {
		return err
	}
	for ; len(list) >= mostVersions; list = list[1:] {
		if err := f.d.RemoveAll(folder + "/" + list[0]); err != nil {
			return err
		}
	}
	return nil
}

// next is one more than the number the last name of a list begins with.
func next(list []string) int {
	if len(list) == 0 {
		return 1
	}
	head, _, _ := strings.Cut(list[len(list)-1], "-")
	n, _ := strconv.Atoi(head)
	return n + 1
}

// Versions lists what a job file held before, the latest first.
func (f *Folder) Versions(name string) ([]Version, error) {
	if err := checkJob(name); err != nil {
		return nil, err
	}
	names, err := f.names(historyOf(name))
	if err != nil {
		return nil, readFault(name, err)
	}
	var list []Version
	for i := len(names) - 1; i >= 0; i-- {
		id, is := strings.CutSuffix(names[i], Suffix)
		_, at, _ := strings.Cut(id, "-")
		if moment, err := time.Parse(stamp, at); is && err == nil {
			list = append(list, Version{id, moment})
		}
	}
	return list, nil
}

// Version returns an earlier state of a job file.
func (f *Folder) Version(name, id string, limit int64) ([]byte, error) {
	if err := errors.Join(checkJob(name), checkJob(id)); err != nil {
		return nil, err
	}
	data, _, err := f.read(historyOf(name)+"/"+id+Suffix, limit)
	return data, err
}

// moveVersions takes a job's versions elsewhere; what stood there under the same name
// belonged to a job that is gone, and is kept with a number.
func (f *Folder) moveVersions(from, to string) error {
	if _, err := f.d.Lstat(from); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if _, err := f.d.Lstat(to); err == nil {
		if err := f.d.Rename(to, beside(to, "old")); err != nil {
			return err
		}
	}
	return f.d.Rename(from, to)
}

// Throw moves a job file and its versions to the trash.
func (f *Folder) Throw(name string) error {
	return f.alone(name, func() error {
		switch info, err := f.d.Lstat(name + Suffix); {
		case err != nil:
			return err
		case !info.Mode().IsRegular(): // the trash lists plain files, and only what it lists comes back
			return fault("shelf.not-a-file", name+Suffix, nil)
		}
		if err := makeFolders(f.d, trash); err != nil {
			return err
		}
		list, err := f.names(trash)
		if err != nil {
			return err
		}
		place := fmt.Sprintf("%s/%06d-%s", trash, next(list), name)
		if err := f.d.Mkdir(place, 0o755); err != nil {
			return err
		}
		if err := f.d.Rename(name+Suffix, place+"/"+name+Suffix); err != nil {
			return err
		}
		if err := errors.Join(f.d.SyncDir(place), f.d.SyncDir(".")); err != nil {
			return err
		}
		return f.moveVersions(historyOf(name), place+"/history")
	})
}

// Trash lists what was thrown away, the latest first.
func (f *Folder) Trash() ([]Thrown, error) {
	ids, err := f.names(trash)
	if err != nil {
		return nil, readFault(trash, err)
	}
	var list []Thrown
	for i := len(ids) - 1; i >= 0; i-- {
		_, name, _ := strings.Cut(ids[i], "-")
		if info, err := f.d.Lstat(trash + "/" + ids[i] + "/" + name + Suffix); err == nil {
			list = append(list, Thrown{ids[i], name, info.ModTime()})
		}
	}
	return list, nil
}

// PutBack takes a job file and its versions out of the trash, under the name it had.
func (f *Folder) PutBack(id string) (name string, err error) {
	number, name, _ := strings.Cut(id, "-")
	if _, err := strconv.ParseUint(number, 10, 32); err != nil {
		return "", fault("shelf.job-name", id, nil)
	}
	return name, f.alone(name, func() error {
		if err := f.free(name); err != nil {
			return err
		}
		place := trash + "/" + id
		if err := f.d.Rename(place+"/"+name+Suffix, name+Suffix); err != nil {
			return err
		}
		if err := f.d.SyncDir("."); err != nil {
			return err
		}
		if err := f.moveVersions(place+"/history", historyOf(name)); err != nil {
			return err
		}
		return f.d.RemoveAll(place)
	})
}
