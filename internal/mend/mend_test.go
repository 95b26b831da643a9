package mend

import (
	"context"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestMend: a job with nothing to fix stays as it is; one with something to fix ends with
// less, by edits that turn the one file into the other.
func TestMend(t *testing.T) {
	none := func(*job.Doc, *finding.Finding) [][]job.Edit { return nil }
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		doc := demo.Doc(t, name)
		rows, _ := demo.Rows(t, doc.Job.Profile)
		in, err := appraise.NewInput(rows, doc)
		if err != nil {
			t.Fatal(err)
		}
		before, err := appraise.Quick(in)
		if err != nil {
			t.Fatal(err)
		}
		m, err := Mend(context.Background(), rows, doc, none)
		if err != nil {
			t.Fatal(err)
		}
		if had := len(mustFix(before.Findings)); len(m.Must) > had || had == 0 && len(m.Edits) > 0 {
			t.Errorf("%s: %d to fix before, %d after %v", name, had, len(m.Must), m.Edits)
		}
		if len(m.Edits) == 0 {
			continue
		}
		again, _, err := doc.Apply(m.Edits...)
		if err != nil || string(again.Bytes()) != string(m.Doc.Bytes()) {
			t.Errorf("%s: the edits do not make the file: %v", name, err)
		}
	}
	cancelled, stop := context.WithCancel(context.Background())
	stop()
	doc := demo.Doc(t, "juniper-flat")
	rows, _ := demo.Rows(t, doc.Job.Profile)
	if _, err := Mend(cancelled, rows, doc, none); err == nil {
		t.Error("a cancelled run goes on")
	}
}
