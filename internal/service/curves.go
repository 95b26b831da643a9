package service

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

// CurvePoint is one point of a curve of head against flow.
type CurvePoint struct {
	Flow  quantity.Flow
	Head  quantity.Head // that the pump adds
	Speed float64       // ratio to full speed at which the pump works there; 0 where that has no meaning
}

// Curves is what pump and pipework would do at other flows than the duty, with the
// outlets of the simultaneous draw-off open and the store about to run dry.
type Curves struct {
	Mode    string
	Open    []string     // outlets
	Pump    []CurvePoint // what the pump adds at full speed, from shut-off on
	Slowed  []CurvePoint // what it adds at the duty's speed; nil when that is full speed
	Circuit []CurvePoint // what the pipework asks for, rising; ends where the pump at full speed meets it
	Start   []CurvePoint // head at which the controller feels its lower pressure; nil without one
	Stop    []CurvePoint // and its upper
}

// Numbers of points and of halvings: a curve of so many chords is off by less than the
// width of its line, and 2⁻⁴⁰ of the speed range moves no point.
const (
	pumpPoints    = 24
	circuitPoints = 32
	halvings      = 40
)

// curves works out both curves of the mode in which the pump serves, in the base run only.
// It solves with buffers of its own, so that nothing else depends on whether it ran.
// Cases that do not certify are left out; fewer than three points make no curve.
func (a *run) curves() {
	m := a.r.Mode(a.pumpedMode())
	if !a.in.Record || m == nil || m.Duty == nil || a.ci.PumpLaw() == nil {
		return
	}
	s := a.ci.NewSolver()
	k := &circuit.Case{Setting: a.onStore, MainOff: true, Level: a.in.Low, Pump: circuit.Running, Open: make([]bool, len(a.ci.Outlets))}
	if a.boosts() {
		k.Setting, k.MainOff, k.Main = a.onMain, false, a.in.Main.Usual
	}
	c := &Curves{Mode: m.ID}
	k.Lifting = m.ID == "lifting"
	for _, n := range a.picks(m.ID) {
		if k.Lifting {
			break // it draws for the tank alone
		}
		k.Open[n] = true
		c.Open = append(c.Open, a.ci.Assembly.Parts[a.ci.Outlets[n]].Tag)
	}
	a.circuitCurve(c, s, k)
	if len(c.Circuit) < 3 {
		return
	}
	law := a.ci.WorkingLaw()
	most := float64(c.Circuit[len(c.Circuit)-1].Flow)
	c.Pump = pumpCurve(law, 1, max(most, float64(m.Duty.Flow)))
	if m.Duty.Speed < 1 {
		c.Slowed = pumpCurve(law, m.Duty.Speed, most)
	}
	a.r.Curves = c
}

// circuitCurve runs the pump at speeds from where water begins to move to full speed and
// notes what it passes and adds: whatever the pump, these are points of the pipework's
// own curve. Speeds are spaced so that flows are about even.
func (a *run) circuitCurve(c *Curves, s *circuit.Solver, k *circuit.Case) {
	i := a.ci.Pump()
	moves := func(speed float64) bool {
		return s.SolveAt(k, speed) == nil && s.OK() && s.Pumped() > stillFlow
	}
	low, high := 0.0, 1.0
	if !moves(high) {
		return
	}
	for range halvings {
		if mid := (low + high) / 2; moves(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	for n := range circuitPoints + 1 {
		x := float64(n) / circuitPoints
		speed := high + (1-high)*x*x
		if !moves(speed) {
			continue
		}
		q, suction := s.Pumped(), s.Head(i, 0)
		c.Circuit = append(c.Circuit, CurvePoint{q, quantity.Head(s.Head(i, 1) - suction), speed})
		if a.control == nil {
			continue
		}
		// The head at the pump at which its controller would feel p, at this flow.
		z := a.ci.Assembly.Parts[a.control.Senses.Part].Ports[a.control.Senses.Port].Z
		between := s.Head(i, 1) - s.Head(a.control.Senses.Part, a.control.Senses.Port)
		at := func(p quantity.Pressure) CurvePoint {
			return CurvePoint{Flow: q, Head: quantity.Head(circuit.HeadOf(p, z) + between - suction)}
		}
		c.Start = append(c.Start, at(a.control.On))
		if a.control.Kind != assembly.FlowControl { // that one stops for want of flow, not at a pressure
			c.Stop = append(c.Stop, at(a.control.Off))
		}
	}
}

// pumpCurve is what a pump adds at a speed, from no flow on, a little past the flow most
// [m³/s] and never below nothing.
func pumpCurve(law *hydraulics.Pump, speed, most float64) []CurvePoint {
	end := 1.15 * most
	var list []CurvePoint
	for n := range pumpPoints + 1 {
		q := end * float64(n) / pumpPoints
		h := hydraulics.PumpHeadEq.Fn([]float64{q, speed, law.A, law.B, law.C})
		if h < 0 {
			break
		}
		list = append(list, CurvePoint{quantity.Flow(q), quantity.Head(h), speed})
	}
	return list
}
