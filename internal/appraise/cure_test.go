package appraise

import (
	"testing"

	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/proof"
)

// TestCuresAreAppraised: a cure of a promise says what it costs at the taps, and where what check
// asks for in the same danger is still missing, that it is not enough by itself.
func TestCuresAreAppraised(t *testing.T) {
	c := proof.Cure{Kind: "check"}
	(&Proof{}).judging(input(t, "lantern-row"))("main-clean", &c)
	if len(c.Short) != 1 || finding.Titles(c.Short)[0] == "" {
		t.Errorf("a single check where a double one is asked for: %v", c.Short)
	}
	c = proof.Cure{Kind: "device", Edits: []job.Edit{{Op: job.Set, Path: "choices.backflow", Text: "reduced-pressure-25"}}}
	(&Proof{}).judging(input(t, "kestrel-rise"))("main-clean", &c)
	if len(c.Harms) == 0 || len(c.Short) > 0 {
		t.Errorf("a device that takes 5 m of head costs %v at the taps; still to fix %v", c.Harms, c.Short)
	}
}
