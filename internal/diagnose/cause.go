package diagnose

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Cause is what can be in the way of the water. Its words are "cause.<Cause>", what to do
// about it "cause.<Cause>.do".
type Cause string

// The causes, the one looked at soonest first.
const (
	SecondStop Cause = "second-stop" // a stop valve, at the meter or the house, left half shut
	Strainer   Cause = "strainer"    // the mesh at the meter is blocked
	Reducer    Cause = "reducer"     // a pressure reducing valve holds the house back
	Shared     Cause = "shared"      // somebody else draws from the same pipe, or it leaks
	Pipe       Cause = "pipe"        // the service pipe is choked or crushed
)

// Standing is how a cause stands after what was seen on site.
type Standing uint8

// The standings, the first to be looked at first.
const (
	Seen     Standing = iota // somebody saw it
	Possible                 // nothing speaks against it
	Unlikely                 // something does
	RuledOut                 // somebody looked, or it cannot explain the readings
)

// ID returns the message id of the standing's word, and its stable name in JSON.
func (s Standing) ID() string { return [...]string{"seen", "possible", "unlikely", "ruled-out"}[s] }

// Tried is one cause put into the circuit.
type Tried struct {
	Cause    Cause
	Standing Standing
	Why      string // id of the reason for the standing: "cause.why.<Why>"
	Fits     bool   // some degree of it explains the readings
	// Share is what is left of the sound part when the readings are met: of the valve's or
	// strainer's flow factor, or of the pipe's bore; 0..1. 0 where Draws or Holds is meant.
	Share float64
	Draws quantity.Flow     // what somebody else would have to draw (Shared)
	Holds quantity.Pressure // what the valve would be set to (Reducer)
}

// line is the circuit of what stands between street and house, to be tried with faults.
type line struct {
	j   *job.Job
	c   *catalogue.Catalogue
	p   *catalogue.Profile
	in  Inputs
	fig circuit.Inputs
}

// degree is how bad a fault is: 1 sound … 0 shut; or what a neighbour would draw at 3 bar.
type degree struct {
	valve, mesh, bore float64
	draws             quantity.Flow
}

var sound = degree{valve: 1, mesh: 1, bore: 1}

// flow is what the house gets at its gauge's pressure with a fault of some degree [m³/s].
// The error is a fault of the survey (a pipe that is not in the catalogue) or of the
// solver, which could not certify the case.
func (l *line) flow(d degree) (float64, error) {
	z := l.in.Level + quantity.Length(float64(l.in.Residual)/circuit.Weight)
	a, err := assembly.Incoming(l.j, l.c, l.p, z, max(d.draws, assembly.Drip))
	if err != nil {
		return 0, err
	}
	l.damage(a, d)
	ci, err := circuit.New(a, l.fig)
	if err != nil {
		return 0, err
	}
	s := ci.NewSolver()
	k := circuit.Case{Main: l.in.Static, Open: make([]bool, len(ci.Outlets))}
	house := 0
	for n, i := range ci.Outlets {
		k.Open[n] = a.Parts[i].Tag == assembly.HouseTap || d.draws > 0
		if a.Parts[i].Tag == assembly.HouseTap {
			house = i
		}
	}
	if err := s.Solve(&k); err != nil {
		return 0, err
	}
	return float64(s.Flow(house)), nil
}

// damage puts the fault into the parts. The house's own stop valve stands for every stop
// valve of the line: in a line it does not matter which.
func (l *line) damage(a *assembly.Assembly, d degree) {
	for i := range a.Parts {
		p := &a.Parts[i]
		switch row := p.Row.(type) {
		case catalogue.Pipe:
			row.Bore *= quantity.Length(d.bore)
			p.Row = row
		case catalogue.Valve:
			switch {
			case p.Kind == assembly.HandValve && p.Purpose == assembly.AsServiceStop:
				row.Kv *= quantity.FlowFactor(d.valve)
			case p.Kind == assembly.Meter:
				row.Kv *= quantity.FlowFactor(d.mesh)
			}
			p.Row = row
		}
	}
}

// The worst degrees that are tried: beyond them a part counts as shut.
const (
	leastShare = 1e-3                        // of a valve's or a mesh's flow factor
	leastBore  = 0.2                         // of a pipe's
	mostDrawn  = quantity.Flow(200.0 / 60e3) // at 3 bar, by a neighbour
)

// explain finds the degree at which the house gets what was measured, by halving: what
// the house gets falls strictly with every fault (in a tree, opening never lowers). fits
// is false where even the worst degree leaves more than was measured.
func (l *line) explain(worst float64, at func(x float64) degree) (x float64, fits bool, err error) {
	want := float64(l.in.Flow)
	q, err := l.flow(at(worst))
	if err != nil || q > want {
		return 0, false, err
	}
	good, bad := 0.0, 1.0 // of the way from sound to worst
	for bad-good > 1e-4 {
		mid := (good + bad) / 2
		q, err := l.flow(at(path(mid, worst)))
		if err != nil {
			return 0, false, err
		}
		if q > want {
			good = mid
		} else {
			bad = mid
		}
	}
	return path(bad, worst), true, nil
}

// path goes from 1, sound, to the worst share in equal ratios.
func path(t, worst float64) float64 { return math.Pow(worst, t) }

// drawing turns a share of the way into what a neighbour draws.
func drawing(x float64) degree {
	d := sound
	d.draws = mostDrawn * quantity.Flow(math.Log(x)/math.Log(leastShare))
	return d
}
