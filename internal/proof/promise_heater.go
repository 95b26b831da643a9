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
	for _, h := range in.Assembly.Of(assembly.Heater) {
		if !in.vented(h) {
			continue
		}
		if v.Reaches(h, 0, Pumped) == NoSource {
			continue
		}
		return broken(in.tag(h))
	}
	return kept()
}

// Measure adds how much the pump presses on it.
func (p heaterBoosted) Measure(v *View) Judgement {
	j := p.Judge(v)
	if h := v.Input().Assembly.Index(j.Where); j.Outcome == Broken && h >= 0 {
		high := v.Pressure(h, 0).High
		j = most(quantity.PressureDim, high, 0, j.Where)
		j.Outcome = Broken // however little
	}
	return j
}

// vented reports whether a heater takes no pressure of the pump: open to the air, not
// rated, or nobody knows.
func (in *Input) vented(heater int) bool {
	row, ok := in.Assembly.Parts[heater].Row.(catalogue.Heater)
	if !ok || row.Rating == 0 {
		return true
	}
	return assembly.Vented(in.Job, row)
}
