package appraise

import (
	"strings"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestPlate: a plate's figures move what the taps get; a reading far from the plate is
// looked at, one at it is fine; one no pump has stops the run with its place.
func TestPlate(t *testing.T) {
	set := func(path, text string) job.Edit {
		return job.Edit{Op: job.Set, Path: "choices.pump.measured." + path, Text: text}
	}
	plate := []job.Edit{set("greatest-head", "45 m"), set("greatest-flow", "100 L/min")}
	for name, x := range map[string]struct {
		edits []job.Edit
		want  finding.Verdict
		fails bool
	}{
		"plate alone":      {plate, finding.Fine, false},
		"as the plate":     {append(plate[:2:2], set("flow", "50 L/min"), set("pressure", "3.4 bar ±0.1")), finding.Fine, false},
		"worn":             {append(plate[:2:2], set("flow", "50 L/min"), set("pressure", "2.2 bar ±0.1")), finding.LookAt, false},
		"another pump":     {append(plate[:2:2], set("flow", "10 L/min"), set("pressure", "0.4 bar")), 0, true},
		"more than it can": {append(plate[:2:2], set("flow", "200 L/min"), set("pressure", "1 bar")), 0, true},
	} {
		doc := demo.Doc(t, "kestrel-rise")
		next, _, err := doc.Apply(x.edits[:2]...)
		if err != nil {
			t.Fatal(err)
		}
		if len(x.edits) > 2 { // a reading is given whole
			const at = "greatest-flow: 100 L/min"
			src := strings.Replace(string(next.Bytes()), at, at+"\n      flow: "+x.edits[2].Text+"\n      pressure: "+x.edits[3].Text, 1)
			cat, _ := demo.Rows(t, "generic")
			read, faults := ReadDoc(cat, name, []byte(src))
			if len(faults) > 0 {
				t.Fatal(faults)
			}
			next = read
		}
		cat, _ := demo.Rows(t, "generic")
		in, err := NewInput(cat, next)
		if err != nil {
			t.Fatal(err)
		}
		a, err := Quick(in)
		if (err != nil) != x.fails {
			t.Errorf("%s: %v", name, err)
		}
		if err != nil {
			continue
		}
		found := false
		for _, f := range a.Findings {
			if f.ID == "pump-plate" {
				found = true
				if f.Verdict != x.want {
					_, s := finding.Text(&f, next.Job.System())
					t.Errorf("%s: %s: %s", name, f.Verdict.ID(), s)
				}
			}
		}
		if !found {
			t.Errorf("%s: nothing is said of the plate", name)
		}
	}
}
