package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/hydraulics"
	"tideover/internal/quantity"
)

func need(p *assembly.Part) catalogue.Outlet {
	row, _ := p.Row.(catalogue.Outlet) // checked when the circuit was built
	return row
}

func (a *run) sheet() *calc.Sheet {
	if !a.in.Record {
		return nil
	}
	return &calc.Sheet{}
}

func steps(s *calc.Sheet) []calc.Step {
	if s == nil {
		return nil
	}
	return s.Steps
}

func (a *run) pumpRow() catalogue.Pump {
	row, _ := a.ci.Assembly.Parts[a.ci.Pump()].Row.(catalogue.Pump)
	return row
}

// duty reads where the pump works in the case just solved.
//
// Where a pressure switch makes the pump swing, the circuit was solved at the low end of
// the swing with the vessel making up the difference; the pump itself then passes what
// its curve gives against that pressure, which is its largest flow and its worst
// suction. The suction loss at the solved flow is kept: an assumption of small weight.
func (a *run) duty(k *circuit.Case) *Duty {
	i := a.ci.Pump()
	if i < 0 {
		return nil
	}
	row, law := a.pumpRow(), a.ci.PumpLaw()
	n := len(a.ci.Working())
	q := float64(a.s.Pumped()) / float64(n)
	head := a.s.Head(i, 1) - a.s.Head(i, 0)
	d := &Duty{Pump: a.ci.Assembly.Parts[i].Tag, Pumps: n, Speed: a.s.Speed, Outlet: a.s.Pressure(i, 1)}
	if a.control != nil {
		d.Felt = a.felt(a.control)
		d.Asked = a.held()
		if a.control.Kind != assembly.SpeedControl {
			d.Asked = a.control.On
		}
		if a.control.Kind == assembly.PressureSwitch && k.Pump == circuit.Holding {
			q, d.Speed = flowAt(law, head), 1
		}
	}
	sheet := a.sheet()
	d.Flow, d.Head, d.Shutoff = quantity.Flow(float64(n)*q), quantity.Head(head), quantity.Head(law.ShutOff(1))
	t := float64(a.in.Water)
	d.NPSHHas = quantity.Head(sheet.Eval(hydraulics.NPSHEq, a.in.atmosphere(), hydraulics.VapourPressure(t), hydraulics.Density(t),
		a.s.Head(i, 0), float64(a.ci.Assembly.Parts[i].Ports[0].Z)))
	d.NPSHNeeds = quantity.Head(sheet.Eval(npshNeedEq, float64(row.NPSH), q, float64(row.Q1)))
	if row.Wire > 0 {
		d.Power = quantity.Power(hydraulics.HydraulicPowerEq.Fn([]float64{quantity.StandardDensity, float64(d.Flow), head}) / row.Wire)
	}
	d.Calc = steps(sheet)
	if works := a.sheet(); works != nil {
		works.Eval(hydraulics.PumpHeadEq, q, d.Speed, law.A, law.B, law.C)
		if a.control != nil {
			a.feltOn(works, a.control)
		}
		d.Works = works.Steps
	}
	return d
}

// feltOn records how what a control feels follows from the head there.
func (a *run) feltOn(sheet *calc.Sheet, c *assembly.Control) []calc.Step {
	if sheet == nil {
		return nil
	}
	z := a.ci.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z
	sheet.Eval(circuit.PressureEq, a.s.Head(c.Senses.Part, c.Senses.Port), float64(z))
	return sheet.Steps
}

// flowAt returns the flow at which a pump at full speed adds the head h [m³/s]; 0 at or
// above its shut-off head.
func flowAt(p *hydraulics.Pump, h float64) float64 {
	d := p.A - h
	if d <= 0 {
		return 0
	}
	return 2 * d / (p.B + math.Sqrt(p.B*p.B+4*p.C*d))
}

// highest returns the outlet that stands highest of those the pump serves, the first of
// several.
func (a *run) highest() *assembly.Part {
	var top *assembly.Part
	for n, i := range a.ci.Outlets {
		p := &a.ci.Assembly.Parts[i]
		if (top == nil || p.Ports[0].Z > top.Ports[0].Z) && a.meant(a.pumpedMode(), n) {
			top = p
		}
	}
	if top == nil {
		top = &a.ci.Assembly.Parts[a.ci.Outlets[0]]
	}
	if f := a.headerFloat(); f >= 0 && (!a.serves || a.ci.Assembly.Parts[f].Ports[0].Z > top.Ports[0].Z) {
		top = &a.ci.Assembly.Parts[f]
	}
	return top
}

// pumpedMode is the id of the mode in which the pump serves the home.
func (a *run) pumpedMode() string {
	if a.boosts() {
		return "on-main"
	}
	if !a.serves && a.headerFloat() >= 0 {
		return "lifting"
	}
	return "on-store"
}

// swing works out what the controller makes of a steady draw.
func (a *run) swing() {
	if a.ci.Pump() < 0 || a.control == nil {
		return
	}
	c, law, v := a.control, a.ci.PumpLaw(), a.ci.Assembly.Assumed
	sensor := float64(a.ci.Assembly.Parts[c.Senses.Part].Ports[c.Senses.Port].Z)
	w := &Swing{Control: c.Tag, Low: c.On, High: c.Off, Allowed: a.in.Starts, Turns: len(a.ci.Pumps())}
	stop, start := a.sheet(), a.sheet()
	w.Full = quantity.Pressure(stop.Eval(circuit.PressureEq, float64(a.in.Low)+law.ShutOff(1), sensor))
	top := a.highest()
	w.Top, w.Lifts = top.Tag, top.Kind == assembly.FloatValve
	w.Standing = quantity.Pressure(start.Eval(circuit.PressureEq, float64(top.Ports[0].Z), sensor))
	w.Left = quantity.Pressure(start.Eval(leftEq, float64(w.Low), float64(w.Standing)))
	w.StopCalc, w.StartCalc = steps(stop), steps(start)
	var sleeps float64
	sleeps, w.runOn = circuit.Sleeps(c.Kind, v)
	if c.Kind == assembly.FlowControl {
		// It stops for want of flow, at the shut-off head.
		w.High = max(circuit.PressureOf(float64(a.in.Full)+law.ShutOff(1), quantity.Length(sensor)), w.Low)
	}
	sheet := a.sheet()
	var flow *float64 // that a switched pump passes in the middle of its swing
	if c.Kind == assembly.PressureSwitch {
		middle := flowAt(law, circuit.HeadOf((w.Low+w.High)/2, quantity.Length(sensor))-float64(a.in.Low))
		flow, w.Worst = &middle, quantity.Flow(middle/2)
	} else {
		w.Soft = c.Kind == assembly.SpeedControl
		w.Worst = quantity.Flow(sleeps)
	}
	w.LeakDraw = quantity.Flow(assume.Drip.In(v))
	between := func(sheet *calc.Sheet, charge quantity.Pressure, draw quantity.Flow) (quantity.Volume, quantity.Time) {
		gives := a.gives(sheet, w, charge, assume.GasExponent.In(v))
		t := w.between(sheet, gives, draw, flow)
		if t > slowCycle && draw == w.LeakDraw { // the gas keeps the warmth of the air
			gives = a.gives(sheet, w, charge, slow)
			t = w.between(sheet, gives, draw, flow)
		}
		return gives, w.shared(sheet, t)
	}
	w.Drawdown, w.Period = between(sheet, a.in.Charge, w.Worst)
	_, w.LeakPeriod = between(sheet, a.in.Charge, w.LeakDraw)
	_, w.Flat = between(sheet, a.in.Charge*quantity.Pressure(1-assume.ChargeLost.In(v)), w.Worst)
	w.Starts = 3600 / float64(w.Period)
	w.Calc = steps(sheet)
	a.r.Swing = w
}

// A cycle that takes longer than slowCycle leaves the gas of a vessel as warm as the air; in one
// of minutes it cools on the way (assume.GasExponent).
const (
	slow      = 1.0
	slowCycle = quantity.Time(600) // s
)

// wornSpeed is the speed at which a new pump does what a worn one does at full speed.
func (a *run) wornSpeed() float64 {
	return wornEq.Fn([]float64{assume.HeadLost.In(a.ci.Assembly.Assumed)})
}

// gives is what the vessel gives from cut-out to cut-in. Below its charge a vessel is empty and
// gives nothing more.
func (a *run) gives(sheet *calc.Sheet, w *Swing, charge quantity.Pressure, exponent float64) quantity.Volume {
	air := a.in.atmosphere()
	p0 := float64(charge) + air
	p1, p2 := math.Max(float64(w.Low)+air, p0), math.Max(float64(w.High)+air, p0)
	return quantity.Volume(sheet.Eval(hydraulics.DischargeEq, float64(a.in.Vessel), p0, p1, p2, exponent))
}

// between is the time between two starts at a steady draw, of a switched pump that passes a flow
// meanwhile, or of one that sleeps (nil).
func (w *Swing) between(sheet *calc.Sheet, gives quantity.Volume, draw quantity.Flow, flow *float64) quantity.Time {
	switch {
	case flow == nil:
		return quantity.Time(sheet.Eval(sleepPeriodEq, float64(gives), float64(draw), w.runOn))
	case draw == w.Worst:
		return quantity.Time(sheet.Eval(switchPeriodEq, float64(gives), *flow))
	}
	return quantity.Time(sheet.Eval(drawPeriodEq, float64(gives), float64(draw), *flow))
}

// shared is the time between two starts of one pump where several take turns.
func (w *Swing) shared(sheet *calc.Sheet, between quantity.Time) quantity.Time {
	if w.Turns < 2 || !(between > 0) {
		return between
	}
	return quantity.Time(sheet.Eval(turnsEq, float64(between), float64(w.Turns)))
}

const stillFlow = quantity.Standing

// velocities reads the speed in every run that carries water in the case just solved. The
// suction of a switched pump never carries the taps' flow: while the pump runs it carries
// the pump's own, the most at its cut-in, and between two runs nothing.
func (a *run) velocities(mode string, d *Duty) []Speed {
	var list []Speed
	switched := d != nil && a.control != nil && a.control.Kind == assembly.PressureSwitch
	for i := range a.ci.Assembly.Parts {
		p := &a.ci.Assembly.Parts[i]
		pipe, is := p.Row.(catalogue.Pipe)
		q := math.Abs(float64(a.s.Flow(i)))
		if p.Kind != assembly.Run || !is || q < float64(stillFlow) {
			continue
		}
		rule := a.limit(i)
		pumped := switched && rule == suctionRule && q < float64(d.Flow)
		if pumped {
			q = float64(d.Flow)
		}
		sheet := a.sheet()
		v := sheet.Eval(hydraulics.VelocityEq, q, float64(pipe.Bore))
		list = append(list, Speed{Run: p.Tag, Mode: mode, Velocity: quantity.Velocity(v), Flow: quantity.Flow(q),
			Pumped: pumped, Rule: rule, Calc: steps(sheet)})
	}
	return list
}

// suctionRule is the local rule for the speed between store and pump.
const suctionRule = "max-velocity-suction"

// limit names the local rule for the speed in a run: a branch feeds one outlet alone,
// suction lies between store and pump, the rest is header.
func (a *run) limit(run int) string {
	for _, n := range a.ci.Outlets {
		for port := range a.ci.Assembly.Parts[run].Ports {
			if a.ci.Meets(run, port, n, 0) {
				return "max-velocity-branch"
			}
		}
	}
	if r := a.ci.Assembly.Parts[run].Role; r == assembly.Storage || r == assembly.Boost && run < a.ci.Pump() {
		return suctionRule
	}
	return "max-velocity-header"
}
