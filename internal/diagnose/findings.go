package diagnose

import (
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Findings reads the judgements off a result: whether something is in the way, and whether
// the home needs a store.
func Findings(r *Result) []finding.Finding {
	var list []finding.Finding
	if r.Tested {
		list = append(list, inTheWay(r))
	}
	if r.RestKnown {
		list = append(list, atRest(r))
	}
	return append(list, need(r))
}

func inTheWay(r *Result) finding.Finding {
	f := finding.New("service-fault", "", "")
	f.Source = words.Say("limit.as-built", nil)
	f.Against(finding.Of(quantity.FlowDim, float64(r.Measured)), finding.Of(quantity.FlowDim, float64(r.Low)), finding.AtLeast, finding.LookAt)
	if !r.InTheWay { // the reading's own spread reaches the least that should run
		f.Verdict = finding.Fine
	}
	f.Arg("expected", finding.Of(quantity.FlowDim, float64(r.Expected)))
	first(&f, r)
	f.Moves = []string{"supply.house-test.flow", "supply.house-test.pressure", "supply.static", "supply.service.length"}
	return f
}

func atRest(r *Result) finding.Finding {
	f := finding.New("service-rest", "", "")
	f.Source = words.Say("limit.as-built", nil)
	f.Against(finding.Of(quantity.PressureDim, float64(r.RestFound)), finding.Of(quantity.PressureDim, float64(r.RestWants)), finding.AtLeast, finding.LookAt)
	if !r.RestShort {
		f.Verdict = finding.Fine
	}
	first(&f, r)
	f.Moves = []string{"supply.house-test.static", "supply.static", "supply.house-test.level"}
	return f
}

// first names the cause to look at first.
func first(f *finding.Finding, r *Result) {
	for _, t := range r.Tried {
		if t.Standing < Unlikely {
			f.Name("first", "@cause."+string(t.Cause))
			f.Name("do", "@cause."+string(t.Cause)+".do")
			return
		}
	}
	f.Name("first", "@cause.none")
	f.Name("do", "@cause.none.do")
}

// need says whether the home calls for a store. A home that does not is a matter to look
// at before anything is bought; it is no fault.
func need(r *Result) finding.Finding {
	f := finding.New("need", "", "")
	h := &r.Home
	f.Source, f.Calc = basicEq.Source, h.Work
	f.Figure = finding.Of(quantity.VolumeDim, float64(h.Basic))
	f.Name("need", "@need."+string(h.Need))
	f.Name("do", "@need."+string(h.Need)+".do")
	f.Moves = []string{"home.people", "interruptions.habit"}
	switch h.Need {
	case Unknown:
		f.Blank("interruptions.habit")
	case StoreFor, BoostFor:
		f.Verdict = finding.Fine
	default:
		f.Verdict = finding.LookAt
	}
	return f
}
