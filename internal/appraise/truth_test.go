package appraise

import (
	"context"
	"math"
	"slices"
	"sort"
	"strings"
	"testing"

	"tideover/internal/assume"
	"tideover/internal/finding"
	"tideover/internal/homes"
	"tideover/internal/job"
)

// truthSeed is that of the homes and, with a home's number, of its truths: none of the draws that
// check itself made.
const truthSeed = 25

// truths is how a finding fared in the truths of its home.
type truths struct{ held, tried int }

// TestFineHoldsInTruth: what is called fine of a home, with room, holds in nine tenths of the homes it
// may really be: every input, every table and every assumption anywhere in its range at once, days
// included. Of all fine verdicts together, and of all but a few alone: a rule that is wrong in 5 of
// 100 lets some through. As many homes as TIDEOVER_HOMES says.
func TestFineHoldsInTruth(t *testing.T) {
	const each = 40
	count := homesCount(t, 2)
	all, days, close := truths{}, truths{}, truths{}
	kinds := map[string]*truths{}
	poor, judged, refused := 0, 0, 0
	for n := range count {
		h := homes.Random(truthSeed, n)
		in := inputOf(t, h.Name, h.Source)
		in.Foremost = 1
		base, err := Run(context.Background(), in, nil)
		if err != nil {
			refused++
			continue // and said why
		}
		leaves := withAll(in, base)
		r := rerunsOf(base, leaves)
		moving := in.after(base)
		moving.atOnce, moving.moving = atOnce(base), true
		still := r.move(moving, move{}, rooms())
		one := make([]truths, len(base.Findings))
		for k, m := range drawn(leaves, each, uint64(1000*truthSeed+n)) {
			run := r.move(moving, m, rooms())
			for i := range base.Findings {
				f := &base.Findings[i]
				if o := at(still, i); f.Verdict == finding.Fine && o.arose && o.verdict == finding.Fine {
					one[i].add(holds(f, at(run, i)))
				}
			}
			if k < 4 {
				days.day(t, in, base, leaves, m)
			}
		}
		for i, c := range one {
			f := &base.Findings[i]
			switch {
			case c.tried == 0:
			case f.Close:
				close.held, close.tried = close.held+c.held, close.tried+c.tried
			default:
				judged++
				all.held, all.tried = all.held+c.held, all.tried+c.tried
				if kinds[f.ID] == nil {
					kinds[f.ID] = &truths{}
				}
				kinds[f.ID].held += c.held
				kinds[f.ID].tried += c.tried
				if surelyBelow(c, enough) {
					poor++
					t.Logf("%s: %s holds in %d of %d; check said %d of %d", h.Name, f.Key(), c.held, c.tried, f.Held, f.Tried)
				}
			}
		}
	}
	var ids []string
	for id := range kinds {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, j int) bool { return kinds[ids[i]].share() < kinds[ids[j]].share() })
	for _, id := range ids[:min(8, len(ids))] {
		t.Logf("%s: %d of %d", id, kinds[id].held, kinds[id].tried)
	}
	t.Logf("%d homes (%d refused), %d fine verdicts with room: hold in %d of %d truths; %d surely in fewer than nine tenths; fine with little room: %d of %d; days: %d of %d",
		count, refused, judged, all.held, all.tried, poor, close.held, close.tried, days.held, days.tried)
	if judged == 0 || all.share() < enough {
		t.Errorf("what is fine holds in %d of %d", all.held, all.tried)
	}
	if days.tried > 0 && days.share() < enough {
		t.Errorf("what is fine of a day holds in %d of %d", days.held, days.tried)
	}
	if poor > judged/20+1 {
		t.Errorf("%d of %d verdicts hold in fewer than nine tenths", poor, judged)
	}
}

func (c *truths) add(holds bool) {
	c.tried++
	if holds {
		c.held++
	}
}

func (c *truths) share() float64 { return float64(c.held) / float64(c.tried) }

// surelyBelow reports whether so few would be seen in less than 1 of 100, were the share true: the
// binomial's lower tail.
func surelyBelow(c truths, share float64) bool {
	p := 0.0
	for k := 0; k <= c.held; k++ {
		a, _ := math.Lgamma(float64(c.tried + 1))
		b, _ := math.Lgamma(float64(k + 1))
		d, _ := math.Lgamma(float64(c.tried - k + 1))
		p += math.Exp(a - b - d + float64(k)*math.Log(share) + float64(c.tried-k)*math.Log(1-share))
	}
	return p < 0.01
}

// day lives a day of one truth and counts what was fine of the day as it was told.
func (c *truths) day(t *testing.T, in Input, base *Appraisal, leaves []job.Leaf, m move) {
	t.Helper()
	moved, err := in.moved(leaves, m)
	if err != nil {
		return
	}
	a, err := Quick(moved)
	if err != nil {
		return
	}
	tried := &Tried{moved, a}
	if _, err := tried.live(true); err != nil {
		return
	}
	for i := range base.Findings {
		f := &base.Findings[i]
		if f.Verdict != finding.Fine || !strings.HasPrefix(f.ID, "day-") {
			continue
		}
		k := slices.IndexFunc(a.Findings, func(g finding.Finding) bool { return g.Key() == f.Key() })
		if k >= 0 {
			g := &a.Findings[k]
			c.add(holds(f, outcome{g.Figure.SI, g.Limit.SI, g.Verdict, true}))
		} else {
			c.add(false)
		}
	}
}

// withAll lists every input and every assumption that says how the home is, those too that no rerun
// of check reads.
func withAll(in Input, base *Appraisal) []job.Leaf {
	leaves := inexact(in, base)
	for _, a := range assume.All() {
		if a.Strict == 0 && !readAgain(a) && !answered(in, a) {
			leaves = append(leaves, assumedLeaf(a))
		}
	}
	return leaves
}
