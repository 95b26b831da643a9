package appraise

import (
	"strings"

	"tideover/internal/assembly"
	"tideover/internal/catalogue"
	"tideover/internal/disinfect"
	"tideover/internal/finding"
	"tideover/internal/quantity"
)

// dose works out the first disinfection of this store with this bottle.
func dose(in Input, a *Appraisal) ([]finding.Finding, error) {
	if a.Store == nil {
		return nil, nil
	}
	var pipes []disinfect.Pipe
	stored := a.Assembly.Sides().Store
	for i := range a.Assembly.Parts {
		part := &a.Assembly.Parts[i]
		if row, ok := part.Row.(catalogue.Pipe); ok && behind(part.Role) && stored[i] {
			pipes = append(pipes, disinfect.Pipe{Bore: row.Bore, Length: part.Length})
		}
	}
	c := &in.Job.Choices
	bottle := disinfect.Bottle{Strength: c.Bleach.V, Convention: c.Convention, Bought: c.Bought, Used: in.Job.Date}
	asked, ruled := regime(in)
	left := leftOver(in, asked)
	worked, err := disinfect.Work(a.Store.Usable+a.Store.Dead, pipes, bottle, asked)
	if err != nil { // a bottle nobody can dose from is a matter for the fitter, not a stop
		f := finding.New("bottle", "", "")
		f.Verdict = finding.LookAt
		f.Name("reason", strings.TrimPrefix(err.Error(), "disinfect: "))
		return append([]finding.Finding{f, ruled}, left...), nil
	}
	a.Disinfect = worked
	return append([]finding.Finding{dosed(worked), ruled}, left...), nil
}

// dosed judges the bottle: what is to be poured is in the sentence, and of a bottle that is
// refused it is a fresh one's.
func dosed(d *disinfect.Dose) finding.Finding {
	f := finding.New("disinfect-dose", "", "")
	f.Source, f.Standing, f.Calc = d.Regime.Source, d.Regime.Standing, d.Calc
	f.Figure = finding.Of(quantity.VolumeDim, float64(d.Liquid))
	if d.Granules {
		f.Figure = finding.Of(quantity.MassDim, float64(d.Product))
	}
	f.Arg("mass", finding.Of(quantity.MassDim, float64(d.Product)))
	f.Arg("dose", finding.Of(quantity.DoseDim, float64(d.Regime.Dose)))
	f.Arg("water", finding.Of(quantity.VolumeDim, float64(d.Water)))
	f.Arg("strength", finding.Of(quantity.RatioDim, float64(d.Bottle.Strength)))
	f.Arg("age", finding.Of(quantity.TimeDim, float64(d.Age)))
	switch d.AgeState {
	case disinfect.AgeOld:
		f.Verdict = finding.LookAt
	case disinfect.AgeUnknown:
		f.Blank("choices.disinfectant.bought")
	default:
		f.Verdict = finding.Fine
	}
	return f
}

// behind reports whether a leg lies behind the store, so that its water is dosed with it.
func behind(r assembly.Role) bool {
	return r == assembly.Storage || r == assembly.Boost || r == assembly.HomeRole
}

// regime is how strong and how long the profile wants the first disinfection. Where it
// leaves that blank, our own default, and the finding is not judged, by name.
func regime(in Input) (disinfect.Regime, finding.Finding) {
	r := disinfect.Cautious
	f := finding.New("disinfect-regime", "", "")
	f.Verdict = finding.Fine
	f.Source, f.Standing = r.Source, catalogue.Ours.ID()
	dose, hold := in.Profile.Rule("disinfect-dose"), in.Profile.Rule("disinfect-time")
	switch {
	case !dose.Set:
		f.Blank("disinfect-dose")
	case !hold.Set:
		f.Blank("disinfect-time")
	default:
		r.Dose, r.Hold = quantity.Dose(dose.Value), quantity.Time(hold.Value)
		f.Source, f.Standing = dose.Cited()
	}
	if least := in.Profile.Rule("disinfect-residual"); least.Set && least.Value <= float64(r.Dose) {
		r.Least = quantity.Dose(least.Value)
	}
	if rate := in.Profile.Rule("neutralise-thiosulphate"); rate.Value > 0 {
		r.Thiosulphate = rate.Value
	}
	if rate := in.Profile.Rule("neutralise-ascorbic"); rate.Value > 0 {
		r.Ascorbic = rate.Value
	}
	f.Arg("dose", finding.Of(quantity.DoseDim, float64(r.Dose)))
	f.Arg("hold", finding.Of(quantity.TimeDim, float64(r.Hold)))
	r.Source, r.Standing = in.Catalogue.Cite(f.Source), f.Standing
	return r, f
}

// leftOver says that nobody could cite how much chlorine must be left at the end, where the profile
// leaves that blank and the dose is its own: what the sheet asks for is then ours.
func leftOver(in Input, r disinfect.Regime) []finding.Finding {
	rule := in.Profile.Rule("disinfect-residual")
	if rule.Set || !in.Profile.Rule("disinfect-dose").Set {
		return nil
	}
	f := finding.New("disinfect-left", "", "")
	f.Blank(rule.Key)
	f.Arg("least", finding.Of(quantity.DoseDim, float64(r.Least)))
	return []finding.Finding{f}
}
