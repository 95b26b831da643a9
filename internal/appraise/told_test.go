package appraise

import (
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestRemedyInWords: what a remedy sets is said by the words of its catalogue row, never by
// the row's key alone; what is no row is said as it is written.
func TestRemedyInWords(t *testing.T) {
	rows, _ := demo.Rows(t, "generic")
	edits := []job.Edit{
		{Op: job.Set, Path: "choices.float", Text: "float-15-medium"},
		{Op: job.Set, Path: "choices.backflow", Text: "none"},
		{Op: job.Set, Path: "choices.store.count", Text: "2"},
		{Op: job.Unset, Path: "choices.float"},
	}
	r := finding.Remedy{Edits: edits, Told: told(rows, edits)}
	want := []string{rows.Floats["float-15-medium"].Words, "none", "2", ""}
	for i := range edits {
		if got := r.Value(i); got != want[i] {
			t.Errorf("%v: %q, want %q", edits[i], got, want[i])
		}
	}
	for _, f := range job.Fields() { // every table a remedy may choose from has words for its rows
		if f.Shape != job.Row || f.Table == "" {
			continue
		}
		for _, key := range rows.Keys(f.Table) {
			if _, ok := rows.Words(f.Table, key); !ok {
				t.Errorf("%s: row %s of %s has no words", f.Path, key, f.Table)
			}
		}
	}
}
