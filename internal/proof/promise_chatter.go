package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
)

// noChatter: a pump that a pressure switch or a speed control starts and stops has a vessel that
// gives the water between the two pressures. Without one, or with one that is flat or shut off,
// every tap a little open starts and stops the pump by the second, until its contacts weld or its
// motor is burnt. A heater's vessel is not counted on: it is small, and charged for another
// pressure. A control that feels the flow runs on for as long as some flows.
type noChatter struct{}

// About says what is promised.
func (noChatter) About() About {
	return About{ID: "no-chatter", Kind: Reach, Spread: EveryCase, Source: "trade"}
}

// Judge asks, with nothing drawn, whether a vessel that works is joined to the switch.
func (noChatter) Judge(v *View) Judgement {
	in := v.Input()
	k := in.Circuit.ControlOf()
	if k == nil || k.Kind == assembly.FlowControl || in.Circuit.Pump() < 0 {
		return none()
	}
	if !v.Draw(DrawNone) || v.Power(PowerOff) || v.Upset(circuit.PumpAlwaysRuns, circuit.PumpNeverRuns) {
		return none()
	}
	for _, e := range in.Assembly.Of(assembly.Vessel) {
		if in.Assembly.Parts[e].Purpose != assembly.AsHeaterVessel && !v.Failed(e, "vessel-flat", "vessel-shut-off") && v.Joined(e, 0, k.Senses.Part, k.Senses.Port) {
			return kept()
		}
	}
	if v.unplugged() || in.deaf(v) {
		return none()
	}
	return broken(k.Tag)
}
