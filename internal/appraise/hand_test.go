package appraise

import (
	"testing"

	"tideover/internal/assume"
	"tideover/internal/day"
)

// TestOneHand: who turns the valve is one figure. Where it is moved, the range of the years moves and
// the day goes by its mean.
func TestOneHand(t *testing.T) {
	for _, c := range []struct{ slow, mean float64 }{{45 * 60, 25 * 60}, {4 * 3600, 122.5 * 60}} {
		in := input(t, "juniper-flat")
		j := *in.Job
		j.Assumed = assume.Values{"slow-hand": c.slow}
		in.Job = &j
		if h := made(t, in).Input.Hand; h.Least != 300 || h.Most != c.slow {
			t.Errorf("years: %g to %g s, want 300 to %g", h.Least, h.Most, c.slow)
		}
		a := &Appraisal{Doc: in.Doc, Job: in.Job, Profile: in.Profile}
		if _, err := layOut(in, a, false); err != nil {
			t.Fatal(err)
		}
		if got := day.Read(&j, a.Assembly, in.Profile).Hand; got != c.mean {
			t.Errorf("day: %g s, want %g", got, c.mean)
		}
	}
}
