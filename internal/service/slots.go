package service

import (
	"tideover/internal/calc"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// slotsEq is what a timetable lets into the store.
var slotsEq = calc.Register(calc.Equation{
	Key: "slots-inflow", Section: "Store",
	Title:   "Water a timetable lets into the store in one round",
	Formula: "V = q t",
	Result:  sym("V", "water let in", quantity.VolumeDim, "m³"),
	Args: []calc.Symbol{
		sym("q", "flow while the store fills, on the mean of those hours", quantity.FlowDim, "m³/s"),
		sym("t", "hours with water in one round", quantity.TimeDim, "s"),
	},
	Range:  "the float valve fully open throughout, the main as it presses at each hour",
	Source: "mass balance",
	Fn:     func(a []float64) float64 { return a[0] * a[1] },
})

// hopeless is the share of its use from which on downwards a home cannot live on what a
// timetable lets in. Judgement; between it and the whole people ration.
const hopeless = 0.6

// refillSlots judges what a timetable's hours let into the store against what the home
// draws from it until they come again.
func (f *reader) refillSlots(r *Refill) {
	off, main := site.InterruptionsOf(f.Job), site.MainOf(f.Job)
	flow := off.Lets(&f.r.Inflow, &main)
	if off.Round == 0 || flow <= 0 { // that nothing ever comes in is said of the filling
		return
	}
	on := float64(off.On)
	use := float64(site.HouseholdOf(f.Job, f.Assembly).Stored) * float64(off.Round) / 86400
	var sheet calc.Sheet
	x := f.start("refill-slots", f.floatTag(), "")
	in := sheet.Eval(slotsEq, float64(flow), on)
	x.Calc = append(append(x.Calc, r.Calc...), sheet.Steps...)
	x.Source = slotsEq.Source
	x.Arg("hours", stated(quantity.TimeDim, on))
	x.Arg("round", stated(quantity.TimeDim, float64(off.Round)))
	x.Against(finding.Of(quantity.VolumeDim, in), stated(quantity.VolumeDim, use), finding.AtLeast, finding.LookAt)
	if x.Verdict == finding.LookAt && in < hopeless*use {
		x.Verdict = finding.MustFix
	}
	if x.Verdict != finding.Fine {
		x.Cures = f.feedCures()
	}
	f.add(x)
}
