package appraise

import "testing"

// TestHandOverIsDrawn: each flow and pressure at a tap is expected over the draws that were solved
// for the check itself: as many as run everything, moved by the survey, about the figure.
func TestHandOverIsDrawn(t *testing.T) {
	a := appraised(t, input(t, "kestrel-rise"))
	n, moved := 0, 0
	for i := range a.HandOver.Expected {
		e := &a.HandOver.Expected[i]
		if e.ID != "outlet-flow" && e.ID != "outlet-pressure" {
			continue
		}
		n++
		if e.ID == "outlet-pressure" && e.Drawn == nil {
			continue // some pressures are no finding
		}
		if len(e.Drawn) > leastDraws || len(e.Drawn) < leastDraws*9/10 { // a draw in which a tap is not judged has no figure
			t.Errorf("%s %s %s: %d draws, want %d or nearly", e.ID, e.Tag, e.Mode, len(e.Drawn), leastDraws)
			continue
		}
		low, high := e.Drawn[0], e.Drawn[0]
		for _, v := range e.Drawn {
			low, high = min(low, v), max(high, v)
		}
		if low > e.Figure.SI*1.1 || high < e.Figure.SI*0.9 {
			t.Errorf("%s %s %s: drawn %v to %v, expected %v", e.ID, e.Tag, e.Mode, low, high, e.Figure.SI)
		}
		if high > low {
			moved++
		}
		if e.Out(0) > 0.05+1e-9 {
			t.Errorf("%s %s %s: sound and out in %.3f", e.ID, e.Tag, e.Mode, e.Out(0))
		}
	}
	if n == 0 || moved < n/2 {
		t.Errorf("%d readings, %d moved by the survey", n, moved)
	}
}
