package appraise

import (
	"math"
	"testing"

	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
)

// TestUseReadWhileWaterWasShort: check and years go through the same range of a use that was read
// while water was short, and what was fine on it no longer is.
func TestUseReadWhileWaterWasShort(t *testing.T) {
	short := []job.Edit{{Op: job.Set, Path: "home.use-rationed", Text: "yes"}, {Op: job.Set, Path: "interruptions.boil-notice", Text: "no"},
		{Op: job.Set, Path: "interruptions.habit", Text: "about 1 a month, 3 to 12 h; worst 66 h"}} // room for what nobody measured as well
	was, is := carriedIn(t, short[1:]), carriedIn(t, short)
	if was.Figure.SI != is.Figure.SI {
		t.Errorf("a full store lasts %g s, %g s where the use was read while water was short: what is read is the figure", was.Figure.SI, is.Figure.SI)
	}
	if was.Verdict != finding.Fine || is.Verdict != finding.LookAt {
		t.Errorf("%v, and %v where the use was read while water was short: want fine, and look at", was.Verdict, is.Verdict)
	}
	y := ready(t, "kestrel-rise", short...)
	h := &y.Input.Home.Household
	if down, up := 0.2, 0.2+0.5; math.Abs(h.Below-down) > 1e-9 || math.Abs(h.Above-up) > 1e-9 {
		t.Errorf("years draw %g less to %g more, check %g less to %g more", h.Below, h.Above, down, up)
	}
}

// carriedIn is how long the full store of Kestrel Rise lasts, after edits.
func carriedIn(t *testing.T, edits []job.Edit) finding.Finding {
	t.Helper()
	doc, _, err := demo.Doc(t, "kestrel-rise").Apply(edits...)
	if err != nil {
		t.Fatal(err)
	}
	cat, _ := demo.Rows(t, doc.Job.Profile)
	in, err := NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range appraised(t, in).Findings {
		if f.ID == "carry-time" {
			return f
		}
	}
	t.Fatal("no carry time")
	return finding.Finding{}
}
