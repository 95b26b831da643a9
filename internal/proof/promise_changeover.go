package proof

import (
	"math"

	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// takesMain: an automatic changeover really takes the main when it is good. A booster set
// near the main's pressure is always the higher of two non-return valves; only a lock-out
// on the main side hands the home back.
type takesMain struct{}

// About says what is promised.
func (takesMain) About() About {
	return About{ID: "takes-main", Kind: Timed, Spread: NamedOnly, Source: "trade"}
}

// Judge looks, in the normal setting with the main good, the store full and no more than
// one tap running, whether the pump can go on feeding the home for good.
func (takesMain) Judge(v *View) Judgement {
	in := v.Input()
	lock := in.lockOut()
	if lock == nil || in.Circuit.Pump() < 0 {
		return none()
	}
	if !v.In(in.Assembly.Settings[0].Name) || !v.Main(Good, High) || !v.Store(Full) || !v.Draw(DrawNone, DrawOne) {
		return none()
	}
	if v.Pumping() == circuit.Standing {
		return kept()
	}
	felt := feltAt(v, lock)
	if !v.Solved() {
		return unjudged("no-answer")
	}
	j := least(quantity.PressureDim, felt.Low, float64(lock.Off), lock.Tag)
	if v.Upset(circuit.LockAlwaysLets) { // it feels it and does nothing
		j.Outcome, j.Margin = Broken, -math.Abs(j.Margin)
	}
	return j
}

// noHunting: while the store refills from a good main, the float valve does not pull the
// pressure under the lock-out's threshold: the changeover would flip back to the very
// store that is being filled, and hunt between the two.
type noHunting struct{}

// About says what is promised.
func (noHunting) About() About {
	return About{ID: "no-hunting", Kind: Timed, Spread: NamedOnly, Source: "trade"}
}

// Judge asks, with the float valve open and nothing drawn, whether a good main presses
// enough on the lock-out for it to stay: below its lower threshold it lets the pump take
// over, and nothing brings it back before the store is full.
func (noHunting) Judge(v *View) Judgement {
	in := v.Input()
	lock := in.lockOut()
	if lock == nil || in.Circuit.Pump() < 0 {
		return none()
	}
	if !v.In(in.Assembly.Settings[0].Name) || !v.Main(Good, High) || !v.Store(Normal, Low) || !v.Draw(DrawNone) || v.Power(PowerOff) {
		return none()
	}
	if v.Lock() != circuit.Allowed {
		return none()
	}
	felt := feltAt(v, lock)
	if !v.Solved() {
		return unjudged("no-answer")
	}
	return least(quantity.PressureDim, felt.High, float64(lock.On), lock.Tag)
}
