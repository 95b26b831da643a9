package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// on asks whether an element passes. Mishaps strike one after the other, the fixed one
// first, each as circuit.Mishap.Strike does.
func (o *oracle) on(e int32) bool {
	w := &o.s.rules[e]
	if w.mishaps {
		switch {
		case w.opens != nil && o.struck(w.opens), w.turning != nil && o.struck(w.turning):
			return true
		case w.shuts != nil && o.struck(w.shuts):
			return false
		case w.leaks != nil && o.struck(w.leaks) && !o.before(w.beside):
			return true
		}
	}
	return o.before(e)
}

// before asks whether an element passes with the fixed mishap alone.
func (o *oracle) before(e int32) bool {
	w := &o.s.rules[e]
	if o.fixed > 0 && w.mishaps {
		switch {
		case o.is(w.opens), o.is(w.turning):
			return true
		case o.is(w.shuts):
			return false
		case o.is(w.leaks) && !o.plain(w.beside):
			return true
		}
	}
	return o.plain(e)
}

// is reports whether the fixed mishap is one of mask.
func (o *oracle) is(mask []uint64) bool {
	return mask != nil && mask[o.fixed/64]>>(o.fixed%64)&1 != 0
}

// plain asks whether an element passes in a sound home.
func (o *oracle) plain(e int32) bool {
	w := &o.s.rules[e]
	switch w.nature {
	case never:
		return false
	case turned:
		return !o.loose(e) && o.turnedTo(w.hand, w.mask)
	case floats:
		if w.upper {
			return !o.world(vHeader, 1<<Full)
		}
		return !o.world(vStore, 1<<Full)
	case pumps:
		return !o.s.in.Circuit.Store || !o.world(vStore, 1<<Empty)
	case draws:
		return o.world(vDraw, w.mask)
	case airs:
		return o.loose(w.mouth) || o.on(w.mouth)
	case backs:
		return o.world(vBack, 1<<1)
	}
	return true
}

// opening is how far an element that passes stands open.
func (o *oracle) opening(e int32) float64 {
	w := &o.s.rules[e]
	for _, t := range w.turns {
		if o.fixed == t.mishap || o.struckBy(t.mishap) {
			return t.opening
		}
	}
	if w.half != 0 && o.turnedTo(w.hand, w.half) {
		return 0.5
	}
	return 1
}

// stands asks whether a hand-turned part really stands in one of the positions.
func (o *oracle) stands(part int, positions []string) bool {
	for h := range o.s.Hands {
		if o.s.Hands[h].Part == part {
			var mask uint8
			for k, have := range o.s.Hands[h].Positions {
				for _, p := range positions {
					if p == have {
						mask |= 1 << k
					}
				}
			}
			return o.turnedTo(h, mask)
		}
	}
	return false
}

// inSetting asks whether the hands believe to have made a named setting.
func (o *oracle) inSetting(name string) bool {
	for n := range o.s.Named {
		if o.s.Named[n].Name != name {
			continue
		}
		o.unfold = o.unfold || o.folded
		if o.cards {
			return o.carded(1 << n)
		}
		for h, k := range o.s.Named[n].Position {
			if !o.meant(h, 1<<k) {
				return false
			}
		}
		return true
	}
	return false
}

// hasFailed asks whether a mishap with one of the ids has struck a part, or any for −1.
func (o *oracle) hasFailed(part int, ids []string) bool {
	mask := make([]uint64, len(o.s.all))
	for k := range o.s.Mishaps {
		m := &o.s.Mishaps[k]
		if !hasString(ids, m.ID) || part >= 0 && !hasInt(m.Parts, part) {
			continue
		}
		o.unfold = o.unfold || o.folded && m.Swap
		mask[(k+1)/64] |= 1 << ((k + 1) % 64)
	}
	return o.had(mask)
}

func hasString(list []string, s string) bool {
	for _, t := range list {
		if t == s {
			return true
		}
	}
	return false
}

func hasInt(list []int, n int) bool {
	for _, t := range list {
		if t == n {
			return true
		}
	}
	return false
}

func (o *oracle) sound() bool {
	o.unfold = o.unfold || o.folded
	return o.fixed == 0 && o.struckBy(0)
}

// upset asks whether a mishap of one of the kinds has struck.
func (o *oracle) upset(kinds ...circuit.Upset) bool {
	for _, k := range kinds {
		if o.had(o.s.upset[k]) {
			return true
		}
	}
	return false
}

// able asks whether the pump would run if its controller said so.
func (o *oracle) able() bool {
	c := o.s.in.Circuit
	if c.Pump() < 0 || o.world(vPower, 1<<PowerOff) || o.upset(circuit.PumpNeverRuns) || o.allDead() {
		return false
	}
	for i := range o.s.in.Assembly.Controls {
		if o.s.in.Assembly.Controls[i].Kind == assembly.DryRun && o.guarded() {
			return false
		}
	}
	return o.lock() == circuit.Allowed
}

// guarded asks whether the dry-run guard stops the pump.
func (o *oracle) guarded() bool {
	if o.upset(circuit.LevelReadsEmpty) {
		return true
	}
	return o.world(vStore, 1<<Empty) && !o.upset(circuit.LevelReadsWater)
}

// pumping is what the pump does.
func (o *oracle) pumping() circuit.Pumping {
	if !o.able() {
		return circuit.Standing
	}
	if o.upset(circuit.PumpAlwaysRuns) {
		return circuit.Running
	}
	return circuit.Pumping(o.only(len(o.s.Hands) + vPump))
}

// lock is what the lock-out lets the pump do.
func (o *oracle) lock() circuit.LockState {
	switch {
	case o.s.bar == nil, o.upset(circuit.LockAlwaysLets):
		return circuit.Allowed
	case o.upset(circuit.LockAlwaysBars):
		return circuit.LockedOut
	}
	return circuit.LockState(o.only(len(o.s.Hands) + vLock))
}

// mainHead is the head the street is held at; ok while it is not dry.
func (o *oracle) mainHead() (head float64, ok bool) {
	main := o.only(len(o.s.Hands) + vMain)
	return o.s.Mains[main], Main(main) != Dry
}

// upper is the height of the header tank's surface.
func (o *oracle) upper() float64 {
	return o.s.Uppers[o.only(len(o.s.Hands)+vHeader)] - o.sunk(true)
}

// level is the height of the store's surface.
func (o *oracle) level() float64 {
	return o.s.Levels[o.only(len(o.s.Hands)+vStore)] - o.sunk(false)
}

// sunk is how much less a surface presses by mishaps, the header tank's or the store's.
func (o *oracle) sunk(upper bool) float64 {
	z := 0.0
	if !o.s.sinks {
		return z
	}
	for k := range o.s.Mishaps {
		if m := &o.s.Mishaps[k]; m.Sinks > 0 && m.Upper == upper && (o.fixed == k+1 || o.struckBy(k+1)) {
			z += m.Sinks
		}
	}
	return z
}

// steady asks whether the controls stay in the states the case names: whether the
// pressures they feel, or some pressure of those that standing water can have, let them.
// What nobody asked about has no state to leave.
func (o *oracle) steady() bool {
	return o.lockStays() && o.controllerStays()
}

// stated reports whether a case names one state of a control: whether it was asked about.
func (o *oracle) stated(v int) bool {
	d := o.open[len(o.s.Hands)+v]
	return d&(d-1) == 0 && o.s.first[len(o.s.Hands)+v] != d
}

func (o *oracle) lockStays() bool {
	k := o.s.bar
	v := len(o.s.Hands) + vLock
	if k == nil || !o.stated(vLock) || o.world(vPower, 1<<PowerOff) || o.upset(circuit.LockAlwaysLets, circuit.LockAlwaysBars) {
		return true
	}
	felt, state := o.felt(k.Senses.Part, k.Senses.Port), circuit.LockState(o.only(v))
	return o.s.lock.Stays(state, quantity.Pressure(felt.Low)) || o.s.lock.Stays(state, quantity.Pressure(felt.High))
}

// controllerStays is steady for the pump's controller; a pump that may not run has none.
func (o *oracle) controllerStays() bool {
	k := o.s.in.Circuit.ControlOf()
	if k == nil || !o.stated(vPump) || o.upset(circuit.PumpAlwaysRuns) || !o.able() {
		return true
	}
	felt := o.felt(k.Senses.Part, k.Senses.Port)
	switch o.pumping() {
	case circuit.Standing:
		return felt.High >= float64(k.On)
	case circuit.Holding:
		return o.pumped() > still
	}
	if k.Kind == assembly.FlowControl && o.pumped() > still {
		return true
	}
	return felt.Low <= float64(k.Off)
}

// pumped is the most that any one pump that runs passes.
func (o *oracle) pumped() float64 {
	q := 0.0
	for _, i := range o.s.in.Circuit.Pumps() {
		if o.runs(o.s.in.Circuit.ElementOf(i)) {
			q = max(q, o.flow(i))
		}
	}
	return q
}

const still = float64(quantity.Unfelt) // a controller feels none [m³/s]

func (o *oracle) felt(part, port int) Interval {
	h := o.head(o.s.in.Circuit.PointOf(part, port))
	z := o.s.in.Assembly.Parts[part].Ports[port].Z
	return Interval{float64(circuit.PressureOf(h.Low, z)), float64(circuit.PressureOf(h.High, z))}
}
