package diagnose

import (
	"math"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Inputs is what the diagnosis knows beside the circuits: bare figures, SI, and answers.
type Inputs struct {
	Static     quantity.Pressure // at the meter's gauge, nothing running
	StaticHalf quantity.Pressure
	Gauge      quantity.Length // that gauge above the datum

	Level      quantity.Length // of the gauge at the house above the datum
	AtRest     quantity.Pressure
	AtRestHalf quantity.Pressure
	RestKnown  bool
	Flow       quantity.Flow
	FlowHalf   quantity.Flow
	Residual   quantity.Pressure // at the house while Flow runs
	ResHalf    quantity.Pressure
	FlowKnown  bool

	Neighbour, SecondStop, Strainer string // as answered; "unknown"
	Shared                          job.Answer
	Chokes                          bool // the pipe is of a kind that rusts or furs up

	Worst     quantity.Pressure // at the meter's gauge in the worst hours, nothing running
	WorstTold bool

	People  float64
	Longest quantity.Time // longest interruption told; 0 none told
	Told    bool          // interruptions were asked about
}

// Read takes the figures out of a job. chokes says whether the service pipe is of a kind
// that rusts or furs up inside.
func Read(j *job.Job, chokes bool) Inputs {
	s, main, off := &j.Supply, site.MainOf(j), site.InterruptionsOf(j)
	in := Inputs{
		Static: s.Static.V, StaticHalf: s.Static.Half, Gauge: s.Gauge.V,
		Level:  s.HouseLevel.V,
		AtRest: s.HouseStatic.V, AtRestHalf: s.HouseStatic.Half, RestKnown: site.Told(s.HouseStatic),
		Flow: s.HouseFlow.V, FlowHalf: s.HouseFlow.Half,
		Residual: s.HouseRes.V, ResHalf: max(s.HouseRes.Half, wander/2), FlowKnown: s.HouseFlow.V > 0,
		Neighbour: s.Neighbour, SecondStop: s.SecondStop, Strainer: s.MeterScreen, Shared: s.Shared,
		Chokes: chokes,
		Worst:  main.Worst, WorstTold: main.WorstTold,
		People: float64(j.Home.People.V), Longest: off.Longest(),
	}
	in.Told = in.Longest > 0
	return in
}

// wander is how far two readings taken one after the other may lie apart with nothing
// wrong, where no spread was given: a gauge of class 2.5 on 10 bar. [Pa]
const wander = 0.25e5

// apart is the half-width of the difference of two pressures.
func apart(a, b quantity.Pressure) float64 {
	return math.Max(math.Hypot(float64(a), float64(b)), wander)
}
