package appraise

import (
	"tideover/internal/assume"
	"tideover/internal/circuit"
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/service"
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
	s := &in.Job.Supply
	if a.Service.Tested || s.LowFlow.V > 0 || s.HighFlow.V > 0 {
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

// weakened are the circuit's figures with a main as weak as one may well be that nobody tested.
func weakened(in Input) circuit.Inputs {
	figures := in.figures()
	figures.HighFlow, figures.HighRes = weakFlow, quantity.Pressure(assume.WeakMain.In(in.Job.Assumed)*float64(figures.Static))
	return figures
}
