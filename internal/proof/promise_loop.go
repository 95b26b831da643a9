package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// noLoop: nothing the pump has lifted runs back into the store. Such a loop runs all
// night, heats the water, and the tank never falls so that nobody sees it.
type noLoop struct{}

// About says what is promised.
func (noLoop) About() About {
	return About{ID: "no-loop", Kind: Sign, Spread: EveryCase, Source: "trade"}
}

// Judge asks whether the pump can press on the float valve at all, then follows the water
// that leaves the pump along the flows.
func (noLoop) Judge(v *View) Judgement {
	in := v.Input()
	floats := in.Assembly.Of(assembly.FloatValve)
	if in.Circuit.Pump() < 0 || len(floats) == 0 {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return none()
	}
	for _, f := range floats {
		if h := in.Assembly.Header(); h >= 0 && in.Assembly.Fills(f) == h {
			continue // the pump is there to fill it
		}
		if v.Reaches(f, 0, Pumped) == NoSource {
			continue
		}
		q := float64(v.Flow(f))
		if !v.Solved() {
			return unjudged("no-answer")
		}
		if q <= trickle {
			continue
		}
		for _, pump := range in.Circuit.Pumps() {
			if v.Drives(pump) && float64(v.Flow(pump)) > trickle && follow(v, pump, 1).at[in.Circuit.PointOf(f, 0)] {
				return most(quantity.FlowDim, q, 0, in.tag(f))
			}
		}
	}
	return kept()
}
