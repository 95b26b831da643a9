package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// Lift is how a pump fills a header tank, nothing being drawn on the way.
type Lift struct {
	Float     string        // the header's float valve
	Flow      quantity.Flow // through it, fully open
	Time      quantity.Time // to fill the tank from empty; +Inf where nothing gets up there
	Busy      quantity.Flow // what the home draws in its busiest hour
	Upper     quantity.Volume
	Certified bool
	Calc      []calc.Step
}

var busyEq = calc.Register(calc.Equation{
	Key: "busiest-hour", Section: "Outlets",
	Title:   "Draw of the home in its busiest hour",
	Formula: "q_b = k D / 24 h",
	Result:  calc.Symbol{Name: "q_b", Meaning: "mean draw of the busiest hour", Dim: quantity.FlowDim, Unit: "m³/s"},
	Args: []calc.Symbol{
		{Name: "k", Meaning: "busiest hour over the day's mean, assumed", Unit: "–"},
		{Name: "D", Meaning: "use in a day", Dim: quantity.VolumeDim, Unit: "m³"},
		{Name: "t", Meaning: "a day", Dim: quantity.TimeDim, Unit: "s"},
	},
	Range:  "homes; k of two to four is usual",
	Source: "definition of a peak factor; its value is trade knowledge, recalled",
	Fn:     func(a []float64) float64 { return a[0] * a[1] / a[2] },
})

// headerFloat is the float valve that fills a header tank, or −1.
func (a *run) headerFloat() int {
	h := a.ci.Assembly.Header()
	for _, f := range a.ci.Assembly.Of(assembly.FloatValve) {
		if h >= 0 && a.ci.Assembly.Fills(f) == h {
			return f
		}
	}
	return -1
}

// lifting works out how the pump fills a header tank: the store below about to run dry, the
// tank's float valve fully open, every tap shut. It is a mode of its own, without taps: the
// pump's duty and the speed in its pipes are read off there.
func (a *run) lifting() {
	f := a.headerFloat()
	if f < 0 || a.ci.Pump() < 0 {
		return
	}
	clear(a.open)
	m := Mode{ID: "lifting", Power: true, Pumped: true, Setting: a.name(0)}
	k := circuit.Case{Setting: 0, MainOff: true, Level: a.in.Low, Lifting: true, Open: a.open}
	a.solve(&m, &k)
	l := &Lift{Float: a.ci.Assembly.Parts[f].Tag, Upper: a.in.Upper, Certified: a.s.OK(), Time: quantity.Time(math.Inf(1))}
	a.r.Lift = l
	if !l.Certified {
		return
	}
	sheet := a.sheet()
	l.Flow = a.s.Flow(f)
	a.s.WalkMouth(f, sheet)
	if l.Flow > 0 {
		l.Time = quantity.Time(sheet.Eval(refillEq, float64(a.in.Upper), float64(l.Flow), 0))
	}
	l.Busy = quantity.Flow(sheet.Eval(busyEq, assume.Busiest.In(a.ci.Assembly.Assumed), float64(a.in.Daily), 86400))
	l.Calc = steps(sheet)
	if l.Flow > stillFlow {
		m.Velocity = a.velocities(m.ID, m.Duty)
		m.Duty = a.duty(&k)
		m.Duty.Asked = 0 // what it is to hold matters to taps, not to a tank
	}
	a.r.Modes = append(a.r.Modes, m)
}

// header judges whether the pump fills the header tank faster than the home empties it in
// its busiest hour.
func (f *reader) header() {
	l := f.r.Lift
	if l == nil || !l.Certified {
		return
	}
	x := f.start("header-fill", l.Float, "lifting")
	x.Source, x.Calc = "trade", l.Calc
	x.Against(flow(l.Flow), finding.Of(quantity.FlowDim, float64(l.Busy)), finding.AtLeast, finding.LookAt)
	if l.Flow <= stillFlow {
		x.Verdict = finding.MustFix
	}
	x.Arg("time", finding.Of(quantity.TimeDim, float64(l.Time)))
	x.Arg("upper", finding.Of(quantity.VolumeDim, float64(l.Upper)))
	if x.Verdict != finding.Fine {
		x.Cures = append(f.headerFloats(true), f.pumpCures()...)
	}
	f.add(x)
}
