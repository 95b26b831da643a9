// Package circuit turns an assembly into a hydraulic circuit and gives the answers back
// by tag.
//
// Stage: between the assembly and the analyses. It takes an Assembly and bare figures of
// the job, and gives a Circuit: points and elements with every way of every valve
// present, built once. A Case only sets positions, heads and which taps are open. It
// knows nothing of files, profiles or findings.
//
// What it assumes, and what it leaves out:
//
//   - tees lose what the fittings strung on the runs lose, whichever way water turns;
//   - a store is an open surface; its feed falls through the air from the float valve's
//     mouth, so that feed and store are two separate waters;
//   - a standing pump lets water through forwards as its curve at no speed says;
//   - a pressure vessel and a switch are places where pressure is felt: no water passes;
//   - heads and pressures stand for each other at the one standard density.
package circuit

import (
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Inputs is what the circuit needs beside the assembly: bare figures, SI.
type Inputs struct {
	Water  quantity.Temperature // as it arrives
	Gauge  quantity.Length      // height of the gauge above the ground at the meter
	Static quantity.Pressure    // at the gauge, nothing running

	LowFlow  quantity.Flow     // flow test, at the same gauge; 0: no test at this rate
	LowRes   quantity.Pressure //
	HighFlow quantity.Flow     //
	HighRes  quantity.Pressure //

	Busy site.Busy // how much more it sags while neighbours draw

	LossScale float64 // multiplies every fitting's and part's loss; 0 counts as 1
	PumpScale float64 // multiplies every pump's head; 0 counts as 1

	FloatScale  float64 // multiplies the flow factor of every float valve; 0 counts as 1
	OutletScale float64 // multiplies what every draw-off gives fully open; 0 counts as 1
}

// Read takes the bare figures out of a job.
func Read(j *job.Job) Inputs {
	s := &j.Supply
	return Inputs{
		Water: j.Place.Water.V, Gauge: s.Gauge.V, Static: s.Static.V,
		LowFlow: s.LowFlow.V, LowRes: s.LowRes.V, HighFlow: s.HighFlow.V, HighRes: s.HighRes.V,
		Busy: site.BusyOf(j),
	}
}

// Weight is the pressure of one metre of water at the standard density [Pa/m].
const Weight = quantity.StandardDensity * quantity.StandardGravity

// HeadOf returns the head above the datum of pressure p felt at height z [m].
func HeadOf(p quantity.Pressure, z quantity.Length) float64 { return float64(p)/Weight + float64(z) }

// PressureOf returns the pressure felt at height z under a head above the datum [m].
func PressureOf(head float64, z quantity.Length) quantity.Pressure {
	return quantity.Pressure((head - float64(z)) * Weight)
}
