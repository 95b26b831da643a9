package service

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// regulatedAt puts a regulator set to a pressure on a main that presses hard at night.
func regulatedAt(set quantity.Pressure) func(j *job.Job) {
	return func(j *job.Job) {
		j.Supply.NightMax.V = 9e5
		if set > 0 {
			j.Choices.Regulator, j.Choices.RegSet.V = "regulator-3/4", set
		}
	}
}

// TestRegulatorHoldsTheNight: what the main presses with at night stands before the regulator
// and what it is set to stands behind it, on every part of the home that nothing else presses
// on; the remedy offered is such a regulator.
func TestRegulatorHoldsTheNight(t *testing.T) {
	hard := 0
	for _, name := range assembly.Arrangements() {
		change := func(set quantity.Pressure) func(j *job.Job) {
			return func(j *job.Job) { regulatedAt(set)(j); j.Choices.Arrangement = name }
		}
		_, before := found(t, "kestrel-rise", change(0))
		for i := range before {
			f := &before[i]
			if f.ID != "rest-outlet" || f.Verdict != finding.LookAt || f.Names["cause"] != "@rest.main-night" {
				continue
			}
			if hard++; len(f.Cures) == 0 || f.Cures[0][0].Path != "choices.regulator.row" {
				t.Errorf("%s: %s is hard on its taps and no regulator is offered: %v", name, f.Where, f.Cures)
			}
		}
		s, after := found(t, "kestrel-rise", change(3e5))
		at := s.plan.Of(assembly.Regulator)
		if len(at) != 1 {
			t.Fatalf("%s: %d regulators", name, len(at))
		}
		for i := range after {
			f := &after[i]
			if f.ID == "rest-pressure" && f.Where == "R1" && f.Figure.SI < 8e5 {
				t.Errorf("%s: %.3g Pa before the regulator: the main's night is gone", name, f.Figure.SI)
			}
			if f.ID == "rest-outlet" && f.Names["cause"] == "@rest.main-night" {
				t.Errorf("%s: %s stands under the main's night behind a regulator: %.3g Pa", name, f.Where, f.Figure.SI)
			}
		}
	}
	if hard == 0 {
		t.Error("9 bar at night are hard on no tap")
	}
}

// TestRegulatorIsSetLower: one that lets too much on is set lower, to where the tap stands
// under the limit by what its spring and gauge may be out; by hand: a tap at the height of the
// valve, 5 bar the most, 0.3 bar to spare, in steps of a quarter of a bar: 4.5 bar.
func TestRegulatorIsSetLower(t *testing.T) {
	s, list := found(t, "kestrel-rise", regulatedAt(6e5))
	n := 0
	for i := range list {
		f := &list[i]
		if f.ID != "rest-outlet" || f.Verdict != finding.LookAt || f.Names["cause"] != "@rest.regulator" {
			continue
		}
		n++
		p := s.plan.Parts[s.plan.Index(f.Where)].Ports[0].Z - s.plan.Parts[s.plan.Of(assembly.Regulator)[0]].Ports[1].Z
		limit := f.Limit.SI - 0.3e5 + 1000*9.80665*float64(p)
		set, err := quantity.Parse(f.Cures[0][0].Text, quantity.PressureDim, s.job.System())
		if err != nil || f.Cures[0][0].Path != "choices.regulator.set" || len(f.Cures[0]) != 1 || set.SI > limit || set.SI < limit-0.25e5 {
			t.Errorf("%s: %v, at most %.4g Pa: %v", f.Where, f.Cures[0], limit, err)
		}
	}
	if n == 0 {
		t.Error("6 bar behind a regulator are found at no tap")
	}
}

// TestTwoRegulators: one behind the stop valve and one behind the pump each hold what they are
// set to, on the water that comes through them; the one behind the pump is offered where the
// pump stops too high for a tap, and what is offered, applied, keeps that tap under the limit.
func TestTwoRegulators(t *testing.T) {
	hard := func(j *job.Job) {
		regulatedAt(3e5)(j)
		j.Choices.Pump, j.Choices.CutIn.V, j.Choices.CutOut.V = "jet-1.1", 5.6e5, 6e5
	}
	_, before := found(t, "kestrel-rise", hard)
	n := 0
	for i := range before {
		f := &before[i]
		if f.ID != "rest-outlet" || f.Verdict != finding.LookAt || f.Names["cause"] != "@rest.pump-stop" {
			continue
		}
		n++
		last := f.Cures[len(f.Cures)-1]
		if len(last) != 1 || last[0].Op != job.Insert || last[0].Path != "added.g2" {
			t.Fatalf("%s: no regulator behind the pump is offered: %v", f.Where, f.Cures)
		}
		if said := (&finding.Remedy{Edits: last}).Does(); !strings.Contains(said, "G2, right behind V") || !strings.Contains(said, "bar") {
			t.Errorf("the remedy says %q", said)
		}
		doc, _, err := demo.Doc(t, "kestrel-rise").Apply(last...)
		if err != nil {
			t.Fatal(err)
		}
		s, after := found(t, "kestrel-rise", func(j *job.Job) { hard(j); j.Added = doc.Job.Added })
		at := s.plan.Of(assembly.Regulator)
		if len(at) != 2 || s.plan.Parts[at[0]].Set == s.plan.Parts[at[1]].Set {
			t.Fatalf("%d regulators, want two with a setting each", len(at))
		}
		for k := range after {
			g := &after[k]
			if g.ID == "rest-outlet" && g.Where == f.Where && g.Verdict == finding.LookAt {
				t.Errorf("%s: %.4g Pa behind it, at most %.4g", f.Where, g.Figure.SI, g.Limit.SI)
			}
		}
	}
	if n == 0 {
		t.Error("a pump that stops at 6 bar is hard on no tap")
	}
}
