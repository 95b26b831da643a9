package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/quantity"
)

// heaterBoosted: no vented or low-pressure heater is boosted. One that nobody has seen
// counts as open vented.
type heaterBoosted struct{}

// About says what is promised.
func (heaterBoosted) About() About {
	return About{ID: "heater-boosted", Kind: Reach, Spread: EveryCase, Safety: true, Source: "trade"}
}

// Judge asks whether the running pump can press on a heater that takes no pressure.
func (heaterBoosted) Judge(v *View) Judgement {
	in := v.Input()
	weak := false
	for _, h := range in.Assembly.Of(assembly.Heater) {
		if !in.vented(h) {
			continue
		}
		weak = true
		if v.Reaches(h, 0, Pumped) == NoSource {
			continue
		}
		p := v.Pressure(h, 0).High
		if !v.Solved() {
			return broken(in.tag(h))
		}
		j := most(quantity.PressureDim, p, 0, in.tag(h))
		j.Outcome = Broken // pressed by the pump, however little
		return j
	}
	if !weak {
		return none()
	}
	return kept()
}

// vented reports whether a heater takes no pressure of the pump: open to the air, not
// rated, or nobody knows.
func (in *Input) vented(heater int) bool {
	row, ok := in.Assembly.Parts[heater].Row.(catalogue.Heater)
	if !ok || row.Rating == 0 {
		return true
	}
	return row.Kind == "storage-vented" || in.Job != nil && in.Job.Taken("home.heater.vent") == "yes"
}
