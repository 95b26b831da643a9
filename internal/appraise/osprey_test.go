package appraise

import (
	"context"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestOspreyHouse: the guest house is sound as planned; with a narrow service and a small
// seat the hours with water do not feed it, and the tried cure is the float valve, not a
// further store.
func TestOspreyHouse(t *testing.T) {
	slots := func(edits ...job.Edit) *finding.Finding {
		t.Helper()
		doc := demo.Doc(t, "osprey-house")
		next, _, err := doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		cat, _ := demo.Rows(t, "generic")
		in, err := NewInput(cat, next)
		if err != nil {
			t.Fatal(err)
		}
		in.Proof = NamedProof
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatal(err)
		}
		var found *finding.Finding
		for i := range a.Findings {
			f := &a.Findings[i]
			if f.ID == "refill-slots" {
				found = f
			} else if f.Verdict == finding.MustFix {
				t.Errorf("%v: %s must be fixed", edits, f.ID)
			}
		}
		if found == nil {
			t.Fatal("nothing is said of the hours with water")
		}
		return found
	}
	set := func(path, text string) job.Edit { return job.Edit{Op: job.Set, Path: path, Text: text} }
	wide := slots()
	if wide.Verdict != finding.Fine || wide.Figure.SI < 12 || wide.Figure.SI > 16 {
		t.Errorf("full bore: %s, %v m³ a slot", wide.Verdict.ID(), wide.Figure.SI)
	}
	narrow := slots(set("choices.float", "float-15-medium"), set("supply.service.pipe", "PE100-SDR11 25"))
	if narrow.Verdict != finding.MustFix || narrow.Figure.SI > 6 {
		t.Errorf("a small seat: %s, %v m³ a slot", narrow.Verdict.ID(), narrow.Figure.SI)
	}
	if len(narrow.Remedies) == 0 || narrow.Remedies[0].Edits[0].Path != "choices.float" {
		t.Errorf("the first remedy is %v", narrow.Remedies)
	}
}
