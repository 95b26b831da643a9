package shelf

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strings"
)

// manifestName marks a folder as ours and lists what we put in it, in the form the
// program sha256sum checks.
const manifestName = "tideover-manifest.sha256"

// manifest lists the files in order of name, each with the SHA-256 of its bytes.
func manifest(files []File) []byte {
	lines := make([]string, len(files))
	for i, f := range files {
		lines[i] = f.Name + "\x00" + fmt.Sprintf("%x  %s\n", sha256.Sum256(f.Data), f.Name)
	}
	sort.Strings(lines)
	var b strings.Builder
	for _, l := range lines {
		_, line, _ := strings.Cut(l, "\x00")
		b.WriteString(line)
	}
	return []byte(b.String())
}

// mayReplace reports whether a folder stands at base, and refuses one that holds what
// replacing it would lose.
func mayReplace(d disk, base, out string, o Options) (there bool, err error) {
	info, err := d.Lstat(base)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, err
	case !info.IsDir():
		return false, fault("shelf.not-a-folder", out, nil)
	case o.Replace:
		return true, nil
	}
	return true, untouched(d, base, out)
}

// untouched returns an *Error naming the first thing in the folder that is not just as
// its manifest says. An empty folder has nothing to lose.
func untouched(d disk, base, out string) error {
	entries, err := d.ReadDir(base)
	if err != nil || len(entries) == 0 {
		return err
	}
	text, err := d.ReadFile(path.Join(base, manifestName))
	if errors.Is(err, fs.ErrNotExist) {
		return fault("shelf.not-ours", out, nil)
	}
	if err != nil {
		return err
	}
	return compare(d, base, "", out, strings.SplitAfter(string(text), "\n"))
}

// compare walks the folder base/sub and holds each file against the lines of the manifest.
func compare(d disk, base, sub, out string, lines []string) error {
	entries, err := d.ReadDir(path.Join(base, sub))
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := path.Join(sub, e.Name())
		if e.IsDir() {
			if err := compare(d, base, name, out, lines); err != nil {
				return err
			}
			continue
		}
		if name == manifestName {
			continue
		}
		if ok, err := listed(d, base, name, lines); err != nil || !ok {
			changed := fault("shelf.changed", out, err)
			changed.Args["name"] = name
			return changed
		}
	}
	return nil
}

// listed reports whether a file is regular and one line has its name and content.
func listed(d disk, base, name string, lines []string) (bool, error) {
	info, err := d.Lstat(path.Join(base, name))
	if err != nil || !info.Mode().IsRegular() {
		return false, err
	}
	data, err := d.ReadFile(path.Join(base, name))
	if err != nil {
		return false, err
	}
	want := string(manifest([]File{{name, data}}))
	for _, l := range lines {
		if l == want {
			return true, nil
		}
	}
	return false, nil
}
