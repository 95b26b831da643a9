package day

import (
	"fmt"
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// What controllers do that no paper on site says, and the hours nobody wrote down: trade
// figures, assumed and shown as such.
const (
	RetryAfter = 1800.0      // s, before it tries again
	FailsAt    = 6 * 3600.0  // s from midnight: an interruption begins, where no timetable tells
	DarkAt     = 19 * 3600.0 // s from midnight: a power cut begins
)

const dayLength = 86400.0

// Inputs is what a day needs beside the circuit: bare figures, SI.
type Inputs struct {
	Main site.Main

	Margin quantity.Length // the float valve is shut this far below the overflow's lip
	Charge quantity.Pressure
	Air    float64 // air pressure [Pa]
	Daily  quantity.Volume

	Fails    float64     // length of the usual interruption [s]; 0 none told
	At       float64     // when it begins [s from midnight]
	Flushed  float64     // at its end, for how long WCs run on the main, which a notice keeps from all else [s]; 0 not at all
	Between  float64     // from the end of one to the start of the next [s], on the average
	Dark     float64     // for how long the pump stands in the power cut of every other day or oftener [s]; 0 none
	Runs     float64     // for how long a battery runs it before that [s]
	Away     job.Hours   // nobody is in
	Hand     float64     // until somebody who is home has turned the changeover [s]
	There    [24]float64 // share of each hour of a working day in which somebody is in
	Turns    int         // pumps that take turns to start; 0 counts as 1
	Starts   float64     // an hour the pump allows; 0 unknown
	StartsOf string      // source of that

	StartsStanding string // what that source is to this place
	StartsRule     string // the local rule that would say it
}

// Read takes the bare figures out of job, assembly and profile.
func Read(j *job.Job, a *assembly.Assembly, p *catalogue.Profile) Inputs {
	facts := site.Of(j, a, p)
	in := Inputs{
		Main: facts.Main, Margin: facts.Margin, Charge: j.Choices.Charge.V,
		Air:   hydraulics.Atmosphere(float64(j.Place.Altitude.V)),
		Daily: facts.Household.Daily, Away: facts.Household.Away, There: facts.Household.There(),
	}
	quick, slow := site.Hand(j)
	in.Hand = float64(quick+slow) / 2
	in.StartsRule = "starts-hour"
	soft := a.PumpControl() != nil && a.PumpControl().Kind == assembly.SpeedControl
	if soft {
		in.StartsRule = "starts-hour-soft" // what spares the motor may start it oftener than its row says
	}
	if r := p.Rule(in.StartsRule); r.Set {
		in.Starts = r.Value
		in.StartsOf, in.StartsStanding = r.Cited()
	}
	if at := a.Of(assembly.Pump); len(at) > 0 {
		in.Turns = len(at)
		if row, is := a.Parts[at[0]].Row.(catalogue.Pump); is && row.Starts > 0 && !soft {
			in.Starts, in.StartsOf, in.StartsStanding = row.Starts, row.Source, ""
		}
	}
	if usual, told := facts.Interruptions.Usual(); told {
		between, _ := facts.Interruptions.Between()
		in.Fails, in.Between, in.At = float64(site.Mean(usual)), float64(between), FailsAt
		if facts.Interruptions.WCs {
			in.Flushed = float64(facts.Interruptions.Notice)
		}
		if at, told := facts.Interruptions.Stops(); told {
			in.At = float64(at)
		}
	}
	in.Dark = float64(facts.Interruptions.Dark())
	if j.Power.Battery == job.Yes { // the worse end: what it surely runs the pump for
		in.Runs = float64(site.BatteryOf(j, a).Least)
		in.Dark = math.Max(0, in.Dark-in.Runs)
	}
	return in
}

// Of makes the plant of a circuit. ok is false when there is no store, or a pump that
// nothing controls: then a day holds nothing that a steady state does not.
func Of(ci *circuit.Circuit, in Inputs) (p *Plant, ok bool, err error) {
	a := ci.Assembly
	p = &Plant{Net: ci.Net, Street: ci.StreetPoint(), Main: -1, Crowd: ci.MainAt}
	p.settings(ci)
	for i := range a.Parts {
		part := &a.Parts[i]
		switch row := part.Row.(type) {
		case catalogue.Store:
			if i == a.Header() {
				p.Header.add(part, row, in, 0)
			} else {
				p.Store.add(part, row, in, site.Cover(a))
			}
		case catalogue.Vessel:
			if part.Purpose == assembly.AsHeaterVessel {
				continue // charged for the heater, not for the pump
			}
			p.Vessel = &Vessel{Point: ci.PointOf(i, 0), Z: float64(part.Ports[0].Z), Volume: float64(row.Volume),
				Charge: float64(in.Charge) + in.Air, Air: in.Air}
		case catalogue.Float:
			if h := a.Header(); h >= 0 && a.Fills(i) == h {
				p.Lifts = append(p.Lifts, ci.ElementOf(i))
				p.Header.Band = float64(row.Band)
				if row.Opens > 0 {
					p.Header.Band, p.Header.Delayed = float64(row.Opens), true
				}
				continue
			}
			p.Floats = append(p.Floats, ci.ElementOf(i))
			p.Store.Band = float64(row.Band)
			if row.Opens > 0 {
				p.Store.Band, p.Store.Delayed = float64(row.Opens), true
			}
		case catalogue.Outlet:
			p.Outlets = append(p.Outlets, Outlet{Tag: part.Tag, Kind: row.Kind, Element: ci.ElementOf(i), Need: float64(row.Need)})
			p.Watch = append(p.Watch, Place{part.Tag, ci.PointOf(i, 0), float64(part.Ports[0].Z)})
		}
		if part.Kind == assembly.Main {
			p.Main = ci.ElementOf(i)
		}
	}
	p.Store.Surface, p.Header.Surface = ci.SurfacePoints(), ci.UpperPoints()
	p.addPump(ci)
	p.addLock(ci)
	falls := len(a.Of(assembly.Pump)) == 0 // a raised store: height alone drives the water
	if len(p.Store.Surface) == 0 || p.Pump == nil && !falls {
		return nil, false, nil
	}
	if falls {
		p.Vessel = nil // nothing charges it
	}
	if err := p.Ready(); err != nil {
		return nil, false, fmt.Errorf("%w (%s)", err, a.Arrangement)
	}
	return p, true, nil
}

// settings takes what hand valves shut in each named setting; everything else is open.
func (p *Plant) settings(ci *circuit.Circuit) {
	open := make([]bool, len(ci.Outlets))
	for n := range open {
		open[n] = true
	}
	s := ci.Net.NewState()
	for i := range ci.Assembly.Settings {
		ci.State(&circuit.Case{Setting: i, Filling: true, Lifting: true, Pump: circuit.Running, Open: open}, s)
		p.Shut = append(p.Shut, append([]bool(nil), s.Off...))
	}
}

func (s *Store) add(part *assembly.Part, row catalogue.Store, in Inputs, cover quantity.Length) {
	low := part.Ports[0].Z
	for _, port := range part.Ports {
		low = min(low, port.Z)
	}
	base := low - row.Outlet
	s.Area += float64(max(1, part.Count)) * math.Pi / 4 * float64(row.Diameter) * float64(row.Diameter)
	s.Low, s.Lip, s.Shut = float64(low+cover), float64(base+row.Overflow), float64(base+row.Overflow-in.Margin)
}

func (p *Plant) addPump(ci *circuit.Circuit) {
	i, c := ci.Pump(), ci.ControlOf()
	if i < 0 || c == nil {
		return
	}
	row, is := ci.Assembly.Parts[i].Row.(catalogue.Pump)
	if !is {
		return
	}
	z, v := ci.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z, ci.Assembly.Assumed
	n := float64(len(ci.Working()))
	p.Pump = &Pump{
		Element: ci.ElementOf(i), Law: ci.PumpLaw(), Sensor: ci.PointOf(c.Senses.Part, c.Senses.Port),
		On: circuit.HeadOf(c.On, z), Off: circuit.HeadOf(c.Off, z),
		DryStop: assume.DryStop.In(v), Retry: RetryAfter,
		At: n * float64(row.Q1), Idle: assume.Idle.In(v),
	}
	p.Pump.Still, p.Pump.RunOn = circuit.Sleeps(c.Kind, v)
	for k, part := range ci.Pumps() {
		switch e := ci.ElementOf(part); {
		case k >= len(ci.Working()):
			p.Pump.Spare = append(p.Pump.Spare, e)
		case k > 0:
			p.Pump.With = append(p.Pump.With, e)
		}
	}
	switch c.Kind {
	case assembly.FlowControl:
		p.Pump.Kind = Flow
		p.Pump.Off = math.Max(p.Pump.Off, p.Pump.On+1) // it stops for want of flow
	case assembly.SpeedControl:
		p.Pump.Kind = Speed
	}
	if row.Wire > 0 {
		p.Pump.Rated = hydraulics.HydraulicPowerEq.Fn([]float64{quantity.StandardDensity, p.Pump.At, float64(row.H1)}) / row.Wire
	}
}

func (p *Plant) addLock(ci *circuit.Circuit) {
	c := ci.LockOut()
	if c == nil {
		return
	}
	z := ci.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z
	p.Lock = &Lock{Sensor: ci.PointOf(c.Senses.Part, c.Senses.Port),
		On: circuit.HeadOf(c.On, z), Off: circuit.HeadOf(c.Off, z), Wait: assume.LockWait.In(ci.Assembly.Assumed), Hold: assume.LockHold.In(ci.Assembly.Assumed)}
}
