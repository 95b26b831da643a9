package pack

import (
	"strings"
	"testing"
)

// TestLetters: each letter fits one side, asks its reader's questions, and says only what
// was worked out.
func TestLetters(t *testing.T) {
	for _, tt := range []struct {
		job, sheet string
		has        []string
		not        string
	}{
		{"kestrel-rise", "letter-supplier", []string{"we ask for your consent", "draws from the store, never from your main", "N1", "we agree under conditions"}, "No pipe joins"},
		{"kestrel-rise", "letter-landlord", []string{"Full, it weighs", "capped so that no dead end stays", "licensed electrician"}, "never flows"},
		{"kestrel-rise", "letter-insurer", []string{"Please note it on the policy", "V2 shut"}, "we do not agree"},
	} {
		o := Options{Sheets: []string{tt.sheet}}
		a := run(t, source(t, tt.job))
		a.Job.Place.Address = "the house behind the mill, Upper Kestrel"
		pages := inOrder(t, made(t, a, o)["pack.pdf"])
		if len(pages) != 1 {
			t.Errorf("%s: %s is %d pages, want one", tt.job, tt.sheet, len(pages))
		}
		got := squeezed(strings.Join(pages, " "))
		for _, w := range append(tt.has, a.Job.Place.Address) {
			if !strings.Contains(got, squeezed(w)) {
				t.Errorf("%s: %s lacks %q", tt.job, tt.sheet, w)
			}
		}
		if strings.Contains(got, squeezed(tt.not)) || strings.Contains(got, "‹") {
			t.Errorf("%s: %s says %q, or lacks a message", tt.job, tt.sheet, tt.not)
		}
	}
}

// TestGateOnTheCover: who must sign stands on the cover, with how it stands.
func TestGateOnTheCover(t *testing.T) {
	got := sheetText(t, "kestrel-rise", "verdict", Options{})
	for _, w := range []string{"Before work starts, these sign", "The water supplier", "still owed", "A licensed electrician"} {
		if !strings.Contains(got, squeezed(w)) {
			t.Errorf("the cover lacks %q", w)
		}
	}
}
