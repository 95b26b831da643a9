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
	hold := func(name, promise string, edit job.Edit) (proof.Cure, bool) {
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
		ok, err := base.holds(context.Background(), in, promise, &c)
		if err != nil {
			t.Fatal(err)
		}
		return c, ok
	}
	c, ok := hold("lantern-row", "main-clean", job.Edit{Op: job.Insert, Path: "added.n7", Text: "kind: non-return, beside: v2, end: out"})
	if !ok || len(c.Short) != 1 || finding.Titles(c.Short)[0] == "" {
		t.Errorf("a single check where a double one is asked for: %v", c.Short)
	}
	c, ok = hold("kestrel-rise", "main-clean", job.Edit{Op: job.Set, Path: "choices.backflow", Text: "reduced-pressure-25"})
	if !ok || len(c.Harms) == 0 || len(c.Short) > 0 || len(c.Needs) == 0 || len(c.Open) == 0 {
		t.Errorf("a device that takes 5 m of head costs %v; still to fix %v; it needs %v and is open in %v", c.Harms, c.Short, c.Needs, c.Open)
	}
	if _, ok = hold("kestrel-rise", "no-hunting", job.Edit{Op: job.Set, Path: "choices.pump.guard", Text: "none"}); ok {
		t.Error("a pump that may run dry is no cure of anything")
	}
}
