package years

import (
	"math"
	"strings"
	"testing"

	"tideover/internal/finding"
	"tideover/internal/freshness"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
)

// TestWaysByHand: a store of 1 m³ through which 0.1 m³ go a day. In its turn every litre is 10 days
// old; of two linked tanks the far one, of which a litre in twenty comes when the level falls a tenth
// by day, is older than anything stirred; and the mean of what is drawn is that of the stirred store.
func TestWaysByHand(t *testing.T) {
	const q = 0.1 / 86400
	decay := freshness.Decay{}
	start := freshness.Water{Age: 10 * seasons.Day, Heat: 15}
	around := freshness.Around{Outside: 15}
	ways := otherWays(2, 1, start, decay)
	mixed := freshness.Mixed{Volume: 1, Water: start}
	ages := freshness.NewAges()
	for day := range 4000 {
		for _, f := range []freshness.Flow{{Span: 43200, Out: 2 * q}, {Span: 43200, In: 2 * q}} {
			out := mixed.Step(f, freshness.Water{Heat: 15}, around, decay)
			if day > 400 && out.Volume > 0 {
				ages.Add(out.First.Age, out.Last.Age, out.Volume)
			}
			for _, y := range ways {
				y.live(f, freshness.Water{Heat: 15}, around, day > 400)
			}
		}
	}
	want := ages.Mean()
	for _, y := range ways {
		if math.Abs(y.ages.Mean()-want) > 0.01*want {
			t.Errorf("%s: mean age %g d, stirred %g", y.id, y.ages.Mean()/seasons.Day, want/seasons.Day)
		}
	}
	turn, linked := ways[0].ages.Quantile(0.95)/seasons.Day, ways[1].ages.Quantile(0.95)/seasons.Day
	if math.Abs(turn-9.5) > 0.7 { // the store is 0.95 m³ on the mean
		t.Errorf("in its turn one litre in twenty is older than %g d, want about 9.5", turn)
	}
	if stirred := ages.Quantile(0.95) / seasons.Day; !(turn < stirred) || linked == stirred {
		t.Errorf("one in twenty: in turn %g, stirred %g, linked %g d", turn, stirred, linked)
	}
}

// TestWorstWayDecides: what is fine stirred and not in another way is not fine, and the ways are told.
func TestWorstWayDecides(t *testing.T) {
	about := func(v float64) seasons.Estimate { return seasons.Estimate{Value: v, Low: v, High: v, N: 9} }
	fresh := Fresh{Most: about(10 * seasons.Day), Scant: about(0.01), Below: about(0.01), Days: 700, Each: make([]Flask, 3),
		Ways: []Way{{"in-turn", about(8 * seasons.Day), about(0.3)}, {"linked", about(40 * seasons.Day), about(0.02)}}}
	hot := 30.0
	r := &Result{Fresh: []Fresh{fresh}, Site: Site{Chlorine: 0.5e-3, Read: true, Hot: &hot}}
	if f := standingOf(r, "x", quantity.Metric); f.Verdict != finding.LookAt || f.Figure.SI != 40*seasons.Day || !strings.Contains(f.Names["ways"], "Fill the tanks at one end") {
		t.Errorf("%v %g: %q", f.Verdict, f.Figure.SI, f.Names["ways"])
	}
	if f := residualOf(r, "x", quantity.Metric); f.Verdict != finding.NotJudged {
		t.Errorf("kept if stirred, not in its turn: %v", f.Verdict)
	}
	fresh.Ways[0].Scant, fresh.Ways[1].Most = about(0.05), about(12*seasons.Day)
	r.Fresh[0] = fresh
	if f := standingOf(r, "x", quantity.Metric); f.Verdict != finding.Fine || f.Figure.SI != 12*seasons.Day {
		t.Errorf("%v", f.Verdict)
	}
	if f := residualOf(r, "x", quantity.Metric); f.Verdict != finding.Fine || f.Figure.SI != 0.05 {
		t.Errorf("%v %g", f.Verdict, f.Figure.SI)
	}
}
