package circuit

import (
	"math"

	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Plate is a pump as its nameplate gives it, with the band its curve lies in, and what a
// gauge and a bucket made of that.
type Plate struct {
	Row  catalogue.Pump // with the likely curve and its band
	Read bool           // a reading corrected it
	Wear float64        // factor on heads the reading asked for; 1 where plate and reading agree
}

// The curve is read off at these shares of the greatest flow, and a band is never thinner
// than what a gauge of class 1.6 and a bucket leave.
const (
	firstPoint, secondPoint = 0.5, 0.8
	thinnest                = 0.03
)

// plateKinds are the shapes of the kinds the catalogue knows; any other centrifugal pump
// falls like a multistage one.
var plateKinds = map[string]hydraulics.PumpKind{"jet": hydraulics.Jet, "peripheral": hydraulics.Peripheral}

// FromPlate gives a catalogue row the curve of its nameplate: greatest head [m] and
// greatest flow [m³/s], which belong to no common point, and, where a gauge and a bucket
// were used, one reading of flow and pressure at the pump's outlet. given is false when the
// job names no plate. The error is a refusal by the law, with field, value and limit.
//
// Assumed: suction near the pump's own height, so that the gauge's pressure is the head
// added. Source of curve, band and correction: hydraulics.NewNameplatePump, Corrected.
func FromPlate(j *job.Job, row catalogue.Pump) (p Plate, given bool, err error) {
	m := &j.Choices.Plate
	if !(m.Head.V > 0 && m.Flow.V > 0) {
		return Plate{Row: row, Wear: 1}, false, nil
	}
	kind, known := plateKinds[row.Kind]
	if !known {
		kind = hydraulics.Multistage
	}
	const tag = "choices.pump.measured"
	band, err := hydraulics.NewNameplatePump(tag, kind, float64(m.Head.V), float64(m.Flow.V), float64(row.Q2))
	if err != nil {
		return Plate{}, true, err
	}
	p = Plate{Wear: 1}
	half := halfOf(band, firstPoint*float64(m.Flow.V))
	if m.ReadFlow.V > 0 {
		q, h := float64(m.ReadFlow.V), float64(m.ReadPressure.V)/Weight
		if band, err = band.Corrected(tag, q, h); err != nil {
			return Plate{}, true, err
		}
		p.Read, p.Wear = true, band.Wear
		half = math.Hypot(float64(m.ReadPressure.Half)/math.Max(float64(m.ReadPressure.V), 1), 2*float64(m.ReadFlow.Half)/q)
	}
	p.Row = drawn(row, band.Likely, math.Max(half, thinnest))
	return p, true, nil
}

// halfOf is the half-width of a band at a flow, as a share of its likely head.
func halfOf(b hydraulics.PumpBand, q float64) float64 {
	return (b.High.Head(q, 1) - b.Low.Head(q, 1)) / (2 * b.Likely.Head(q, 1))
}

// drawn is the row with a pump's curve in it.
func drawn(row catalogue.Pump, p *hydraulics.Pump, half float64) catalogue.Pump {
	most := p.RunOut(1)
	row.Shutoff = quantity.Head(p.Head(0, 1))
	row.Q1, row.Q2 = quantity.Flow(firstPoint*most), quantity.Flow(secondPoint*most)
	row.H1, row.H2 = quantity.Head(p.Head(float64(row.Q1), 1)), quantity.Head(p.Head(float64(row.Q2), 1))
	row.HeadBand, row.Certainty = half, catalogue.Worked
	return row
}
