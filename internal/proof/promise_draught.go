package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// noDraught: the booster never draws straight on the main. Where the local rules allow it
// with a cut-out, the pressure at the pump's inlet never falls below what they ask while
// it runs: then the cut-out works.
type noDraught struct{}

// About says what is promised.
func (noDraught) About() About {
	return About{ID: "no-draught", Kind: Sign, Spread: EveryCase, Safety: true, Source: "upc-609-9"}
}

// Judge asks whether the main can get to the pump's inlet while the pump runs and draws.
func (noDraught) Judge(v *View) Judgement {
	in := v.Input()
	m := in.Part(assembly.Main, "")
	if in.Circuit.Pump() < 0 || m < 0 {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return none()
	}
	worst := kept()
	for n, pump := range in.Circuit.Pumps() {
		if !v.Drives(pump) {
			continue
		}
		j := in.draught(v, pump, m)
		if j.Outcome != Kept {
			return j
		}
		if n == 0 || j.Margin < worst.Margin {
			worst = j
		}
	}
	return worst
}

// draught judges one pump that runs, m the main.
func (in *Input) draught(v *View, pump, m int) Judgement {
	if !v.Joined(m, 0, pump, 0) {
		return kept()
	}
	q := math.Min(float64(v.Flow(pump)), float64(v.Flow(m)))
	if !v.Solved() {
		return unjudged("no-answer")
	}
	if q <= trickle || !follow(v, m, 0).at[in.Circuit.PointOf(pump, 0)] {
		return kept()
	}
	if !in.boosterAllowed() {
		return most(quantity.FlowDim, q, 0, in.tag(pump))
	}
	limit := in.Profile.Rule("lock-out-least")
	if !limit.Set {
		return unjudged("no-cut-out-limit")
	}
	return least(quantity.PressureDim, v.Pressure(pump, 0).Low, limit.Value, in.tag(pump))
}

// boosterAllowed reports whether a booster may draw on the main with a cut-out: the local
// rules allow it or, where they leave it to the supplier or say nothing, the supplier does.
func (in *Input) boosterAllowed() bool {
	j := in.Job
	if j == nil {
		j = &job.Job{}
	}
	return assembly.Booster(j, in.Profile, in.Assembly.Draws()).May()
}
