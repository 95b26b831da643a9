package proof

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/quantity"
)

// served: wherever there is water, some setting that a card names brings it to the taps,
// in a power cut too.
type served struct{}

// About says what is promised.
func (served) About() About {
	return About{ID: "served", Kind: Sign, Spread: SomeNamed, Source: "trade"}
}

// Judge opens every tap and asks whether any gives what it needs at least.
func (served) Judge(v *View) Judgement {
	in := v.Input()
	if h := in.Assembly.Header(); h >= 0 && v.Draw(DrawMany) && v.Header(Empty) && v.Power(PowerOn) && !v.Store(Empty) {
		return none() // the pump fills it, in minutes
	}
	if !v.Draw(DrawMany) || v.Main(Weak, Dry, Sucking) && v.Store(Empty) {
		return none()
	}
	best := Judgement{Outcome: Broken, Margin: math.Inf(-1)}
	for _, o := range in.Assembly.Of(assembly.Outlet) {
		if v.Reaches(o, 0, Street|Stored|Pumped) == NoSource {
			continue
		}
		q := float64(v.Flow(o))
		if !v.Solved() {
			return unjudged("no-answer")
		}
		if j := least(quantity.FlowDim, q, sipped, in.tag(o)); j.Margin > best.Margin {
			best = j
		}
	}
	if best.Where == "" {
		best.Margin = -sipped
	}
	return best
}

// sipped is the flow at which a tap counts as giving water [m³/s]: 1 L/min fills a jug in
// a minute or two. An assumption.
const sipped = 1.0 / 60000
