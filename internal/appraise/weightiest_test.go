package appraise

import (
	"context"
	"math"
	"slices"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestAssumptionsAreDrawn: every assumption that an analysis reads which runs again is drawn with the
// inputs, within its range, and arrives in the job; what the job tells and what we ask of it is not.
func TestAssumptionsAreDrawn(t *testing.T) {
	in := input(t, "juniper-flat")
	a, err := Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	have := map[string]bool{}
	for _, l := range a.Moved {
		have[l.Path] = true
	}
	for key, want := range map[string]bool{"pump-worn": true, "charge-lost": true, "gas-exponent": true, "usable-share": false,
		"mesh-open": false, "chlorine-decay": false, "slow-hand": false} {
		if have["assume."+key] != want {
			t.Errorf("%s: drawn %t, want %t", key, !want, want)
		}
	}
	leaves := []job.Leaf{assumedLeaf(assume.HeadLost), assumedLeaf(assume.ChargeLost)}
	// By hand: 0.2 less 0.15 is the low end of the worn pump, 0.3 more 0.2 the high one of the charge.
	moved, err := in.moved(leaves, move{"assume.pump-worn": -1, "assume.charge-lost": 1})
	if err != nil {
		t.Fatal(err)
	}
	if w, c := assume.HeadLost.In(moved.Job.Assumed), assume.ChargeLost.In(moved.Job.Assumed); math.Abs(w-0.05) > 1e-12 || math.Abs(c-0.5) > 1e-12 {
		t.Errorf("pump worn %g, charge lost %g", w, c)
	}
	if assume.HeadLost.In(in.Job.Assumed) != 0.2 {
		t.Error("the job itself was moved")
	}
	for _, m := range drawn(leaves, 1000, 3) {
		for i := range leaves {
			a := takenAt(leaves[i].Path)
			if v := a.Value + leaves[i].At(m[leaves[i].Path])[0].V; v < a.Low-1e-12 || v > a.High+1e-12 {
				t.Fatalf("%s drawn at %g, outside %g to %g", a.Key, v, a.Low, a.High)
			}
		}
	}
}

// TestWeightiest: what the draws point at is what moving every assumption to both ends, one by one,
// finds first: no figure is told that the long search does not tell as well, and nothing that the
// long search puts first is missed.
func TestWeightiest(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		in := input(t, name)
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		all, err := Assumptions(context.Background(), in)
		if err != nil {
			t.Fatal(err)
		}
		w := a.Weightiest
		if w == nil || len(w.List) != mostWeighty || w.Drawn < leastDraws {
			t.Fatalf("%s: %+v", name, w)
		}
		told := map[string]bool{}
		for i, r := range w.List {
			told[r.Key] = true
			k := slices.IndexFunc(all, func(x Rests) bool { return x.Key == r.Key })
			switch {
			case i >= w.Found:
				if len(r.Turns) > 0 || r.Felt || all[k].Told {
					t.Errorf("%s: %s comes by the register and moves something, or is told", name, r.Key)
				}
				continue
			case r.Moves > all[k].Moves*(1+1e-3):
				t.Errorf("%s: %s moves %g here, %g there", name, r.Key, r.Moves, all[k].Moves)
			}
			for _, turn := range r.Turns {
				if !slices.ContainsFunc(all[k].Turns, func(x Turn) bool {
					return x.Finding.Key() == turn.Finding.Key() && math.Abs(x.At-turn.At) < 1e-9 && x.To == turn.To
				}) {
					t.Errorf("%s: %s turns %s here alone", name, r.Key, turn.Finding.Key())
				}
			}
		}
		for _, r := range all {
			turns := slices.ContainsFunc(r.Turns, func(x Turn) bool { return x.Finding.Verdict == finding.Fine })
			if turns && readAgain(r.Assumption) && !told[r.Key] && !r.Told {
				t.Errorf("%s: %s turns what is fine and is not told", name, r.Key)
			}
		}
	}
}

// TestAlong is the correlation by hand: 0 1 1 2 with 0 1 2 3 has 0.95 (Sxy 3, Sxx 2, Syy 5).
func TestAlong(t *testing.T) {
	s := newSample([]float64{0, 1, 1, 2})
	if got, want := s.along([]float64{0, 1, 2, 3, 99}), 3/math.Sqrt(2*5); math.Abs(got-want) > 1e-12 {
		t.Errorf("%g, want %g", got, want)
	}
	if got := s.along([]float64{4, 4, 4, 4}); got != 0 {
		t.Errorf("what stands still goes with nothing: %g", got)
	}
	if s := newSample([]float64{5, 5, 5}); s.sd != 0 {
		t.Errorf("nothing scatters: %g", s.sd)
	}
}
