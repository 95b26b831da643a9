package site

import (
	"math"

	"tideover/internal/assume"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// NightHours are the hours in which the main presses as at night. Assumed: from when most
// homes sleep to when the first wake.
var NightHours = job.Hours{From: 23 * 60, To: 5 * 60}

// Main is the public main. Its pressures are at the gauge it was read at, with nothing
// running: a reading taken while water ran has what the main lost by that flow added.
type Main struct {
	Gauge      quantity.Length   // height of the gauge above the ground at the meter
	Usual      quantity.Pressure // at any hour of which nothing else is told
	Worst      quantity.Pressure // in WorstHours; the usual where nobody read it
	Night      quantity.Pressure // the highest, in NightHours
	WorstHours job.Hours         // daily; none where nobody told them

	WorstTold bool // somebody read it in its worst hours
	NightTold bool // somebody read it at night: else Night is an assumption to be safe by

	TooWeak  quantity.Pressure // what it gives while it is too weak for a home, where nobody read it
	Read     quantity.Pressure // in the worst hours as the gauge showed it
	ReadFlow quantity.Flow     // while that ran
}

// MainOf is the main of a job.
func MainOf(j *job.Job) Main {
	s := &j.Supply
	usual := s.Static.V
	if ReadOnce(j) {
		usual *= 1 - quantity.Pressure(assume.ReadingYear.In(j.Assumed))
	}
	m := Main{Gauge: s.Gauge.V, Usual: usual, Worst: usual, Night: s.NightMax.V, NightTold: Told(s.NightMax),
		TooWeak: quantity.Pressure(assume.TooWeak.In(j.Assumed))}
	if m.WorstTold = Told(s.PeakRes); m.WorstTold {
		m.Read, m.ReadFlow = s.PeakRes.V, s.PeakFlow.V
		m.Worst = SagOf(j).Rest(m.Read, m.ReadFlow)
		m.WorstHours = job.HoursOf(s.PeakFrom, s.PeakTo)
	}
	return m
}

// ReadOnce reports whether one reading is all that is known of what the main presses by day, and its
// spread is the gauge's alone, or it is a guess: nobody read it in its worst hours, and what it may be
// on other days of the year is not in what is written with it (a reading without a spread has the year
// in the one that is taken for it). A reading at night says nothing of how low it gets.
func ReadOnce(j *job.Job) bool {
	s := &j.Supply
	return Told(s.Static) && (s.Static.Half > 0 || s.Static.Basis == quantity.Assumed) && !Told(s.PeakRes)
}

// Standing is how the main stands at an hour of the day.
type Standing uint8

// The ways.
const (
	Usually Standing = iota
	AtWorst
	AtNight
	Standings
)

// Stands is how the main stands at a moment, being on: seconds from any midnight. The worst hours
// are told of and go before those of the night, which are assumed.
func (m *Main) Stands(t float64) Standing {
	switch {
	case m.WorstHours.Holds(t):
		return AtWorst
	case m.NightTold && NightHours.Holds(t):
		return AtNight
	}
	return Usually
}

// Rest is what presses at the gauge as the main stands.
func (m *Main) Rest(s Standing) quantity.Pressure {
	return [Standings]quantity.Pressure{m.Usual, m.Worst, m.Night}[s]
}

// AtRest is what presses at the gauge at a moment, the main being on: seconds from any midnight.
func (m *Main) AtRest(t float64) quantity.Pressure { return m.Rest(m.Stands(t)) }

// Weak is the main in a spell in which it is there and too weak for the home: as in its
// worst hours, or, where nobody read it then, as little as is taken for too weak; never more than usual.
func (m *Main) Weak() quantity.Pressure {
	if m.WorstTold {
		return min(m.Worst, m.Usual)
	}
	return min(m.TooWeak, m.Usual/2)
}

// Highest is the most that ever presses at the gauge.
func (m *Main) Highest() quantity.Pressure { return max(m.Night, m.Usual) }

// Felt is a pressure at the gauge as felt at a height above the ground at the meter, nothing
// running.
func (m *Main) Felt(p quantity.Pressure, z quantity.Length) quantity.Pressure {
	return p - quantity.Pressure(quantity.StandardDensity*quantity.StandardGravity*float64(z-m.Gauge))
}

// Sag is what a flow test says the main loses: the pressures at two flows, at the gauge of
// the pressure at rest. A flow of 0: no test at this rate.
type Sag struct {
	Static            quantity.Pressure
	LowFlow, HighFlow quantity.Flow
	LowRes, HighRes   quantity.Pressure
	Busy              Busy
}

// SagOf is the flow test of a job.
func SagOf(j *job.Job) Sag {
	s := &j.Supply
	return Sag{s.Static.V, s.LowFlow.V, s.HighFlow.V, s.LowRes.V, s.HighRes.V, BusyOf(j)}
}

// noSag is the loss of a main without a flow test [s/m²]: a millimetre at 1 L/s, which is
// nothing, so that the element stays a law. The missing test is reported.
const noSag = 1.0

// Law fits the loss of the main to the flow test. tested is false where there is none, or
// the gauges showed no loss; then the main loses as good as nothing.
func (s Sag) Law(tag string) (law *hydraulics.Main, tested bool, err error) {
	d1 := float64(s.Static-s.LowRes) / weight
	d2 := float64(s.Static-s.HighRes) / weight
	var a, b float64
	switch {
	case s.LowFlow > 0 && s.HighFlow > s.LowFlow:
		a, b = hydraulics.FitMain(float64(s.LowFlow), d1, float64(s.HighFlow), d2)
	case s.HighFlow > 0:
		b = d2 / float64(s.HighFlow*s.HighFlow)
	case s.LowFlow > 0:
		b = d1 / float64(s.LowFlow*s.LowFlow)
	}
	// Gauges that read more under flow than at rest show no sag at all.
	if tested = a > 0 || b > 0; !tested {
		a, b = noSag, 0
	}
	law, err = hydraulics.NewMainLoss(tag, math.Max(a, 0), math.Max(b, 0))
	return law, tested, err
}
