package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
)

// expansion: water heated in a storage heater has somewhere to go: a vessel that works, or
// back the way it came. Shut in by a non-return valve or a shut valve, its pressure climbs
// until the relief valve lifts; with that blocked, until something bursts.
type expansion struct{}

// About says what is promised.
func (expansion) About() About {
	return About{ID: "expansion", Kind: Reach, Spread: EveryCase, Safety: true, Source: "upc-2024"}
}

// Judge asks what the water in a heater that is heating can get to, nothing being drawn.
func (expansion) Judge(v *View) Judgement {
	in := v.Input()
	stored := false
	for _, h := range in.Assembly.Of(assembly.Heater) {
		row, ok := in.Assembly.Parts[h].Row.(catalogue.Heater)
		if ok && row.Least > 0 || in.vented(h) {
			continue // it heats running water only, or is open to the air
		}
		stored = true
		if !v.Hot() || !v.Draw(DrawNone) {
			return none()
		}
		if !expands(v, h) {
			return broken(in.tag(h))
		}
	}
	if !stored {
		return none()
	}
	return kept()
}

// expands reports whether a heater's water can push into a vessel, the main, or the air.
// Back through a pump into the store is not counted on: a non-return valve ought to hold
// it, and where that has failed the vessel beside it serves anyway.
func expands(v *View, heater int) bool {
	in := v.Input()
	for _, e := range in.vessels() {
		if v.Joined(heater, 0, e, 0) && !v.Upset(circuit.VesselFlat, circuit.VesselShutOff) {
			return true
		}
	}
	if m := in.Part(assembly.Main, ""); m >= 0 && v.Joined(heater, 0, m, 0) {
		return true
	}
	for _, d := range in.Assembly.Of(assembly.Drain) {
		if v.At(d, "open") && v.Joined(heater, 0, d, 0) {
			return true
		}
	}
	return v.Upset(circuit.TapLeftOpen)
}
