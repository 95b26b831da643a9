package appraise

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/proof"
)

// TestHeaderGapAgreesWithTheProof: the air gap of a header tank is judged by the law the proof
// uses. What check calls fine the proof keeps with the float valve broken off, and what it calls
// drowned the proof breaks; a wider or a lower overflow never leaves less air.
func TestHeaderGapAgreesWithTheProof(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	source, err := os.ReadFile("testdata/osprey-header.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[finding.Verdict]int{}
	for _, lip := range []string{"1050 mm", "950 mm", "850 mm"} {
		before := -1.0
		for _, bore := range []string{"", "19 mm", "68 mm", "100 mm"} {
			doc, faults := ReadDoc(cat, "osprey-header", source)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			if bore != "" {
				next, _, err := doc.Apply(job.Edit{Op: job.Set, Path: "choices.header.overflow", Text: bore},
					job.Edit{Op: job.Set, Path: "choices.header.overflow-height", Text: lip})
				if err != nil {
					t.Fatal(err)
				}
				doc = next
			}
			in, err := NewInput(cat, doc)
			if err != nil {
				t.Fatal(err)
			}
			a, err := Quick(in)
			if err != nil {
				t.Fatal(err)
			}
			var f *finding.Finding
			for i := range a.Findings {
				if g := a.Service.UpperGap; a.Findings[i].ID == "air-gap" && g != nil && a.Findings[i].Where == g.Store {
					f = &a.Findings[i]
				}
			}
			if f == nil {
				t.Fatalf("%s at %s: the air gap of the header tank is not judged", bore, lip)
			}
			seen[f.Verdict]++
			if bore == "" {
				if f.Verdict != finding.NotJudged || f.Names["field"] != "choices.header.overflow" {
					t.Errorf("nobody measured the overflow: %s for want of %q", f.Verdict.ID(), f.Names["field"])
				}
				continue
			}
			if left := f.Figure.SI; left < before {
				t.Errorf("%s at %s leaves %.1f mm, a narrower one %.1f mm", bore, lip, 1000*left, 1000*before)
			}
			before = f.Figure.SI
			switch outcome := outcomeOf(t, in, a.Service.UpperGap.Float); {
			case f.Verdict == finding.Fine && outcome != proof.Kept, f.Figure.SI < 0 && outcome != proof.Broken:
				t.Errorf("%s at %s: check says %s (%.1f mm), the proof %v", bore, lip, f.Verdict.ID(), 1000*f.Figure.SI, outcome)
			}
			if _, sentence := finding.Text(f, doc.Job.System()); f.Figure.SI < 0 && (!strings.Contains(sentence, "under water by") || strings.Contains(sentence, "−")) {
				t.Errorf("%s at %s: %s", bore, lip, sentence)
			}
		}
	}
	if seen[finding.Fine] == 0 || seen[finding.MustFix] == 0 {
		t.Errorf("verdicts %v: the overflows say nothing", seen)
	}
}

// outcomeOf is the worst the proof finds of the overflow with one float valve broken off over a
// full tank, in any setting.
func outcomeOf(t *testing.T, in Input, float string) proof.Outcome {
	t.Helper()
	cases, err := NewCases(in)
	if err != nil {
		t.Fatal(err)
	}
	worst := proof.Kept
	for _, s := range cases.Assembly.Settings {
		c, err := cases.Space.Parse(fmt.Sprintf("%s store=full header=full failed=float-broken-off@%s", s.Name, float))
		if err != nil {
			continue
		}
		if c, is := cases.Space.Settle(c); is && cases.Space.Of(overflowPromise(t), c).Outcome == proof.Broken {
			worst = proof.Broken
		}
	}
	return worst
}

func overflowPromise(t *testing.T) proof.Promise {
	t.Helper()
	for _, p := range proof.Promises() {
		if p.About().ID == "overflow" {
			return p
		}
	}
	t.Fatal("no promise of the overflow")
	return nil
}
