package appraise

import (
	"fmt"
	"regexp"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// flowTested is the flow test of a job file.
var flowTested = regexp.MustCompile(`(?m)^  flow-test:.*\n(?:    .*\n)+`)

// TestFineWithoutAFlowTest: what is fine of a home whose main nobody tested is fine on the weak
// main too, read as a test of its own in the job file, and what rests on the test is not judged;
// with a test nothing rests on it. The examples without their tests, and random homes.
func TestFineWithoutAFlowTest(t *testing.T) {
	rests := 0
	look := func(t *testing.T, src []byte) {
		bare := flowTested.ReplaceAll(src, nil)
		a, err := glance(t, bare)
		if err != nil {
			return // such a home cannot be laid out
		}
		at := func(share float64) string { return fmt.Sprintf("%.6f bar", share*float64(a.Job.Supply.Static.V)/1e5) }
		var edits []job.Edit
		for _, read := range [][2]string{{"low-flow", "7.5 L/min"}, {"low-pressure", at(0.875)}, {"high-flow", "15 L/min"}, {"high-pressure", at(0.5)}} {
			edits = append(edits, job.Edit{Op: job.Set, Path: "supply.flow-test." + read[0], Text: read[1]})
		}
		doc, _, err := a.Doc.Apply(edits...)
		if err != nil {
			t.Fatal(err)
		}
		weak, err := glance(t, doc.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		verdicts := map[string]finding.Verdict{}
		for i := range weak.Findings {
			verdicts[weak.Findings[i].Key()] = weak.Findings[i].Verdict
			if weak.Findings[i].Best && weak.Findings[i].Names["field"] == flowTest {
				t.Errorf("%s rests on a test that was made", weak.Findings[i].ID)
			}
		}
		for i := range a.Findings {
			f := &a.Findings[i]
			v, arose := verdicts[f.Key()]
			switch {
			case f.Best && f.Names["field"] == flowTest:
				rests++
			case f.Verdict == finding.Fine && arose && v != finding.Fine:
				t.Errorf("%s %s %s is fine without a flow test and %s on a weak main", f.ID, f.Where, f.Mode, v.ID())
			}
		}
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		t.Run(name, func(t *testing.T) { look(t, demo.Source(t, name)) })
	}
	if rests < 5 {
		t.Errorf("only %d verdicts of the examples rest on a flow test", rests)
	}
	homes.Each(t, 44, homesCount(t, 12), func(t *testing.T, h homes.Home) { look(t, h.Source) })
}
