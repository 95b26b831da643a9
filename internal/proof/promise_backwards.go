package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// notBackwards: the main never runs backwards through the pump into the store. It would
// come in under the water, past float valve and air gap: the store overfills, and one
// failure less stands between it and the street.
type notBackwards struct{}

// About says what is promised.
func (notBackwards) About() About {
	return About{ID: "not-backwards", Kind: Sign, Spread: EveryCase, Source: "trade"}
}

// Judge asks whether the main can press on the pump's outlet at all and stands higher
// than the store, then which way the water in the pump goes.
func (notBackwards) Judge(v *View) Judgement {
	in := v.Input()
	if in.Circuit.Pump() < 0 || len(in.Assembly.Of(assembly.Store)) == 0 {
		return none()
	}
	worst := kept()
	for n, pump := range in.Circuit.Pumps() {
		j := in.backwards(v, pump)
		if j.Outcome != Kept {
			return j
		}
		if n == 0 || j.Margin < worst.Margin {
			worst = j
		}
	}
	return worst
}

// backwards judges one pump.
func (in *Input) backwards(v *View, pump int) Judgement {
	if v.Reaches(pump, 1, Street) == NoSource || !in.runsOut(v, pump) {
		return kept()
	}
	if head, ok := v.HeadOfMain(); ok && head <= float64(v.Level()) {
		return kept()
	}
	q := float64(v.Flow(pump))
	if !v.Solved() {
		return unjudged("no-answer")
	}
	if q >= -trickle {
		return Judgement{Outcome: Kept, Margin: math.Abs(q)}
	}
	return most(quantity.FlowDim, -q, 0, in.tag(pump))
}

// runsOut reports whether water at the pump's outlet can get back into a store.
func (in *Input) runsOut(v *View, pump int) bool {
	for _, s := range in.Assembly.Of(assembly.Store) {
		for k := range in.Assembly.Parts[s].Ports {
			if v.Joined(pump, 1, s, k) {
				return true
			}
		}
	}
	return false
}
