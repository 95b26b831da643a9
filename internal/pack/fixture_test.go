package pack

import (
	"math"
	"testing"

	"tideover/internal/appraise"
	"tideover/internal/assembly"
	"tideover/internal/base"
	"tideover/internal/calc"
	"tideover/internal/catalogue"
	"tideover/internal/circuit"
	"tideover/internal/commission"
	"tideover/internal/consent"
	"tideover/internal/demo"
	"tideover/internal/disinfect"
	"tideover/internal/finding"
	"tideover/internal/job"
	"tideover/internal/power"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/store"
	"tideover/internal/takeoff"
)

// fixture is an appraisal with a real job and assembly and made-up results: every sheet
// can be shown without waiting for the engines.
func fixture(t testing.TB, name string) *appraise.Appraisal {
	t.Helper()
	j := demo.Job(t, name)
	c, profile := demo.Rows(t, j.Profile)
	a, err := assembly.Build(j, c, profile)
	if err != nil {
		t.Fatal(err)
	}
	ap := &appraise.Appraisal{Job: j, Profile: profile, Assembly: a, Store: madeUpStore(), Service: madeUpService(j)}
	ap.Buying = madeUpList(a)
	ap.Disinfect = madeUpDose(t, j, a, ap.Store)
	ap.Findings = madeUpFindings(ap)
	finding.Order(ap.Findings)
	ap.Verdict = finding.Overall(ap.Findings)
	ap.Base = base.Analyse(j, a, c, base.Inputs{Mass: ap.Store.Mass, Header: ap.Store.HeaderMass, Raised: consent.Raised(j)})
	ap.Findings = base.Findings(ap.Findings, ap.Base, c, false)
	ap.Power = power.Analyse(j, a, power.Inputs{Daily: ap.Store.Daily})
	handOver(ap)
	return ap
}

// handOver works the hand-over out again, after a result was changed.
func handOver(a *appraise.Appraisal) {
	c := commission.Context{Job: a.Job, Assembly: a.Assembly, Profile: a.Profile, Service: a.Service, Findings: a.Findings}
	if a.Power != nil {
		c.Plate = a.Power.Lacks
	}
	a.HandOver = commission.Work(c)
}

func madeUpStore() *store.Result {
	return &store.Result{Usable: 2.8, Dead: 0.2, Mass: 1540, Daily: 0.65, Carry: 4.3 * 86400, Longest: 4 * 86400, Turnover: 9 * 86400}
}

func madeUpService(j *job.Job) *service.Result {
	r := &service.Result{Gap: &service.Gap{Store: "S1", Float: "F1", Known: true, Flow: true, Left: 0.06, UsualLeft: 0.06,
		Spill: circuit.Spill{By: "pipe", Bore: 0.068, Needs: 0.03}}, Refills: []service.Refill{
		{Hours: "usual", Pressure: 3.2e5, Flow: 2e-4, Time: 3.9 * 3600},
		{Hours: "peak", Pressure: 0.8e5, Flow: 0, Time: quantity.Time(math.Inf(1))},
	}}
	for n, id := range []string{"on-main", "on-main-peak", "on-store", "power-out"} {
		m := service.Mode{ID: id, Setting: "normal", Main: quantity.Pressure(3.2e5 - float64(n)*1.6e5), Power: n != 3, Demand: 4e-4}
		for i, o := range j.Outlets {
			d := service.Draw{Outlet: o.Tag, Flow: quantity.Flow(1.1e-4 + 1e-5*float64(i)), Pressure: 1.4e5, Need: 1e-4, NeedPressure: 5e4, Certified: n != 3}
			m.Alone = append(m.Alone, d)
			if i%2 == 0 {
				m.Together = append(m.Together, d)
			}
		}
		r.Modes = append(r.Modes, m)
	}
	return r
}

func madeUpList(a *assembly.Assembly) *takeoff.List {
	l := &takeoff.List{}
	for i := range a.Parts {
		p := &a.Parts[i]
		if p.Row == nil {
			continue
		}
		l.Lines = append(l.Lines, takeoff.Line{Row: p.Row.Ref().Key, Words: p.Row.Ref().Words, Size: p.Size.String(), Count: 1 + p.Count,
			Length: p.Length, Tags: []string{p.Tag}, Kept: p.Kept, Assumed: p.Row.Ref().Certainty == catalogue.Recalled})
	}
	return l
}

func madeUpDose(t testing.TB, j *job.Job, a *assembly.Assembly, s *store.Result) *disinfect.Dose {
	var pipes []disinfect.Pipe
	for i := range a.Parts {
		if row, ok := a.Parts[i].Row.(catalogue.Pipe); ok && a.Parts[i].Role != assembly.Service {
			pipes = append(pipes, disinfect.Pipe{Bore: row.Bore, Length: a.Parts[i].Length})
		}
	}
	c := j.Choices
	d, err := disinfect.Work(s.Usable+s.Dead, pipes, disinfect.Bottle{Strength: c.Bleach.V, Convention: c.Convention, Bought: c.Bought, Used: j.Date}, disinfect.Cautious)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func madeUpFindings(a *appraise.Appraisal) []finding.Finding {
	var list []finding.Finding
	sheet := &calc.Sheet{}
	sheet.Eval(disinfect.PipeVolume, 0.026, 12.5)
	h := 33.12345
	for _, p := range a.Assembly.Parts[:min(12, len(a.Assembly.Parts))] {
		sheet.Walk(p.Tag, p.Purpose.Message(), h, h-0.51234)
		h -= 0.51234
	}
	for n, o := range a.Job.Outlets {
		f := finding.New("outlet-flow", o.Tag, "on-store")
		need := quantity.Quantity{Dim: quantity.FlowDim, SI: 1.1e-4, Basis: quantity.Assumed}
		figure := finding.Of(quantity.FlowDim, 0.9e-4+1e-5*float64(n))
		figure.Half = 8e-6
		f.Against(figure, need, finding.AtLeast, finding.LookAt)
		f.Arg("short", finding.Of(quantity.FlowDim, 1e-5))
		f.Held, f.Tried = 83, 100
		f.Moves, f.Source, f.Calc = []string{"choices.pump.cut-out", "outlets." + o.Tag + ".height"}, "WRAS, made up for a test", sheet.Steps
		list = append(list, f)
	}
	f := finding.New("air-gap", "F1", "")
	f.Against(finding.Of(quantity.LengthDim, 0.012), finding.Of(quantity.LengthDim, 0.03), finding.AtLeast, finding.MustFix)
	f.Remedies = []finding.Remedy{{Edits: []job.Edit{{Op: job.Set, Path: "choices.float", Text: "float-15-medium"}},
		Figure: finding.Of(quantity.LengthDim, 0.04), Verdict: finding.Fine}}
	return append(list, f)
}
