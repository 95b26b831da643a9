package appraise

import (
	"context"
	"slices"
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// TestMisses: farther from the limit by more than a quarter of it is worse, nearer is not.
func TestMisses(t *testing.T) {
	at := func(figure, limit float64, s finding.Sense) *finding.Finding {
		return &finding.Finding{Figure: finding.Of(quantity.TimeDim, figure), Limit: finding.Of(quantity.TimeDim, limit), Sense: s}
	}
	for _, c := range []struct {
		name    string
		was, is *finding.Finding
		want    bool
	}{
		{"three days of four, then one", at(3, 4, finding.AtLeast), at(1, 4, finding.AtLeast), true},
		{"three of four, then two and a half", at(3, 4, finding.AtLeast), at(2.5, 4, finding.AtLeast), false},
		{"one of four, then three", at(1, 4, finding.AtLeast), at(3, 4, finding.AtLeast), false},
		{"15 d where 5 are the most, then 30", at(15, 5, finding.AtMost), at(30, 5, finding.AtMost), true},
		{"15, then 10", at(15, 5, finding.AtMost), at(10, 5, finding.AtMost), false},
		{"no limit", at(3, 0, finding.NoLimit), at(1, 0, finding.NoLimit), false},
	} {
		if got := misses(c.was, c.is); got != c.want {
			t.Errorf("%s: %t", c.name, got)
		}
	}
}

// TestSmallerStoreTellsWhatItCosts: at Kestrel Rise the store lasts as long as is asked, too close
// to call; one so small that its water stays fresh says that it no longer does.
func TestSmallerStoreTellsWhatItCosts(t *testing.T) {
	in := input(t, "kestrel-rise")
	a, err := Run(context.Background(), in, nil)
	if err != nil {
		t.Fatal(err)
	}
	smaller := 0
	for i := range a.Findings {
		if a.Findings[i].ID != "turnover" {
			continue
		}
		for _, m := range a.Findings[i].Remedies {
			if m.Edits[0].Path != "choices.store.row" {
				continue
			}
			smaller++
			if !slices.ContainsFunc(m.Worse, func(key string) bool { return strings.HasPrefix(key, "carry-time\x00") }) {
				t.Errorf("%v costs days and does not say so: %q", m.Edits, m.Worse)
			}
		}
	}
	if smaller == 0 {
		t.Error("no smaller store is offered: nothing is seen here")
	}
}
