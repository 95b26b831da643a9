package appraise

import (
	"context"
	"slices"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestRemediesAreHeldToTheWholeJob: what a remedy makes worse in the promises and in the day is
// named as what it makes worse at the taps is, and none leaves something to fix that was not there.
func TestRemediesAreHeldToTheWholeJob(t *testing.T) {
	promises := 0
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row"} {
		in := input(t, name)
		in.Proof = NamedProof
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Findings {
			for _, m := range a.Findings[i].Remedies {
				promises += worsens(t, in, a, &a.Findings[i], &m)
			}
		}
	}
	if promises == 0 {
		t.Error("no remedy makes a promise worse: the test says nothing")
	}
}

// worsens applies a remedy and judges the job anew; it counts the promises made worse.
func worsens(t *testing.T, in Input, a *Appraisal, f *finding.Finding, m *finding.Remedy) (promises int) {
	t.Helper()
	doc, _, err := in.Doc.Apply(m.Edits...)
	if err != nil {
		t.Fatal(err)
	}
	next := in
	next.Doc, next.Job = doc, doc.Job
	b, err := Run(context.Background(), next, nil)
	if err != nil {
		t.Errorf("%s: %v: %v", f.Key(), m.Edits, err)
		return 0
	}
	old := map[key]finding.Verdict{}
	for i := range a.Findings {
		old[keyOf(&a.Findings[i])] = a.Findings[i].Verdict
	}
	for i := range b.Findings {
		g := &b.Findings[i]
		was, had := old[keyOf(g)]
		if !had {
			was = finding.Fine
		}
		switch {
		case g.Key() == f.Key() && g.Verdict == finding.MustFix:
			t.Errorf("%s: %v leaves it to fix", f.Key(), m.Edits)
		case !worse(was, g.Verdict) || g.ID == "signatures" || g.Close:
		case g.Verdict == finding.MustFix:
			t.Errorf("%s: %v makes %s a must fix", f.Key(), m.Edits, g.Key())
		case !slices.Contains(m.Worse, g.Key()) && g.Rank <= 4:
			t.Errorf("%s: %v makes %s %s, and does not say so", f.Key(), m.Edits, g.Key(), g.Verdict.ID())
		case len(g.ID) > 8 && g.ID[:8] == "promise-":
			promises++
		}
	}
	return promises
}

// TestLeave: what asks for somebody's leave, an engineer or a tested device is no matter of one
// press; a routine is, and says that somebody has to do it.
func TestLeave(t *testing.T) {
	in := input(t, "juniper-flat")
	a, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		edit  job.Edit
		leave bool
	}{
		{job.Edit{Op: job.Set, Path: "choices.backflow", Text: "reduced-pressure-3/4"}, true},
		{job.Edit{Op: job.Set, Path: "choices.store.level", Text: "12 ft"}, true},
		{job.Edit{Op: job.Set, Path: "choices.store.exercise", Text: "7 d"}, false},
		{job.Edit{Op: job.Set, Path: "choices.float", Text: "float-15-low"}, false},
	} {
		tried, err := Try(in, x.edit)
		if err != nil {
			t.Fatal(err)
		}
		m := finding.Remedy{Edits: []job.Edit{x.edit}}
		m.Needs = a.needs(m.Edits, tried)
		if Leave(&m) != x.leave {
			t.Errorf("%v: needs %v", x.edit, m.Needs)
		}
	}
}
