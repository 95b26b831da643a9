package appraise

import (
	"context"

	"tideover/internal/finding"
	"tideover/internal/job"
)

// remedies tries every cure a finding suggests: the edits are made on a copy of the job
// file, the whole analysis runs again, and a cure is kept only if it clears the finding
// (its verdict becomes fine, or it no longer arises). What it makes worse is named.
func remedies(ctx context.Context, in Input, base *Appraisal) error {
	type try struct{ finding, cure int }
	var tries []try
	for i := range base.Findings {
		for c := range base.Findings[i].Cures {
			tries = append(tries, try{i, c})
		}
	}
	found := make([]*finding.Remedy, len(tries))
	before := outcomes(base.Findings)
	err := each(ctx, len(tries), nil, func(k int) {
		f := &base.Findings[tries[k].finding]
		found[k] = attempt(in, f, f.Cures[tries[k].cure], before)
	})
	if err != nil {
		return err
	}
	for k, r := range found {
		if f := &base.Findings[tries[k].finding]; r != nil {
			f.Remedies = append(f.Remedies, *r)
		}
	}
	return nil
}

// attempt makes one cure and judges it; nil when it cannot be made or does not clear f.
func attempt(in Input, f *finding.Finding, edits []job.Edit, before map[string]outcome) *finding.Remedy {
	if in.Doc == nil {
		return nil
	}
	doc, _, err := in.Doc.Apply(edits...)
	if err != nil {
		return nil
	}
	tried := in
	tried.Doc, tried.Job = doc, doc.Job
	a, err := evaluate(tried, false)
	if err != nil {
		return nil
	}
	after := outcomes(a.Findings)
	now, arises := after[f.Key()]
	if arises && now.verdict != finding.Fine {
		return nil
	}
	r := &finding.Remedy{Edits: edits, Verdict: finding.Fine}
	if arises {
		r.Figure = f.Figure
		r.Figure.SI, r.Figure.Half = now.figure, 0
	}
	for i := range a.Findings {
		g := &a.Findings[i]
		old, had := before[g.Key()]
		if worse(old.verdict, had, g.Verdict) {
			r.Worse = append(r.Worse, g.Key())
		}
	}
	return r
}

// worse reports whether a verdict is worse than before; a new finding counts when it is
// not fine.
func worse(old finding.Verdict, had bool, now finding.Verdict) bool {
	badness := [...]int{finding.Fine: 0, finding.NotJudged: 1, finding.LookAt: 2, finding.MustFix: 3}
	if !had {
		return now != finding.Fine
	}
	return badness[now] > badness[old]
}
