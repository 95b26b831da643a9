package appraise

import (
	"testing"

	"tideover/internal/day"
	"tideover/internal/homes"
)

// TestDaysJudged: a day that is run for its verdicts alone has those of the day run sharply, in
// random homes: a few, or as many as TIDEOVER_HOMES says.
func TestDaysJudged(t *testing.T) {
	lived, sharp := 0, 0
	for n := range homesCount(t, 10) {
		h := homes.Random(79, n)
		in := homeInput(t, h)
		a, err := Quick(in)
		if err != nil || a.circuit == nil {
			continue
		}
		var days [2]*day.Day
		for k := range days {
			if days[k], err = day.Prepare(a.circuit, day.Read(in.Job, a.Assembly, in.Profile)); err != nil {
				t.Fatalf("%s: %v", h.Name, err)
			}
		}
		if days[0] == nil {
			continue
		}
		lived++
		_, _ = days[0].Run(nil), days[1].Judge(nil)
		if days[1].Schedule.Loose == days[0].Schedule.Loose {
			sharp++
		}
		want, got := day.Findings(days[0], a.Assembly), day.Findings(days[1], a.Assembly)
		if len(want) != len(got) {
			t.Fatalf("%s: %d findings, judged %d", h.Name, len(want), len(got))
		}
		for i := range want {
			if want[i].Key() != got[i].Key() || want[i].Verdict != got[i].Verdict {
				t.Errorf("%s: %s is %s at %g, judged %s at %g (against %g)", h.Name, want[i].Key(), want[i].Verdict.ID(), want[i].Figure.SI, got[i].Verdict.ID(), got[i].Figure.SI, want[i].Limit.SI)
			}
		}
	}
	t.Logf("%d days, %d run once more", lived, sharp)
	if lived == 0 || sharp > lived/2 {
		t.Errorf("%d of %d days are run once more: a first look does not pay", sharp, lived)
	}
}
