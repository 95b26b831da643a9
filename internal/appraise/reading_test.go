package appraise

import (
	"slices"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestReadOnceIsDrawn: a main that was read once may press less on another day, and what is fine on
// that day alone is no longer: Kestrel Rise without its reading in the worst hours serves its upper
// shower with 10.4 L/min at 3.2 bar, with less than the 9 it needs at 2.6 (a share of the flow as the
// root of what is left over the 0.8 bar of height). With that reading nothing of the sort is taken.
func TestReadOnceIsDrawn(t *testing.T) {
	in := input(t, "kestrel-rise")
	drawn := func(in Input) bool {
		return slices.ContainsFunc(taken(in), func(l job.Leaf) bool { return l.Path == assumedPath+assume.ReadingYear.Key })
	}
	if drawn(in) {
		t.Error("it was read in its worst hours")
	}
	var edits []job.Edit
	for _, field := range []string{"pressure", "from", "to"} {
		edits = append(edits, job.Edit{Op: job.Unset, Path: "supply.peak." + field})
	}
	once, err := in.With(edits...)
	if err != nil {
		t.Fatal(err)
	}
	if !drawn(once) {
		t.Fatal("one reading, and nothing is drawn")
	}
	quick, err := Quick(once)
	if err != nil {
		t.Fatal(err)
	}
	shower := func(a *Appraisal) *finding.Finding {
		i := slices.IndexFunc(a.Findings, func(f finding.Finding) bool {
			return f.ID == "outlet-flow" && f.Where == "shower-up" && f.Mode == "on-main"
		})
		if i < 0 {
			t.Fatal("nothing is said of the shower")
		}
		return &a.Findings[i]
	}
	if f := shower(quick); f.Verdict != finding.Fine {
		t.Errorf("on the day it was read: %v", f.Verdict)
	}
	if f := shower(appraised(t, once)); f.Verdict != finding.LookAt || !f.Close {
		t.Errorf("over the year: %v, %d of %d", f.Verdict, f.Held, f.Tried)
	}
}
