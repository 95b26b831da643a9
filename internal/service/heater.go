package service

import (
	"math"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// hotWater judges what boosting does to the heater: whether the least draw of hot water
// lights one that heats as it flows, whether the pump's swing makes it hunt, and what
// there is to know about its kind.
func (f *reader) hotWater(p *assembly.Part, row catalogue.Heater) {
	f.boosted(p, row)
	if row.Least <= 0 {
		return
	}
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		if m.Same == "" && m.ID != "on-main-peak" && m.ID != "power-out-store" {
			f.lights(p, row, m)
		}
	}
	if w := f.r.Swing; w != nil && f.Job.Choices.Control == "pressure-switch" {
		f.hunts(p, w)
	}
}

// lights judges the smallest hot draw in a mode against the flow the heater switches on at.
func (f *reader) lights(p *assembly.Part, row catalogue.Heater, m *Mode) {
	least, at := quantity.Flow(math.Inf(1)), (*Draw)(nil)
	for k := range m.Alone {
		d := &m.Alone[k]
		share := f.hotOf(d.Outlet)
		if q := d.Flow * quantity.Flow(share); share > 0 && d.Certified && q < least {
			least, at = q, d
		}
	}
	if at == nil {
		return
	}
	x := f.start("heater-flow", p.Tag, m.ID)
	x.Source, x.Calc = row.Source, at.Calc
	x.Name("outlet", at.Outlet)
	x.Arg("draw", flow(at.Flow))
	x.Against(flow(least), stated(quantity.FlowDim, float64(row.Least)), finding.AtLeast, finding.LookAt)
	if x.Verdict != finding.Fine && m.Pumped {
		x.Cures = f.raiseSet()
	}
	f.add(x)
}

// hotOf is the share of an outlet's draw that comes through the heater.
func (f *reader) hotOf(outlet string) float64 {
	for i := range f.Job.Outlets {
		o := &f.Job.Outlets[i]
		if o.Tag != outlet {
			continue
		}
		switch o.Water {
		case "hot":
			return 1
		case "both":
			return assume.HotShare.In(f.Job.Assumed)
		}
	}
	return 0
}

// raiseSet holds more pressure.
func (f *reader) raiseSet() [][]job.Edit {
	c := &f.Job.Choices
	up := 5e4
	return [][]job.Edit{{f.press("choices.pump.cut-in", float64(c.CutIn.V)+up), f.press("choices.pump.cut-out", float64(c.CutOut.V)+up)}}
}

// hunts judges the swing of a switched pump: the flow through an instantaneous heater goes
// with the root of the pressure, and its heat does not follow.
func (f *reader) hunts(p *assembly.Part, w *Swing) {
	if !(w.Low > 0) {
		return
	}
	x := f.start("heater-swing", p.Tag, "")
	x.Source = words.Say("limit.heater-swing", nil)
	x.Arg("low", stated(quantity.PressureDim, float64(w.Low)))
	x.Arg("high", pressure(w.High))
	x.Against(finding.Of(quantity.RatioDim, math.Sqrt(float64(w.High/w.Low))-1), stated(quantity.RatioDim, assume.WideSwing.In(f.Job.Assumed)-1), finding.AtMost, finding.LookAt)
	if x.Verdict != finding.Fine {
		x.Cures = [][]job.Edit{{edit("choices.pump.control", "speed-control")}}
	}
	f.add(x)
}

// boosted tells what more pressure does to a heater of this kind; nothing is judged. A vented
// one must not be boosted at all: that is a finding of its own.
func (f *reader) boosted(p *assembly.Part, row catalogue.Heater) {
	if f.r.Swing == nil || assembly.Vented(f.Job, row) {
		return
	}
	x := f.start("heater-boost", p.Tag, "")
	x.Source, x.Verdict = row.Source, finding.Fine
	x.Name("heater", row.Words)
	x.Name("what", "@boost."+row.Kind)
	f.add(x)
}
