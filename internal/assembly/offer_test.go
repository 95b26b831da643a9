package assembly

import (
	"testing"

	"tideover/internal/job"
)

// TestMayOffer: nothing that joins the two waters, and no pump on the main, is offered
// against a refusal or without an answer.
func TestMayOffer(t *testing.T) {
	c, _ := rows(t)
	profile := func(bypass, booster string) string {
		return "table,profiles\nprofile,key,value,source,edition,certainty\ngeneric,by-pass-allowed," + bypass + ",own,1,checked\ngeneric,booster-on-main," + booster + ",own,1,checked\n"
	}
	for _, rule := range []string{"yes", "with-consent", "no", "unknown", ""} {
		m, err := c.Merge("r.csv", []byte(profile(rule, rule)))
		if err != nil {
			t.Fatal(err)
		}
		p, _ := m.Profile("generic")
		for _, answer := range []string{"yes", "with-consent", "asked", "no", "unknown", ""} {
			j := &job.Job{}
			j.Supply.Bypass, j.Supply.Booster = job.Answer(answer), job.Answer(answer)
			agreed := answer == "yes" || answer == "with-consent"
			for _, name := range Arrangements() {
				want := agreed && (rule == "yes" || rule == "with-consent")
				switch name {
				case ThroughStore, KitchenOnMain, Raised, HeaderTank:
					want = true
				case InLine:
					want = rule == "yes" || agreed && rule != "no"
				}
				if got := MayOffer(name, j, p); got != want {
					t.Errorf("%s under rule %q, answer %q: offered %v, want %v", name, rule, answer, got, want)
				}
			}
		}
	}
}
