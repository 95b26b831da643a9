package pack

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// examples are the jobs every test of the whole pack runs over.
var examples = []string{"kestrel-rise", "juniper-flat"}

// source is an example's job file.
func source(t testing.TB, name string) string {
	t.Helper()
	return string(demo.Source(t, name))
}

// ran keeps the appraisals: each job is run once for all tests.
var ran sync.Map

// run appraises a job file as the command does. Tests share the result and change only
// copies of it.
func run(t testing.TB, src string) *appraise.Appraisal {
	t.Helper()
	if a, done := ran.Load(src); done {
		return a.(*appraise.Appraisal)
	}
	a := fresh(t, src)
	ran.Store(src, a)
	return a
}

// fresh appraises a job file anew.
func fresh(t testing.TB, src string) *appraise.Appraisal {
	t.Helper()
	doc, faults := job.Read("job.yaml", []byte(src))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	c, profile := demo.Rows(t, doc.Job.Profile)
	in := appraise.Input{Doc: doc, Job: doc.Job, Catalogue: c, Profile: profile}
	a, err := appraise.Run(context.Background(), in, nil)
	if err == nil && slices.ContainsFunc(examples, func(name string) bool { return src == source(t, name) }) { // the years of the others are no others
		a, err = appraise.AddYears(context.Background(), in, a, appraise.Logs{}, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// make makes a pack and returns its files by name.
func made(t testing.TB, a *appraise.Appraisal, o Options) map[string][]byte {
	t.Helper()
	o.Version = "0.1.0"
	files, err := Make(a, o)
	if err != nil {
		t.Fatal(err)
	}
	byName := map[string][]byte{}
	for _, f := range files {
		byName[f.Name] = f.Data
	}
	return byName
}

var blanks = regexp.MustCompile(`[\s\x{a0}\x{202f}]+`)

// squeezed is a text without its line breaks, so that a sentence is found however it
// was set.
func squeezed(text string) string { return blanks.ReplaceAllString(text, "") }

// pages reads the text of a PDF as it lies, page by page, with poppler.
func pages(t testing.TB, pdf []byte) []string { return readBack(t, pdf, "-layout") }

// inOrder reads it in the order it was set: column after column.
func inOrder(t testing.TB, pdf []byte) []string { return readBack(t, pdf, "-raw") }

func readBack(t testing.TB, pdf []byte, how string) []string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext (poppler-utils) is not installed: the PDF is not read back")
	}
	file := filepath.Join(t.TempDir(), "pack.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	var warn bytes.Buffer
	cmd := exec.Command(tool, how, file, "-")
	cmd.Stderr = &warn
	out, err := cmd.Output()
	if err != nil || warn.Len() > 0 {
		t.Fatalf("pdftotext: %v %s", err, warn.String())
	}
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}
