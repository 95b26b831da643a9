package service

import (
	"math"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// A stop that is tried in place of one too high: this share of what the pump reaches, with
// some room under what a worn pump reaches, in whole steps of a gauge; and the start that far below it at
// least. Judgement; what is offered has been worked out with them.
const (
	triedStop = 0.7
	gaugeStep = 1e4 // Pa
	startLess = 4e4 // Pa
)

// pump judges the pump and its controller.
func (f *reader) pump() {
	for i := range f.r.Modes {
		if d := f.r.Modes[i].Duty; d != nil && f.r.Modes[i].Same == "" {
			f.duty(&f.r.Modes[i], d)
			f.suction(&f.r.Modes[i], d)
		}
	}
	if w := f.r.Swing; w != nil {
		f.starting(w)
		f.stopping(w)
		f.swinging(w)
		f.starts(w)
	}
	f.worn()
}

// worn judges whether the taps that the pump serves well today still get what they need once it
// is worn: the least share of its need that one of them then gets.
func (f *reader) worn() {
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		worst, short := (*Draw)(nil), []string(nil)
		for k := range m.Alone {
			d := &m.Alone[k]
			if !d.Certified || d.Pumped == 0 || !(d.Need > 0) || d.Flow < d.Need {
				continue
			}
			if worst == nil || d.Worn/d.Need < worst.Worn/worst.Need {
				worst = d
			}
			if d.Worn < d.Need {
				short = append(short, d.Outlet)
			}
		}
		if !m.Pumped || m.Same != "" || worst == nil {
			continue
		}
		lost := assume.HeadLost.In(f.Assembly.Assumed)
		x := f.start("pump-worn", f.pumpTag(), m.ID)
		var sheet *calc.Sheet
		if worst.Calc != nil { // the base run's
			sheet = &calc.Sheet{}
		}
		sheet.Eval(wornEq, lost)
		least := sheet.Eval(servedEq, float64(worst.Worn), float64(worst.Need))
		x.Calc = steps(sheet)
		x.Source = words.Say("limit.worn", nil)
		x.Against(finding.Of(quantity.RatioDim, least), stated(quantity.RatioDim, 1), finding.AtLeast, finding.LookAt)
		x.Arg("lost", stated(quantity.RatioDim, lost))
		x.Name("taps", strings.Join(short, ", "))
		if x.Verdict != finding.Fine {
			x.Cures = f.pumpCures()
		}
		f.add(x)
	}
}

func (f *reader) pumpTag() string {
	if at := f.Assembly.Of(assembly.Pump); len(at) > 0 {
		return f.Assembly.Parts[at[0]].Tag
	}
	return ""
}

// reached forgives the solver's own tolerance when a pump holds a pressure [Pa].
const reached = 1

func (f *reader) duty(m *Mode, d *Duty) {
	if d.Asked == 0 {
		return // no controller asks anything of it
	}
	x := f.start("pump-duty", d.Pump, m.ID)
	x.Source, x.Calc = f.source(d.Pump), d.Works
	x.Against(pressure(d.Felt), stated(quantity.PressureDim, float64(d.Asked)), finding.AtLeast, finding.LookAt)
	if d.Felt >= d.Asked-reached {
		x.Verdict = finding.Fine
	}
	x.Arg("flow", flow(d.Flow))
	if x.Verdict != finding.Fine {
		x.Cures = f.pumpCures()
	}
	f.counts(&x)
	f.add(x)
}

func (f *reader) suction(m *Mode, d *Duty) {
	x := f.start("npsh", d.Pump, m.ID)
	x.Calc = d.Calc
	x.Figure = finding.Of(quantity.HeadDim, float64(d.NPSHHas))
	x.Arg("needs", finding.Of(quantity.HeadDim, float64(d.NPSHNeeds)))
	margin := f.Profile.Rule("npsh-margin")
	switch {
	case !(d.NPSHNeeds > 0):
		x.Blank("npsh")
	case !margin.Set:
		x.Blank("npsh-margin")
	default:
		x.Source, x.Standing = margin.Cited()
		x.Against(x.Figure, finding.Of(quantity.HeadDim, float64(d.NPSHNeeds)+margin.Value), finding.AtLeast, finding.LookAt)
		if d.NPSHHas < d.NPSHNeeds {
			x.Verdict = finding.MustFix
		}
	}
	if next, ok := f.wider(f.Job.Pipework.Outdoors); ok && x.Verdict != finding.Fine {
		x.Cures = [][]job.Edit{{edit("pipework.outdoors", next.String())}}
	}
	f.counts(&x)
	if row, ok := f.part(d.Pump).Row.(catalogue.Pump); ok && x.Verdict != finding.NotJudged && d.NPSHNeeds > row.NPSH {
		x.Case = "beyond" // at more than the flow the row gives it for
	}
	f.add(x)
}

// starting judges whether the pump starts at all for the highest outlet: the water that
// stands in the pipe must press less on the controller than its cut-in.
func (f *reader) starting(w *Swing) {
	id := "pump-start"
	if w.Lifts {
		id = "lift-start"
	}
	x := f.start(id, f.pumpTag(), "")
	x.Source, x.Calc = words.Say("limit.hydrostatics", nil), w.StartCalc
	x.Figure, x.Limit, x.Sense = pressure(w.Standing), stated(quantity.PressureDim, float64(w.Low)), finding.AtMost
	x.Verdict = finding.Fine
	if w.Standing >= w.Low {
		x.Verdict = finding.MustFix
		x.Cures = f.raiseCutIn(w)
	}
	f.add(x)
}

// raiseCutIn lifts both ends of the swing to a bar above the water standing.
func (f *reader) raiseCutIn(w *Swing) [][]job.Edit {
	low := math.Ceil((float64(w.Standing)+1e5)/1e4) * 1e4
	width := math.Max(float64(w.High-w.Low), 4e4)
	return [][]job.Edit{{f.press("choices.pump.cut-in", low), f.press("choices.pump.cut-out", low+width)}}
}

// press is an edit of a pressure, in the job's own units.
func (f *reader) press(path string, p float64) job.Edit {
	return edit(path, quantity.Handy(quantity.PressureDim, p, f.Job.System()))
}

// stopping judges whether the pump can reach the pressure it is told to stop at. A flow
// control stops for want of flow and needs none.
func (f *reader) stopping(w *Swing) {
	if f.Job.Choices.Control == "flow-control" {
		return
	}
	x := f.start("pump-stop", f.pumpTag(), "")
	x.Source, x.Calc = "trade", w.StopCalc
	limit := finding.Of(quantity.PressureDim, (1-assume.HeadLost.In(f.Assembly.Assumed))*float64(w.Full))
	x.Against(stated(quantity.PressureDim, float64(w.High)), limit, finding.AtMost, finding.LookAt)
	if w.High >= w.Full {
		x.Verdict = finding.MustFix
	}
	x.Arg("shutoff", pressure(w.Full))
	if x.Verdict != finding.Fine {
		stop := math.Floor(triedStop*float64(w.Full)/gaugeStep) * gaugeStep
		lower := []job.Edit{f.press("choices.pump.cut-out", stop)}
		if stop <= float64(w.Low) {
			lower = append(lower, f.press("choices.pump.cut-in", stop-startLess))
		}
		x.Cures = append([][]job.Edit{lower}, f.pumpCures()...)
	}
	f.add(x)
}

// swinging judges what the low end of the swing leaves at the highest outlet.
func (f *reader) swinging(w *Swing) {
	if w.Lifts {
		return // no tap feels it
	}
	x := f.start("swing", w.Control, "")
	x.Calc = w.StartCalc
	x.Figure = pressure(w.Left)
	x.Arg("low", stated(quantity.PressureDim, float64(w.Low)))
	x.Arg("high", pressure(w.High))
	x.Name("top", w.Top)
	if rule := f.Profile.Rule("min-pressure-outlet"); rule.Set {
		x.Source, x.Standing = rule.Cited()
		x.Against(x.Figure, stated(quantity.PressureDim, rule.Value), finding.AtLeast, finding.LookAt)
	} else {
		x.Blank("min-pressure-outlet")
	}
	if x.Verdict == finding.LookAt {
		x.Cures = f.raiseCutIn(w)
	}
	f.add(x)
}

// starts judges how often the pump starts at the worst draw that lasts: half its own flow
// for a switched pump, the draw it just sleeps at for one that sleeps. Drip lines, a mixer
// left at a trickle and the tail of a filling cistern draw that for hours. It is judged with the
// charge that some years leave in the vessel. How often a pump may start behind a speed control, which spares motor and wheel, is not what its row says.
func (f *reader) starts(w *Swing) {
	x := f.start("starts", f.pumpTag(), "")
	x.Calc = w.Calc
	x.Figure = finding.Of(quantity.TimeDim, float64(w.Flat))
	x.Name("who", "@starts.one")
	if w.Turns > 1 {
		x.Name("who", "@starts.turns")
	}
	x.Arg("draw", flow(w.Worst))
	x.Arg("drip", stated(quantity.FlowDim, float64(w.LeakDraw)))
	x.Arg("drip-period", finding.Of(quantity.TimeDim, float64(w.LeakPeriod)))
	x.Arg("drawdown", finding.Of(quantity.VolumeDim, float64(w.Drawdown)))
	allowed, field := w.Allowed, "starts-hour"
	x.Source = f.source(f.pumpTag())
	if w.Soft {
		allowed, field = 0, "starts-hour-soft"
	}
	if rule := f.Profile.Rule(field); allowed == 0 && rule.Set {
		allowed = rule.Value
		x.Source, x.Standing = rule.Cited()
	}
	x.Arg("lost", stated(quantity.RatioDim, assume.ChargeLost.In(f.Assembly.Assumed)))
	x.Arg("charged", finding.Of(quantity.TimeDim, float64(w.Period)))
	if allowed > 0 {
		x.Against(x.Figure, stated(quantity.TimeDim, 3600/allowed), finding.AtLeast, finding.LookAt)
	} else {
		x.Source = ""
		x.Blank(field)
	}
	if x.Verdict == finding.LookAt {
		x.Cures = f.vesselCures()
	}
	f.add(x)
}

// velocities judges the fastest water in every run, over the modes.
func (f *reader) velocities() {
	for i := range f.Assembly.Parts {
		if f.Assembly.Parts[i].Kind == assembly.Run {
			f.velocity(f.Assembly.Parts[i].Tag)
		}
	}
}

func (f *reader) velocity(run string) {
	var worst *Speed
	for i := range f.r.Modes {
		for k := range f.r.Modes[i].Velocity {
			v := &f.r.Modes[i].Velocity[k]
			if v.Run == run && f.r.Modes[i].Same == "" && (worst == nil || v.Velocity > worst.Velocity) {
				worst = v
			}
		}
	}
	if worst == nil {
		return
	}
	x := f.start("velocity", run, "")
	x.Calc = worst.Calc
	x.Name("mode", "@mode."+worst.Mode)
	x.Name("what", f.what(run))
	x.Name("while", "@velocity.draw-off")
	if worst.Pumped {
		x.Name("while", "@velocity.pump-runs")
	}
	x.Arg("flow", flow(worst.Flow))
	x.Figure = finding.Of(quantity.VelocityDim, float64(worst.Velocity))
	if rule := f.Profile.Rule(worst.Rule); rule.Set {
		x.Source, x.Standing = rule.Cited()
		x.Against(x.Figure, stated(quantity.VelocityDim, rule.Value), finding.AtMost, finding.LookAt)
	} else {
		x.Blank(worst.Rule)
	}
	if x.Verdict == finding.LookAt {
		x.Cures = f.widen(run)
	}
	if !worst.Pumped {
		f.counts(&x)
	}
	f.add(x)
}

// widen makes one run a size wider by the job's field that sets it.
func (f *reader) widen(run string) [][]job.Edit {
	p := f.part(run)
	row, ok := p.Row.(catalogue.Pipe)
	if !ok {
		return nil
	}
	next, ok := f.wider(row.Size)
	if !ok {
		return nil
	}
	path := "pipework.outdoors"
	switch {
	case p.Role == assembly.Service:
		path = "supply.service.pipe"
	case p.Role == assembly.HomeRole:
		path = "pipework.indoors"
	}
	return [][]job.Edit{{edit(path, next.String())}}
}
