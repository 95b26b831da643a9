// Package power works out what the pump's motor takes: its currents, what its circuit and
// an inverter have to carry, and what stands on a battery through one power cut.
//
// Stage: an analysis. It takes a job's answers, the pump's row and the bare figures of the
// pump at its duty and at single taps, and gives a Result; a second function reads findings
// off it.
//
// Left out: the drop in the cable and the generator. What a speed control takes from the
// mains cannot be worked out from the motor behind it (a rectifier draws its current in
// pulses: true power factors of 0.4 to 0.95 are seen), so without its plate nothing is said
// of it.
package power

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/sitework"
)

// Busy is how many times the mean use of the day a cut at a busy hour meets. Trade figure,
// recalled.
const Busy = 3.0

// CableShare is how many times its running current a motor's circuit is laid out for.
const CableShare = sitework.CableShare

// direct is the kind of pump that runs on direct current.
const direct = "diaphragm"

// Point is the pump at work: what one pump passes, and at which share of its full speed.
type Point struct {
	Flow  quantity.Flow
	Speed float64
	Power quantity.Power // by the row's wire efficiency; counts only for a kind that has no power line
}

// Inputs is what the service found out, as bare figures.
type Inputs struct {
	Duty  []Point         // the pump at the simultaneous draw-off: none where it does not run, else one
	Taps  []Point         // the pump at each outlet alone
	Daily quantity.Volume // what the pump moves in a day
}

// Span is a figure between its least and its most.
type Span struct{ Least, Most float64 }

// Result is what the motor takes and what feeds it.
type Result struct {
	Pump     string // tag of the first
	Row      catalogue.Pump
	Volts    quantity.Val[quantity.Voltage]
	Together int  // pumps that run at once
	Soft     bool // a speed control starts the pump
	Plate    quantity.Val[quantity.Current]

	Motor *sitework.Motor // nil where nothing can be said: see Lacks
	Lacks string          // field that is missing, or ""

	Taps    Span // current at a single running tap [A]; nought where it cannot be said
	Cut     quantity.Time
	Stores  quantity.Val[quantity.Energy] // of the battery there is, on its label
	Lead    Span                          // on a lead battery for one cut [J]; nought where no cut or duty is known
	Lithium Span                          // on a lithium one
	Calc    []calc.Step
}

// Analyse works out what the pump of an assembly takes. It returns nil where there is none.
func Analyse(j *job.Job, a *assembly.Assembly, in Inputs) *Result {
	r := &Result{Volts: j.Power.Voltage, Together: max(1, a.Together), Soft: j.Choices.Control == "speed-control", Plate: j.Choices.Plate.Current, Stores: j.Power.Stores}
	for _, i := range a.Of(assembly.Pump) {
		if row, ok := a.Parts[i].Row.(catalogue.Pump); ok && r.Pump == "" {
			r.Pump, r.Row = a.Parts[i].Tag, row
		}
	}
	if r.Pump == "" {
		return nil
	}
	switch {
	case r.Volts.V <= 0 || r.Row.Power <= 0:
		r.Lacks = "power.voltage"
	case r.Plate.V > 0:
		m := sitework.Plated(r.Plate.V, r.Volts.V, r.Soft, r.Together)
		r.Motor = &m
	case r.Soft:
		r.Lacks = "choices.pump.measured.current"
	case r.Row.Kind == direct: // no capacitor, no mains
		r.Lacks = "choices.pump.measured.current"
	default:
		m := sitework.DriveTogether(r.Row.Power, r.Volts.V, r.Together)
		r.Motor = &m
	}
	if r.Motor != nil {
		r.Calc = r.Motor.Calc.Steps
	}
	line, ok := line(r.Pump, r.Row)
	if ok && r.Motor != nil && !r.Soft {
		r.Taps = r.tapCurrent(line, in.Taps)
	}
	r.battery(j, in, func(p Point) quantity.Power {
		if ok {
			return quantity.Power(line.Power(float64(p.Flow), p.Speed))
		}
		return p.Power
	})
	return r
}

// line is the pump's power against its flow, where its kind has one.
func line(tag string, row catalogue.Pump) (hydraulics.PumpPower, bool) {
	kinds := map[string]hydraulics.PumpKind{"jet": hydraulics.Jet, "multistage": hydraulics.Multistage,
		"submersible": hydraulics.Multistage, "peripheral": hydraulics.Peripheral}
	kind, known := kinds[row.Kind]
	if !known || row.Wire <= 0 || row.Q1 <= 0 {
		return hydraulics.PumpPower{}, false
	}
	best := quantity.StandardDensity * quantity.StandardGravity * float64(row.Q1) * float64(row.H1) / row.Wire
	p, err := hydraulics.NewPumpPower(tag, kind, best, float64(row.Q1))
	return p, err == nil
}

// tapCurrent is between which currents the motor runs at single taps: the pump's power line
// at each tap's point, with the poor and the good motor's power factor.
func (r *Result) tapCurrent(line hydraulics.PumpPower, taps []Point) Span {
	s := Span{Least: math.Inf(1)}
	for _, p := range taps {
		for _, cos := range []float64{sitework.MotorFactor, sitework.GoodFactor} {
			at := line
			at.Cos = cos
			i := at.Current(float64(p.Flow), p.Speed, float64(r.Volts.V))
			s.Least, s.Most = min(s.Least, i), max(s.Most, i)
		}
	}
	if len(taps) == 0 {
		return Span{}
	}
	return s
}

// battery works out what one cut of the longest usual kind takes: at least the mean use of
// the day at the pump's duty, at most a busy hour's, drawn tap by tap.
func (r *Result) battery(j *job.Job, in Inputs, takes func(Point) quantity.Power) {
	for _, s := range j.Cuts() {
		r.Cut = max(r.Cut, s.Most)
	}
	if r.Cut <= 0 || in.Daily <= 0 || len(in.Duty) == 0 || in.Duty[0].Flow <= 0 {
		return
	}
	mean := quantity.Volume(float64(in.Daily) * float64(r.Cut) / 86400)
	cut := func(p Point, times float64) sitework.Cut {
		return sitework.Cut{Power: takes(p), Flow: p.Flow, Water: quantity.Volume(times * float64(mean)), Time: r.Cut}
	}
	least := cut(in.Duty[0], 1)
	most := cut(in.Duty[0], Busy)
	for _, p := range in.Taps {
		if c := cut(p, Busy); p.Flow > 0 && float64(c.Power)*float64(most.Flow) > float64(most.Power)*float64(c.Flow) {
			most = c
		}
	}
	lead, lithium, low := sitework.Battery(least)
	more, lighter, high := sitework.Battery(most)
	r.Lead, r.Lithium = Span{float64(lead), float64(more)}, Span{float64(lithium), float64(lighter)}
	r.Calc = append(append(r.Calc, low.Steps...), high.Steps...)
}
