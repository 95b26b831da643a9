package shelf

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestEveryNameComesBack: names of every length that a job can have, of one byte a letter and
// of two, go to the trash and come back from it.
func TestEveryNameComesBack(t *testing.T) {
	f, _ := openTemp(t)
	for _, letter := range []string{"a", "ж"} {
		for n := 1; n*len(letter) <= 100; n++ {
			name := strings.Repeat(letter, n)
			if err := f.Create(name, []byte(name)); err != nil {
				t.Fatalf("%d of %q: %v", n, letter, err)
			}
			if err := f.Throw(name); err != nil {
				t.Fatalf("%d of %q: throw: %v", n, letter, err)
			}
			thrown, err := f.Trash()
			if err != nil || len(thrown) != 1 {
				t.Fatalf("%d of %q: trash %v, %v", n, letter, thrown, err)
			}
			if back, err := f.PutBack(thrown[0].ID); err != nil || back != name || mustRead(t, f, name) != name {
				t.Fatalf("%d of %q: put back %q: %v", n, letter, back, err)
			}
		}
	}
	for _, id := range []string{"a", "-a", "x-a", "../a", "000001-../../a", "000001-"} {
		if _, err := f.PutBack(id); err == nil {
			t.Errorf("%q came out of the trash", id)
		}
	}
}

// TestNamesThatCannotBeSeen: a name needs a letter or a figure, and nothing in it that hides
// or turns round what stands beside it.
func TestNamesThatCannotBeSeen(t *testing.T) {
	f, dir := openTemp(t)
	for _, name := range []string{"\u202e", "\ufeff", "a\u202eb", "- -", "\u00ad", "a\u0085b"} {
		if err := f.Create(name, []byte("x")); err == nil {
			t.Errorf("%q was made", name)
		}
	}
	for _, name := range []string{"дом", "घर\u200d", "家", "no 7", "möwe"} {
		if err := f.Create(name, []byte("x")); err != nil {
			t.Errorf("%q: %v", name, err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "a:b"+Suffix), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder"+Suffix), 0o755); err != nil {
		t.Fatal(err)
	}
	odd, err := f.Unshown()
	if err != nil || len(odd) != 2 || odd[0] != "a:b"+Suffix || odd[1] != "folder"+Suffix {
		t.Errorf("not shown: %q, %v", odd, err)
	}
	if err := f.Throw("folder"); err == nil {
		t.Error("a folder went to the trash, which would not list it")
	}
}

// TestLockHeld: a lock that somebody else holds is waited for five seconds, and then told.
func TestLockHeld(t *testing.T) {
	f, dir := openTemp(t, "house"+Suffix)
	if err := f.Save("house", []byte("first"), []byte("second")); err != nil {
		t.Fatal(err)
	}
	other, err := os.OpenFile(filepath.Join(dir, hidden, "lock"), os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	if err := syscall.Flock(int(other.Fd()), syscall.LOCK_EX); err != nil {
		t.Skip(err)
	}
	var e *Error
	if err := f.Save("house", []byte("second"), []byte("third")); !errors.As(err, &e) || e.ID != "shelf.held" {
		t.Errorf("saving under another's lock: %v", err)
	}
	if got := mustRead(t, f, "house"); got != "second" {
		t.Errorf("the file holds %q", got)
	}
	other.Close()
	if err := f.Save("house", []byte("second"), []byte("third")); err != nil {
		t.Errorf("once it is free: %v", err)
	}
}

// TestLeftoversAreSwept: what a stopped programme left half written goes with the next save
// of that file once it is a day old; what another is writing now stays.
func TestLeftoversAreSwept(t *testing.T) {
	f, dir := openTemp(t, "house"+Suffix)
	old, young := filepath.Join(dir, ".house"+Suffix+".new-00000001"), filepath.Join(dir, ".house"+Suffix+".new-00000002")
	for _, name := range []string{old, young} {
		if err := os.WriteFile(name, []byte("half"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := time.Now().Add(-48 * time.Hour)
	if err := os.Chtimes(old, before, before); err != nil {
		t.Fatal(err)
	}
	if err := f.Save("house", []byte("first"), []byte("second")); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(old); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the leftover of two days ago is still there: %v", err)
	}
	if _, err := os.Stat(young); err != nil {
		t.Errorf("what is being written went: %v", err)
	}
}

// small is a disk with room for so many bytes in files.
type small struct {
	disk
	room int
}

func (s small) used() (n int) {
	var walk func(string)
	walk = func(name string) {
		entries, _ := s.ReadDir(name)
		for _, e := range entries {
			if e.IsDir() {
				walk(path.Join(name, e.Name()))
			} else if info, err := e.Info(); err == nil {
				n += int(info.Size())
			}
		}
	}
	walk(".")
	return n
}

func (s small) Create(name string, perm fs.FileMode) (file, error) {
	f, err := s.disk.Create(name, perm)
	return smallFile{f, s}, err
}

type smallFile struct {
	file
	on small
}

func (f smallFile) Write(b []byte) (int, error) {
	if f.on.used()+len(b) > f.on.room {
		return 0, syscall.ENOSPC
	}
	return f.file.Write(b)
}

// TestFullDiskLetsWorkGoOn: on a disk that is full of earlier versions a save makes room by
// letting the oldest go.
func TestFullDiskLetsWorkGoOn(t *testing.T) {
	f, _ := openTemp(t, "house"+Suffix)
	was := "first"
	for i := range 60 {
		next := strings.Repeat("x", 1000) + string(rune('a'+i%26)) + strings.Repeat("y", i)
		if err := f.Save("house", []byte(was), []byte(next)); err != nil {
			t.Fatal(err)
		}
		was = next
	}
	f.d = small{f.d, small{f.d, 0}.used() + 100} // full, but for a line
	for i := range 40 {
		next := strings.Repeat("z", 1100+i)
		if err := f.Save("house", []byte(was), []byte(next)); err != nil {
			t.Fatalf("save %d on the full disk: %v", i, err)
		}
		was = next
	}
	if v, err := f.Versions("house"); err != nil || len(v) < 2 {
		t.Errorf("versions left: %d, %v", len(v), err)
	}
	var e *Error
	if err := f.Save("house", []byte(was), []byte(strings.Repeat("w", 1<<20))); !errors.As(err, &e) || e.ID != "shelf.full" {
		t.Errorf("more than the disk holds: %v", err)
	}
	if got, _, err := f.Read("house", 1<<20); err != nil || string(got) != was {
		t.Errorf("the file is not what it was: %v", err)
	}
}

// TestBesideFollowsNoLink: what a job file names is read in its folder or below it, and
// nowhere else, from the command line as on the page.
func TestBesideFollowsNoLink(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	for name, text := range map[string]string{filepath.Join(elsewhere, "secret.csv"): "secret", filepath.Join(dir, "log.csv"): "log"} {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(filepath.Join(elsewhere, "secret.csv"), filepath.Join(dir, "link.csv")); err != nil {
		t.Skip(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(dir, "sub")); err != nil {
		t.Skip(err)
	}
	jobFile := filepath.Join(dir, "a"+Suffix)
	if b, err := ReadBeside(jobFile, "log.csv", 100); err != nil || string(b) != "log" {
		t.Errorf("log: %q, %v", b, err)
	}
	for _, name := range []string{"link.csv", "sub/secret.csv", "../secret.csv", filepath.Join(elsewhere, "secret.csv"), hidden + "/lock"} {
		if b, err := ReadBeside(jobFile, name, 100); err == nil {
			t.Errorf("%s was read: %q", name, b)
		}
	}
}
