package appraise

import (
	"context"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// TestPairs: where no single cure clears a finding, two together may, and are offered: each alone,
// made on the file, leaves the finding, both clear it, and what is said names both.
func TestPairs(t *testing.T) {
	pairs := 0
	for _, n := range []int{37, 67, 92, 101} { // of 115 homes those with the cheapest pairs; another home may do
		h := homes.Random(81, n)
		in := homeInput(t, h)
		in.Foremost = 8
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Findings {
			f := &a.Findings[i]
			for k := range f.Remedies {
				one, other := halves(f, &f.Remedies[k])
				if one == nil {
					continue
				}
				pairs++
				if clears(t, in, f, one) || clears(t, in, f, other) {
					t.Errorf("%s: %s: one change alone clears it", h.Name, f.Key())
				}
				if !clears(t, in, f, f.Remedies[k].Edits) {
					t.Errorf("%s: %s: both changes leave it", h.Name, f.Key())
				}
			}
		}
	}
	if pairs == 0 {
		t.Error("no home is offered two changes at once")
	}
}

// halves parts a remedy into the two cures it is made of; nil where it is one of its finding's own.
func halves(f *finding.Finding, m *finding.Remedy) (one, other []job.Edit) {
	is := func(a, b []job.Edit) bool {
		if len(a) != len(b) {
			return false
		}
		for i := range a {
			if a[i] != b[i] {
				return false
			}
		}
		return true
	}
	for _, edits := range f.Cures {
		if is(edits, m.Edits) {
			return nil, nil
		}
		for _, then := range f.Cures {
			if n := len(edits); n+len(then) == len(m.Edits) && is(edits, m.Edits[:n]) && is(then, m.Edits[n:]) {
				one, other = edits, then
			}
		}
	}
	return one, other
}

// clears reports whether edits, made on the file, leave a finding no more than fine.
func clears(t *testing.T, in Input, f *finding.Finding, edits []job.Edit) bool {
	t.Helper()
	tried, err := Try(in, edits...)
	if err != nil {
		return false
	}
	for i := range tried.Findings {
		if g := &tried.Findings[i]; g.Key() == f.Key() {
			return g.Verdict == finding.Fine
		}
	}
	return true
}
