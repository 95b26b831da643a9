package review

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/pack"
)

var (
	update = flag.Bool("update", false, "accept the drawings and papers made now")
	folder = flag.String("review", "", "write a page of old and new side by side into this folder")
)

// paperText is the file that holds the text of a pack, page by page.
const paperText = "pack.txt"

// examples are the jobs whose packs are kept.
var examples = []string{"juniper-flat", "kestrel-rise"}

// pair is one kept thing: as it was accepted and as it is made now. An empty side was not
// there.
type pair struct {
	example, name string
	old, new      string
}

func (p *pair) changed() bool { return p.old != p.new }

// runs are the examples as they were appraised, without the years and with them.
var runs = map[string][2]*appraise.Appraisal{}

// run appraises an example, once for all tests.
func run(t *testing.T, name string) (checked, whole *appraise.Appraisal) {
	t.Helper()
	if r, done := runs[name]; done {
		return r[0], r[1]
	}
	doc := demo.Doc(t, name)
	rows, profile := demo.Rows(t, doc.Job.Profile)
	in := appraise.Input{Doc: doc, Job: doc.Job, Catalogue: rows, Profile: profile}
	checked, err := appraise.Run(context.Background(), in, nil)
	if err == nil {
		whole, err = appraise.AddYears(context.Background(), in, checked, appraise.Logs{}, nil)
	}
	if err == nil {
		whole, err = whole.Resting(context.Background(), in)
	}
	if err != nil {
		t.Fatal(err)
	}
	runs[name] = [2]*appraise.Appraisal{checked, whole}
	return checked, whole
}

// made is what is made now of one example: file name to text, and the PDF for the page.
func made(t *testing.T, name string) (files map[string]string, pdf []byte) {
	t.Helper()
	_, a := run(t, name)
	list, err := pack.Make(a, pack.Options{Version: "0"})
	if err != nil {
		t.Fatal(err)
	}
	files = map[string]string{}
	for _, f := range list {
		switch {
		case strings.HasSuffix(f.Name, ".svg"):
			files[f.Name] = string(f.Data)
		case f.Name == "pack.pdf":
			pdf = f.Data
			if text, ok := textOf(t, f.Data); ok {
				files[paperText] = text
			}
		}
	}
	return files, pdf
}

// textOf reads the text of a PDF with poppler: the number of pages, then each page's
// lines. ok is false where poppler is not installed.
func textOf(t *testing.T, pdf []byte) (text string, ok bool) {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Log("pdftotext (poppler-utils) is not installed: the papers' text is not compared")
		return "", false
	}
	file := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-raw", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	var b strings.Builder
	fmt.Fprintf(&b, "%d pages\n", len(pages))
	for i, page := range pages {
		fmt.Fprintf(&b, "\n== page %d\n", i+1)
		for _, line := range strings.Split(page, "\n") {
			if words := strings.Fields(line); len(words) > 0 {
				b.WriteString(strings.Join(words, " ") + "\n")
			}
		}
	}
	return b.String(), true
}

// accepted reads what was accepted of an example.
func accepted(t *testing.T, example string) map[string]string {
	t.Helper()
	files := map[string]string{}
	list, err := os.ReadDir(filepath.Join("testdata", example))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	for _, e := range list {
		b, err := os.ReadFile(filepath.Join("testdata", example, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		files[e.Name()] = string(b)
	}
	return files
}

// pairsOf sets old and new beside each other, what changed first, then by name.
func pairsOf(example string, old, now map[string]string) []pair {
	var list []pair
	for name, text := range now {
		list = append(list, pair{example, name, old[name], text})
	}
	for name, text := range old {
		if _, there := now[name]; !there {
			list = append(list, pair{example, name, text, ""})
		}
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].changed() != list[j].changed() {
			return list[i].changed()
		}
		return list[i].name < list[j].name
	})
	return list
}

// TestGolden compares every drawing and every page with what was accepted.
func TestGolden(t *testing.T) {
	var all []pair
	papers := map[string][]byte{}
	for _, example := range examples {
		now, pdf := made(t, example)
		old := accepted(t, example)
		if _, read := now[paperText]; !read {
			delete(old, paperText) // nothing to compare it with here
		}
		papers[example] = pdf
		all = append(all, pairsOf(example, old, now)...)
	}
	if *folder != "" {
		writePage(t, *folder, all, papers)
	}
	for i := range all {
		switch p := &all[i]; {
		case !p.changed():
		case *update:
			accept(t, p)
		default:
			t.Errorf("%s: %s is not as it was accepted. Look at it: go test ./internal/review -review DIR; if the change is meant: -update%s",
				p.example, p.name, firstDifference(p.old, p.new))
		}
	}
}

// accept keeps what is made now.
func accept(t *testing.T, p *pair) {
	t.Helper()
	file := filepath.Join("testdata", p.example, p.name)
	if p.new == "" {
		if err := os.Remove(file); err != nil {
			t.Fatal(err)
		}
		return
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(p.new), 0o666); err != nil {
		t.Fatal(err)
	}
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(old, now string) string {
	a, b := strings.Split(old, "\n"), strings.Split(now, "\n")
	for i := range max(len(a), len(b)) {
		var x, y string
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			return fmt.Sprintf("\nline %d\n  was %.120q\n  is  %.120q", i+1, x, y)
		}
	}
	return ""
}
