package power

import (
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/site"
)

// Findings appends what could not be judged to a list: the currents of a pump whose plate
// nobody read, and the battery where somebody wants one.
func Findings(list []finding.Finding, r *Result, battery bool) []finding.Finding {
	if r == nil {
		return list
	}
	if r.Lacks != "" {
		f := finding.New("pump-current", r.Pump, "")
		f.Blank(r.Lacks)
		f.Name("why", "@current.plain")
		if r.Soft {
			f.Name("why", "@current.soft")
		}
		list = append(list, f)
	}
	if battery {
		list = append(list, stored(r))
	}
	return list
}

// stored tells what a battery has to hold for one cut, and holds the one there is to it.
func stored(r *Result) finding.Finding {
	f := finding.New("battery", r.Pump, "")
	f.Source, f.Calc = "trade", r.Calc
	if r.Cut <= 0 {
		f.Blank("interruptions.power-cuts")
		return f
	}
	if r.Lead.Most <= 0 {
		f.Blank("choices.pump.row")
		return f
	}
	f.Verdict = finding.Fine
	f.Figure = finding.Of(quantity.EnergyDim, r.Lead.Most)
	if site.Told(r.Stores) { // of which kind it is nobody asks: fine is what holds for lead
		f.Against(quantity.Of(r.Stores.V), f.Figure, finding.AtLeast, finding.LookAt)
		f.Case = "told"
	}
	f.Arg("least", finding.Of(quantity.EnergyDim, r.Lead.Least))
	f.Arg("lithium-least", finding.Of(quantity.EnergyDim, r.Lithium.Least))
	f.Arg("lithium", finding.Of(quantity.EnergyDim, r.Lithium.Most))
	f.Arg("cut", quantity.Of(r.Cut))
	return f
}
