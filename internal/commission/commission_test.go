package commission

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/procedure"
	"tideover/internal/service"
)

func of(t testing.TB, name string, change func(*job.Job)) Context {
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
	ci, err := circuit.New(plan, circuit.Read(j))
	if err != nil {
		t.Fatal(err)
	}
	in := service.Read(j, plan, cat, profile)
	in.Record = true
	r, err := service.Analyse(ci, in)
	if err != nil {
		t.Fatal(err)
	}
	return Context{Job: j, Assembly: plan, Profile: profile, Service: r, Plate: "choices.pump.measured.current"}
}

// TestExpectedByHand: what Kestrel's fitter reads, redone by hand: 3.2 bar ±10 % at the
// meter; a charge of 1.9 bar to what a tyre gauge reads; 1.5 times 4.53 bar; two joints in 60 min.
func TestExpectedByHand(t *testing.T) {
	r := Work(of(t, "kestrel-rise", nil))
	for _, c := range []struct {
		id                string
		figure, low, high float64
	}{
		{"static", 3.2e5, 2.88e5, 3.52e5}, {"charge", 1.9e5, 1.62e5, 2.18e5}, {"cut-in", 2.4e5, 2.3e5, 2.5e5},
		{"set-pressure", 2.8e5, 2.7e5, 2.9e5}, {"lock-on", 1.2e5, 1.1e5, 1.3e5}, {"lock-off", 1.8e5, 1.7e5, 1.9e5},
	} {
		list := r.Of(c.id)
		if len(list) != 1 {
			t.Errorf("%s: %d readings", c.id, len(list))
			continue
		}
		e := list[0]
		if math.Abs(e.Figure.SI-c.figure) > 1 || math.Abs(e.Low-c.low) > 1 || math.Abs(e.High-c.high) > 1 {
			t.Errorf("%s: %g in %g to %g", c.id, e.Figure.SI, e.Low, e.High)
		}
		if !e.Accepts(c.figure) || e.Accepts(c.low-10) || e.Accepts(c.high+10) {
			t.Errorf("%s: accepts what it must not, or not what it must", c.id)
		}
	}
	if e := r.Of("current"); len(e) != 1 || e[0].Lacks == "" || e[0].Accepts(1) {
		t.Errorf("a current behind a speed control without its plate: %+v", e)
	}
	if p := float64(r.Test.At); math.Abs(p-6.8e5) > 2e3 || r.Test.Hold != 3600 {
		t.Errorf("tested at %g for %g s", p, float64(r.Test.Hold))
	}
	if r.TieIn.Off != 3600 || r.TieIn.Promise != 7200 {
		t.Errorf("off for %g s, told as %g s", float64(r.TieIn.Off), float64(r.TieIn.Promise))
	}
}

// TestReadWhereNothingChangesOver: with an automatic changeover every tap is read in a
// setting in which only what is meant to serve can; and the figures are those of that
// setting, solved again: on the main what the main gives, whatever the lock-out thinks.
func TestReadWhereNothingChangesOver(t *testing.T) {
	c := of(t, "kestrel-rise", nil)
	r := Work(c)
	solver := mustSolver(t, c)
	for _, e := range append(r.Of("outlet-flow"), r.Of("outlet-pressure")...) {
		at := slices.IndexFunc(c.Assembly.Settings, func(s assembly.Setting) bool { return s.Name == e.Setting })
		if at < 0 {
			t.Fatalf("%s is read in %q, which is no setting", e.Tag, e.Setting)
		}
		byMain, byStore := solver.Serves(at)
		if want := e.Mode == "on-main"; byMain != want || byStore == want {
			t.Errorf("%s, %s: read in %q, where the main serves %v and the store %v", e.Tag, e.Mode, e.Setting, byMain, byStore)
		}
		if e.MainOff != (e.Mode == "on-store") {
			t.Errorf("%s, %s: main off %v", e.Tag, e.Mode, e.MainOff)
		}
	}
	if e := r.At("outlet-flow", "garden", "on-main"); e == nil || math.Abs(e.Figure.SI*60000-16.1) > 0.1 {
		t.Errorf("the garden tap on the main: %+v, want 16.1 L/min", e)
	}
}

func mustSolver(t *testing.T, c Context) *circuit.Solver {
	t.Helper()
	ci, err := circuit.New(c.Assembly, circuit.Read(c.Job))
	if err != nil {
		t.Fatal(err)
	}
	return ci.NewSolver()
}

// TestSections: each new run is in one section; no section goes through a non-return valve or
// a part that no test may reach; and each non-return valve between new pipes is named on
// both its sides.
func TestSections(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house"} {
		c := of(t, name, nil)
		list := Work(c).Test.Sections
		in := map[string]int{}
		for _, s := range list {
			for _, run := range s.Runs {
				in[run]++
			}
			for _, tag := range slices.Concat(s.Runs, s.Open, s.Shut) {
				if k := c.Assembly.Parts[c.Assembly.Index(tag)].Kind; k == assembly.NonReturn || procedure.Spared[k] != "" {
					t.Errorf("%s: %s lies inside a section", name, tag)
				}
			}
			if s.From != "" && !slices.Contains(s.Shut, s.From) {
				t.Errorf("%s: pumped at %s, which is no drain of it", name, s.From)
			}
		}
		for i := range c.Assembly.Parts {
			if p := &c.Assembly.Parts[i]; p.Kind == assembly.Run && !p.Kept && in[p.Tag] != 1 {
				t.Errorf("%s: %s is in %d sections", name, p.Tag, in[p.Tag])
			}
		}
	}
	var kestrel []string
	for _, s := range Work(of(t, "kestrel-rise", nil)).Test.Sections {
		kestrel = append(kestrel, strings.Join(s.Held, "+")+">"+strings.Join(s.Runs, "+"))
	}
	if !slices.ContainsFunc(kestrel, func(s string) bool { return strings.HasPrefix(s, "N2+N3+N4>") }) {
		t.Errorf("what lies behind N2, N3 and N4 is no section of its own: %v", kestrel)
	}
}

// TestPressureTestJudged: parts made for less than the test are told, rules left blank are
// not judged, and the least of a rule is said to be what governs.
func TestPressureTestJudged(t *testing.T) {
	c := of(t, "kestrel-rise", nil)
	verdict := func(c Context) finding.Finding { return Findings(Work(c), c)[0] }
	if f := verdict(c); f.Verdict != finding.Fine {
		t.Errorf("at 6.8 bar: %s, %v", f.Verdict.ID(), f.Names)
	}
	high, blank := *c.Profile, *c.Profile
	high.Rules, blank.Rules = copied(c.Profile.Rules), copied(c.Profile.Rules)
	r := high.Rules["test-least"]
	r.Set, r.Value = true, 15e5
	high.Rules["test-least"] = r
	c.Profile = &high
	if f := verdict(c); f.Verdict != finding.LookAt || f.Names["parts"] == "" {
		t.Errorf("at 15 bar: %s, %v", f.Verdict.ID(), f.Names)
	}
	if test := Work(c).Test; !test.Least || test.At != 15e5 {
		t.Errorf("a least of 15 bar does not govern: %+v", test)
	}
	test := Work(c).Test
	for _, o := range test.Off {
		for _, section := range test.Sections {
			if o.Why == "weak" && (section.From == o.Tag || slices.Contains(section.Open, o.Tag)) {
				t.Errorf("at 15 bar %s is to be taken out, and %v are tested through it", o.Tag, section.Runs)
			}
		}
		if k := c.Assembly.Index(o.Tag); o.Why == "body" && (float64(o.Rating)*1.5 < 15e5 || c.Assembly.Parts[k].Kind == assembly.Run) {
			t.Errorf("%s, rated %v, is left under 15 bar", o.Tag, o.Rating)
		}
	}
	delete(blank.Rules, "test-time")
	c.Profile = &blank
	if f := verdict(c); f.Verdict != finding.NotJudged || f.Names["field"] != "test-time" {
		t.Errorf("without a time: %s, %v", f.Verdict.ID(), f.Names)
	}
}

func copied[K comparable, V any](m map[K]V) map[K]V {
	out := make(map[K]V, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

// TestWiderSpreadAcceptsMore: a figure less sure never accepts less.
func TestWiderSpreadAcceptsMore(t *testing.T) {
	c := of(t, "kestrel-rise", nil)
	narrow := Work(c)
	for _, e := range narrow.Of("outlet-flow") {
		f := finding.New("outlet-flow", e.Tag, e.Mode)
		f.Figure = e.Figure
		f.Figure.Half = 0.3 * e.Figure.SI
		c.Findings = append(c.Findings, f)
	}
	for _, e := range Work(c).Of("outlet-flow") {
		was := narrow.At(e.ID, e.Tag, e.Mode)
		if e.Low > was.Low || e.High < was.High || e.High < 1.3*e.Figure.SI-1e-12 {
			t.Errorf("%s %s: %g to %g, before %g to %g", e.Tag, e.Mode, e.Low, e.High, was.Low, was.High)
		}
	}
}

// TestWhatIsExpectedIsAccepted: no reading is asked for that a home which is as worked out would
// not pass.
func TestWhatIsExpectedIsAccepted(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		list := Work(of(t, name, nil)).Expected
		for i := range list {
			e := &list[i]
			if e.Lacks == "" && !e.Accepts(e.Figure.SI) {
				t.Errorf("%s: %s %s %s: %g is expected, %g to %g accepted", name, e.ID, e.Tag, e.Mode, e.Figure.SI, e.Low, e.High)
			}
		}
	}
}
