package appraise

import (
	"strings"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestEveryProfile: each example is judged under each profile: nothing breaks, every
// finding has its words, what a profile leaves blank is not judged and says which rule it
// wants, and a stricter limit is never kinder.
func TestEveryProfile(t *testing.T) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "lantern-row", "osprey-house"} {
		src := demo.Source(t, name)
		cat, _ := demo.Rows(t, "generic")
		for _, key := range cat.Keys("profiles") {
			doc, faults := ReadDoc(cat, name, src)
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			next, _, err := doc.Apply(job.Edit{Op: job.Set, Path: "profile", Text: key})
			if err != nil {
				t.Fatal(err)
			}
			if doc, faults = ReadDoc(cat, name, next.Bytes()); len(faults) > 0 { // now with its defaults
				t.Fatal(faults)
			}
			in, err := NewInput(cat, doc)
			if err != nil {
				t.Fatal(err)
			}
			a, err := Quick(in)
			if err != nil {
				t.Fatalf("%s under %s: %v", name, key, err)
			}
			blank := map[string]bool{}
			for i := range a.Findings {
				f := &a.Findings[i]
				title, sentence := finding.Text(f, doc.Job.System())
				if strings.Contains(title+sentence, "‹") {
					t.Errorf("%s under %s: %s lacks a message", name, key, f.ID)
				}
				if f.Verdict == finding.NotJudged && strings.HasPrefix(f.ID, "velocity") && strings.HasPrefix(f.Names["field"], "max-velocity") {
					blank["max-velocity"] = true
				}
			}
			if wants := !in.Profile.Rule("max-velocity-header").Set; wants != blank["max-velocity"] {
				t.Errorf("%s under %s: velocities not judged %v, the rule blank %v", name, key, blank["max-velocity"], wants)
			}
		}
	}
}
