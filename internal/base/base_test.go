package base

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

type stand struct {
	job  *job.Job
	cat  *catalogue.Catalogue
	plan *assembly.Assembly
}

func of(t testing.TB, name string, change func(*job.Job)) stand {
	t.Helper()
	j := demo.Job(t, name)
	if change != nil {
		change(j)
	}
	cat, profile := demo.Rows(t, j.Profile)
	plan, err := assembly.Build(j, cat, profile)
	if err != nil {
		t.Fatal(err)
	}
	return stand{j, cat, plan}
}

func (s stand) judged(t testing.TB, in Inputs) map[string]finding.Finding {
	t.Helper()
	out := map[string]finding.Finding{}
	for _, f := range Findings(nil, Analyse(s.job, s.plan, s.cat, in), s.cat, false) {
		out[f.ID] = f
	}
	return out
}

// full is the mass of one of Kestrel's stores: π/4 · 1.20² · 1.33 m³ of water and 28 kg.
var full = Inputs{Mass: 1532}

// TestKestrelByHand: 1,532 kg on 1.131 m² is 13.3 kPa; two of them on a slab of 2.9 by 1.5 m
// and 100 mm press 9.26 kPa on the ground.
func TestKestrelByHand(t *testing.T) {
	s := of(t, "kestrel-rise", nil)
	r := Analyse(s.job, s.plan, s.cat, full)
	if k := r.Stores(); k.Count != 2 || math.Abs(float64(k.Ground.Store)-13283) > 5 || math.Abs(float64(k.Ground.Ground)-9261) > 2 || math.Abs(float64(k.Ground.Concrete)-0.435) > 1e-9 {
		t.Errorf("%d stores, %.1f Pa under one, %.1f Pa under the slab of %.3f m³", k.Count, k.Ground.Store, k.Ground.Ground, k.Ground.Concrete)
	}
}

// TestBearingBySoil: the row of the ground that was found decides, halved for water where it
// says so; made ground, soft ground and a steep slope are never fine; ground that nobody
// named is not judged.
func TestBearingBySoil(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*job.Job)
		want   finding.Verdict
		limit  float64
	}{
		{"firm clay", func(*job.Job) {}, finding.Fine, 50e3},
		{"rock", func(j *job.Job) { j.Place.Ground = "rock" }, finding.Fine, 575e3},
		{"gravel, nobody looked for water", func(j *job.Job) { j.Place.Ground = "gravel" }, finding.Fine, 48e3},
		{"gravel, dry", func(j *job.Job) { j.Place.Ground, j.Place.HighWater = "gravel", "no" }, finding.Fine, 96e3},
		{"gravel, wet", func(j *job.Job) { j.Place.Ground, j.Place.HighWater = "gravel", "yes" }, finding.Fine, 48e3},
		{"clay, wet", func(j *job.Job) { j.Place.HighWater = "yes" }, finding.Fine, 50e3},
		{"soft clay", func(j *job.Job) { j.Place.Ground = "soft-clay" }, finding.LookAt, 40e3},
		{"made ground", func(j *job.Job) { j.Place.Ground = "made-ground" }, finding.LookAt, 0},
		{"steep", func(j *job.Job) { j.Place.Slope.V = 0.21 }, finding.LookAt, 50e3},
		{"just not steep", func(j *job.Job) { j.Place.Slope.V = 0.2 }, finding.Fine, 50e3},
		{"not told", func(j *job.Job) { j.Place.Ground = "unknown" }, finding.NotJudged, 0},
	} {
		f := of(t, "kestrel-rise", c.change).judged(t, full)["bearing"]
		if f.Verdict != c.want || math.Abs(f.Limit.SI-c.limit) > 1e-6 {
			t.Errorf("%s: %s against %g Pa, want %s against %g", c.name, f.Verdict.ID(), f.Limit.SI, c.want.ID(), c.limit)
		}
	}
	heavy := of(t, "kestrel-rise", nil).judged(t, Inputs{Mass: 40 * 1532})["bearing"]
	if heavy.Verdict != finding.MustFix {
		t.Errorf("400 kPa on firm clay: %s", heavy.Verdict.ID())
	}
}

// TestOwnBearing: a figure of the reader's own profile goes before the table's where it is
// less; one that merely stands in ours does not.
func TestOwnBearing(t *testing.T) {
	for standing, want := range map[catalogue.Standing]float64{catalogue.Told: 30e3, catalogue.RuleHere: 50e3} {
		in := full
		in.Local = catalogue.Rule{Set: true, Value: 30e3, Standing: standing}
		if f := of(t, "kestrel-rise", nil).judged(t, in)["bearing"]; f.Limit.SI != want {
			t.Errorf("standing %v: against %g Pa, want %g", standing, f.Limit.SI, want)
		}
	}
}

// TestFloor: what the floor is said to carry is judged wherever somebody said it.
func TestFloor(t *testing.T) {
	for floor, want := range map[quantity.Load]finding.Verdict{1e3: finding.MustFix, 13.2e3: finding.MustFix, 13.3e3: finding.Fine, 50e3: finding.Fine} {
		s := of(t, "kestrel-rise", func(j *job.Job) { j.Access.Floor.V = floor })
		if f := s.judged(t, full)["floor-load"]; f.Verdict != want {
			t.Errorf("a floor of %g Pa: %s, want %s", float64(floor), f.Verdict.ID(), want.ID())
		}
	}
	if _, said := of(t, "kestrel-rise", nil).judged(t, full)["floor-load"]; said {
		t.Error("a floor is judged of which nobody said anything")
	}
}

// TestRaisedIsTheEngineers: nothing is presumed of ground under a stand.
func TestRaisedIsTheEngineers(t *testing.T) {
	in := full
	in.Raised = true
	if _, said := of(t, "kestrel-rise", nil).judged(t, in)["bearing"]; said {
		t.Error("the ground under a stand is judged")
	}
}

// TestHeavierIsNeverBetter: more mass never presses less, and never turns a verdict better.
func TestHeavierIsNeverBetter(t *testing.T) {
	s := of(t, "kestrel-rise", func(j *job.Job) { j.Access.Floor.V = 15e3 })
	bad := map[finding.Verdict]int{finding.Fine: 0, finding.NotJudged: 1, finding.LookAt: 2, finding.MustFix: 3}
	rapid.Check(t, func(rt *rapid.T) {
		j := *s.job
		j.Place.Ground = rapid.SampledFrom([]string{"rock", "gravel", "loose-sand", "firm-clay", "soft-clay", "made-ground"}).Draw(rt, "ground")
		j.Place.HighWater = rapid.SampledFrom([]job.Answer{"yes", "no", "unknown"}).Draw(rt, "water")
		m := rapid.Float64Range(100, 50000).Draw(rt, "mass")
		more := stand{&j, s.cat, s.plan}
		a, b := more.judged(t, Inputs{Mass: quantity.Mass(m)}), more.judged(t, Inputs{Mass: quantity.Mass(1.3 * m)})
		for id := range a {
			if b[id].Figure.SI < a[id].Figure.SI || bad[b[id].Verdict] < bad[a[id].Verdict] {
				rt.Fatalf("%s: %g kg %s, heavier %s", id, m, a[id].Verdict.ID(), b[id].Verdict.ID())
			}
		}
	})
}

// TestGroundNobodyNamed: ground that nobody named is taken as the softest that carries
// anything, so that its figures, which are not judged, err down.
func TestGroundNobodyNamed(t *testing.T) {
	s := of(t, "kestrel-rise", func(j *job.Job) { j.Place.Ground = "unknown" })
	b := presumed(s.job, s.cat, catalogue.Rule{})
	for key, row := range s.cat.Soils {
		if row.Least > 0 && b.Least > row.Least {
			t.Errorf("taken as %s, %g Pa; %s carries only %g", b.Taken, b.Least, key, row.Least)
		}
	}
	if b.Told() || b.Least <= 0 || b.Doubt() != "soft" {
		t.Errorf("%+v", b)
	}
}
