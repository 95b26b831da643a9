package shelf

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"tideover/internal/words"
)

// wantFault holds err against a message id; the message must have all its words.
func wantFault(t *testing.T, what string, err error, id string) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) || e.ID != "shelf."+id || strings.Contains(err.Error(), "‹") {
		t.Errorf("%s: %v, want shelf.%s", what, err, id)
	}
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	small := filepath.Join(dir, "small")
	large := filepath.Join(dir, "large")
	if err := os.WriteFile(small, []byte("0123456789"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(large, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, 50_000_000); err != nil {
		t.Fatal(err)
	}
	if b, err := ReadFile(small, 10); err != nil || string(b) != "0123456789" {
		t.Errorf("ReadFile at its limit = %q, %v", b, err)
	}
	_, err := ReadFile(small, 9)
	wantFault(t, "one byte over the limit", err, "too-large")
	_, err = ReadFile(large, 1_000_000)
	wantFault(t, "50 MB", err, "too-large")
	if !strings.Contains(err.Error(), "50.0 MB") || !strings.Contains(err.Error(), "1.0 MB") {
		t.Errorf("50 MB: %v does not name size and limit", err)
	}
	_, err = ReadFile(filepath.Join(dir, "none"), 10)
	wantFault(t, "missing", err, "missing")
	if !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("missing: %v does not unwrap to the system's error", err)
	}
	_, err = ReadFile("", 10)
	wantFault(t, "no name", err, "missing")
	_, err = ReadFile(dir, 10)
	wantFault(t, "folder", err, "folder")
	_, err = ReadFile(small+"/x", 10)
	wantFault(t, "below a file", err, "unreadable")
	if runtime.GOOS != "windows" {
		_, err = ReadFile(os.DevNull, 10)
		wantFault(t, "device", err, "not-a-file")
	}
	wantFault(t, "forbidden", readFault("x", fs.ErrPermission), "read-forbidden")
}

// A file of 50 MB is refused by its size: reading it would allocate as much.
func TestLargeFileIsNotRead(t *testing.T) {
	large := filepath.Join(t.TempDir(), "large")
	if err := os.WriteFile(large, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(large, 50_000_000); err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := ReadFile(large, 1<<20)
	runtime.ReadMemStats(&after)
	wantFault(t, "50 MB", err, "too-large")
	if grown := after.TotalAlloc - before.TotalAlloc; grown > 1<<20 {
		t.Errorf("refusing 50 MB allocated %d bytes", grown)
	}
}

func TestStageFolder(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	if err := MayStage(out, Options{}); err != nil {
		t.Errorf("a folder that is not there yet: %v", err)
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("to ask makes a folder")
	}
	stage := func(files []File, o Options) error { return StageFolder(out, files, o) }
	if err := stage(oldFiles, Options{}); err != nil {
		t.Fatal(err)
	}
	if err := stage(newFiles, Options{}); err != nil {
		t.Fatalf("replacing our own folder: %v", err)
	}
	first := read(t, out)
	if len(first) != len(newFiles)+1 || string(first["sub/b.txt"]) != "new b" {
		t.Fatalf("the folder holds %d files: %q", len(first), first)
	}
	if err := stage(newFiles, Options{}); err != nil {
		t.Fatal(err)
	}
	for name, data := range read(t, out) {
		if !bytes.Equal(data, first[name]) {
			t.Errorf("%s differs from one run to the next", name)
		}
	}
	if names, _ := os.ReadDir(filepath.Dir(out)); len(names) != 1 {
		t.Errorf("%d names stand beside the folder, want none", len(names)-1)
	}
}

// What replacing a folder would lose is never replaced unasked.
func TestStageFolderRefuses(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(out string) error
		id    string
	}{
		{"added", func(out string) error { return os.WriteFile(filepath.Join(out, "notes.txt"), nil, 0o644) }, "changed"},
		{"added below", func(out string) error { return os.WriteFile(filepath.Join(out, "sub", "n"), nil, 0o644) }, "changed"},
		{"edited", func(out string) error { return os.WriteFile(filepath.Join(out, "a.txt"), []byte("mine"), 0o644) }, "changed"},
		{"linked", func(out string) error { return os.Symlink("a.txt", filepath.Join(out, "l")) }, "changed"},
		{"no manifest", func(out string) error { return os.Remove(filepath.Join(out, manifestName)) }, "not-ours"},
		{"a file", func(out string) error {
			return errors.Join(os.RemoveAll(out), os.WriteFile(out, []byte("x"), 0o644))
		}, "not-a-folder"},
	}
	for _, tt := range tests {
		out := filepath.Join(t.TempDir(), "out")
		if err := errors.Join(StageFolder(out, newFiles, Options{}), tt.spoil(out)); err != nil {
			t.Fatal(err)
		}
		before := read(t, out)
		wantFault(t, tt.name+", asked before", MayStage(out, Options{}), tt.id)
		wantFault(t, tt.name, StageFolder(out, oldFiles, Options{}), tt.id)
		if after := read(t, out); len(after) != len(before) {
			t.Errorf("%s: the refused folder changed", tt.name)
		}
		err := StageFolder(out, oldFiles, Options{Replace: true})
		if tt.id == "not-a-folder" {
			wantFault(t, tt.name+", replace", err, tt.id)
		} else if got := read(t, out); err != nil || len(got) != len(oldFiles)+1 {
			t.Errorf("%s, replace: %v, %d files", tt.name, err, len(got))
		}
	}
}

func TestStageFolderPlaces(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "empty"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := StageFolder(filepath.Join(dir, "empty"), newFiles, Options{}); err != nil {
		t.Errorf("an empty folder: %v", err)
	}
	wantFault(t, "no parent", StageFolder(filepath.Join(dir, "no", "out"), newFiles, Options{}), "no-parent")
	wantFault(t, "the root", StageFolder("/", newFiles, Options{}), "not-ours")
	wantFault(t, "full", writeFault("x", syscall.ENOSPC), "full")
	wantFault(t, "forbidden", writeFault("x", fs.ErrPermission), "write-forbidden")
	wantFault(t, "other", writeFault("x", errFault), "unwritable")
}

func TestStageFolderNames(t *testing.T) {
	for _, name := range []string{
		"", ".", "..", "../x", "a/../../x", "/x", "a//b", "a/", `a\b`, "c:x", "a\x00", "a\nb", manifestName,
		strings.ToUpper(manifestName),
	} {
		dir := t.TempDir()
		err := StageFolder(filepath.Join(dir, "out"), []File{{"ok", nil}, {name, nil}}, Options{})
		wantFault(t, "name "+name, err, "name")
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("name %q: something was written", name)
		}
	}
	err := StageFolder(filepath.Join(t.TempDir(), "out"), []File{{"A.txt", nil}, {"a.txt", nil}}, Options{})
	wantFault(t, "names that differ in capitals only", err, "name")
}

func TestSaveAtomic(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "my job ü.yaml")
	steps := []struct{ write, kept string }{{"one", ""}, {"two", "one"}, {"two", "one"}, {"three", "two"}}
	for i, s := range steps {
		if err := SaveAtomic(job, []byte(s.write)); err != nil {
			t.Fatal(err)
		}
		got, _ := os.ReadFile(job)
		kept, _ := os.ReadFile(job + "~")
		if string(got) != s.write || string(kept) != s.kept {
			t.Errorf("save %d: file %q kept %q, want %q and %q", i, got, kept, s.write, s.kept)
		}
	}
	if err := os.Chmod(job, 0o600); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(job, link); err != nil {
		t.Fatal(err)
	}
	if err := SaveAtomic(link, []byte("four")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("saving through a link replaced it: %v, %v", info.Mode(), err)
	}
	if info, err := os.Stat(job); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("saving changed the permissions to %v, %v", info.Mode(), err)
	}
	wantFault(t, "a folder", SaveAtomic(dir, nil), "folder")
	wantFault(t, "no parent", SaveAtomic(filepath.Join(dir, "no", "x"), nil), "no-parent")
}

// TestMessagesUsed holds that every message of this package is one its code can say.
func TestMessagesUsed(t *testing.T) {
	var source strings.Builder
	for _, name := range []string{"shelf.go", "read.go", "save.go", "stage.go", "manifest.go", "folder.go", "versions.go"} {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		source.Write(b)
	}
	for _, id := range words.IDs() {
		if strings.HasPrefix(id, "shelf.") && !strings.Contains(source.String(), `"`+id+`"`) {
			t.Errorf("nothing says %s", id)
		}
	}
}

// read returns the files below a folder; for a file, that one.
func read(t *testing.T, folder string) map[string][]byte {
	t.Helper()
	got := map[string][]byte{}
	err := filepath.WalkDir(folder, func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		b, err := os.ReadFile(p)
		rel, _ := filepath.Rel(folder, p)
		got[filepath.ToSlash(rel)] = b
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func ExampleStageFolder() {
	dir, _ := os.MkdirTemp("", "")
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "pack")
	err := StageFolder(out, []File{{Name: "buying-list.csv", Data: []byte("part,count\n")}}, Options{})
	names, _ := os.ReadDir(out)
	for _, n := range names {
		os.Stdout.WriteString(n.Name() + "\n")
	}
	if err != nil {
		os.Stdout.WriteString(err.Error())
	}
	// Output:
	// buying-list.csv
	// tideover-manifest.sha256
}
