package service

import (
	"math"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// lifted is Osprey House with a header tank, its base at a height.
func lifted(t testing.TB, level quantity.Length, edit func(*job.Job)) example {
	t.Helper()
	return readSite(t, "osprey-house", func(j *job.Job) {
		c := &j.Choices
		c.Arrangement, c.HeaderRow, c.HeaderLevel.V, c.HeaderFloat = assembly.HeaderTank, "tank-1000", level, "float-20-full-way"
		c.Control, c.CutIn.V, c.CutOut.V = "flow-control", 1.4e5, 2.2e5
		if edit != nil {
			edit(j)
		}
	})
}

// TestLiftMeetsTheCurve: at the flow worked out, what the pump adds by its curve is what
// lifting to the mouth takes and what every part on the way loses by its own law.
func TestLiftMeetsTheCurve(t *testing.T) {
	s := lifted(t, 9.5, nil)
	r := s.analyse(t, false)
	l := r.Lift
	if l == nil || !l.Certified || l.Flow <= 0 {
		t.Fatalf("%+v", l)
	}
	law, q := s.circuit.PumpLaw(), float64(l.Flow)
	adds := hydraulics.PumpHeadEq.Fn([]float64{q, 1, law.A, law.B, law.C})
	low := float64(s.plan.Parts[s.plan.Of(assembly.Store)[0]].Ports[0].Z)
	f := s.plan.Of(assembly.FloatValve)[1]
	takes := float64(s.plan.Parts[f].Ports[1].Z) - low
	lost := 0.0
	k := s.circuit.NewSolver()
	c := &circuit.Case{MainOff: true, Level: quantity.Length(low), Lifting: true, Pump: circuit.Running}
	if err := k.SolveAt(c, 1); err != nil {
		t.Fatal(err)
	}
	for e, el := range s.circuit.Net.Elements() {
		if qe := k.Answer.Flow[e]; qe > 1e-9 && s.plan.Parts[s.circuit.PartOf(int32(e))].Kind != assembly.Pump {
			h, _ := el.Law.Drop(qe, k.State.Opening[e])
			lost += (h + el.Opens) * qe / q // links carry a share each
		}
	}
	if d := math.Abs(adds - takes - lost); d > 1e-3*adds || math.Abs(float64(k.Flow(f))-q) > 1e-6*q {
		t.Errorf("%.4f m added, %.4f m to lift, %.4f m lost: %.2g m apart", adds, takes, lost, d)
	}
	if want := float64(l.Upper) / q; math.Abs(float64(l.Time)-want) > 1e-9*want {
		t.Errorf("%g s to fill, want %g", float64(l.Time), want)
	}
}

// TestHeaderFill: the pump keeps the tank full; a tank beyond its reach never fills, and
// one it fills more slowly than the home draws is to look at.
func TestHeaderFill(t *testing.T) {
	for _, tt := range []struct {
		name  string
		level quantity.Length
		edit  func(*job.Job)
		want  finding.Verdict
	}{
		{"in reach", 9.5, nil, finding.Fine},
		{"beyond the pump", 90, nil, finding.MustFix},
		{"a home of a hundred on a small seat", 9.5, func(j *job.Job) {
			j.Home.People.V = 150
			j.Choices.HeaderFloat = "float-15-high"
		}, finding.LookAt},
	} {
		s := lifted(t, tt.level, tt.edit)
		if f, _ := judge(t, &s, s.job, "header-fill", "F2", "lifting"); f.Verdict != tt.want {
			t.Errorf("%s: %v, want %v (%v against %v)", tt.name, f.Verdict, tt.want, f.Figure, f.Limit)
		}
	}
}
