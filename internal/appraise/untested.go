package appraise

import (
	"tideover/internal/assume"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/store"
)

// A main of which nobody knows how it sags is taken for stiff, which is the best case, and once
// more for as weak as one may well be: a share of its pressure at rest is left with weakFlow running.
const (
	weakFlow = quantity.Flow(15.0 / 60000)
	flowTest = "supply.flow-test.high-flow"
)

// doubtSag takes back what is fine on a stiff main and would not be on a weak one, where there is
// no flow test: it rests on the test that nobody made. What is not fine on a stiff main is worse
// on a weak one, and stays.
func doubtSag(in Input, a *Appraisal, given service.Inputs, from int) error {
	if !untried(in, a) {
		return nil
	}
	ci, err := circuit.New(a.Assembly, weakened(in))
	if err != nil {
		return err
	}
	given.Record, given.AtOnce, given.Near = false, atOnce(a), nil
	weak, err := service.Analyse(ci, given)
	if err != nil {
		return err
	}
	verdicts := map[string]finding.Verdict{}
	list := service.Findings(nil, weak, service.Context{Job: in.Job, Assembly: a.Assembly, Catalogue: in.Catalogue, Profile: in.Profile, Bare: true})
	for i := range list {
		verdicts[list[i].Key()] = list[i].Verdict
	}
	for i := from; i < len(a.Findings); i++ {
		f := &a.Findings[i]
		if v, arose := verdicts[f.Key()]; f.Verdict == finding.Fine && arose && v != finding.Fine {
			f.RestsOn(flowTest)
		}
	}
	return nil
}

// untried reports whether nobody read what the main gives with a tap open.
func untried(in Input, a *Appraisal) bool {
	s := &in.Job.Supply
	return !a.Service.Tested && !(s.LowFlow.V > 0) && !(s.HighFlow.V > 0)
}

// weakened are the circuit's figures with a main as weak as one may well be that nobody tested.
func weakened(in Input) circuit.Inputs {
	figures := in.figures()
	figures.HighFlow, figures.HighRes = weakFlow, quantity.Pressure(assume.WeakMain.In(in.Job.Assumed)*float64(figures.Static))
	return figures
}

// doubtRefill takes back what is fine of the store where a main that nobody tested may refill it too
// slowly between two interruptions.
func doubtRefill(in Input, a *Appraisal, c store.Context, from int) error {
	if in.moving || a.Service == nil || !untried(in, a) {
		return nil
	}
	ci, err := circuit.New(a.Assembly, weakened(in))
	if err != nil {
		return err
	}
	comes, err := service.Inflows(ci, service.Read(in.Job, a.Assembly, in.Catalogue, in.Profile))
	if err != nil {
		return err
	}
	given, ok := store.Read(in.Job, a.Assembly, in.Profile, &comes)
	if !ok {
		return nil
	}
	c.Work = nil
	for _, weak := range store.Findings(nil, store.Analyse(given, nil), c) {
		for i := from; i < len(a.Findings); i++ {
			if f := &a.Findings[i]; f.Key() == weak.Key() && f.Verdict == finding.Fine && weak.Verdict != finding.Fine {
				f.RestsOn(flowTest)
			}
		}
	}
	return nil
}
