package service

import (
	"math"
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// usable is the share of its need below which an outlet does not serve at all: a shower that only
// drips, a tap nobody waits for. Between it and the need people wait.
func (f *reader) usable() float64 { return assume.Usable.In(f.Assembly.Assumed) }

// Context is what findings are read off against.
type Context struct {
	Job       *job.Job
	Assembly  *assembly.Assembly
	Catalogue *catalogue.Catalogue
	Profile   *catalogue.Profile
	Bare      bool // only places, figures and verdicts: a run made to see what moves them
}

// reader reads findings off one result.
type reader struct {
	Context
	r    *Result
	list []finding.Finding
}

// Findings reads the judgements off a result and appends them to a list. Their keys are the
// same for the same parts and modes, whatever the figures.
func Findings(list []finding.Finding, r *Result, c Context) []finding.Finding {
	f := &reader{Context: c, r: r, list: list}
	if f.outlets(); f.r.partial {
		f.some()
		return f.list
	}
	f.tower()
	f.peak()
	f.mainAlone()
	f.powerOut()
	f.pump()
	f.velocities()
	f.surges()
	f.rests()
	f.heater()
	f.header()
	f.refills()
	f.gap(f.r.Gap)
	f.gap(f.r.UpperGap)
	f.hunting()
	f.trips()
	f.undetermined()
	return f.list
}

// some reads what is read off single cases and parts of a result that is not whole; for the rest
// it lacks what they are read off.
func (f *reader) some() {
	if m := f.r.Mode("on-main-peak"); m != nil && len(f.Assembly.Of(assembly.Store)) > 0 {
		for k := range m.Alone {
			if d := &m.Alone[k]; d.Certified {
				f.peakOf(d)
			}
		}
	}
	f.pump()
	f.velocities()
	f.surges()
	f.rests()
}

// start begins a finding.
func (f *reader) start(id, where, mode string) finding.Finding {
	x := finding.New(id, where, mode)
	x.Bare = f.Bare
	return x
}

func (f *reader) add(x finding.Finding) { f.list = append(f.list, x) }

func flow(q quantity.Flow) quantity.Quantity { return finding.Of(quantity.FlowDim, float64(q)) }

func pressure(p quantity.Pressure) quantity.Quantity {
	return finding.Of(quantity.PressureDim, float64(p))
}

func stated(dim quantity.Dim, si float64) quantity.Quantity {
	return quantity.Quantity{Dim: dim, SI: si, Basis: quantity.Stated}
}

func (f *reader) part(tag string) *assembly.Part {
	if i := f.Assembly.Index(tag); i >= 0 {
		return &f.Assembly.Parts[i]
	}
	return &assembly.Part{}
}

func (f *reader) source(tag string) string {
	if f.Bare {
		return ""
	}
	if row := f.part(tag).Row; row != nil {
		return row.Ref().Source
	}
	return ""
}

// what names what a part is for: the id of its message.
func (f *reader) what(tag string) string {
	if f.Bare {
		return ""
	}
	return "@" + f.part(tag).Purpose.Message()
}

// outlets judges every outlet alone, and with others, in the modes that are meant to
// serve the home; the worst hours have findings of their own.
func (f *reader) outlets() {
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		if !m.judged() {
			continue
		}
		for k := range m.Alone {
			if d := &m.Alone[k]; d.Certified {
				f.alone(m, d)
			}
		}
		if len(m.Alone) > 0 || f.r.partial {
			f.together(m)
		}
	}
}

// judged reports whether every outlet is judged in a mode by itself.
func (m *Mode) judged() bool { return m.Same == "" && m.ID != "on-main-peak" && m.Power }

func (f *reader) alone(m *Mode, d *Draw) {
	x := f.start("outlet-flow", d.Outlet, m.ID)
	x.Source, x.Calc = f.source(d.Outlet), d.Calc
	least := f.usable() * float64(d.Need)
	x.Against(flow(d.Flow), stated(quantity.FlowDim, float64(d.Need)), finding.AtLeast, finding.LookAt)
	if x.Verdict == finding.LookAt && float64(d.Flow) < least && !f.relieved(d) {
		x.Verdict = finding.MustFix
	}
	if x.Verdict != finding.MustFix {
		x.Rank = f.thin(d)
	}
	x.Arg("short", flow(d.Need-d.Flow))
	x.Arg("least", stated(quantity.FlowDim, least))
	if x.Verdict != finding.Fine {
		x.Cures = f.flowCures(m, d)
	}
	f.add(x)

	if x.Verdict != finding.Fine {
		return // too little water says it all
	}
	p := f.start("outlet-pressure", d.Outlet, m.ID)
	p.Source, p.Calc = f.source(d.Outlet), d.Calc
	p.Against(pressure(d.Pressure), stated(quantity.PressureDim, float64(d.NeedPressure)), finding.AtLeast, finding.LookAt)
	if p.Verdict != finding.Fine {
		p.Cures = f.flowCures(m, d)
	}
	f.add(p)
}

// thin ranks an outlet that runs thin below one that does not serve; a garden tap last.
func (f *reader) thin(d *Draw) int {
	if need(f.part(d.Outlet)).Kind == "garden" {
		return 8
	}
	return 6
}

// relieved reports whether the changeover gives an outlet to the store by itself when
// the main fails it, and the store serves it.
func (f *reader) relieved(d *Draw) bool {
	s := f.onStore(d.Outlet)
	return d.Left && s != nil && s.Certified && float64(s.Flow) >= f.usable()*float64(s.Need)
}

func (f *reader) onStore(outlet string) *Draw {
	if m := f.r.Mode("on-store"); m != nil {
		for k := range m.Alone {
			if m.Alone[k].Outlet == outlet {
				return &m.Alone[k]
			}
		}
	}
	return nil
}

func (f *reader) together(m *Mode) {
	if len(m.Together) == 0 && !f.r.partial {
		x := f.start("outlet-together", "", m.ID)
		x.Blank("simultaneity")
		x.Name("where", "@outlet.every")
		f.add(x)
	}
	for k := range m.Together {
		d := &m.Together[k]
		if !d.Certified {
			continue
		}
		x := f.start("outlet-together", d.Outlet, m.ID)
		x.Source, x.Calc = f.source(d.Outlet), d.Calc
		x.Against(flow(d.Flow), stated(quantity.FlowDim, float64(d.Need)), finding.AtLeast, finding.LookAt)
		x.Name("others", strings.Join(d.Open, ", "))
		x.Arg("demand", flow(m.Demand))
		if x.Verdict != finding.Fine {
			x.Cures = f.flowCures(m, d)
		}
		f.counts(&x)
		f.add(x)
	}
}

// counts takes a fine verdict back that rests on a draw-off beyond the range of its rule: a
// home with more people may draw more at once. What fails at that draw fails at more.
func (f *reader) counts(x *finding.Finding) {
	if f.r.Crowd && x.Verdict == finding.Fine {
		x.Blank("@draw-off.rule")
		x.Cures = nil
	}
}

// peak judges what becomes of every outlet at the main's worst hours, when the store is
// there for them, by itself or when somebody turns it; and, once for the home, whether
// somebody has to.
func (f *reader) peak() {
	m := f.r.Mode("on-main-peak")
	if m == nil {
		return
	}
	if len(f.Assembly.Of(assembly.Store)) == 0 { // nothing is there for them
		for k := range m.Alone {
			if d := &m.Alone[k]; d.Certified {
				f.alone(m, d)
			}
		}
		return
	}
	var waiting []string
	alone := f.noStore()
	for k := range m.Alone {
		if d := &m.Alone[k]; d.Certified && !alone[d.Outlet] && f.peakOf(d) {
			waiting = append(waiting, d.Outlet)
		}
	}
	if f.r.Mode("on-store") == nil || len(alone) > 0 {
		return
	}
	n := len(m.Alone)
	x := f.start("peak-by-hand", "", m.ID)
	x.Against(finding.Count(n-len(waiting)), finding.Count(n), finding.AtLeast, finding.LookAt)
	x.Name("short", strings.Join(waiting, ", "))
	if x.Verdict == finding.LookAt {
		x.Cures = [][]job.Edit{{edit("choices.arrangement", "main-first")}}
	}
	f.add(x)
}

// peakOf judges one outlet, and reports whether it waits for somebody to turn the home
// to the store, which then serves it better.
func (f *reader) peakOf(d *Draw) (waits bool) {
	x := f.start("outlet-peak", d.Outlet, "on-main-peak")
	x.Source, x.Calc = f.source(d.Outlet), d.Calc
	store := quantity.Flow(0)
	if s := f.onStore(d.Outlet); s != nil && s.Certified {
		if store = s.Flow; store > d.Flow {
			x.Calc = s.Calc
		}
	}
	best := max(d.Flow, store)
	x.Figure, x.Limit, x.Sense = flow(best), stated(quantity.FlowDim, float64(d.Need)), finding.AtLeast
	x.Arg("main", flow(d.Flow))
	x.Arg("store", flow(store))
	waits = d.Flow < d.Need && store > d.Flow && !d.Left
	cover := "@cover.store-by-itself"
	switch {
	case best < d.Need:
		cover = "@cover.thin"
	case d.Flow >= d.Need:
		cover = "@cover.main"
	case waits:
		cover = "@cover.store-by-hand"
	}
	x.Name("cover", cover)
	switch {
	case best >= d.Need && !waits:
		x.Verdict = finding.Fine
	case float64(best) >= f.usable()*float64(d.Need): // or it waits for a hand: it does not keep running
		x.Verdict = finding.LookAt
	default:
		x.Verdict = finding.MustFix
	}
	switch {
	case best < d.Need:
		x.Cures = f.flowCures(f.r.Mode("on-store"), d)
	case waits:
		x.Cures = f.turnCures(d)
	}
	f.add(x)
	return waits
}

// powerOut counts the outlets that still serve with the power out.
func (f *reader) powerOut() {
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		if m.Power {
			continue
		}
		x := f.start("power-out", "", m.ID)
		var dry []string
		for k := range m.Alone {
			if d := &m.Alone[k]; !d.Certified || float64(d.Flow) < f.usable()*float64(d.Need) {
				dry = append(dry, d.Outlet)
			}
		}
		n := len(m.Alone)
		x.Against(finding.Count(n-len(dry)), finding.Count(n), finding.AtLeast, finding.LookAt)
		x.Name("dry", strings.Join(dry, ", "))
		if x.Verdict == finding.LookAt && f.Job.Power.Battery == job.Yes && f.r.Swing != nil {
			x.Verdict = finding.NotJudged // the pump runs on, and then does not
			b := site.BatteryOf(f.Job, f.Assembly)
			x.Arg("least", finding.Of(quantity.TimeDim, float64(b.Least)))
			x.Arg("most", finding.Of(quantity.TimeDim, float64(b.Most)))
			if !b.Told {
				x.Case = "unknown"
			}
		}
		f.add(x)
	}
}

// hunting judges whether the automatic changeover comes to rest while taps run on the
// main: the draw that pulls its sensor lowest decides.
func (f *reader) hunting() {
	lock := f.Assembly.LockOut()
	m := f.r.Mode("on-main")
	if lock == nil || m == nil {
		return
	}
	var worst *Draw
	for _, list := range [2][]Draw{m.Alone, m.Together} {
		for k := range list {
			if d := &list[k]; d.Certified && (worst == nil || d.Sensor < worst.Sensor) {
				worst = d
			}
		}
	}
	if worst == nil {
		return
	}
	x := f.start("hunting", lock.Tag, m.ID)
	x.Calc = append(append([]calc.Step(nil), worst.Calc...), worst.Felt...)
	x.Figure, x.Limit, x.Sense = pressure(worst.Sensor), stated(quantity.PressureDim, float64(lock.On)), finding.AtLeast
	x.Verdict = finding.Fine
	if worst.Hunts {
		x.Verdict = finding.LookAt
		least := f.Profile.Rule("lock-out-least")
		if low := math.Floor(float64(worst.Sensor)/1e4) * 1e4; low >= float64(circuit.LockFloor(f.Assembly)) && (!least.Set || low >= least.Value) {
			x.Cures = [][]job.Edit{{f.press("choices.lock-out.low", low)}}
		}
	}
	x.Arg("high", stated(quantity.PressureDim, float64(lock.Off)))
	x.Name("open", strings.Join(append([]string{worst.Outlet}, worst.Open...), ", "))
	f.add(x)
}

// undetermined names what did not certify, and whether the main's sag is known at all.
func (f *reader) undetermined() {
	x := f.start("flow-test", "", "")
	if f.r.Tested {
		x.Verdict = finding.Fine
	}
	f.add(x)
	for _, fail := range f.r.Failed {
		x := f.start("circuit-undetermined", fail.Case, fail.Mode)
		x.Name("reason", fail.Reason)
		f.add(x)
	}
}
