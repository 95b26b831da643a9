package proof

import (
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// notDry: the pump never runs dry: not on an empty store, not behind a shut valve.
type notDry struct{}

// About says what is promised.
func (notDry) About() About {
	return About{ID: "not-dry", Kind: Reach, Spread: EveryCase, Source: "trade"}
}

// Judge asks whether any water can get to the inlet of the pump while it runs.
func (notDry) Judge(v *View) Judgement {
	in := v.Input()
	pump := in.Circuit.Pump()
	if pump < 0 {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return none()
	}
	if v.Reaches(pump, 0, Stored|Street) != NoSource || in.feelsDry() && !v.Upset(circuit.PumpAlwaysRuns) {
		return kept()
	}
	return broken(in.tag(pump))
}

// feelsDry reports whether the pump's own controller stops it when no water comes: one
// that feels the flow does within seconds, a bare pressure switch never.
func (in *Input) feelsDry() bool {
	c := in.Circuit.ControlOf()
	return c != nil && c.Kind != "pressure-switch"
}

// notDeadHeaded: the pump never works against a shut line longer than its controller
// allows. A controller that feels it stops by itself; one that is stuck, or that can never
// feel its stop, lets the water in the pump come to the boil.
type notDeadHeaded struct{}

// About says what is promised.
func (notDeadHeaded) About() About {
	return About{ID: "not-dead-headed", Kind: Timed, Spread: EveryCase, Source: "trade"}
}

// Judge asks whether a running pump passes water; where it passes none and its controls
// stay as they are, nothing will ever stop it. The figure is how long the water in it
// takes to the boil.
func (notDeadHeaded) Judge(v *View) Judgement {
	in := v.Input()
	pump := in.Circuit.Pump()
	if pump < 0 {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return none()
	}
	q := float64(v.Flow(pump))
	if !v.Solved() {
		return unjudged("no-answer")
	}
	if q > trickle {
		return Judgement{Outcome: Kept, Margin: q}
	}
	if !v.Upset(circuit.PumpAlwaysRuns) && !v.Steady() {
		return kept() // the controller feels it and stops
	}
	j := broken(in.tag(pump))
	if t, ok := in.boils(pump); ok {
		j.Figure = finding.Of(quantity.TimeDim, t)
	}
	return j
}

const (
	casing    = 1.5e-3 // m³ of water in the casing of a small pump, an assumption
	waterHeat = 4186.0 // J/(kg K)
	boilFrom  = 80.0   // K from the tap to the boil
)

// boils is how long the water in a dead-headed pump takes to the boil when all its shaft
// power stays in it [s]: t = m c ΔT / P.
func (in *Input) boils(pump int) (float64, bool) {
	row, ok := in.Assembly.Parts[pump].Row.(catalogue.Pump)
	if !ok || row.Power <= 0 {
		return 0, false
	}
	return casing * 1000 * waterHeat * boilFrom / float64(row.Power), true
}
