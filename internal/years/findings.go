package years

import (
	"tideover/internal/finding"
	"tideover/internal/quantity"
	"tideover/internal/seasons"
	"tideover/internal/words"
)

// Findings reads the judgements off a result: whether the job's own store is enough, whether
// its water stays fresh, whether any size does both.
func Findings(r *Result) []finding.Finding {
	own := &r.Answer.Stores[r.Own]
	list := []finding.Finding{enoughOf(r, own), freshOf(r, own), windowOf(r)}
	if h := r.Answer.Hopeless(); h != nil {
		f := finding.New("seasons-hopeless", "", "")
		f.Verdict = finding.MustFix
		f.Figure = finding.Of(quantity.VolumeDim, h.Shortfall)
		f.Source = words.Say("limit.mass-balance", nil)
		list = append(list, f)
	}
	return list
}

func ratio(e seasons.Estimate) quantity.Quantity {
	q := finding.Of(quantity.RatioDim, e.Value)
	q.Half = e.Half()
	return q
}

func enoughOf(r *Result, own *seasons.Odds) finding.Finding {
	f := finding.New("ride-through", "", "")
	f.Source = words.Say("limit.judgement", nil)
	e := own.By[seasons.RideThrough]
	f.Name("store", own.Name)
	if e.N == 0 {
		f.Blank("interruptions.habit")
		return f
	}
	f.Against(ratio(e), quantity.Quantity{Dim: quantity.RatioDim, SI: r.Enough, Basis: quantity.Stated}, finding.AtLeast, finding.LookAt)
	f.Arg("unserved", finding.Of(quantity.TimeDim, own.By[seasons.UnservedYear].Value))
	f.Arg("worst", finding.Of(quantity.TimeDim, own.By[seasons.WorstSpell].Value))
	f.Arg("short", finding.Of(quantity.VolumeDim, own.By[seasons.ShortYear].Value))
	return f
}

func freshOf(r *Result, own *seasons.Odds) finding.Finding {
	f := finding.New("water-age", "", "")
	f.Source = words.Say("limit.turnover-rule", nil)
	f.Name("store", own.Name)
	f.Against(finding.Of(quantity.TimeDim, r.Fresh[r.Own].Mean), quantity.Quantity{Dim: quantity.TimeDim, SI: r.Ceiling, Basis: quantity.Stated}, finding.AtMost, finding.LookAt)
	f.Arg("most", finding.Of(quantity.TimeDim, r.Fresh[r.Own].Most))
	return f
}

func windowOf(r *Result) finding.Finding {
	f := finding.New("size-window", "", "")
	f.Source = words.Say("limit.judgement", nil)
	f.Verdict = finding.LookAt
	if w := r.Window; w != nil {
		f.Verdict = finding.Fine
		f.Name("first", r.Answer.Stores[w.First].Name)
		f.Name("last", r.Answer.Stores[w.Last].Name)
		f.Figure = finding.Of(quantity.VolumeDim, r.Answer.Stores[w.First].Usable)
	}
	f.Name("opens", "@opens.none")
	for _, o := range r.Opens {
		if o.Window != nil {
			f.Name("opens", "@opens."+o.ID)
			break
		}
	}
	return f
}
