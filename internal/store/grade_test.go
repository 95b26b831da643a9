package store

import (
	"strings"
	"testing"

	"tideover/internal/assembly"
	"tideover/internal/demo"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// TestHazardWhereThereIsNoCategory: where a code grades by hazard, no finding of the store speaks
// of fluid categories; where EN 1717 holds, it does.
func TestHazardWhereThereIsNoCategory(t *testing.T) {
	for profile, want := range map[string]string{"usa": "low hazard", "australia-new-zealand": "medium hazard", "uk": "fluid category 3", "generic": "fluid category 3"} {
		found := false
		for _, name := range []string{"kestrel-rise", "lantern-row"} {
			j := demo.Job(t, name)
			c, p := demo.Rows(t, profile)
			a, err := assembly.Build(j, c, p)
			if err != nil {
				t.Fatal(err)
			}
			in, ok := Read(j, a, p, nil)
			if !ok {
				t.Fatalf("%s has no store", name)
			}
			for _, f := range Findings(nil, Analyse(in, nil), Context{Job: j, Assembly: a, Profile: p, Rows: c}) {
				title, sentence := finding.Text(&f, quantity.Metric)
				if text := title + " " + sentence; strings.Contains(text, "category") && !strings.HasPrefix(want, "fluid") {
					t.Errorf("%s, %s: %s", profile, name, text)
				}
				found = found || strings.Contains(sentence, want)
			}
		}
		if !found {
			t.Errorf("%s: nothing says %q", profile, want)
		}
	}
}
