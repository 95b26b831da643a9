// Package hydraulics solves steady flow in pressurised pipework.
//
// Stage: pure numerics. It takes points joined by elements, the heads held at some of
// them and a state of every valve and pump, and gives flows, heads (or the interval a
// head can stand in where water is still), the reason it stopped and a certificate.
// Everything is SI and indexed by integers; it knows nothing of homes, files or clocks.
package hydraulics

// Law is the relation of one element between flow and the head it takes.
//
// Drop returns the head lost h [m] and its slope dh/dq [s/m²] at flow q [m³/s], for
// opening x: 0..1 for a valve, the speed ratio for a pump; laws with nothing to open
// ignore it. h must be continuous, strictly increasing in q and defined for every q of
// either sign; a pump's h is negative where it adds head. Direction lives in the law,
// not in the indices.
type Law interface {
	Drop(q, x float64) (h, dh float64)
}

// Element joins two points. Every way of every valve is an element of its own, always
// present: a case only sets Off bits and openings.
type Element struct {
	Name     string  // the part's tag, for refusals and certificates
	From, To int32   // points; positive flow runs From → To
	Law      Law     // strictly increasing
	OneWay   bool    // water passes From → To only
	Opens    float64 // head [m] below which a one-way element stays shut, ≥ 0
	Ref      int32   // the caller's own index, returned untouched
}

// Point is where elements meet. Heads are measured from the datum (z = 0).
type Point struct {
	Name string
	Z    float64 // height of the point [m]; pressure head = head − Z
	Held bool    // its head is given by the state (the main, an open water surface, a tap's mouth)
}

// State is everything a case may change. The slices belong to the caller.
type State struct {
	Held    []float64 // head [m] per point; read only where Point.Held
	Opening []float64 // opening or speed ratio per element; 1 = fully open, full speed
	Off     []bool    // per element: passes nothing
}

// Status says why a solve stopped.
type Status uint8

// The reasons a solve stops.
const (
	NotSolved  Status = iota
	Converged         // every balance is met and certified
	Still             // converged, and nothing flows anywhere
	OutOfSteps        // the step limit was reached; the answer is not to be used
	NotUnique         // more than one steady state is possible; named in the error
)

// Certificate is an independent judgement of an answer: it sees the circuit and the
// answer only. Mass is the largest imbalance at a free point relative to
// max(largest flow, 1e-5 m³/s); Energy the largest misfit of a law relative to
// max(largest head difference, 1 m); Way the largest flow against a one-way element,
// relative as Mass. These are dimensionless; below 1e-9 is a pass. Held is how far the
// worst pressure regulator with a set head of its own is off it [m]; to 1e-6 m is a pass.
type Certificate struct {
	Mass, Energy, Way float64
	Held              float64
	Worst             string // name of the element or point with the largest residual
}

// heldTol is how far off its set head a regulator may be found [m].
const heldTol = 1e-6

// OK reports whether the certificate passes.
func (c Certificate) OK() bool {
	return c.Mass < 1e-9 && c.Energy < 1e-9 && c.Way < 1e-9 && c.Held <= heldTol
}

// Answer is a solved state. Its buffers belong to the caller and are reused.
//
// Where water stands cut off from everything that moves, its head is not one number:
// Low..High is the interval it can stand in (a trap keeps the highest head that ever
// pressed on it; nothing pressing leaves −Inf..+Inf: not determined). Where it is
// determined Low = Head = High. Solve knows only its own state, so it leaves High of a
// trap at +Inf; Rest brings it down to what could ever have pressed. Head is then one of
// the heads the point can stand at, consistent with those of its neighbours.
type Answer struct {
	Flow       []float64 // m³/s per element, positive From → To
	Head       []float64 // m per point
	Low, High  []float64 // m per point
	Status     Status
	Iterations int
	Cert       Certificate // by the independent laws of Certify, unless Work.Quick
}
