package appraise

import (
	"bytes"
	"context"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

var examples = []string{"kestrel-rise", "juniper-flat"}

// verdictOf returns the verdict of the finding with an id, anywhere, the worst one.
func verdictOf(a *Appraisal, id string) (worst finding.Verdict, figure float64) {
	for i := range a.Findings {
		if f := &a.Findings[i]; f.ID == id && f.Verdict > worst {
			worst, figure = f.Verdict, f.Figure.SI
		}
	}
	return worst, figure
}

// TestExamplesAreHonest holds the examples to what an honest appraisal of them must say.
func TestExamplesAreHonest(t *testing.T) {
	for _, c := range []struct {
		job, id string
		want    finding.Verdict
		why     string
	}{
		{"kestrel-rise", "refill", finding.LookAt, "0.8 bar at the meter does not climb to a float valve 9.5 m above it"},
		{"kestrel-rise", "turnover", finding.LookAt, "two tanks for two interruptions a week grow old"},
		{"kestrel-rise", "by-pass-consent", finding.LookAt, "the supplier has been asked and has not answered"},
		{"kestrel-rise", "carry-time", finding.LookAt, "two tanks outlast four days by a twelfth, and the use is known to a fifth: too close to call"},
		{"juniper-flat", "turnover", finding.MustFix, "a dozen short interruptions turn 300 gal over about twice a year"},
		{"juniper-flat", "boil-notice", finding.LookAt, "the feed must stay shut under a notice"},
		{"juniper-flat", "hand-delay", finding.LookAt, "nobody is home to turn the valve from 8 to 6"},
	} {
		a := appraised(t, input(t, c.job))
		if got, figure := verdictOf(a, c.id); got != c.want {
			t.Errorf("%s: %s is %s (figure %g), want %s: %s", c.job, c.id, got.ID(), figure, c.want.ID(), c.why)
		}
	}
}

// TestShowerAtSupper: the main alone starves the upstairs shower at supper; the store
// serves it. That is what the booster is for.
func TestShowerAtSupper(t *testing.T) {
	a := appraised(t, input(t, "kestrel-rise"))
	for _, m := range a.Service.Modes {
		for _, d := range m.Alone {
			switch {
			case d.Outlet != "shower-up":
			case m.ID == "on-main-peak" && d.Flow > 0.01*d.Need:
				t.Errorf("shower-up at supper on the main: %v m³/s, want next to nothing", d.Flow)
			case m.ID == "on-store" && d.Flow < d.Need:
				t.Errorf("shower-up on the store: %v m³/s, need %v", d.Flow, d.Need)
			}
		}
	}
}

// TestStepsAreExecuted evaluates every recorded step of every finding again, and walks
// every walk: each leg begins where the one before ended.
func TestStepsAreExecuted(t *testing.T) {
	for _, name := range examples {
		steps := 0
		for _, f := range appraised(t, input(t, name)).Findings {
			at, walking := 0.0, false
			for _, s := range f.Calc {
				if d := s.Check(); d > 1e-12 {
					t.Errorf("%s: %s: step %s differs by %g when evaluated again", name, f.Key(), s.Key, d)
				}
				if s.Key == "" {
					if walking && s.Before != at {
						t.Errorf("%s: %s: walk breaks at %s: %g, then %g", name, f.Key(), s.Part, at, s.Before)
					}
					at, walking = s.After, true
				} else {
					walking = false
				}
				steps++
			}
		}
		if steps < 100 {
			t.Errorf("%s: only %d steps recorded", name, steps)
		}
	}
}

// TestSentences: every sentence is there with every place filled.
func TestSentences(t *testing.T) {
	for _, name := range examples {
		a := appraised(t, input(t, name))
		for i := range a.Findings {
			title, sentence := finding.Text(&a.Findings[i], a.Job.System())
			if strings.ContainsAny(title+sentence, "‹›") || sentence == "" {
				t.Errorf("%s: %s: %q %q", name, a.Findings[i].Key(), title, sentence)
			}
		}
	}
}

// TestReproducible: the same answer on any number of workers, bit for bit.
func TestReproducible(t *testing.T) {
	in := input(t, "kestrel-rise")
	var want []byte
	for _, workers := range []int{1, 2, 5} {
		old := runtime.GOMAXPROCS(workers)
		got, err := appraised(t, in).JSON()
		runtime.GOMAXPROCS(old)
		if err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = got
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%d workers give another answer than one", workers)
		}
	}
}

// twin writes every quantity of a job in another system of units.
func twin(t *testing.T, in Input, units string) Input {
	t.Helper()
	sys, err := quantity.ParseSystem(units)
	if err != nil {
		t.Fatal(err)
	}
	edits := []job.Edit{}
	for _, path := range in.Doc.Paths() {
		q, ok := in.Job.Quantity(path)
		f, known := job.FieldFor(path)
		if ok && known && f.Shape == job.Quantity && in.Doc.Given(path) {
			edits = append(edits, job.Edit{Op: job.Set, Path: path, Text: quantity.FormatFile(q, sys)})
		}
	}
	// Metric units read everywhere; gallons only once the units are declared.
	declare := job.Edit{Op: job.Set, Path: "units", Text: units}
	if sys == quantity.Metric {
		edits = append(edits, declare)
	} else {
		edits = append([]job.Edit{declare}, edits...)
	}
	doc := in.Doc
	for _, e := range edits {
		next, _, err := doc.Apply(e)
		if err != nil {
			t.Fatalf("%s: %v", e.Path, err)
		}
		doc = next
	}
	in.Doc, in.Job = doc, doc.Job
	return in
}

// TestUnitTwins: the same job in metric and in US customary units gives the same figures
// and the same verdicts.
func TestUnitTwins(t *testing.T) {
	for _, c := range []struct{ name, units string }{{"kestrel-rise", "us"}, {"juniper-flat", "metric"}} {
		in := input(t, c.name)
		other := twin(t, in, c.units)
		if other.Job.Units == in.Job.Units || bytes.Equal(other.Doc.Bytes(), in.Doc.Bytes()) {
			t.Fatalf("%s: the twin is not written in other units", c.name)
		}
		a, b := appraised(t, in), appraised(t, other)
		if len(a.Findings) != len(b.Findings) || a.Verdict != b.Verdict {
			t.Fatalf("%s: %d findings, %s; its twin %d, %s", c.name, len(a.Findings), a.Verdict.ID(), len(b.Findings), b.Verdict.ID())
		}
		for i := range a.Findings {
			f, g := &a.Findings[i], &b.Findings[i]
			close := math.Abs(f.Figure.SI-g.Figure.SI) <= 1e-9*math.Max(math.Abs(f.Figure.SI), 1e-6) || f.Figure.SI == g.Figure.SI
			if f.Key() != g.Key() || f.Verdict != g.Verdict || !close {
				t.Errorf("%s: %s %s %g; its twin %s %s %g", c.name, f.Key(), f.Verdict.ID(), f.Figure.SI, g.Key(), g.Verdict.ID(), g.Figure.SI)
			}
		}
	}
}

// TestBlankRule: a profile rule that is blank makes what needs it not judged, by name,
// and stops nothing else.
func TestBlankRule(t *testing.T) {
	named := 0
	for _, name := range examples {
		in := input(t, name)
		for key := range in.Profile.Rules {
			blank := *in.Profile
			blank.Rules = map[string]catalogue.Rule{}
			for k, r := range in.Profile.Rules {
				if k == key {
					r = catalogue.Rule{Key: k}
				}
				blank.Rules[k] = r
			}
			bare := in
			bare.Profile = &blank
			a, err := evaluate(bare, true)
			if err != nil {
				t.Errorf("%s without %s: %v", name, key, err)
				continue
			}
			for i := range a.Findings {
				if f := &a.Findings[i]; f.Verdict == finding.NotJudged && f.Names["field"] == key {
					named++
				}
			}
		}
	}
	if named < 12 {
		t.Errorf("only %d findings went unjudged by the name of the blank rule", named)
	}
}

// TestWiderTolerance: widening the tolerance of any one field widens every figure that
// depends on it, and narrows none.
func TestWiderTolerance(t *testing.T) {
	for _, name := range examples {
		in := withTolerance(t, input(t, name), 0.02)
		base, err := evaluate(in, false)
		if err != nil {
			t.Fatal(err)
		}
		in.atOnce = atOnce(base)
		leaves := ownOnly(inexact(in, base))
		runs := runsOf(t, in, base, leaves)
		read := func(runs [][][]outcome) []finding.Finding {
			list := slices.Clone(base.Findings)
			for i := range list {
				widen(&list[i], i, leaves, runs)
			}
			return list
		}
		narrow, moved := read(runs), 0
		for k, l := range leaves {
			if q, ok := in.Job.Quantity(l.Path); ok && q.Half > 0.04*math.Abs(q.SI) {
				continue // the file does not write it, and what is taken has a wider spread already
			}
			wide := measuredWithin(t, in, l.Path, 0.04)
			widened := slices.Clone(runs)
			widened[k] = runsOf(t, wide, base, []job.Leaf{leafOf(t, wide.Job, l.Path)})[0]
			for i, g := range read(widened) {
				f := &narrow[i]
				only := base.Findings[i]
				widen(&only, i, leaves[k:k+1], runs[k:k+1])
				depends := only.Figure.Half > 0
				if g.Figure.Half < f.Figure.Half*(1-1e-9) {
					t.Errorf("%s: widening %s narrows %s from %g to %g", name, l.Path, f.Key(), f.Figure.Half, g.Figure.Half)
				}
				if depends && g.Figure.Half <= f.Figure.Half {
					t.Errorf("%s: widening %s does not widen %s (%g)", name, l.Path, f.Key(), f.Figure.Half)
				}
				if depends {
					moved++
				}
			}
		}
		if len(leaves) < 25 || moved == 0 {
			t.Errorf("%s: %d fields carry a tolerance and %d figures depend on one", name, len(leaves), moved)
		}
	}
}

// ownOnly leaves out what has its spread from a table.
func ownOnly(leaves []job.Leaf) []job.Leaf {
	return slices.DeleteFunc(leaves, func(l job.Leaf) bool { return l.Taken })
}

func runsOf(t *testing.T, in Input, base *Appraisal, leaves []job.Leaf) [][][]outcome {
	t.Helper()
	r := rerunsOf(base, leaves)
	if len(r.known.at) != len(base.Findings) {
		t.Fatal("two findings have one key")
	}
	runs := make([][][]outcome, len(leaves))
	moves, of := oneAtATime(leaves)
	for i, m := range moves {
		runs[of[i]] = append(runs[of[i]], r.move(in, m, rooms()))
	}
	return runs
}

func leafOf(t *testing.T, j *job.Job, path string) job.Leaf {
	t.Helper()
	for _, l := range j.Inexact() {
		if l.Path == path {
			return l
		}
	}
	t.Fatalf("%s carries no tolerance", path)
	return job.Leaf{}
}

// withTolerance gives every quantity of a job that is given a half-width of a share of
// its value.
func withTolerance(t *testing.T, in Input, share float64) Input {
	t.Helper()
	for _, path := range in.Doc.Paths() {
		q, ok := in.Job.Quantity(path)
		f, known := job.FieldFor(path)
		if ok && known && f.Shape == job.Quantity && q.SI != 0 && !f.Whole {
			in = measuredWithin(t, in, path, share)
		}
	}
	return in
}

// measuredWithin gives one quantity a half-width of a share of its value.
func measuredWithin(t *testing.T, in Input, path string, share float64) Input {
	t.Helper()
	q, _ := in.Job.Quantity(path)
	q.Basis, q.Half = quantity.Measured, share*math.Abs(q.SI)
	doc, _, err := in.Doc.Apply(job.Edit{Op: job.Set, Path: path, Text: quantity.FormatFile(q, in.Job.System())})
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	in.Doc, in.Job = doc, doc.Job
	return in
}

// TestRemediesHold: a remedy that is offered clears its finding when its edits are made.
func TestRemediesHold(t *testing.T) {
	tried := 0
	for _, name := range examples {
		in := input(t, name)
		for _, f := range appraised(t, in).Findings {
			for _, r := range f.Remedies {
				tried++
				doc, _, err := in.Doc.Apply(r.Edits...)
				if err != nil {
					t.Fatal(err)
				}
				cured := in
				cured.Doc, cured.Job = doc, doc.Job
				for _, g := range appraised(t, cured).Findings {
					if g.Key() == f.Key() && g.Verdict != finding.Fine && !(r.Close && g.Close) {
						t.Errorf("%s: %s is still %s after %v", name, f.Key(), g.Verdict.ID(), r.Edits)
					}
				}
			}
		}
	}
	if tried == 0 {
		t.Error("no remedy is offered for any finding of the examples")
	}
}

// TestCancelled: a run whose context has ended says so.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Run(ctx, input(t, "kestrel-rise"), nil); err == nil {
		t.Error("a cancelled run returned no error")
	}
}

// TestBroken: what is broken on purpose is found, and said to be so.
func TestBroken(t *testing.T) {
	a := appraised(t, inputFrom(t, "testdata/kestrel-broken.job.yaml"))
	for _, id := range []string{"vented-heater-boosted", "by-pass-consent", "pump-stop", "backflow-device"} {
		if v, _ := verdictOf(a, id); v != finding.MustFix {
			t.Errorf("%s is %s, want must-fix", id, v.ID())
		}
	}
	if a.Verdict != finding.MustFix {
		t.Errorf("the whole is %s", a.Verdict.ID())
	}
}

// TestSmallTroubles: what is wrong with a bottle or a kept part is said, and stops nothing.
func TestSmallTroubles(t *testing.T) {
	in := input(t, "kestrel-rise")
	for id, edits := range map[string][]job.Edit{
		"bottle": {{Op: job.Set, Path: "choices.disinfectant.bought", Text: "2027-01-20"}},
		"existing-unplaced": {{Op: job.Insert, Path: "existing.old-pump",
			Text: "kind: pump, row: jet-0.37, condition: worn, decision: keep"}},
	} {
		doc, _, err := in.Doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		changed := in
		changed.Doc, changed.Job = doc, doc.Job
		if v, _ := verdictOf(appraised(t, changed), id); v != finding.LookAt {
			t.Errorf("%s is %s, want look-at", id, v.ID())
		}
		if v, _ := verdictOf(appraised(t, in), id); v != finding.NotJudged {
			t.Errorf("%s arises without a reason", id)
		}
	}
}
