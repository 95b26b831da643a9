package appraise

import (
	"context"
	"testing"

	"tideover/internal/catalogue"
	"tideover/internal/homes"
)

// TestRemediesOfRandomHomes: every remedy offered to a random home is applied to its file and the
// whole job judged anew: its finding is gone, nothing new is to fix, and nothing that concerns
// harm got worse unsaid. A few homes, or as many as TIDEOVER_HOMES says.
func TestRemediesOfRandomHomes(t *testing.T) {
	cat, err := catalogue.Load()
	if err != nil {
		t.Fatal(err)
	}
	const each = 3 // remedies of a home that are applied: of all findings by turns
	applied := 0
	homes.Each(t, 14, homesCount(t, 3), func(t *testing.T, h homes.Home) {
		doc, faults := ReadDoc(cat, "home", h.Source)
		if len(faults) > 0 {
			t.Fatalf("%s: %v", h.Name, faults)
		}
		in, err := NewInput(cat, doc)
		if err != nil {
			t.Fatal(err)
		}
		in.Proof = NamedProof
		a, err := Run(context.Background(), in, nil)
		if err != nil {
			t.Fatalf("%s: %v", h.Name, err)
		}
		n := 0
		for i := range a.Findings {
			f := &a.Findings[i]
			for k := range f.Remedies {
				if n < each {
					worsens(t, in, a, f, &f.Remedies[k])
					n++
				}
			}
		}
		applied += n
	})
	t.Logf("%d remedies were applied", applied)
	if applied == 0 {
		t.Error("no remedy was offered: the test says nothing")
	}
}
