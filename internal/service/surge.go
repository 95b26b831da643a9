package service

import (
	"tideover/internal/assembly"
	"tideover/internal/assume"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/hydraulics"
	"tideover/internal/job"
	"tideover/internal/quantity"
)

// closes is how quickly each kind of outlet can be shut [s]: lever mixers and quarter-turn
// taps by a quick hand, machines by their solenoid, a cistern by its float. Trade figures.
var closes = map[string]float64{
	"kitchen": 0.03, "basin": 0.03, "shower": 0.03, "bath": 0.03, "garden": 0.05,
	"washing-machine": 0.02, "dishwasher": 0.02, "wc": 0.5,
}

// quickest is what a kind nobody has timed is taken to close in [s].
const quickest = 0.02

// bump is the bound on what one sudden stop does to one run of pipe.
type bump struct {
	where    string // outlet or pump
	run      *assembly.Part
	mode     string
	velocity float64
	length   float64 // of pipe the wave runs along before it is sure to come back
	stop     float64
	base     quantity.Pressure // what stands on the run beside it
	rise     quantity.Pressure
	speed    float64
	total    quantity.Pressure
	most     quantity.Pressure // were all of the flow stopped at once
	steps    []calc.Step
}

// surges judges the bound on water hammer: at the outlet where it comes nearest to the
// rating of its pipe, or passes it most; and behind the pump when its flow stops at once.
func (f *reader) surges() {
	var worst *bump
	blank, home := "", quantity.Length(0)
	for i := range f.Assembly.Parts {
		if p := &f.Assembly.Parts[i]; p.Purpose == assembly.AsHomeRun {
			home += p.Length
		}
	}
	for i := range f.r.Modes {
		m := &f.r.Modes[i]
		if m.Same != "" {
			continue
		}
		for k := range m.Alone {
			b, family := f.tapBump(m, &m.Alone[k], home)
			if family != "" {
				blank = family
			}
			if b != nil && (worst == nil || f.over(b) > f.over(worst)) {
				worst = b
			}
		}
	}
	f.surge("surge", "", worst, blank)
	for i := range f.r.Modes {
		if m := &f.r.Modes[i]; m.Same == "" && m.Duty != nil {
			b, family := f.pumpBump(m)
			f.surge("surge-pump", f.pumpTag(), b, family)
			return
		}
	}
}

// over is how far a bump passes the rating of its run.
func (f *reader) over(b *bump) quantity.Pressure { return b.total - rating(b.run) }

func rating(p *assembly.Part) quantity.Pressure {
	row, _ := p.Row.(catalogue.Pipe)
	return row.Rating
}

// tapBump is what shutting one outlet, running alone, does to its run; the family of the
// pipe instead where nobody knows how its wall stretches. home is the length of the run that
// all outlets share.
func (f *reader) tapBump(m *Mode, d *Draw, home quantity.Length) (*bump, string) {
	run := f.runTo(d.Outlet)
	if run == nil || !d.Certified || d.Flow <= 0 {
		return nil, ""
	}
	stop, known := closes[need(f.part(d.Outlet)).Kind]
	if !known {
		stop = quickest
	}
	stop *= assume.Closing.In(f.Assembly.Assumed)
	b := &bump{where: d.Outlet, run: run, mode: m.ID, stop: stop, length: float64(run.Length + home), base: d.Pressure}
	return f.work(b, float64(d.Flow), d.Calc != nil)
}

// pumpBump is what the run behind the pump takes when the pump's flow stops at once: the
// power fails and the non-return valve slams.
func (f *reader) pumpBump(m *Mode) (*bump, string) {
	for i := range f.Assembly.Parts {
		if p := &f.Assembly.Parts[i]; p.Purpose == assembly.AsBoostRun {
			b := &bump{where: m.Duty.Pump, run: p, mode: m.ID, length: float64(p.Length), base: m.Duty.Outlet}
			return f.work(b, float64(m.Duty.Flow), m.Duty.Calc != nil)
		}
	}
	return nil, ""
}

// runTo is the run that ends at an outlet.
func (f *reader) runTo(outlet string) *assembly.Part {
	at := f.Assembly.Index(outlet)
	for _, j := range f.Assembly.Joins {
		other := -1
		switch at {
		case j.A.Part:
			other = j.B.Part
		case j.B.Part:
			other = j.A.Part
		}
		if other >= 0 && f.Assembly.Parts[other].Kind == assembly.Run {
			return &f.Assembly.Parts[other]
		}
	}
	return nil
}

// work fills in speed of the wave, velocity and rise, each with its step in a run that
// records.
func (f *reader) work(b *bump, flow float64, record bool) (*bump, string) {
	row, is := b.run.Row.(catalogue.Pipe)
	if !is {
		return nil, ""
	}
	wall, known := f.Catalogue.Elastic[row.Size.Family]
	if !known {
		return nil, row.Size.Family
	}
	for i := range f.r.Rests { // at rest more may stand on it than flowing
		if r := &f.r.Rests[i]; r.Part == b.run.Tag && r.Determined {
			b.base = max(b.base, r.Working)
		}
	}
	var sheet *calc.Sheet
	if record {
		sheet = &calc.Sheet{}
	}
	density := hydraulics.Density(float64(f.Job.Place.Water.V))
	b.velocity = sheet.Eval(hydraulics.VelocityEq, flow, float64(row.Bore))
	b.speed = sheet.Eval(hydraulics.WaveSpeedEq, density, float64(row.Bore), float64(row.Outside-row.Bore)/2, wall.Modulus, wall.Poisson)
	var head float64
	if b.stop <= 2*b.length/b.speed {
		head = sheet.Eval(hydraulics.JoukowskyEq, b.speed, b.velocity)
	} else {
		head = sheet.Eval(hydraulics.MichaudEq, b.length, b.velocity, b.stop)
	}
	b.rise = quantity.Pressure(sheet.Eval(circuit.PressureEq, head, 0))
	b.total = quantity.Pressure(sheet.Eval(surgeEq, float64(b.base), float64(b.rise)))
	b.most = b.base + circuit.PressureOf(hydraulics.JoukowskyEq.Fn([]float64{b.speed, b.velocity}), 0)
	b.steps = steps(sheet)
	return b, ""
}

var surgeEq = calc.Register(calc.Equation{
	Key: "surge-total", Section: "Surge", Title: "Most that water hammer makes of the pressure in a run",
	Formula: "p = p_0 + Δp", Result: sym("p", "pressure for some milliseconds", quantity.PressureDim, "Pa"),
	Args: []calc.Symbol{
		sym("p_0", "the most that stands on the run", quantity.PressureDim, "Pa"),
		sym("Δp", "rise", quantity.PressureDim, "Pa"),
	},
	Range: "a bound: the two need not meet", Source: "superposition (Joukowsky 1904)",
	Fn: func(a []float64) float64 { return a[0] + a[1] },
})

// surge makes the finding of one bump.
func (f *reader) surge(id, where string, b *bump, blank string) {
	if b == nil && blank == "" {
		return
	}
	x := f.start(id, where, "")
	if b == nil {
		x.Blank(blank)
		f.add(x)
		return
	}
	x.Calc = b.steps
	row, _ := b.run.Row.(catalogue.Pipe)
	x.Source = row.Source + ";" + f.Catalogue.Elastic[row.Size.Family].Source
	x.Against(pressure(b.total), stated(quantity.PressureDim, float64(row.Rating)), finding.AtMost, finding.LookAt)
	x.Arg("rise", pressure(b.rise))
	x.Arg("most", pressure(b.most))
	x.Arg("velocity", finding.Of(quantity.VelocityDim, b.velocity))
	x.Arg("stop", stated(quantity.TimeDim, b.stop))
	x.Name("outlet", b.where)
	x.Name("run", b.run.Tag)
	x.Name("mode", "@mode."+b.mode)
	if x.Verdict == finding.LookAt {
		x.Cures = f.widerTwice(b)
	}
	f.add(x)
}

// widerTwice are the next two sizes of the run, set where the job sets it.
func (f *reader) widerTwice(b *bump) [][]job.Edit {
	row, _ := b.run.Row.(catalogue.Pipe)
	path := "pipework.outdoors"
	if f.part(b.where).Kind == assembly.Outlet {
		path = "outlets." + b.where + ".pipe"
	}
	var cures [][]job.Edit
	for size := row.Size; len(cures) < 2; {
		next, ok := f.wider(size)
		if !ok {
			break
		}
		cures = append(cures, []job.Edit{edit(path, next.String())})
		size = next
	}
	return cures
}
