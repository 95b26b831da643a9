package shelf

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

var (
	oldFiles = []File{{"a.txt", []byte("old a")}, {"gone.txt", []byte("old only")}}
	newFiles = []File{{"a.txt", []byte("new a, longer")}, {"sub/b.txt", []byte("new b")}}
)

// print makes a tree comparable.
func print(t fstest.MapFS) string {
	if t == nil {
		return "nothing"
	}
	var files []File
	for name, f := range t {
		if name != manifestName {
			files = append(files, File{name, f.Data})
		}
	}
	return fmt.Sprintf("%q", strings.Split(string(manifest(files)), "\n"))
}

func whole(files []File) string {
	t := fstest.MapFS{}
	for _, f := range files {
		t[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return print(t)
}

// withOld is a disk on which out holds the old files, or nothing, all synced.
func withOld(t *testing.T, there bool) *memory {
	m := newMemory()
	if there {
		if err := stageFolder(m, "out", "out", oldFiles, Options{}); err != nil {
			t.Fatal(err)
		}
	}
	m.ops = 0
	return m
}

// TestStageFault fails each operation in turn: an error leaves out as it was, or new
// when only the last sync failed, and no hidden folder beside it.
func TestStageFault(t *testing.T) {
	for _, there := range []bool{false, true} {
		before := print(withOld(t, there).tree("out"))
		for n := 1; ; n++ {
			m := withOld(t, there)
			m.at = n
			err := stageFolder(m, "out", "out", newFiles, Options{})
			if m.ops < n {
				break
			}
			got := print(m.tree("out"))
			if err == nil && got != whole(newFiles) || err != nil && got != before && got != whole(newFiles) {
				t.Errorf("there %v, operation %d failed: error %v, out holds %s", there, n, err, got)
			}
			if err != nil && !errors.Is(err, errFault) {
				t.Errorf("there %v, operation %d failed: %v does not tell the cause", there, n, err)
			}
			if left := len(m.find(".").entries); err != nil && left > 1 && got == before {
				t.Errorf("there %v, operation %d failed: %d names are left beside out", there, n, left)
			}
		}
	}
}

// TestStageStop stops the program at each operation, with and without a power cut: out
// is old or new, whole, or for the one instant between two renames absent with the old
// folder whole beside it; and the next call succeeds from there.
func TestStageStop(t *testing.T) {
	for _, there := range []bool{false, true} {
		before := print(withOld(t, there).tree("out"))
		absent := 0
		for n := 1; ; n++ {
			m := withOld(t, there)
			m.at, m.stop = n, true
			_ = stageFolder(m, "out", "out", newFiles, Options{})
			for _, c := range cuts {
				found := m.after(c)
				got := print(found.tree("out"))
				if got == "nothing" && there {
					absent++
					if err := recoverOld(found, "out"); err != nil {
						t.Fatal(err)
					}
					got = print(found.tree("out"))
				}
				if got != before && got != whole(newFiles) {
					t.Errorf("there %v, stopped at %d, %s: out holds %s", there, n, c.name, got)
				}
				if err := stageFolder(found, "out", "out", newFiles, Options{}); err != nil {
					t.Errorf("there %v, stopped at %d, %s: the next call: %v", there, n, c.name, err)
				}
				for name := range found.root.entries {
					if strings.HasPrefix(name, besidePrefix("out", "old")) {
						t.Errorf("there %v, stopped at %d, %s: %s is never removed", there, n, c.name, name)
					}
				}
				if got := print(found.tree("out")); got != whole(newFiles) {
					t.Errorf("there %v, stopped at %d, %s: after the next call out holds %s", there, n, c.name, got)
				}
			}
			if m.ops < n {
				break
			}
		}
		// Stopped at the second rename, in each view that keeps the names at the top.
		if there && absent != 3 || !there && absent != 0 {
			t.Errorf("there %v: out was absent %d times", there, absent)
		}
	}
}

// savedFile is a disk on which job holds the old bytes and job~ older ones, all synced.
func savedFile(t *testing.T) *memory {
	m := newMemory()
	for _, text := range []string{"older", "old"} {
		if err := save(m, "job", "job", []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	m.ops = 0
	return m
}

// TestSaveFault fails and stops at each operation of a save, with and without a power
// cut: the file is old or new, whole, and so is the version kept.
func TestSaveFault(t *testing.T) {
	for _, stop := range []bool{false, true} {
		for n := 1; ; n++ {
			m := savedFile(t)
			m.at, m.stop = n, stop
			err := save(m, "job", "job", []byte("new bytes"))
			for _, c := range cuts {
				tree := m.after(c).tree(".")
				job, kept := content(tree, "job"), content(tree, "job~")
				if job != "old" && job != "new bytes" || err == nil && job != "new bytes" {
					t.Errorf("stop %v at %d, %s: job holds %q (error %v)", stop, n, c.name, job, err)
				}
				if kept != "older" && kept != "old" {
					t.Errorf("stop %v at %d, %s: job~ holds %q", stop, n, c.name, kept)
				}
			}
			if !stop && len(m.root.entries) > 2 {
				t.Errorf("operation %d failed: a temporary file is left", n)
			}
			if m.ops < n {
				break
			}
		}
	}
}

func content(t fstest.MapFS, name string) string {
	if f := t[name]; f != nil {
		return string(f.Data)
	}
	return "nothing"
}
