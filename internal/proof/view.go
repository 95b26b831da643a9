package proof

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
)

// Interval is where a head or a pressure can stand: one number where water moves or a source
// presses, more where water stands cut off. Judge the worse end.
type Interval struct{ Low, High float64 }

// Source is a set of what can press or flow.
type Source uint8

// The sources.
const (
	Street     Source = 1 << iota // the public main, while it presses: not dry, not sucking
	Stored                        // the store's surface
	Pumped                        // the pump, running
	Air                           // an open outlet, drain or vent through which air comes in: behind it the home's water
	Foreign                       // water at a hose's end that lies in a bucket
	NoSource   Source = 0
	AllSources        = Street | Stored | Pumped | Air | Foreign
)

// View is one case as a promise may see it. Every method but Input hangs on variables of the
// case and remembers them: ask for the deciding first and for nothing else.
type View struct {
	o *oracle
}

// Input is what is the same in every case.
func (v *View) Input() *Input { return v.o.s.in }

// Main reports whether the main is in one of the given states.
func (v *View) Main(in ...Main) bool { return v.o.world(vMain, valuesOf(in)) }

// Power reports whether the power is in one of the given states.
func (v *View) Power(in ...Power) bool { return v.o.world(vPower, valuesOf(in)) }

// Store reports whether the store is in one of the given states.
func (v *View) Store(in ...Store) bool { return v.o.world(vStore, valuesOf(in)) }

// Header reports whether the header tank is in one of the given states.
func (v *View) Header(in ...Store) bool { return v.o.world(vHeader, valuesOf(in)) }

// Draw reports whether the draw-off is one of the given.
func (v *View) Draw(in ...Draw) bool { return v.o.world(vDraw, valuesOf(in)) }

// Frost reports whether it freezes.
func (v *View) Frost() bool { return v.o.world(vFrost, 0b10) }

// Hot reports whether the heater is heating.
func (v *View) Hot() bool { return v.o.world(vHot, 0b10) }

// At reports whether a hand-turned part stands in one of the positions, tags swapped or not:
// where its handle really is. A part nobody turns stands in none.
func (v *View) At(part int, positions ...string) bool { return v.o.stands(part, positions) }

// In reports whether the hands think they have made the named setting.
func (v *View) In(setting string) bool { return v.o.inSetting(setting) }

// Failed reports whether a mishap with one of the ids has struck the part; part −1: any part.
func (v *View) Failed(part int, ids ...string) bool { return v.o.hasFailed(part, ids) }

// Sound reports whether nothing has failed.
func (v *View) Sound() bool { return v.o.sound() }

// Upset reports whether a mishap of one of the kinds has struck.
func (v *View) Upset(kinds ...circuit.Upset) bool { return v.o.upset(kinds...) }

// Pumping is what the pump does: Standing without power, locked out, guarded from running
// dry, or failed; else its controller's state, stuck or not.
func (v *View) Pumping() circuit.Pumping { return v.o.pumping() }

// Drives reports whether a pump, a part, runs: of several side by side, whether it is on
// duty while they are asked for.
func (v *View) Drives(pump int) bool { return v.o.runs(v.o.s.in.Circuit.ElementOf(pump)) }

// Lock is the state of the main-side lock-out, stuck or not; Allowed where there is none.
func (v *View) Lock() circuit.LockState { return v.o.lock() }

// Steady reports whether the controls stay in the states the case names, given the pressures
// they feel. A judgement of Broken in a case whose controls would not stay is dropped by the
// engine, so promises need not ask; timed ones may.
func (v *View) Steady() bool { return v.o.steady() }

// Reaches returns which of the sources asked for can press on a port of a part, along
// everything that passes: one-way parts and a running pump forwards only, a source only
// while it is there (a dry main is none, an empty store is none, air only where a mouth
// stands open). It needs no solving; what it denies no flow can do.
func (v *View) Reaches(part, port int, asked Source) Source {
	return v.o.reaches(v.o.s.in.Circuit.PointOf(part, port), asked)
}

// Joined reports whether water at one port can get to another along everything that passes.
func (v *View) Joined(fromPart, fromPort, toPart, toPort int) bool {
	return v.o.joined(v.o.s.in.Circuit.PointOf(fromPart, fromPort), v.o.s.in.Circuit.PointOf(toPart, toPort))
}

// RunsOut reports whether water at a port can get out into the air at some open mouth,
// going with every one-way part. It needs no solving.
func (v *View) RunsOut(part, port int) bool {
	return v.o.runsOut(v.o.s.in.Circuit.PointOf(part, port))
}

// Flow is the flow through a part in its own direction, out of port 0's far side positive;
// all its elements together, leaks and air (by volume) included. Of the main: into the home.
func (v *View) Flow(part int) quantity.Flow { return quantity.Flow(v.o.flow(part)) }

// FlowTight bounds Flow over every set of drains that nothing was asked about yet, without
// asking: it is the flow while these let air in and no water out. Of a part that ends in held
// water it is the most that can run into it and the least that can run out of it, whichever of
// them stand open. It is false where it is no bound or could not be solved: then ask for Flow.
func (v *View) FlowTight(part int) (quantity.Flow, bool) {
	q, ok := v.o.flowTight(part)
	return quantity.Flow(q), ok
}

// Head is where the head at a port can stand [m above the datum], given what presses now and
// could have pressed before on water that is trapped.
func (v *View) Head(part, port int) Interval { return v.o.head(v.o.s.in.Circuit.PointOf(part, port)) }

// Most is a pressure that nothing in the case can press a port above, −Inf where nothing
// presses at all [Pa]. It needs no solving: what it keeps below a limit needs none.
func (v *View) Most(part, port int) float64 {
	h := v.o.most(v.o.s.in.Circuit.PointOf(part, port))
	return float64(circuit.PressureOf(h, v.o.s.in.Assembly.Parts[part].Ports[port].Z))
}

// Pressure is where the gauge pressure at a port can stand [Pa].
func (v *View) Pressure(part, port int) Interval {
	h := v.Head(part, port)
	z := v.o.s.in.Assembly.Parts[part].Ports[port].Z
	return Interval{float64(circuit.PressureOf(h.Low, z)), float64(circuit.PressureOf(h.High, z))}
}

// Solved reports whether the circuit asked about last could be solved and certified. Flows and
// heads of one that could not are not to be used: the promise is Unjudged there.
func (v *View) Solved() bool { return v.o.solved }

// HeadOfMain is the head the main is held at [m above the datum]; ok is false when it is dry.
// A dry main is an empty pipe at the air's pressure: it takes water and presses on nothing.
func (v *View) HeadOfMain() (head float64, ok bool) { return v.o.mainHead() }

// Level is the height of the water in the store [m above the datum].
func (v *View) Level() quantity.Length { return quantity.Length(v.o.level()) }

// Part finds a part by kind and role, street to home; −1 when there is none.
func (in *Input) Part(kind assembly.Kind, role assembly.Role) int {
	for i := range in.Assembly.Parts {
		if p := &in.Assembly.Parts[i]; p.Kind == kind && (role == "" || p.Role == role) {
			return i
		}
	}
	return -1
}

// valuesOf is a set of values as bits.
func valuesOf[T ~uint8](in []T) uint8 {
	var mask uint8
	for _, v := range in {
		mask |= 1 << v
	}
	return mask
}
