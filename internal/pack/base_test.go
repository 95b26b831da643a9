package pack

import (
	"strings"
	"testing"

	"tideover/internal/base"
	"tideover/internal/consent"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// TestBaseSheetIsOneWord: on any ground, wet or dry, steep or flat, the sheet says that the
// ground carries more than is asked only where the finding is fine, and never beside a
// reason to stop that this very job gives.
func TestBaseSheetIsOneWord(t *testing.T) {
	holds, here := squeezed(say("base.bearing-holds")), squeezed(say("base.stop.here", "what", ""))
	for _, ground := range []string{"rock", "gravel", "dense-sand", "medium-sand", "loose-sand", "stiff-clay", "firm-clay", "soft-clay", "made-ground", "unknown"} {
		for _, slope := range []quantity.Ratio{0.02, 0.3} {
			for _, water := range []job.Answer{job.Yes, job.No, job.Unknown} {
				a := fixture(t, "kestrel-rise")
				a.Job.Place.Ground, a.Job.Place.HighWater = ground, water
				a.Job.Place.Slope.V = slope
				cat, _ := demo.Rows(t, a.Job.Profile)
				a.Base = base.Analyse(a.Job, a.Assembly, cat, base.Inputs{Mass: a.Store.Mass, Raised: consent.Raised(a.Job)})
				a.Findings = base.Findings(nil, a.Base, cat, false)
				text := squeezed(strings.Join(pages(t, made(t, a, Options{Sheets: []string{"base"}})["pack.pdf"]), " "))
				fine, says := a.Findings[0].Verdict == finding.Fine, strings.Contains(text, holds)
				if fine != says {
					t.Errorf("%s, slope %g, water %s: the finding is %s, the sheet says that it holds: %v", ground, float64(slope), water, a.Findings[0].Verdict.ID(), says)
				}
				if says && strings.Contains(text, here) {
					t.Errorf("%s, slope %g, water %s: it holds, and this job says to stop", ground, float64(slope), water)
				}
			}
		}
	}
}
