package proof

import (
	"slices"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// everyCandidate lists what would be tried for a promise where each part in turn breaks it.
func everyCandidate(t *testing.T, in *Input, id string, b Bench) []Cure {
	var list []Cure
	for i := range in.Assembly.Parts {
		r := &Result{About: byID(t, id).About(), Verdict: BrokenPromise, Smallest: &Counterexample{Judgement: Judgement{Where: in.tag(i),
			Figure: finding.Of(quantity.LengthDim, -0.2)}}}
		list = append(list, candidates(in, r, b)...)
	}
	return list
}

// TestCuresBreakNoRule: no cure breaks what the tool itself asks for: a valve beside the vessel in
// which heated water finds room, a lock-out below what the highest tap needs, a device of another
// pipe, bars and millimetres in a home of psi and inches.
func TestCuresBreakNoRule(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		for _, arrangement := range []string{"", assembly.MainFirst, assembly.ByHand} {
			in := laid(t, name, arrangement, nil)
			b := benchOf(t, in)
			for _, p := range Promises() {
				for _, c := range everyCandidate(t, &in, p.About().ID, b) {
					lawful(t, &in, &c, b, name)
				}
			}
		}
	}
}

func lawful(t *testing.T, in *Input, c *Cure, b Bench, name string) {
	t.Helper()
	if c.Kind == "valve" {
		if p := &in.Assembly.Parts[in.Assembly.Index(c.Where)]; p.Kind == assembly.Vessel && p.Purpose == assembly.AsHeaterVessel {
			t.Errorf("%s: a valve beside %s, the vessel of the water heater", name, p.Tag)
		}
	}
	for _, e := range c.Edits {
		us := in.Job.System() == quantity.US
		if e.Op == job.Set && (us && (strings.HasSuffix(e.Text, " bar") || strings.HasSuffix(e.Text, " mm")) || !us && (strings.HasSuffix(e.Text, " psi") || strings.HasSuffix(e.Text, " in"))) {
			t.Errorf("%s: %s is set to %s", name, e.Path, e.Text)
		}
		switch e.Path {
		case "choices.lock-out.low":
			q, err := quantity.Parse(e.Text, quantity.PressureDim, in.Job.System())
			if err != nil || q.SI < float64(circuit.LockFloor(in.Assembly))-1 || q.SI < in.Profile.Rule("lock-out-least").Value-1 {
				t.Errorf("%s: the lock-out goes down to %s, and the highest tap needs %.3g bar (%v)", name, e.Text, float64(circuit.LockFloor(in.Assembly))/1e5, err)
			}
		case "choices.backflow":
			mark := in.Job.Supply.Pipe.Mark
			if !strings.HasSuffix(e.Text, "-"+mark) && !strings.HasSuffix(e.Text, "-"+b.Rows.Pipes[in.Job.Supply.Pipe].Thread) {
				t.Errorf("%s: %s on a %s pipe", name, e.Text, in.Job.Supply.Pipe)
			}
			if strings.HasPrefix(e.Text, "reduced-pressure") != (c.Kind == "device-tested") {
				t.Errorf("%s: %s is told as %s", name, e.Text, c.Kind)
			}
		}
	}
}

// TestCureOfAReversedCheck: a non-return valve listed the wrong way round is turned round before
// anything is bought, no second one goes behind it, and what it is is no failure that could
// happen to it.
func TestCureOfAReversedCheck(t *testing.T) {
	in := laid(t, "juniper-flat", assembly.ByHand, nil)
	n := in.Assembly.Index("N3")
	wrong := *in.Assembly
	wrong.Joins = slices.Clone(wrong.Joins)
	for k := range wrong.Joins {
		for _, e := range []*assembly.End{&wrong.Joins[k].A, &wrong.Joins[k].B} {
			if e.Part == n {
				e.Port = 1 - e.Port
			}
		}
	}
	in.Job.Joins = []job.FreeJoin{{Tag: "main", Role: "main-leg", Line: "t1, v3, n3.out.in, w1.main"}} // as a list says so
	b := benchOf(t, in)
	ci, err := circuit.NewWithMishaps(&wrong, b.Figures)
	if err != nil {
		t.Fatal(err)
	}
	in.Assembly, in.Circuit = &wrong, ci
	if ci.MishapOf("check-reversed N3") >= 0 {
		t.Error("N3, fitted the wrong way round, may come to be so")
	}
	r := &Result{About: byID(t, "no-loop").About(), Verdict: BrokenPromise}
	list := candidates(&in, r, b)
	if len(list) == 0 || list[0].Kind != "turn" || list[0].Where != "N3" {
		t.Fatalf("the first cure is %+v", list)
	}
	for _, c := range list {
		if c.Kind == "check" && c.Where == "N3" {
			t.Error("a second check goes behind a reversed one")
		}
	}
	if e := list[0].Edits; len(e) != 1 || e[0].Path != "joins.main.line" || e[0].Text != "t1, v3, n3, w1.main" {
		t.Errorf("it is turned round by %v", e)
	}
}
