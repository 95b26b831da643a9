package proposal

import (
	"math"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/demo"
)

// TestSpansOfATimetable: a home whose water comes by a timetable is sized for the hours
// without it: every second day for six hours leaves 42 h.
func TestSpansOfATimetable(t *testing.T) {
	doc := demo.Doc(t, "osprey-house")
	cat, _ := demo.Rows(t, doc.Job.Profile)
	in, err := appraise.NewInput(cat, doc)
	if err != nil {
		t.Fatal(err)
	}
	s, err := newSearch(in)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := float64(s.spans()[Assured])/3600, (1+above)*42; math.Abs(got-want) > 1e-9 {
		t.Errorf("sized for %g h, want %g", got, want)
	}
}
