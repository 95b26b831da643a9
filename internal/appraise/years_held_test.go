package appraise

import (
	"context"
	"slices"
	"testing"

	"tideover/internal/finding"
)

// TestRemediesAreHeldToYears: in a pack a remedy that years feel was lived through them: fewer
// interruptions ridden out, more litres short and older water on the same futures are named, and
// what it says of the age of the water is what the years say. In check it says that it was not.
func TestRemediesAreHeldToYears(t *testing.T) {
	rides, ages := 0, 0
	for _, name := range []string{"juniper-flat", "kestrel-rise"} {
		in := input(t, name)
		in.Proof = NamedProof
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a.Findings {
			for _, m := range a.Findings[i].Remedies {
				if slices.Contains(m.Open, "years") != yearsFeel(m.Edits) {
					t.Errorf("%s: %v was not held to %v", name, m.Edits, m.Open)
				}
				if for1 := a.Findings[i].ID == "turnover"; a.Awaits(&a.Findings[i], &m) != for1 {
					t.Errorf("%s: %v of %s awaits the years: %v", name, m.Edits, a.Findings[i].ID, !for1)
				}
			}
		}
		with, err := AddYears(context.Background(), in, a, Logs{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		live := func(in Input) *Years {
			y, err := LiveThrough(context.Background(), in, YearsAsk{Brief: true, alone: true}, nil)
			if err != nil {
				t.Fatal(err)
			}
			return y
		}
		base := live(in)
		for i := range with.Findings {
			f := &with.Findings[i]
			for _, m := range f.Remedies {
				next, err := in.With(m.Edits...)
				if err != nil || slices.Contains(m.Open, "years") {
					t.Fatalf("%s: %v is open in %v: %v", name, m.Edits, m.Open, err)
				}
				now := live(next)
				ride := finding.Finding{ID: "ride-through"}
				if fewer := base.rides(now); fewer != slices.Contains(m.Worse, ride.Key()) {
					t.Errorf("%s: %v: fewer are ridden out: %v, and it says %q", name, m.Edits, fewer, m.Worse)
				} else if fewer {
					rides++
				}
				if f.ID == "water-age" {
					ages++
					if got := now.finding("water-age"); got.Verdict != finding.Fine || got.Figure.SI != m.Figure.SI {
						t.Errorf("%s: %v: an age of %g s, and it says %g s", name, m.Edits, got.Figure.SI, m.Figure.SI)
					}
				}
			}
		}
	}
	if rides == 0 || ages < 2 {
		t.Errorf("%d make the years worse, %d are for the age: the test says little", rides, ages)
	}
}
