package appraise

import (
	"fmt"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/proof"
)

// An air gap that check calls fine stands in the proof of the same home as well: with the main
// at its night maximum, the store full, the float valve broken off and half of the overflow's
// screen blocked, in every setting a card names. One that check says is under water is broken
// there. Random homes, more of them by TIDEOVER_HOMES.
func TestGapAgreesWithTheProof(t *testing.T) {
	var promise proof.Promise
	for _, p := range proof.Promises() {
		if p.About().ID == "overflow" {
			promise = p
		}
	}
	fine, drowned := 0, 0
	homes.Each(t, 41, homesCount(t, 40), func(t *testing.T, h homes.Home) {
		in := homeInput(t, h)
		a, err := Quick(in)
		if err != nil || a.Service.Gap == nil || !a.Service.Gap.Known {
			return
		}
		g, verdict := a.Service.Gap, finding.NotJudged
		for i := range a.Findings {
			if a.Findings[i].ID == "air-gap" {
				verdict = a.Findings[i].Verdict
			}
		}
		cases, err := NewCases(in)
		if err != nil {
			t.Fatal(err)
		}
		kept, lost := 0, 0
		for _, s := range cases.Assembly.Settings {
			c, err := cases.Space.Parse(fmt.Sprintf("%s store=full main=high failed=float-broken-off@%s", s.Name, g.Float))
			if err != nil {
				continue // a setting of a spool that is out
			}
			if c, is := cases.Space.Settle(c); is { // else the controls come to no rest
				switch cases.Space.Of(promise, c).Outcome {
				case proof.Kept:
					kept++
				case proof.Broken:
					lost++
				}
			}
		}
		switch {
		case verdict == finding.Fine && lost > 0:
			t.Errorf("%s: check says fine (%.1f mm, half blocked %.1f mm, %.1f needed), the proof that the gap is lost", h.Name,
				1000*float64(g.Left), 1000*float64(g.HalfLeft), 1000*g.Spill.Needs)
		case verdict == finding.MustFix && g.Left <= 0 && kept > 0 && lost == 0:
			t.Errorf("%s: check says the mouth is %.1f mm under water, the proof that the gap stands", h.Name, -1000*float64(g.Left))
		case verdict == finding.Fine:
			fine++
		case g.Left <= 0:
			drowned++
		}
	})
	if fine == 0 || drowned == 0 {
		t.Errorf("%d homes with a fine gap, %d with a drowned one: the homes say nothing", fine, drowned)
	}
	t.Logf("%d fine, %d drowned", fine, drowned)
}
