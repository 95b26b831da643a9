package shelf

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"sort"
	"strings"
)

// File is one file of a folder: a name with "/" between folders, and its bytes.
type File struct {
	Name string
	Data []byte
}

// Options is how StageFolder treats a folder that is there already.
type Options struct {
	Replace bool // replace it even if it holds what we did not write, or what was changed since
}

// StageFolder makes out a folder that holds exactly files and a manifest of them. It is
// filled and synced under a hidden name beside out, then renamed; on any failure out is
// what it was and nothing else is left.
//
// A folder that is there already is replaced when it is empty, or when it is ours and
// untouched: it has a manifest, and every file in it is listed there with the same
// content. Anything else is refused with the name of what would be lost, unless
// Options.Replace says otherwise.
//
// Replacing takes two renames: old aside, new in. A power cut in that instant leaves no
// out; the old folder is then whole under its hidden name, and the next call puts it back
// before it does anything else. A program stopped while filling leaves its hidden folder
// behind: it may belong to another run that is still at work, so nobody else removes it.
// The error is always an *Error.
func StageFolder(out string, files []File, o Options) error {
	for _, f := range files {
		if err := checkName(f.Name, files); err != nil {
			return err
		}
	}
	return inPlace(out, func(d disk, base string) error { return stageFolder(d, base, out, files, o) })
}

// MayStage reports, before anything long is worked out, whether a folder could be staged as
// things stand. It changes nothing.
func MayStage(out string, o Options) error {
	return inPlace(out, func(d disk, base string) error {
		_, err := mayReplace(d, base, out, o)
		return err
	})
}

// inPlace does something where a folder is to stand.
func inPlace(out string, do func(d disk, base string) error) error {
	d, base, err := place(out)
	if err != nil {
		return writeFault(out, err)
	}
	defer d.Close()
	if base == string(filepath.Separator) || base == "." {
		return fault("shelf.not-ours", out, nil)
	}
	return asFault(out, do(d, base))
}

func stageFolder(d disk, base, out string, files []File, o Options) error {
	if err := recoverOld(d, base); err != nil {
		return err
	}
	there, err := mayReplace(d, base, out, o)
	if err != nil {
		return err
	}
	fresh := beside(base, "new")
	err = fill(d, fresh, files)
	if err == nil {
		err = swap(d, base, fresh, there)
	}
	if err != nil {
		_ = d.RemoveAll(fresh) // the first error is the one to tell
	}
	return err
}

// checkName refuses names that could leave the folder, that some system cannot hold, or
// that meet another: a fault of the caller, told before anything is written.
func checkName(name string, files []File) error {
	same := 0
	for _, f := range files {
		if strings.EqualFold(f.Name, name) {
			same++
		}
	}
	bad := !fs.ValidPath(name) || name == "." || !filepath.IsLocal(filepath.FromSlash(name)) ||
		strings.ContainsAny(name, "\\:*?\"<>|\n\r\x00") || strings.EqualFold(name, manifestName)
	if bad || same > 1 {
		return fault("shelf.name", name, nil)
	}
	return nil
}

// fill writes files and their manifest into a new folder and syncs all of it.
func fill(d disk, folder string, files []File) error {
	if err := d.Mkdir(folder, 0o755); err != nil {
		return err
	}
	all := append(append([]File(nil), files...), File{manifestName, manifest(files)})
	sort.Slice(all, func(i, j int) bool { return all[i].Name < all[j].Name })
	folders := foldersOf(all)
	for _, sub := range folders {
		if sub != "." {
			if err := d.Mkdir(path.Join(folder, sub), 0o755); err != nil {
				return err
			}
		}
	}
	for _, f := range all {
		if err := writeFile(d, path.Join(folder, f.Name), f.Data, 0o644); err != nil {
			return err
		}
	}
	for _, sub := range folders {
		if err := d.SyncDir(path.Join(folder, sub)); err != nil {
			return err
		}
	}
	return nil
}

// foldersOf returns "." and every folder that files stand in, outer ones first.
func foldersOf(files []File) []string {
	set := map[string]bool{".": true}
	for _, f := range files {
		for p := path.Dir(f.Name); !set[p]; p = path.Dir(p) {
			set[p] = true
		}
	}
	list := make([]string, 0, len(set))
	for p := range set {
		list = append(list, p)
	}
	sort.Strings(list)
	return list
}

// swap puts fresh in the place of base. The folder's entries are synced before the old
// one is removed, or a power cut could bring back a name whose content is gone.
func swap(d disk, base, fresh string, there bool) error {
	if !there {
		if err := d.Rename(fresh, base); err != nil {
			return err
		}
		return d.SyncDir(".")
	}
	old := beside(base, "old")
	if err := d.Rename(base, old); err != nil {
		return err
	}
	if err := d.Rename(fresh, base); err != nil {
		return errors.Join(err, d.Rename(old, base))
	}
	if err := d.SyncDir("."); err != nil {
		return err
	}
	_ = d.RemoveAll(old) // what is left of it goes with the next call
	return nil
}

// recoverOld puts a folder that was set aside back when nothing stands in its place, and
// removes what earlier calls left of old folders otherwise.
func recoverOld(d disk, base string) error {
	entries, err := d.ReadDir(".")
	if err != nil {
		return err
	}
	_, err = d.Lstat(base)
	there := err == nil
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), besidePrefix(base, "old")) {
			continue
		}
		if there {
			_ = d.RemoveAll(e.Name())
			continue
		}
		if err := d.Rename(e.Name(), base); err != nil {
			return err
		}
		there = true
		if err := d.SyncDir("."); err != nil {
			return err
		}
	}
	return nil
}
