package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// mainClean: stored or home water never reaches the main, neither driven by pump or store
// nor falling back through the pipes when the main sucks and an open tap lets air in.
type mainClean struct{}

// About says what is promised.
func (mainClean) About() About {
	return About{ID: "main-clean", Kind: Sign, Spread: EveryCase, Safety: true, Source: "en-1717"}
}

// Judge looks first whether anything but the main can press on the meter, then which way
// the water there goes. In a dry main an empty pipe waits: what stands above it runs in.
func (mainClean) Judge(v *View) Judgement {
	in := v.Input()
	m := in.Part(assembly.Main, "")
	if m < 0 {
		return none()
	}
	by := v.Reaches(m, 0, Stored|Pumped|Air|Foreign)
	if by == NoSource {
		return kept()
	}
	q := float64(v.Flow(m))
	if !v.Solved() {
		return unjudged("no-answer")
	}
	dry := v.Main(Dry)
	if !dry && q >= -trickle {
		return Judgement{Outcome: Kept, Margin: q}
	}
	if by == Air {
		return drainBack(v, m)
	}
	if q < -trickle {
		return most(quantity.FlowDim, -q, 0, in.tag(m))
	}
	p := v.Pressure(m, 0).High
	if p <= 0 {
		return Judgement{Outcome: Kept, Margin: -p}
	}
	return most(quantity.PressureDim, p, 0, in.tag(m))
}

// drainBack counts the home's own water that air lets run back: what stands in the pipes
// above the head in the street, as far as it is joined to the street. It is an upper
// bound: what fine bores hold up is counted as fallen.
func drainBack(v *View, m int) Judgement {
	in := v.Input()
	head, held := v.HeadOfMain()
	if !held {
		head = float64(in.Assembly.Parts[m].Ports[0].Z) // an empty pipe in the ground
	}
	sum := 0.0
	for _, i := range in.Assembly.Of(assembly.Run) {
		p := &in.Assembly.Parts[i]
		share := above(float64(p.Ports[0].Z), float64(p.Ports[1].Z), head)
		if share > 0 && p.Role != assembly.Service && (v.Joined(i, 0, m, 0) || v.Joined(i, 1, m, 0)) {
			sum += share * in.pipeVolume(i)
		}
	}
	return most(quantity.VolumeDim, sum, 0, in.tag(m))
}

// above is the share of what is spread evenly between two heights that lies above a third.
func above(z1, z2, from float64) float64 {
	lo, hi := math.Min(z1, z2), math.Max(z1, z2)
	switch {
	case from <= lo:
		return 1
	case from >= hi:
		return 0
	}
	return (hi - from) / (hi - lo)
}
