package service

import (
	"math"
	"tideover/internal/assume"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
	"tideover/internal/words"
)

// rests judges what can stand on every part against its rating, and on every outlet
// against the local rules' most.
func (f *reader) rests() {
	for i := range f.r.Rests {
		r := &f.r.Rests[i]
		switch p := f.part(r.Part); {
		case p.Kind == assembly.Outlet:
			f.restOutlet(p, r)
		case p.Kind != assembly.Heater && r.Rated:
			f.restPart(r)
		}
	}
}

func (f *reader) restPart(r *Rest) {
	x := f.start("rest-pressure", r.Part, "")
	x.Source, x.Calc = f.source(r.Part), r.Calc
	x.Name("what", f.what(r.Part))
	if !r.Determined {
		x.Name("field", "@rest.undetermined")
		f.add(x)
		return
	}
	x.Name("cause", "@rest."+r.Cause)
	x.Against(pressure(r.High), stated(quantity.PressureDim, float64(r.Rating)), finding.AtMost, finding.MustFix)
	if x.Verdict == finding.MustFix {
		x.Cures = f.pressureCures(r, r.Rating)
	}
	f.add(x)
}

func (f *reader) restOutlet(p *assembly.Part, r *Rest) {
	x := f.start("rest-outlet", r.Part, "")
	x.Calc = r.WorkingCalc
	key := "max-static-outlet"
	if need(p).Kind == "garden" {
		key = "max-static-garden"
	}
	if math.IsInf(float64(r.Working), -1) {
		return // nothing presses on it: it is judged by its flow
	}
	x.Figure = pressure(r.Working)
	x.Name("cause", "@rest."+r.WorkingCause)
	if rule := f.Profile.Rule(key); rule.Set {
		x.Source, x.Standing = rule.Cited()
		x.Against(x.Figure, stated(quantity.PressureDim, rule.Value), finding.AtMost, finding.LookAt)
	} else {
		x.Blank(key)
	}
	x.Name("do", "@rest-outlet.main")
	if len(f.Assembly.Of(assembly.Regulator)) > 0 {
		x.Name("do", "@rest-outlet.regulator")
	}
	if r.WorkingCause == "pump-stop" {
		x.Name("do", "@rest-outlet.pump")
	}
	if x.Verdict == finding.LookAt {
		x.Cures = f.pressureCures(r, quantity.Pressure(x.Limit.SI))
	}
	f.add(x)
}

// pressureCures lowers the pump's stop where the pump is what presses, and puts a pressure
// regulator in, or sets it lower, where it is the main. limit is what is too much is held to.
func (f *reader) pressureCures(r *Rest, limit quantity.Pressure) [][]job.Edit {
	w := f.r.Swing
	if f.Bare {
		return nil
	}
	if w == nil || r.WorkingCause != "pump-stop" && r.Cause != "pump-stop" {
		return f.regulatorCures(r, limit)
	}
	down := math.Ceil(float64(max(r.High-r.Rating, 5e4))/1e4) * 1e4
	cures := [][]job.Edit{{f.press("choices.pump.cut-in", float64(w.Low)-down), f.press("choices.pump.cut-out", float64(w.High)-down)}}
	return append(cures, f.behindPump(r, limit)...)
}

// heater judges the water heater: never a vented one on the pumped side, and no more
// pressure than it is made for.
func (f *reader) heater() {
	at := f.Assembly.Of(assembly.Heater)
	if len(at) == 0 {
		return
	}
	p := &f.Assembly.Parts[at[0]]
	row, _ := p.Row.(catalogue.Heater)
	r := f.restOf(p.Tag)
	vented := assembly.Vented(f.Job, row)
	x := f.start("vented-heater-boosted", p.Tag, "")
	x.Source, x.Verdict = row.Source, finding.Fine
	if vented && f.r.Swing != nil && r != nil && r.Determined {
		x.Verdict = finding.MustFix
		x.Figure, x.Calc = pressure(r.High), r.Calc
		x.Name("heater", row.Words)
		if row.Kind != "storage-vented" {
			x.Name("heater", "@heater.vent")
			if f.Job.Home.Vent != job.Yes {
				x.Name("heater", "@heater.vent-untold")
			}
		}
	}
	f.add(x)
	if !vented {
		f.heaterRating(p, row, r)
		f.heatedRoom(p, row, r)
	}
	f.hotWater(p, row)
}

func (f *reader) restOf(tag string) *Rest {
	for i := range f.r.Rests {
		if f.r.Rests[i].Part == tag {
			return &f.r.Rests[i]
		}
	}
	return nil
}

func (f *reader) heaterRating(p *assembly.Part, row catalogue.Heater, r *Rest) {
	if r == nil || !r.Determined {
		return
	}
	x := f.start("heater-rating", p.Tag, "")
	x.Source, x.Calc = row.Source, r.Calc
	x.Name("cause", "@rest."+r.Cause)
	x.Figure = pressure(r.High)
	limit := f.heaterLimit(row)
	if limit.SI <= 0 {
		x.Blank("home.heater.rating")
		f.add(x)
		return
	}
	x.Against(x.Figure, limit, finding.AtMost, finding.MustFix)
	if x.Verdict == finding.Fine && float64(r.High) > assume.CloseRating.In(f.Job.Assumed)*limit.SI {
		x.Verdict = finding.LookAt
	}
	if x.Verdict == finding.MustFix {
		x.Cures = f.pressureCures(r, quantity.Pressure(limit.SI))
	}
	f.add(x)
}

// refills judges how the store fills at each hour's pressure.
func (f *reader) refills() {
	any := false
	for i := range f.r.Refills {
		any = any || f.r.Refills[i].Flow > 0
	}
	for i := range f.r.Refills {
		r := &f.r.Refills[i]
		if !r.Certified {
			continue
		}
		x := f.start("refill", f.floatTag(), "refill-"+r.Hours)
		x.Source, x.Calc = words.Say("limit.hydrostatics", nil), r.Calc
		x.Figure = flow(r.Flow)
		x.Arg("pressure", pressure(r.Pressure))
		x.Verdict = finding.Fine
		if r.Flow <= 0 {
			x.Verdict = finding.LookAt
			if !any {
				x.Verdict = finding.MustFix
			}
		}
		f.add(x)
		if r.Hours == "usual" && r.Flow > 0 {
			f.refillTime(r)
			f.refillTakes(r)
		}
		if r.Hours == "usual" {
			f.refillSlots(r)
		}
	}
}

func (f *reader) floatTag() string {
	if at := f.Assembly.Of(assembly.FloatValve); len(at) > 0 {
		return f.Assembly.Parts[at[0]].Tag
	}
	return ""
}

// refillTime judges the time a dry store takes against the mean time the main is on
// between two interruptions of the kinds told with a frequency.
func (f *reader) refillTime(r *Refill) {
	x := f.start("refill-time", f.floatTag(), "refill-usual")
	x.Source, x.Calc = words.Say("limit.told", nil), r.Calc
	x.Figure = finding.Of(quantity.TimeDim, float64(r.Time))
	x.Name("meanwhile", "@refill.drawn")
	if f.Assembly.Joined {
		x.Name("meanwhile", "@refill.alone")
	}
	off := site.InterruptionsOf(f.Job)
	if between, told := off.Between(); !told {
		x.Blank("interruptions.habit")
	} else {
		x.Against(x.Figure, stated(quantity.TimeDim, float64(between)), finding.AtMost, finding.LookAt)
	}
	x.Name("do", "@refill-time."+f.holds(r))
	if x.Verdict == finding.LookAt {
		x.Cures = f.feedCures()
	}
	f.add(x)
}

// refillTakes judges whether filling the store pulls the main so low that the home goes
// back to the very store being filled.
func (f *reader) refillTakes(r *Refill) {
	c := f.Assembly.LockOut()
	if c == nil {
		return
	}
	x := f.start("refill-takes-main", c.Tag, "")
	x.Calc = append(append([]calc.Step(nil), r.Calc...), r.Felt...)
	x.Figure, x.Limit, x.Sense = pressure(r.Sensor), stated(quantity.PressureDim, float64(c.On)), finding.AtLeast
	x.Verdict = finding.Fine
	if r.Left {
		x.Verdict = finding.LookAt
		x.Cures = f.floatCures(false)
	}
	f.add(x)
}

// holds says what takes most of the pressure while the store fills: the main on its way to the
// meter, the feed, or the float valves themselves, which alone a larger seat relieves.
func (f *reader) holds(r *Refill) string {
	floats := f.Assembly.Of(assembly.FloatValve)
	if !(r.Flow > 0) || len(floats) == 0 {
		return "main"
	}
	part := &f.Assembly.Parts[floats[0]]
	row, ok := part.Row.(catalogue.Float)
	if !ok {
		return "pipe"
	}
	through := float64(r.Flow) / float64(len(floats)) / float64(row.Kv) // Kv: m³/s at 1 bar
	float, main := quantity.Pressure(1e5*through*through), site.SagOf(f.Job).Drop(r.Flow, r.Pressure)
	m := site.MainOf(f.Job)
	switch pipe := m.Felt(r.Pressure, part.Ports[0].Z) - main - float; {
	case main >= float && main >= pipe:
		return "main"
	case pipe > float:
		return "pipe"
	}
	return "float"
}
