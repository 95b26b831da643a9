package service

import (
	"math"
	"testing"

	"tideover/internal/job"
)

// TestNearIsOnlyQuicker: a home somewhat different gets the same answers whether it starts
// from those of the base run or from nothing.
func TestNearIsOnlyQuicker(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		base := readSite(t, name, nil)
		near := base.analyse(t, true).Answers
		other := readSite(t, name, func(j *job.Job) {
			j.Supply.Static.V *= 0.9
			j.Pipework.ToHome.V *= 1.2
		})
		in := Read(other.job, other.plan, other.cat, other.profile)
		cold, err := Analyse(other.circuit, in)
		if err != nil {
			t.Fatal(err)
		}
		in.Near = near
		warm, err := Analyse(other.circuit, in)
		if err != nil {
			t.Fatal(err)
		}
		if len(near) < 20 || len(warm.Failed) != len(cold.Failed) {
			t.Fatalf("%s: %d answers to start from; %d cases failed, %d from nothing", name, len(near), len(warm.Failed), len(cold.Failed))
		}
		for i := range cold.Modes {
			for k, want := range cold.Modes[i].Alone {
				got := warm.Modes[i].Alone[k]
				if d := math.Abs(float64(got.Flow - want.Flow)); d > 1e-9*math.Max(float64(want.Flow), 1e-5) || got.Certified != want.Certified {
					t.Errorf("%s: %s %s: %v, from nothing %v", name, cold.Modes[i].ID, want.Outlet, got.Flow, want.Flow)
				}
			}
		}
		for i, want := range cold.Rests {
			if got := warm.Rests[i]; math.Abs(float64(got.High-want.High)) > 1e-3 || got.Cause != want.Cause {
				t.Errorf("%s: at rest %s: %v (%s), from nothing %v (%s)", name, want.Part, got.High, got.Cause, want.High, want.Cause)
			}
		}
	}
}
