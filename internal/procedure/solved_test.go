package procedure

import (
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/job"
)

// TestChecksSolved: in the circuit itself, with the handles as a trial says and its drain
// open, the drain gives nothing while every non-return valve is sound, runs when the valve
// under trial is stuck open, and stays dry when any other is. Pressed by main, store or pump:
// what a hand pump or standing water does the walk through the pipes shows.
func TestChecksSolved(t *testing.T) {
	tried := 0
	for _, arrangement := range assembly.Arrangements() {
		j := demo.Job(t, "kestrel-rise")
		j.Choices.Arrangement = arrangement
		tried += solveChecks(t, arrangement, j)
	}
	tried += solveChecks(t, "osprey-house", demo.Job(t, "osprey-house"))
	if tried < 6 {
		t.Errorf("only %d trials were solved", tried)
	}
}

func solveChecks(t *testing.T, name string, j *job.Job) (tried int) {
	a := built(t, j)
	c, err := circuit.NewWithMishaps(a, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	s := c.NewSolver()
	for _, k := range Checks(a) {
		trial := k.High
		if trial == nil || trial.By == ByHandPump {
			continue
		}
		tried++
		run := func(mishap string) float64 {
			at := map[string]string{}
			for tag, position := range a.Settings[0].Positions {
				at[tag] = position
			}
			for _, x := range trial.Turns {
				at[a.Parts[x.Part].Tag] = x.To
			}
			at[a.Parts[trial.Drain].Tag] = "open"
			shut, err := c.Shut(at)
			if err != nil {
				t.Fatal(err)
			}
			kase := circuit.Case{Main: j.Supply.Static.V, Pump: circuit.Standing}
			for _, i := range a.Of(assembly.Store) {
				if i != a.Header() {
					kase.Level = a.Parts[i].Ports[0].Z + 1
				}
			}
			if trial.By == ByPump {
				kase.Pump = circuit.Running
			}
			c.State(&kase, s.State)
			for i := range a.Parts {
				if a.Parts[i].Positions() == nil {
					continue
				}
				for _, position := range a.Parts[i].Positions() {
					for _, e := range c.Opens(i, position) {
						s.State.Off[e] = shut[e]
					}
				}
			}
			if m := c.MishapOf(mishap); mishap != "" {
				if m < 0 {
					t.Fatalf("%s: no mishap %q", name, mishap)
				}
				c.Mishaps[m].Strike(s.State)
			}
			if err := s.C.Net.Solve(s.State, s.Answer, c.Net.NewWork()); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			return float64(s.Flow(trial.Drain))
		}
		tag := a.Parts[k.Check].Tag
		const drop = 1e-8 // m³/s
		if q := run(""); q > drop {
			t.Errorf("%s, %s: sound, and the drain gives %g", name, tag, q)
		}
		row := a.Parts[k.Check].Row
		stuck := "check-left-out " + tag
		if q := run(stuck); q < drop {
			t.Errorf("%s, %s (%v): left out, and the drain gives %g", name, tag, row.Ref().Key, q)
		}
		for _, other := range a.Of(assembly.NonReturn) {
			if o := a.Parts[other].Tag; other != k.Check && len(trial.Also) == 0 {
				if q := run("check-left-out " + o); q > drop {
					t.Errorf("%s, %s: %s left out, and the drain gives %g", name, tag, o, q)
				}
			}
		}
	}
	return tried
}
