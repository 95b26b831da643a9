package pack

import (
	"math"
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/pack/paper"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/sitework"
)

// How far a reading may lie from what was worked out: trade figures, recalled. The
// figure's own spread counts where it is wider.
const (
	flowShare     = 0.10
	pressureShare = 0.10
	pressureLeast = 2e4 // Pa
	timeShare     = 0.15
	setLeast      = 1e4 // Pa, of a set point
	plateShare    = 1.05
)

// trial is one test of the commissioning: what is done, what is expected, what it may
// read, and where to look when it does not.
type trial struct {
	id             string
	expect, accept string
	args           []string
	on             bool
}

// commission is the sheet of the hand-over: every expected value with its tolerance, a
// box for the reading, and where to look when a test fails.
func (p *pack) commission() []paper.Block {
	b := []paper.Block{para(say("commission.how")), heading("commission.safe"), p.trials(p.safeTrials()),
		heading("commission.set"), p.trials(p.setTrials())}
	if p.Service != nil {
		how := small(say("commission.outlets-how", "share", p.ratio(flowShare), "least", p.pressure(pressureLeast)))
		how.Keep = true
		b = append(b, heading("commission.outlets"), how)
		for i := range p.Service.Modes {
			m := &p.Service.Modes[i]
			if m.Same == "" && m.ID != "on-main-peak" && len(m.Alone) > 0 {
				b = append(b, p.taps(m)...)
			}
		}
		fail := "commission.taps-fail"
		if p.falls() || p.headerOnly() {
			fail = "commission.taps-fail-falls"
		}
		b = append(b, small(say(fail, "strainer", orWords(p.tags(assembly.Strainer), "commission.no-strainer"), "pump", p.tags(assembly.Pump))),
			small(say("commission.peak")))
	}
	labels := []string{say("commission.gauge"), say("commission.plate"), say("commission.meter"), say("blank.fitter"), say("blank.owner"), say("blank.date")}
	if !p.pumped() {
		labels = slices.Delete(labels, 1, 2)
	}
	b = append(b, paper.Fields{Columns: 3, Gap: 3, Labels: labels})
	return append(b, deferral())
}

// safeTrials are the tests that keep people and neighbours from harm: they come first.
func (p *pack) safeTrials() []trial {
	checks := p.tags(assembly.NonReturn)
	pump := p.tags(assembly.Pump)
	args := []string{"checks", checks, "pump", pump, "float", p.low(assembly.FloatValve), "header-float", p.headerFloat(), "header", p.headerTag(), "feed", p.feed(), "stop", p.stop(),
		"drain", p.named("valves.drain", assembly.AsMainLegDrain, assembly.AsBackflowDrain, assembly.AsByPassDrain),
		"shutoff", p.shutoff(), "low", p.fig(quantity.LengthDim, 0.3), "high", p.fig(quantity.LengthDim, 1),
		"minutes", p.time(120), "leak", p.time(sitework.LeakTime), "meter", p.time(900), "vessel", p.tags(assembly.Vessel),
		"foot", p.named("valves.stop", assembly.AsHomeValve)}
	gap := ""
	if p.Store != nil && p.Store.GapNeeds > 0 {
		gap = say("findings.at-least", "limit", p.length(p.Store.GapNeeds))
	}
	nothing := say("commission.nothing")
	return []trial{
		{"back-high", nothing, nothing, args, checks != "" && pump != "" && p.stored()},
		{"back-bare", nothing, nothing, args, checks != "" && pump != "" && !p.stored()},
		{"back-low", nothing, nothing, args, checks != "" && !p.falls()},
		{"back-falls", nothing, nothing, args, checks != "" && p.falls()},
		{"overflow", p.gap(), gap, args, len(p.Assembly.Of(assembly.FloatValve)) > 0},
		{"overflow-header", say("commission.kept"), "", args, p.lifted()},
		{"dry", say("commission.stops"), say("commission.stops"), args, pump != "" && p.stored()},
		{"inlet", say("commission.stops"), p.bar(), args, pump != "" && !p.stored()},
		{"turns", say("commission.takes-over"), say("commission.takes-over"), args, p.several()},
		{"leak", say("commission.no-fall"), say("findings.at-most", "limit", p.pressure(sitework.LeakDrop)), args, !p.falls()},
		{"leak-falls", say("commission.no-fall"), say("findings.at-most", "limit", p.pressure(sitework.LeakDrop)), args, p.falls() || p.lifted()},
		{"still", nothing, nothing, args, p.stored() && p.Assembly.Joined},
		{"still-store", nothing, nothing, args, p.stored() && !p.Assembly.Joined},
		{"still-bare", nothing, nothing, args, !p.stored()},
	}
}

func (p *pack) gap() string {
	if p.Store == nil || p.Store.AirGap <= 0 {
		return ""
	}
	return p.storeFigure("air-gap", quantity.LengthDim, float64(p.Store.AirGap))
}

// shutoff is the highest pressure the pump makes with every tap shut.
func (p *pack) shutoff() string {
	if p.Service == nil || p.Service.Swing == nil {
		return say("commission.its-highest")
	}
	return p.pressure(p.Service.Swing.Full)
}

// setTrials are the set points, and what the whole plant does.
func (p *pack) setTrials() []trial {
	c := &p.Job.Choices
	static := quantity.Of(p.Job.Supply.Static.V)
	static.Half = float64(p.Job.Supply.Static.Half)
	pump := len(p.Assembly.Of(assembly.Pump)) > 0
	vessel := p.pumpVessels() != ""
	args := []string{"vessel", p.tags(assembly.Vessel), "pump", p.tags(assembly.Pump), "pump-vessel", orWords(p.pumpVessels(), "valves.vessel"), "also", p.heaterVessel(), "control", orWords(p.pumpControls(), "valves.controls"),
		"float", p.low(assembly.FloatValve), "header", p.headerTag(), "strainer", orWords(p.tags(assembly.Strainer), "commission.no-strainer"), "plate", number(plateShare)}
	list := []trial{
		{"static", p.figure(static), p.around(static, pressureShare, pressureLeast), args, p.Job.Supply.Static.V > 0},
		{"charge", p.pressure(c.Charge.V), p.around(quantity.Of(c.Charge.V), 0, setLeast), args, vessel && c.Charge.V > 0},
		{"cut-in", p.pressure(c.CutIn.V), p.around(quantity.Of(c.CutIn.V), 0, setLeast), args, pump && c.CutIn.V > 0},
		{p.cutOut(), p.pressure(c.CutOut.V), p.around(quantity.Of(c.CutOut.V), 0, setLeast), args, pump && c.CutOut.V > 0},
	}
	if k := p.Assembly.LockOut(); k != nil {
		a := append([]string{"tag", k.Tag}, args...)
		list = append(list, trial{"lock-on", p.pressure(k.On), p.around(quantity.Of(k.On), 0, setLeast), a, true},
			trial{"lock-off", p.pressure(k.Off), p.around(quantity.Of(k.Off), 0, setLeast), a, true})
	}
	return append(list, p.plantTrials(args)...)
}

func (p *pack) cutOut() string {
	if p.soft() {
		return "set-pressure"
	}
	return "cut-out"
}

func (p *pack) plantTrials(args []string) []trial {
	var list []trial
	if p.Service == nil {
		return nil
	}
	if s := p.Service.Swing; s != nil {
		full := quantity.Of(s.Full)
		list = append(list, trial{"shut-off", p.figure(full), p.around(full, pressureShare, pressureLeast), args, s.Full > 0})
		if s.Starts > 0 && s.Allowed > 0 && !p.soft() { // a pump that sleeps is judged on a drip, not on a draw
			list = append(list, trial{"starts", number(math.Round(s.Starts*10) / 10), say("findings.at-most", "limit", number(s.Allowed)), args, true})
		}
	}
	for i := range p.Service.Refills {
		r := &p.Service.Refills[i]
		if r.Hours == "usual" && r.Certified && r.Flow > 0 {
			flow := quantity.Of(r.Flow)
			list = append(list, trial{"refill", p.flow(r.Flow), p.around(flow, timeShare, 0), append([]string{"time", p.time(r.Time)}, args...), true})
		}
	}
	if l := p.Service.Lift; l != nil && l.Certified && l.Flow > 0 {
		list = append(list, trial{"lift", p.time(l.Time), p.around(quantity.Of(l.Time), timeShare, 0), args, true})
	}
	if _, row := p.pump(); row.Power > 0 && p.Job.Power.Voltage.V > 0 {
		m := sitework.Drive(row.Power, p.Job.Power.Voltage.V, p.soft())
		list = append(list, trial{"current", p.range2(quantity.CurrentDim, float64(m.Least), float64(m.Running)), say("commission.plate-times", "share", number(plateShare)), args, true})
	}
	return list
}

// around says between which readings a figure is accepted.
func (p *pack) around(q quantity.Quantity, share, least float64) string {
	b := sitework.Accept(q.SI, q.Half, share, least)
	half := (b.High - b.Low) / 4
	end := func(v float64) string {
		return quantity.Format(quantity.Quantity{Dim: q.Dim, SI: v, Half: half, Basis: quantity.Derived}, p.sys)
	}
	return say("band", "low", end(max(b.Low, 0)), "high", end(b.High))
}

// trials is a table of tests: what to do, what is expected, what may be read, a box, and
// below in small where to look.
func (p *pack) trials(list []trial) paper.Table {
	t := paper.Table{Gap: 1, Pad: 0.4, Close: true,
		Cols: []paper.Col{{Width: 5}, {Share: 1}, {Width: 21}, {Width: 24}, {Width: 19}, {Share: 0.66}},
		Head: []string{"", say("commission.do"), say("commission.expect"), say("commission.accept"), say("commission.read"), say("commission.look")}}
	for _, k := range list {
		if k.on {
			t.Rows = append(t.Rows, []paper.Cell{tick, {Text: say("commission.do."+k.id, k.args...), Style: paper.Small}, {Text: k.expect, Style: paper.SmallStrong},
				{Text: k.accept, Style: paper.Small}, write, {Text: say("commission.look."+k.id, k.args...), Style: paper.Small}})
		}
	}
	return t
}

// taps is the table of one normal case: flow and pressure at each outlet alone.
func (p *pack) taps(m *service.Mode) []paper.Block {
	t := paper.Table{Gap: 1, Pad: 0.5,
		Cols: []paper.Col{{Share: 1}, {Width: 20, Right: true}, {Width: 31}, {Width: 18}, {Width: 18, Right: true}, {Width: 28}, {Width: 18}},
		Head: []string{say("outlets.outlet"), say("outlets.flow"), say("commission.accept"), say("commission.read"), say("outlets.at"), say("commission.accept"), say("commission.read")}}
	for i := range m.Alone {
		d := &m.Alone[i]
		flow, _ := p.drawn("outlet-flow", m.ID, d)
		row := []paper.Cell{strong(p.outletName(d.Outlet)), {Text: flow, Style: paper.SmallStrong}, {}, write, {Text: p.at(m.ID, d), Style: paper.SmallStrong}, {}, write}
		if d.Certified && d.Flow > 0 {
			row[2] = paper.Cell{Text: p.around(p.outletFigure("outlet-flow", m.ID, d, quantity.Of(d.Flow)), flowShare, 0), Style: paper.Small}
			row[5] = paper.Cell{Text: p.around(p.outletFigure("outlet-pressure", m.ID, d, quantity.Of(d.Pressure)), pressureShare, pressureLeast), Style: paper.Small}
		}
		t.Rows = append(t.Rows, row)
	}
	return []paper.Block{paper.Text{Style: paper.SmallStrong, Gap: 3, Keep: true, Text: upperFirst(sayOr("mode."+m.ID, m.ID)) + ". " + p.modeNote(m)}, t}
}

// outletFigure is a draw's figure with the spread its finding worked out.
func (p *pack) outletFigure(id, mode string, d *service.Draw, q quantity.Quantity) quantity.Quantity {
	if f := p.found(id, d.Outlet, mode); f != nil && f.Figure.Dim == q.Dim {
		return f.Figure
	}
	return q
}
