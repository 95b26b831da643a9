package commission

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/sitework"
)

// How far a reading may lie from what was worked out: trade figures, recalled. The
// figure's own spread counts where it is wider.
const (
	FlowShare     = 0.10
	PressureShare = 0.10
	PressureLeast = 2e4 // Pa
	timeShare     = 0.15
	setLeast      = 1e4 // Pa, of a set point
	PlateShare    = 1.05
)

// around is a reading accepted on both sides of a figure.
func around(id, tag string, q quantity.Quantity, share, least float64) Expected {
	b := sitework.Accept(q.SI, q.Half, share, least)
	return Expected{ID: id, Tag: tag, Figure: q, Low: math.Max(b.Low, 0), High: b.High}
}

// atMost is a reading accepted up to a limit.
func atMost(id, tag string, q quantity.Quantity, limit float64) Expected {
	return Expected{ID: id, Tag: tag, Figure: q, Low: math.Inf(-1), High: limit}
}

// settings are the set points, as the job chose them.
func (c *Context) settings() []Expected {
	var list []Expected
	set := func(on bool, id, tag string, p quantity.Pressure) {
		if on && p > 0 {
			list = append(list, around(id, tag, quantity.Of(p), 0, setLeast))
		}
	}
	if s := c.Job.Supply.Static; s.V > 0 {
		q := quantity.Of(s.V)
		q.Half = float64(s.Half)
		list = append(list, around("static", c.first(assembly.Main), q, PressureShare, PressureLeast))
	}
	ch := &c.Job.Choices
	for _, i := range c.Assembly.Of(assembly.Regulator) {
		p := &c.Assembly.Parts[i]
		list = append(list, around("regulator", p.Tag, quantity.Of(p.Set), 0, PressureLeast))
	}
	for _, i := range c.Assembly.Of(assembly.Vessel) {
		part := &c.Assembly.Parts[i]
		set(part.Purpose != assembly.AsHeaterVessel, "charge", part.Tag, ch.Charge.V)
	}
	if k := c.Assembly.PumpControl(); k != nil {
		out := "cut-out"
		if k.Kind == assembly.SpeedControl {
			out = "set-pressure"
		}
		set(true, "cut-in", k.Tag, ch.CutIn.V)
		set(true, out, k.Tag, ch.CutOut.V)
	}
	for i := range c.Assembly.Controls {
		if k := &c.Assembly.Controls[i]; k.Kind == assembly.LockOut {
			set(true, "lock-on", k.Tag, k.On)
			set(true, "lock-off", k.Tag, k.Off)
		}
	}
	return list
}

// plant is what the whole plant does.
func (c *Context) plant() []Expected {
	if c.Service == nil {
		return nil
	}
	var list []Expected
	pump := c.first(assembly.Pump)
	if s := c.Service.Swing; s != nil {
		if s.Full > 0 {
			list = append(list, around("shut-off", pump, quantity.Of(s.Full), PressureShare, PressureLeast))
		}
		if k := c.Assembly.PumpControl(); s.Starts > 0 && s.Starts <= s.Allowed && k != nil && k.Kind == assembly.PressureSwitch { // one that sleeps makes its starts at a drip, which nobody waits for; where more are expected than allowed, the finding says so, and no sound pump could pass
			if e, ok := counted(atMost("starts", pump, quantity.Quantity{SI: s.Starts, Basis: quantity.Derived}, s.Allowed)); ok {
				list = append(list, e)
			}
		}
	}
	for i := range c.Service.Refills {
		if r := &c.Service.Refills[i]; r.Hours == "usual" && r.Certified && r.Flow > 0 {
			e := around("refill", c.first(assembly.FloatValve), quantity.Of(r.Flow), timeShare, 0)
			e.Calc = r.Calc
			list = append(list, e)
		}
	}
	if l := c.Service.Lift; l != nil && l.Certified && l.Flow > 0 {
		list = append(list, around("lift", l.Float, quantity.Of(l.Time), timeShare, 0))
	}
	if pump != "" {
		list = append(list, c.current(pump))
	}
	return list
}

// current is what a clamp meter reads at the pump's cable while one tap runs.
func (c *Context) current(pump string) Expected {
	e := Expected{ID: "current", Tag: pump, Lacks: c.Plate}
	if c.Plate != "" {
		return e
	}
	if c.Current.Most <= 0 {
		e.Lacks = "choices.pump.measured.current"
		return e
	}
	middle, half := (c.Current.Least+c.Current.Most)/2, (c.Current.Most-c.Current.Least)/2
	e.Figure = quantity.Quantity{Dim: quantity.CurrentDim, SI: middle, Half: half, Basis: quantity.Assumed}
	b := sitework.Accept(middle, half, 0, PlateShare*c.Current.Most-middle)
	e.Low, e.High = math.Max(b.Low, 0), b.High
	return e
}

// outlets are flow and pressure at each outlet alone, in every normal case that can be read
// on the day, in the setting in which it stays what it is.
func (c *Context) outlets() []Expected {
	if c.Service == nil {
		return nil
	}
	var list []Expected
	for i := range c.Service.Modes {
		m := &c.Service.Modes[i]
		if m.Same != "" || m.ID == "on-main-peak" {
			continue
		}
		for k := range m.Alone {
			d := &m.Alone[k]
			if k < len(m.Read) && m.Read[k].Outlet == d.Outlet {
				d = &m.Read[k]
			}
			if d.Certified && d.Flow > 0 {
				list = append(list, c.tap("outlet-flow", m, d, quantity.Of(d.Flow), FlowShare, 0),
					c.tap("outlet-pressure", m, d, quantity.Of(d.Pressure), PressureShare, PressureLeast))
			}
		}
	}
	return list
}

// tap is one figure of an outlet with the spread its finding worked out.
func (c *Context) tap(id string, m *service.Mode, d *service.Draw, q quantity.Quantity, share, least float64) Expected {
	var drawn []float64
	for i := range c.Findings {
		if f := &c.Findings[i]; f.ID == id && f.Where == d.Outlet && f.Mode == m.ID && f.Figure.Dim == q.Dim {
			q.Half = f.Figure.Half
			drawn = c.drawn(f, q.SI)
		}
	}
	e := around(id, d.Outlet, q, share, least)
	e.Drawn = drawn
	e.Mode, e.Setting, e.Calc = m.ID, m.ReadIn, d.Calc
	if e.Setting == "" {
		e.Setting = m.Setting
	}
	e.MainOff = m.ID == "on-store" && c.Assembly.LockOut() != nil
	return e
}

// drawn is what a finding's figure was in draws of the survey, each solved, laid about what is
// expected of the reading: where it is read in another setting, in proportion.
func (c *Context) drawn(f *finding.Finding, expected float64) []float64 {
	if c.Drawn == nil || f.Figure.SI == 0 {
		return nil
	}
	var list []float64
	for _, v := range c.Drawn(f) {
		list = append(list, v*expected/f.Figure.SI)
	}
	return list
}

// counts are the times over which starts are counted, the shortest first. [s]
var counts = []quantity.Time{600, 1200, 1800, 3600}

// counted takes the shortest time over which a count of starts finds the mildest failure and
// passes a sound pump; false where none of an hour or less does.
func counted(e Expected) (Expected, bool) {
	for _, e.Over = range counts {
		if e.Proven() {
			return e, true
		}
	}
	return e, false
}

// first is the tag of the first part of a kind, or "".
func (c *Context) first(k assembly.Kind) string {
	if at := c.Assembly.Of(k); len(at) > 0 {
		return c.Assembly.Parts[at[0]].Tag
	}
	return ""
}

// pipeOf is the row of a run of pipe.
func pipeOf(p *assembly.Part) (catalogue.Pipe, bool) {
	row, ok := p.Row.(catalogue.Pipe)
	return row, ok && p.Length > 0
}
