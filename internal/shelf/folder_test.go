package shelf

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func openTemp(t *testing.T, jobs ...string) (*Folder, string) {
	t.Helper()
	dir := t.TempDir()
	for _, name := range jobs {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("first"), 0o640); err != nil {
			t.Fatal(err)
		}
	}
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f, dir
}

func mustRead(t *testing.T, f *Folder, name string) string {
	t.Helper()
	b, _, err := f.Read(name, 1000)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestFolderVersions: every save keeps what was there, and a save on top of somebody
// else's change is refused with what the file holds now.
func TestFolderVersions(t *testing.T) {
	f, dir := openTemp(t, "house"+Suffix)
	for _, step := range [][2]string{{"first", "second"}, {"second", "second"}, {"second", "third"}} {
		if err := f.Save("house", []byte(step[0]), []byte(step[1])); err != nil {
			t.Fatal(err)
		}
	}
	versions, err := f.Versions("house")
	if err != nil || len(versions) != 2 {
		t.Fatalf("versions %v, %v; want two: a save that changes nothing keeps none", versions, err)
	}
	for i, want := range []string{"second", "first"} {
		b, err := f.Version("house", versions[i].ID, 1000)
		if string(b) != want {
			t.Errorf("version %d holds %q (%v), want %q", i, b, err, want)
		}
	}
	var changed *Changed
	if err := f.Save("house", []byte("second"), []byte("mine")); !errors.As(err, &changed) || string(changed.Now) != "third" {
		t.Errorf("a save on an old state: %v", err)
	}
	if got := mustRead(t, f, "house"); got != "third" {
		t.Errorf("the file holds %q after a refused save", got)
	}
	if info, _ := os.Stat(filepath.Join(dir, "house"+Suffix)); info.Mode().Perm() != 0o640 {
		t.Errorf("permissions became %v", info.Mode())
	}
}

// TestFolderTrash: a job thrown away comes back with its versions, unless its name was
// taken meanwhile.
func TestFolderTrash(t *testing.T) {
	f, _ := openTemp(t, "house"+Suffix)
	if err := f.Save("house", []byte("first"), []byte("second")); err != nil {
		t.Fatal(err)
	}
	if err := f.Throw("house"); err != nil {
		t.Fatal(err)
	}
	if jobs, _ := f.Jobs(); len(jobs) != 0 {
		t.Fatalf("still there: %v", jobs)
	}
	thrown, err := f.Trash()
	if err != nil || len(thrown) != 1 || thrown[0].Name != "house" {
		t.Fatalf("trash %v, %v", thrown, err)
	}
	if err := f.Create("house", []byte("another")); err != nil {
		t.Fatal(err)
	}
	if v, _ := f.Versions("house"); len(v) != 0 {
		t.Errorf("a new job of the same name has versions %v", v)
	}
	var e *Error
	if _, err := f.PutBack(thrown[0].ID); !errors.As(err, &e) || e.ID != "shelf.taken" {
		t.Errorf("put back over a job: %v", err)
	}
	if err := f.Rename("house", "other house"); err != nil {
		t.Fatal(err)
	}
	if name, err := f.PutBack(thrown[0].ID); err != nil || mustRead(t, f, name) != "second" {
		t.Errorf("put back: %v", err)
	}
	if v, _ := f.Versions("house"); len(v) != 1 {
		t.Errorf("it came back with versions %v", v)
	}
	if thrown, _ := f.Trash(); len(thrown) != 0 {
		t.Errorf("trash still holds %v", thrown)
	}
}

// TestFolderRename: the versions go with the job; what another job of the new name left
// is not mixed with them.
func TestFolderRename(t *testing.T) {
	f, dir := openTemp(t, "a"+Suffix, "b"+Suffix)
	for _, name := range []string{"a", "b"} {
		if err := f.Save(name, []byte("first"), []byte("second "+name)); err != nil {
			t.Fatal(err)
		}
	}
	os.Remove(filepath.Join(dir, "b"+Suffix)) // by hand: its versions stay
	if err := f.Rename("a", "b"); err != nil {
		t.Fatal(err)
	}
	if v, _ := f.Versions("b"); len(v) != 1 || mustRead(t, f, "b") != "second a" {
		t.Errorf("after the rename: %v", v)
	}
	if err := f.Rename("a", "c"); err == nil {
		t.Error("a job that is gone was renamed")
	}
}

// TestFolderNames: no name leaves the folder or reaches what is ours.
func TestFolderNames(t *testing.T) {
	f, dir := openTemp(t, "house"+Suffix)
	if err := os.WriteFile(filepath.Join(filepath.Dir(dir), "outside"+Suffix), []byte("secret"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(filepath.Join(filepath.Dir(dir), "outside"+Suffix), filepath.Join(dir, "link"+Suffix)); err != nil {
		t.Skip(err)
	}
	if jobs, _ := f.Jobs(); len(jobs) != 1 {
		t.Errorf("a link out of the folder is listed: %v", jobs)
	}
	for _, name := range []string{"../outside", "..", "", ".hidden", "a/b", `a\b`, "a\x00b", "a\nb", "link", strings.Repeat("x", 200)} {
		if b, _, err := f.Read(name, 1000); err == nil {
			t.Errorf("%q was read: %q", name, b)
		}
		if err := f.Create(name, []byte("x")); err == nil {
			t.Errorf("%q was made", name)
		}
	}
	for _, name := range []string{"../outside.job.yaml", "/etc/hostname", hidden + "/lock", "x/../" + hidden + "/lock"} {
		if b, err := f.Beside(name, 1000); err == nil {
			t.Errorf("%q was read: %q", name, b)
		}
	}
	if _, err := f.Version("house", "../../house", 1000); err == nil {
		t.Error("a version outside the history was read")
	}
	if _, err := f.Beside("house"+Suffix, 3); err == nil {
		t.Error("the limit does not count")
	}
	if _, err := OpenFolder(filepath.Join(dir, "nowhere")); err == nil {
		t.Error("a folder that is not there was opened")
	}
}

// TestFolderFault fails and stops at each operation of a save, with and without a power
// cut: the file is old or new, whole, and a version that is there is whole too.
func TestFolderFault(t *testing.T) {
	for _, stop := range []bool{false, true} {
		for n := 1; ; n++ {
			m := newMemory()
			f := &Folder{d: m}
			if err := f.Create("house", []byte("older")); err != nil {
				t.Fatal(err)
			}
			if err := f.Save("house", []byte("older"), []byte("old")); err != nil {
				t.Fatal(err)
			}
			m.ops, m.at, m.stop = 0, n, stop
			err := f.Save("house", []byte("old"), []byte("new bytes"))
			for _, c := range cuts {
				found := m.after(c)
				got := content(found.tree("."), "house"+Suffix)
				if got != "old" && got != "new bytes" || err == nil && got != "new bytes" {
					t.Errorf("stop %v at %d, %s: the file holds %q (error %v)", stop, n, c.name, got, err)
				}
				after := &Folder{d: found}
				if err := after.Save("house", []byte(got), []byte("next")); err != nil {
					t.Errorf("stop %v at %d, %s: the next save: %v", stop, n, c.name, err)
				}
				versions, err := after.Versions("house")
				if err != nil || len(versions) == 0 {
					t.Errorf("stop %v at %d, %s: versions %v, %v", stop, n, c.name, versions, err)
				}
				if b, err := after.Version("house", versions[0].ID, 1000); err != nil || string(b) != got {
					t.Errorf("stop %v at %d, %s: the latest version holds %q (%v), want %q", stop, n, c.name, b, err, got)
				}
			}
			if m.ops < n {
				break
			}
		}
	}
}

// TestThrowFault fails each operation of throwing away and putting back: the job is on
// the shelf or in the trash, whole.
func TestThrowFault(t *testing.T) {
	for n := 1; ; n++ {
		m := newMemory()
		f := &Folder{d: m}
		if err := f.Create("house", []byte("old")); err != nil {
			t.Fatal(err)
		}
		if err := f.Save("house", []byte("old"), []byte("house")); err != nil {
			t.Fatal(err)
		}
		m.ops, m.at = 0, n
		err := f.Throw("house")
		if err == nil {
			list, _ := f.Trash()
			if len(list) == 1 {
				_, err = f.PutBack(list[0].ID)
			}
		}
		done := m.ops < n
		m.at = 0
		held := 0
		for name, file := range m.tree(".") {
			if strings.HasSuffix(name, "house"+Suffix) && string(file.Data) == "house" {
				held++
			}
		}
		if held != 1 {
			t.Errorf("operation %d failed (%v): the job stands in %d places", n, err, held)
		}
		if done {
			break
		}
	}
}
