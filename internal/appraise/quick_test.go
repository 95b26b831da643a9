package appraise

import (
	"context"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
)

// TestQuick: a quick appraisal has the figures and verdicts of the full one, but for what
// it says it leaves out.
func TestQuick(t *testing.T) {
	cat, _ := demo.Rows(t, "generic")
	doc, faults := ReadDoc(cat, "kestrel-rise", demo.Source(t, "kestrel-rise"))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	quick, err := Quick(in)
	if err != nil {
		t.Fatal(err)
	}
	full, err := Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]*finding.Finding{}
	for i := range full.Findings {
		of[full.Findings[i].Key()] = &full.Findings[i]
	}
	for i := range quick.Findings {
		f := &quick.Findings[i]
		g := of[f.Key()]
		if g == nil || g.Verdict != f.Verdict && !g.Close || g.Figure.SI != f.Figure.SI || g.Source != f.Source {
			t.Errorf("%s %s %s: the full run says otherwise", f.ID, f.Where, f.Mode)
		}
		if f.Figure.Half != 0 || len(f.Remedies) > 0 || f.Tried != 0 || f.Close {
			t.Errorf("%s: a spread or a remedy in a quick appraisal", f.ID)
		}
	}
	if len(quick.Findings) < 80 || quick.Verdict == finding.NotJudged {
		t.Errorf("%d findings, %v", len(quick.Findings), quick.Verdict)
	}
}
