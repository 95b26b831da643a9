package pack

import (
	"strings"
	"testing"

	"tideover/internal/quantity"
	"tideover/internal/service"
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
		{"kestrel-rise", "letter-landlord", []string{"all of them", "capped so that no dead end stays", "licensed electrician"}, "never flows"},
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

// TestLettersTellTheLoad: who owns the floor reads what all tanks weigh, and what stands on the
// roof; a supplier whose main fills the store at night only reads no flow of nought.
func TestLettersTellTheLoad(t *testing.T) {
	a := fixture(t, "kestrel-rise")
	p := &pack{Appraisal: a, sys: a.Job.System()}
	lines := strings.Join(p.landlordLines(), " ")
	if all := p.mass(quantity.Mass(a.Base.Stores().Count) * a.Base.Stores().Mass); !strings.Contains(lines, all) {
		t.Errorf("the landlord reads nothing of %s on his floor: %s", all, lines)
	}
	a.Service.Refills = []service.Refill{{Hours: "usual", Flow: 0}, {Hours: "night", Flow: 0.0002}}
	fills := strings.Join(p.fillsLine(), " ")
	if !strings.Contains(fills, "12 L/min") || !strings.Contains(fills, "at night") {
		t.Errorf("filled at night only, the letter says %q", fills)
	}
	a.Service.Refills = a.Service.Refills[:1]
	if fills := p.fillsLine(); len(fills) > 0 {
		t.Errorf("a store that never fills takes %q", fills)
	}
}
