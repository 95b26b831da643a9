package proof

import (
	"math"

	"tideover/internal/assembly"
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
	if in.Circuit.Pump() < 0 {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return none()
	}
	for _, pump := range in.Circuit.Pumps() {
		if in.dry(v, pump) {
			if v.unplugged() {
				return none() // the card has it off before a valve is turned
			}
			return broken(in.tag(pump))
		}
	}
	return kept()
}

// unplugged reports whether the hands have made a setting in which the pump is switched off.
func (v *View) unplugged() bool {
	for n := range v.o.s.Named {
		if name := v.o.s.Named[n].Name; plugOut(name) && v.In(name) {
			return true
		}
	}
	return false
}

// dry reports whether a pump runs without water.
func (in *Input) dry(v *View, pump int) bool {
	if !v.Drives(pump) || v.Reaches(pump, 0, Stored|Street) != NoSource || in.feelsDry() && !v.Upset(circuit.PumpAlwaysRuns) {
		return false
	}
	return in.cutOut() == nil || v.Upset(circuit.LockAlwaysLets) // else its inlet has no pressure
}

// feelsDry reports whether the pump's own controller stops it when no water comes: one
// that feels the flow does within seconds, a bare pressure switch never.
func (in *Input) feelsDry() bool {
	c := in.Circuit.ControlOf()
	return c != nil && c.Kind != assembly.PressureSwitch
}

// notDeadHeaded: the pump never works against a shut line longer than its controller
// allows. A controller that feels it stops by itself; one that is stuck, or that can never
// feel its stop, lets the water in the pump come to the boil.
type notDeadHeaded struct{}

// About says what is promised.
func (notDeadHeaded) About() About {
	return About{ID: "not-dead-headed", Kind: Timed, Spread: EveryCase, Source: "trade"}
}

// Judge asks first whether a working controller is sure to stop the pump, which takes no
// case; else whether the running pump passes water.
func (notDeadHeaded) Judge(v *View) Judgement {
	in := v.Input()
	if in.Circuit.Pump() < 0 {
		return none()
	}
	stuck := v.Upset(circuit.PumpAlwaysRuns)
	if !stuck && in.feelsDry() {
		return kept() // it feels that nothing flows
	}
	if !stuck && in.stopsAtRest() && !in.deaf(v) {
		return kept() // the pressure climbs over its stop
	}
	if v.Pumping() == circuit.Standing || !v.Draw(DrawNone) || v.Store(Empty) {
		return none()
	}
	worst := kept()
	for _, pump := range in.Circuit.Pumps() {
		if !v.Drives(pump) {
			continue
		}
		q := float64(v.Flow(pump))
		if !v.Solved() {
			return unjudged("no-answer")
		}
		if q > trickle {
			worst.Margin = q
			continue
		}
		j := broken(in.tag(pump))
		if t, ok := in.boils(pump); ok {
			j.Figure = finding.Of(quantity.TimeDim, t)
		}
		return j
	}
	return worst
}

// stopsAtRest reports whether the pump, working against a shut line on a store drawn down
// to its outlet, presses more where its controller feels it than the controller stops at.
func (in *Input) stopsAtRest() bool {
	c, law := in.Circuit.ControlOf(), in.Circuit.PumpLaw()
	if c == nil || law == nil {
		return false
	}
	low := math.Inf(1)
	for _, i := range in.Assembly.Of(assembly.Store) {
		low = math.Min(low, float64(in.Assembly.Parts[i].Ports[0].Z))
	}
	if cut := in.cutOut(); cut != nil { // it lifts at least what the cut-out lets it have
		low = math.Min(low, circuit.HeadOf(cut.Off, in.Assembly.Parts[cut.Senses.Part].Ports[cut.Senses.Port].Z))
	}
	if math.IsInf(low, 1) {
		return false
	}
	z := in.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z
	return low+law.ShutOff(1)-in.opening() > circuit.HeadOf(c.Off, z)
}

// deaf reports whether something shut between a pump and the controller keeps the pressure
// from it: a hand valve, or a non-return valve that has failed shut.
func (in *Input) deaf(v *View) bool {
	c := in.Circuit.ControlOf()
	several := len(in.Circuit.Pumps()) > 1
	for _, pump := range in.Circuit.Pumps() {
		if !v.Joined(pump, 1, c.Senses.Part, c.Senses.Port) && (!several || v.Drives(pump)) {
			return true
		}
	}
	return false
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
