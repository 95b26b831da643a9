package pack

import (
	"math"
	"slices"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/commission"
	"tideover/internal/finding"
	"tideover/internal/pack/paper"
	"tideover/internal/procedure"
	"tideover/internal/quantity"
	"tideover/internal/service"
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
	b := []paper.Block{para(say("commission.how")), heading("commission.safe"), p.trials(p.safeTrials())}
	b = append(append(b, p.unshown()...), heading("commission.set"), p.trials(p.setTrials()))
	if len(p.HandOver.Again) > 0 {
		b = append(b, small(say("commission.mean-how", "times", number(commission.Times))))
	}
	if p.Service != nil {
		how := small(say("commission.outlets-how", "share", p.ratio(commission.FlowShare), "least", p.pressure(commission.PressureLeast)))
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
	pump, level, alarm := p.tags(assembly.Pump), p.tagsAs(assembly.AsLevelSwitch), p.tagsAs(assembly.AsLevelAlarm)
	args := []string{"dry", p.time(60), "store-valve", p.allAs(assembly.AsStoreValve, "valves.store"), "pump", pump, "float", p.low(assembly.FloatValve), "header-float", p.headerFloat(), "header", p.headerTag(), "feed", p.feed(), "stop", p.stop(),
		"leak", p.time(p.HandOver.Leak.Time), "meter", p.time(900), "vessel", p.tags(assembly.Vessel),
		"foot", p.named("valves.stop", assembly.AsHomeValve)}
	args = append(args, p.trialArgs()...)
	gap, accepted := p.gap()
	nothing := say("commission.nothing")
	return append(p.checkTrials(), []trial{
		{"overflow", gap, accepted, args, len(p.Assembly.Of(assembly.FloatValve)) > 0},
		{"overflow-header", say("commission.kept"), "", args, p.lifted()},
		{"level", say("commission.stops"), say("commission.stops") + "." + p.seen("level"), append([]string{"level", level}, args...), level != ""},
		{"alarm", say("commission.sounds"), say("commission.sounds") + "." + p.seen("alarm"), append([]string{"alarm", alarm}, args...), alarm != ""},
		{"dry", say("commission.stops"), say("commission.stops") + "." + p.seen("dry"), args, pump != "" && p.stored() && level == ""},
		{"inlet", say("commission.stops"), p.bar() + "." + p.seen("inlet"), args, pump != "" && !p.stored()},
		{"turns", say("commission.takes-over"), say("commission.takes-over") + "." + p.seen("turns"), args, p.several()},
		{"leak", say("commission.no-fall"), say("findings.at-most", "limit", p.pressure(p.HandOver.Leak.Drop)) + "." + p.leakShows(), args, !p.falls()},
		{"leak-falls", say("commission.no-fall"), say("findings.at-most", "limit", p.pressure(p.HandOver.Leak.Drop)) + "." + p.leakShows(), args, p.falls() || p.lifted()},
		{"still", nothing, nothing + p.stillShows(), args, p.stored() && p.Assembly.Joined},
		{"still-store", nothing, nothing + p.stillShows(), args, p.stored() && !p.Assembly.Joined},
		{"still-bare", nothing, nothing + p.stillShows(), args, !p.stored()},
	}...)
}

// trialArgs are the handles that a dry run turns, and the valves of vessels that a look for a
// leak shuts.
func (p *pack) trialArgs() []string {
	turns, valves := []string{}, []string{}
	for _, l := range p.hands().Trials() {
		dry := l.ID == "commission.do.dry" || l.ID == "commission.do.level"
		for _, a := range l.Steps[0].Acts {
			if a.Do == procedure.Handle && p.Assembly.Parts[a.Part].Kind == assembly.Outlet {
				break // from here on the row says it in words
			}
			if a.Do == procedure.Isolate && a.To == "shut" {
				valves = append(valves, p.Assembly.Parts[a.Part].Tag)
			}
			if dry && a.Do == procedure.Handle {
				turns = append(turns, p.turned(a))
			}
		}
	}
	said := strings.Join(turns, ", ")
	if said == "" {
		said = say("commission.as-usual")
	}
	off, back := "", ""
	if list := strings.Join(valves, ", "); list != "" {
		off, back = say("commission.isolated", "valves", list), " "+say("commission.isolated-back", "valves", list)
	}
	return []string{"turns", said, "isolated", off, "isolated-back", back}
}

// turned says one handle and where it goes.
func (p *pack) turned(a procedure.Act) string {
	return say("card.turn", "tag", p.Assembly.Parts[a.Part].Tag, "to", sayOr("turn."+a.To, a.To))
}

// gap is what the air under the float valve's mouth ought to read with the overflow running,
// and what may be read. Where the overflow is not known the rules' own figure is all there is.
func (p *pack) gap() (expect, accept string) {
	if p.Service == nil || p.Service.Gap == nil || p.HandOver == nil {
		return "", ""
	}
	e := p.HandOver.At("air-gap", p.Service.Gap.Store, "")
	if e == nil {
		return "", ""
	}
	switch {
	case math.IsInf(e.High, 1) && !math.IsInf(e.Low, -1):
		accept = say("findings.at-least", "limit", p.fig(quantity.LengthDim, e.Low))
	case !math.IsInf(e.High, 1):
		accept = say("band", "low", p.fig(quantity.LengthDim, e.Low), "high", p.fig(quantity.LengthDim, e.High))
	}
	switch {
	case e.Lacks != "":
		expect = say("commission.unknown-overflow")
	case e.Figure.SI <= 0:
		expect = say("commission.under-water")
	default:
		expect = p.figure(e.Figure)
	}
	return expect, accept
}

// gapFinding is the judgement of the air gap, or nil.
func (p *pack) gapFinding() *finding.Finding {
	if p.Service == nil || p.Service.Gap == nil {
		return nil
	}
	return p.found("air-gap", p.Service.Gap.Store, "")
}

// shutoff is the highest pressure the pump makes with every tap shut.
func (p *pack) shutoff() string {
	if p.Service == nil || p.Service.Swing == nil {
		return say("commission.its-highest")
	}
	return p.pressure(p.Service.Swing.Full)
}

// setTrials are the set points, and what the whole plant does: every reading that is
// expected of a part and not of a tap.
func (p *pack) setTrials() []trial {
	args := []string{"vessel", p.tags(assembly.Vessel), "pump", p.tags(assembly.Pump), "pump-vessel", orWords(p.pumpVessels(), "valves.vessel"), "also", p.heaterVessel(), "control", orWords(p.pumpControls(), "valves.controls"),
		"float", p.low(assembly.FloatValve), "header", p.headerTag(), "strainer", orWords(p.tags(assembly.Strainer), "commission.no-strainer"), "plate", number(commission.PlateShare),
		"time", p.refillTime()}
	var list []trial
	for i := range p.HandOver.Expected {
		e := &p.HandOver.Expected[i]
		if e.ID == "air-gap" || e.ID == "outlet-flow" || e.ID == "outlet-pressure" {
			continue
		}
		expect, accept := p.expected(e)
		accept = strings.TrimSpace(accept + ". " + p.reveals(e) + " " + p.meant(e))
		args := append(slices.Clip(args), "count", p.time(e.Over))
		list = append(list, trial{e.ID, expect, accept, append([]string{"tag", e.Tag}, args...), true})
	}
	return list
}

// reveals says how far off a value must be before its reading shows it: what is less goes
// unseen.
func (p *pack) reveals(e *commission.Expected) string {
	if e.Lacks != "" {
		return ""
	}
	if e.ID == "starts" {
		_, above := e.Finds()
		return say("commission.shows.starts", "starts", number(math.Ceil(e.Figure.SI+above)))
	}
	off := func(v float64) string { return p.guess(e.Figure.Dim, v) }
	switch below, above := e.Finds(); {
	case math.IsInf(below, 1) && math.IsInf(above, 1):
		return say("commission.shows.none")
	case math.IsInf(below, 1):
		return say("commission.shows.above", "above", off(above))
	case math.IsInf(above, 1):
		return say("commission.shows.below", "below", off(below))
	default:
		return say("commission.shows.both", "off", off(max(below, above)))
	}
}

// meant says that a reading is the mean of several, where upkeep compares its own with it.
func (p *pack) meant(e *commission.Expected) string {
	for i := range p.HandOver.Again {
		if a := &p.HandOver.Again[i]; a.ID == e.ID && a.Tag == e.Tag {
			return say("commission.read-mean", "times", number(commission.Times))
		}
	}
	return ""
}

// seen says how often a test without a figure is made, and what it shows.
func (p *pack) seen(id string) string {
	s := p.HandOver.SeenOf(id)
	if s.Times == 1 {
		return " " + say("commission.shows.never")
	}
	return " " + say("commission.shows.now-and-then", "times", number(float64(s.Times)), "share", number(100*s.Mild))
}

// tapsShow says what the readings at the taps of one table find, the worst of them.
func (p *pack) tapsShow(mode string) string {
	flow, pressure := 0.0, 0.0
	for i := range p.HandOver.Expected {
		e := &p.HandOver.Expected[i]
		if e.Mode != mode || e.Lacks != "" || !(e.Figure.SI > 0) {
			continue
		}
		switch below, _ := e.Finds(); e.ID {
		case "outlet-flow":
			flow = max(flow, min(1, below/e.Figure.SI))
		case "outlet-pressure":
			pressure = max(pressure, min(e.Figure.SI, below))
		}
	}
	if flow == 0 || pressure == 0 {
		return ""
	}
	return say("commission.shows.taps", "share", p.guess(quantity.RatioDim, flow), "pressure", p.guess(quantity.PressureDim, pressure))
}

// refillTime is how long the whole store takes at the flow that is read.
func (p *pack) refillTime() string {
	if p.Service != nil {
		for i := range p.Service.Refills {
			if r := &p.Service.Refills[i]; r.Hours == "usual" {
				return p.time(r.Time)
			}
		}
	}
	return ""
}

// expected prints a reading: what it should be, and between which ends it is accepted.
func (p *pack) expected(e *commission.Expected) (figure, accept string) {
	switch {
	case e.Lacks != "":
		return say("verdict.not-judged"), say("commission.plate-times", "share", number(commission.PlateShare))
	case e.ID == "current":
		return p.range2(quantity.CurrentDim, e.Figure.SI-e.Figure.Half, e.Figure.SI+e.Figure.Half), p.band(e)
	case e.Figure.Dim == quantity.NoDim:
		return number(math.Round(e.Figure.SI*10) / 10), say("findings.at-most", "limit", number(e.High))
	}
	return p.figure(e.Figure), p.band(e)
}

// band prints the readings that are accepted.
func (p *pack) band(e *commission.Expected) string {
	half := (e.High - e.Low) / 4
	end := func(v float64) string {
		return quantity.Format(quantity.Quantity{Dim: e.Figure.Dim, SI: v, Half: half, Basis: quantity.Derived}, p.sys)
	}
	return say("band", "low", end(e.Low), "high", end(e.High))
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
	in := ""
	for i := range m.Alone {
		d := &m.Alone[i]
		row := []paper.Cell{strong(p.outletName(d.Outlet)), {}, {}, write, {}, {}, write}
		q, at := p.HandOver.At("outlet-flow", d.Outlet, m.ID), p.HandOver.At("outlet-pressure", d.Outlet, m.ID)
		if q == nil || at == nil {
			flow, _ := p.drawn("outlet-flow", m.ID, d)
			row[1], row[4] = paper.Cell{Text: flow, Style: paper.SmallStrong}, paper.Cell{Text: p.at(m.ID, d), Style: paper.SmallStrong}
			t.Rows = append(t.Rows, row)
			continue
		}
		in = p.readIn(q)
		row[1], row[2] = paper.Cell{Text: p.figure(q.Figure), Style: paper.SmallStrong}, paper.Cell{Text: p.band(q), Style: paper.Small}
		row[4], row[5] = paper.Cell{Text: p.figure(at.Figure), Style: paper.SmallStrong}, paper.Cell{Text: p.band(at), Style: paper.Small}
		t.Rows = append(t.Rows, row)
	}
	as := *m
	if m.ReadIn != "" {
		as.Setting = m.ReadIn
	}
	title := upperFirst(sayOr("mode."+m.ID, m.ID)) + ". " + p.modeNote(&as)
	return []paper.Block{paper.Text{Style: paper.SmallStrong, Gap: 3, Keep: true, Text: strings.TrimSpace(title + " " + in)}, t, small(p.tapsShow(m.ID))}
}

// readIn says in which setting a reading is taken.
func (p *pack) readIn(e *commission.Expected) string {
	id := "commission.read-in"
	switch {
	case p.Assembly.LockOut() == nil:
		return ""
	case e.MainOff:
		id = "commission.read-in-off"
	}
	return say(id, "stop", p.stop())
}
