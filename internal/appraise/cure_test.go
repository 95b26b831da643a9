package appraise

import (
	"context"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/proof"
)

// TestCuresAreHeld: a cure of a promise says what it costs at the taps, in the day and in the
// promises; where what check asks for in the same danger is still missing, that it is not enough
// by itself; and one that puts something in need of fixing is none.
func TestCuresAreHeld(t *testing.T) {
	hold := func(name, promise string, edit job.Edit) proof.Cure {
		in := input(t, name)
		a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
		if _, err := layOut(in, a, false); err != nil {
			t.Fatal(err)
		}
		promises, err := prove(context.Background(), in, a, NamedProof, nil)
		if err != nil {
			t.Fatal(err)
		}
		base, err := a.standing(in, promises)
		if err != nil {
			t.Fatal(err)
		}
		c := proof.Cure{Edits: []job.Edit{edit}}
		if err := pastOf(base).stands(context.Background(), in, promise, &c); err != nil {
			t.Fatal(err)
		}
		return c
	}
	c := hold("lantern-row", "not-backwards", job.Edit{Op: job.Insert, Path: "added.n1", Text: "kind: non-return, beside: v1, end: out"})
	if len(c.Breaks) > 0 || len(c.Short) > 0 {
		t.Errorf("a non-return valve behind the pump breaks %q, and %q is still to be fixed", c.Breaks, c.Short)
	}
	c = hold("kestrel-rise", "main-clean", job.Edit{Op: job.Set, Path: "choices.backflow", Text: "reduced-pressure-25"})
	if len(c.Breaks) > 0 || len(c.Harms) == 0 || len(c.Short) > 0 || len(c.Needs) == 0 || len(c.Open) == 0 {
		t.Errorf("a device that takes 5 m of head costs %v; still to fix %v; it needs %v and is open in %v", c.Harms, c.Short, c.Needs, c.Open)
	}
	c = hold("lantern-row", "main-clean", job.Edit{Op: job.Insert, Path: "added.n1", Text: "kind: non-return, row: double-check-25, beside: v0, end: out"})
	if got := finding.Titles(c.Breaks); len(got) != 1 || got[0] != "Pressure at rest on P1" {
		t.Errorf("behind a check the pump's pressure stands on top of the main's: %q", got)
	}
	c = hold("juniper-flat", "no-loop", job.Edit{Op: job.Set, Path: "choices.pump.cut-out", Text: "130 psi"})
	if len(c.Breaks) == 0 {
		t.Error("a pump that stops above what its parts hold is no cure of anything")
	}
}
